"""Saved jobs that lie, are cut short, newer, or explode, and some that are whole."""

from __future__ import annotations

import io
import json
import struct
import warnings
import zipfile
from collections.abc import Iterator
from typing import Any

from calculators.jobs.archive import Saved, saved_bytes
from calculators.jobs.model import plain
from tests.calculators.jobs.made import CREST, CREST_FILE, JOB
from tests.hostile.seeds import MEGABYTE

FILE = f"files/{CREST_FILE.hash}"
WHOLE = saved_bytes(Saved(JOB, {CREST_FILE.hash: CREST}, {}))


def packed(
    entries: list[tuple[str, bytes]], method: int = zipfile.ZIP_STORED, comment: bytes = b"", flags: int = 0
) -> bytes:
    """Return an archive of entries, which may have the same name."""
    made = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(made, "w", method) as archive:
        warnings.simplefilter("ignore")  # the library tells of names that come twice
        archive.comment = comment
        for name, data in entries:
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.compress_type = method
            archive.writestr(entry, data)
    data = made.getvalue()
    if flags:
        at = data.index(b"PK\x01\x02")
        data = data[: at + 8] + struct.pack("<H", flags) + data[at + 10 :]
    return data


def with_json(text: str | bytes, *more: tuple[str, bytes], method: int = zipfile.ZIP_STORED) -> bytes:
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    return packed([("job.json", data), *more], method)


def with_job(changes: dict[str, Any], *more: tuple[str, bytes], method: int = zipfile.ZIP_STORED) -> bytes:
    return with_json(json.dumps(plain(JOB) | changes), *(more or [(FILE, CREST)]), method=method)


