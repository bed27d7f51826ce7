"""What reads fonts comes with the first text that is set in one, and gives the page what it gives natively."""

from __future__ import annotations

import json
from typing import Any

import pytest

from calculators.answer import answer
from tests.calculators.lettering.fonts import made
from tests.engine.conftest import run_node

TEXT = {"text": "HOX-1", "letters": "own-font"}


def asked(engine, tmp_path, *requests: tuple[dict[str, str], bytes | None], plain: bool = False) -> dict[str, Any]:
    """Ask for lettering, each time with a font file or without."""
    folder, config = engine
    envelopes = []
    for number, (inputs, font) in enumerate(requests):
        envelope: dict[str, Any] = {"do": "answer", "calculator": "lettering", "inputs": inputs}
        if font:
            path = tmp_path / f"{number}.font"
            path.write_bytes(font)
            envelope["files"] = {"font_file": {"name": path.name, "path": str(path)}}
        envelopes.append(envelope)
    task = {"site": str(folder), "config": config, "plain": plain, "requests": envelopes}
    return run_node("ask.mjs", task, tmp_path)


def natively(inputs: dict[str, str], font: bytes | None) -> dict[str, Any]:
    files = {"font_file": {"name": "a.font", "bytes": 0}} if font else {}
    envelope = {"do": "answer", "calculator": "lettering", "inputs": inputs, "files": files}
    *_, (reply, _buffers) = answer(json.dumps(envelope), [font] if font else [])
    return json.loads(reply)


def names(addresses: list[str]) -> set[str]:
    return {each.rpartition("/")[2].partition(".")[0] for each in addresses if "/engine/" in each}


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
def test_fonts_are_read_in_the_page_as_natively(own_engine, tmp_path, plain):
    fonts = [made.truetype(), made.cff(), made.truetype("woff"), made.truetype("woff2")]
    requests = [(TEXT, font) for font in fonts] + [({"text": "Teasel 12", "letters": "slab"}, None)]
    report = asked(own_engine, tmp_path, *requests, plain=plain)
    assert [each["outcome"] for each in report["answers"]] == ["result"] * 5, report["answers"]
    assert [each["result"] for each in report["answers"]] == [natively(*each)["result"] for each in requests]
    assert {"fonts", "brotli"} <= names(report["fetched"])
    # Neither part was waited for, and nothing asked for all of Python's library.
    assert names(report["waitedFor"]) <= set() if not plain else {"library"}


def test_what_reads_fonts_comes_with_the_first_of_them_alone(own_engine, tmp_path):
    without = asked(own_engine, tmp_path, ({}, None))
    assert not {"fonts", "brotli"} & names([*without["fetched"], *without["waitedFor"]])
    report = asked(own_engine, tmp_path, ({"letters": "sans"}, None), (TEXT, made.cff()))
    assert [each["outcome"] for each in report["answers"]] == ["result", "result"], report["answers"]
    assert names(report["waitedFor"]) == {"fonts"}
    assert "brotli" not in names(report["fetched"])


def test_damaged_files_are_refused_in_the_same_words(own_engine, tmp_path):
    broken = [made.cff()[:300], made.truetype("woff2")[:-90], b"wOF2" + bytes(80), made.truetype()[:90]]
    report = asked(own_engine, tmp_path, *((TEXT, each) for each in broken))
    found = [[each["text"].split(" ", 1)[1] for each in answer["problems"]] for answer in report["answers"]]
    expected = [[each["text"].split(" ", 1)[1] for each in natively(TEXT, font)["problems"]] for font in broken]
    assert found == expected and all(found)
