"""The calculators answer in Pyodide as they do natively, from the memory snapshot and from a plain start."""

from __future__ import annotations

import hashlib
import struct
import zlib

from tests.cases import CASES, compared


def test_sourced_cases_are_answered_in_the_engine(ask_all):
    report = ask_all([{"do": "answer", "calculator": each["calculator"], "inputs": each["inputs"]} for each in CASES])
    assert len(report["answers"]) == len(CASES) > 10
    for case, reply in zip(CASES, report["answers"], strict=True):
        assert reply["outcome"] == "result", (case["name"], reply)
        assert compared(case, reply["result"]) == [], case["name"]


def test_starting_from_the_snapshot_fetches_no_library(ask_all, way):
    report = ask_all([{"do": "answer", "calculator": "resolution", "inputs": {}}])
    assert report["waitedFor"] == []
    assert any("library" in each for each in report["fetched"]) == (way == "plain")


def test_problems_faults_and_files_come_back(ask_all):
    report = ask_all(
        [
            {"do": "answer", "calculator": "resolution", "inputs": {"width_mm": "1,000"}},
            {"do": "answer", "calculator": "fault-on-demand", "inputs": {"fails": "yes"}},
            {"do": "answer", "calculator": "small-kinds", "inputs": {"name": "Teasel", "mirrored": "yes"}},
            {"do": "answer", "calculator": "there-is-none", "inputs": {}},
            {"do": "something else"},
        ]
    )
    problems, fault, file, none, nonsense = report["answers"]
    assert problems["outcome"] == "problems" and problems["problems"][0]["field"] == "width_mm"
    assert fault["outcome"] == "fault" and "this was asked for" in fault["trace"]
    assert file["files"] == [{"result": "label", "name": "label.txt", "media": "text/plain", "buffer": 0}]
    assert report["texts"] == [[], [], ["lesaeT\n"], [], []]
    assert none["outcome"] == nonsense["outcome"] == "fault"


def test_pixels_arrive_whole_and_the_page_keeps_its_copy(ask_all, tmp_path):
    # 16 MB, more than Python's memory has free at the start: it must grow while the bytes arrive.
    side = 2000
    rgba = bytes(range(256)) * (side * side * 4 // 256)
    (tmp_path / "rgba").write_bytes(rgba)
    (tmp_path / "a.png").write_bytes(_png(side))
    file = {
        "name": "a.png",
        "path": str(tmp_path / "a.png"),
        "pixels": {"width": side, "height": side, "path": str(tmp_path / "rgba")},
    }
    request = {"do": "answer", "calculator": "picture-pixels", "inputs": {}, "files": {"picture": file}}
    report = ask_all([request] * 4)
    assert report["copied"]
    for reply in report["answers"]:
        assert reply["outcome"] == "result", reply
        assert reply["result"]["rgba_sha256"] == hashlib.sha256(rgba).hexdigest()
        assert (reply["result"]["width_px"], reply["result"]["height_px"]) == (side, side)


def _png(side: int) -> bytes:
    """Return a PNG of ``side`` by ``side`` RGBA pixels, all zero (PNG specification, clauses 5 and 11)."""
    chunks = [
        (b"IHDR", struct.pack(">IIBBBBB", side, side, 8, 6, 0, 0, 0)),
        (b"IDAT", zlib.compress(bytes(side * (1 + 4 * side)))),
        (b"IEND", b""),
    ]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