def jobs() -> Iterator[tuple[str, bytes]]:
    yield "whole.zip", WHOLE
    yield "packed-again.zip", with_job({}, method=zipfile.ZIP_DEFLATED)
    yield "with-a-folder.zip", with_job({}, ("files/", b""), (FILE, CREST))
    yield "markup-in-names.zip", with_job({"name": "<script>alert(1)</script>", "note": "<img onerror=alert(1)>"})
    for part in range(1, 8):
        yield f"job-cut-at-{part}.zip", WHOLE[: len(WHOLE) * part // 8]
    yield "job-without-its-last-byte.zip", WHOLE[:-1]
    yield "job-with-more-behind.zip", WHOLE + bytes(40)
    yield "changed-picture.zip", with_job({}, (FILE, CREST[:-1] + b"\0"))
    yield "changed-byte.zip", WHOLE.replace(CREST[200:220], bytes(20), 1)
    yield "without-its-picture.zip", with_json(json.dumps(plain(JOB)))
    yield "without-job.zip", packed([(FILE, CREST)])
    yield "newer.zip", with_job({"format": 4})
    yield "far-newer.zip", with_job({"format": 10**4000})
    yield "format-as-text.zip", with_job({"format": "3"})
    yield from _archives()
    yield from _texts()


def _archives() -> Iterator[tuple[str, bytes]]:
    job = json.dumps(plain(JOB)).encode()
    for number, name in enumerate(
        (
            "../evil",
            "/etc/passwd",
            "files/../job.json",
            "C:\\evil.txt",
            "files\\..\\evil",
            "job.json/evil",
            "<b>\u202egnp.exe",
            f"files/{'A' * 64}",
            f"{FILE}/",
        )
    ):
        yield f"strange-name-{number}.zip", packed([("job.json", job), (name, b"x")])
    yield "name-ends-early.zip", packed([("job.jsonX.txt", job)]).replace(b"job.jsonX", b"job.json\0")
    yield "job-twice.zip", packed([("job.json", job), ("job.json", b"{}"), (FILE, CREST)])
    yield "locked.zip", packed([("job.json", job)], flags=1)
    yield "lzma.zip", packed([("job.json", job)], zipfile.ZIP_LZMA)
    yield "bzip.zip", packed([("job.json", job)], zipfile.ZIP_BZIP2)
    yield "commented.zip", packed([("job.json", job), (FILE, CREST)], comment=b"PK\x05\x06" * 9)
    yield "bomb-of-job.zip", packed([("job.json", b" " * (200 * MEGABYTE))], zipfile.ZIP_DEFLATED)
    yield "bomb-of-picture.zip", packed([("job.json", job), (FILE, bytes(200 * MEGABYTE))], zipfile.ZIP_DEFLATED)
    lying = packed([("job.json", b" " * (100 * MEGABYTE))], zipfile.ZIP_DEFLATED)
    yield "bomb-that-claims-little.zip", lying.replace(struct.pack("<I", 100 * MEGABYTE), struct.pack("<I", 100))
    yield "many-entries.zip", packed([(f"files/{number:064x}", b"") for number in range(20_000)])
    yield "same-data-for-all.zip", _overlapping(job)
    end = WHOLE.rindex(b"PK\x05\x06")
    for at, value in ((8, 0xFFFF), (10, 0xFFFF), (12, 0xFFFFFFFF), (16, 0xFFFFFFFF), (16, 0)):
        size = "<H" if at < 12 else "<I"
        changed = WHOLE[: end + at] + struct.pack(size, value) + WHOLE[end + at + struct.calcsize(size) :]
        yield f"end-{at}-{value:x}.zip", changed
    yield "end-of-a-large-one.zip", WHOLE[:end] + b"PK\x06\x07" + bytes(16) + WHOLE[end:]
    yield "end-alone.zip", b"PK\x03\x04" + b"PK\x05\x06" + bytes(18)


def _overlapping(job: bytes) -> bytes:
    """An archive whose entries all have the same packed data."""
    data = packed(
        [("job.json", job), *((f"files/{at:064x}", bytes(MEGABYTE)) for at in range(40))], zipfile.ZIP_DEFLATED
    )
    start = data.index(b"PK\x01\x02")
    first = data.index(b"PK\x03\x04", 4)
    made, at = bytearray(data), data.index(b"PK\x01\x02", start + 4)
    while at >= 0:
        made[at + 42 : at + 46] = struct.pack("<I", first)
        at = data.find(b"PK\x01\x02", at + 4)
    return bytes(made)


def _texts() -> Iterator[tuple[str, bytes]]:
    yield "many-markings.zip", with_job({"markings": [{"id": f"m{at}", "name": "x"} for at in range(100_000)]})
    yield "many-problems.zip", with_job({"markings": [{"id": "NO", "name": 1, "x": []}] * 1900})
    yield "many-lists.zip", with_json("[" + "[]," * (2 * MEGABYTE) + "[]]", method=zipfile.ZIP_DEFLATED)
    yield "deep.zip", with_json("[" * 500_000)
    yield "deep-inputs.zip", with_json('{"format": 3, "name": ' + '{"a":' * 100_000 + "1" + "}" * 100_001)
    yield "key-twice.zip", with_json('{"format": 3, "name": "a", "name": "b"}')
    yield "no-number.zip", with_json('{"format": 3, "revision": NaN}')
    yield "without-end.zip", with_json('{"format": 3, "revision": -Infinity}')
    yield "beyond-numbers.zip", with_json('{"format": 3, "revision": 1e999}')
    yield "long-number.zip", with_json('{"format": 3, "revision": ' + "9" * 4_000_000 + "}")
    yield "half-a-character.zip", with_json('{"format": 3, "name": "\\ud800"}')
    yield "not-utf-8.zip", with_json(b'{"format": 3, "name": "\xff"}')
    yield "utf-16.zip", with_json('{"format": 3}'.encode("utf-16"))
    yield "direction-in-name.zip", with_job({"name": "\u202egnp.exe"})
    yield "no-json.zip", with_json("")
    yield "a-list.zip", with_json("[]")
    yield "long-text.zip", with_json(json.dumps({"format": 3, "name": "a" * (7 * MEGABYTE)}))
    yield "long-name-of-field.zip", with_job({"x" * MEGABYTE: 1})
    yield "facts-of-nonsense.zip", with_job({}, (FILE, CREST), ("measured.json", b'{"measured_by": 2, "pictures": 5}'))
    yield "facts-no-json.zip", with_job({}, (FILE, CREST), ("measured.json", b"{"))
