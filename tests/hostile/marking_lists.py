"""Lists of markings that are no lists, lack an end, or are vast, and some that are whole."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.jobs.lists import written
from tests.calculators.jobs.made import JOB, many
from tests.hostile.seeds import MEGABYTE

HEAD = b"Name,Width\r\n"


def marking_lists() -> Iterator[tuple[str, bytes]]:
    whole = written(JOB.markings).encode()
    yield "whole.csv", whole
    yield "two-thousand.csv", written(many(2000).markings).encode()
    for part in range(1, 6):
        yield f"list-cut-at-{part}.csv", whole[: len(whole) * part // 6]
    yield "many-rows.csv", HEAD + b"a,1\n" * 900_000
    yield "many-empty-rows.csv", HEAD + b"\n" * (3 * MEGABYTE)
    yield "many-wrong-rows.csv", HEAD + b",wide,more\n" * 3_900
    yield "many-cells.csv", HEAD + b"," * (3 * MEGABYTE)
    yield "many-columns.csv", b"a," * MEGABYTE
    yield "many-names.csv", b"Name," * (MEGABYTE // 2)
    yield "quote-without-end.csv", HEAD + b'"' + b"a\n" * MEGABYTE
    yield "quotes.csv", HEAD + b'"' * (3 * MEGABYTE)
    yield "long-cell.csv", HEAD + b"a" * (3 * MEGABYTE)
    yield "too-long.csv", HEAD + b"a,1\n" * (2 * MEGABYTE)
    yield "returns.csv", HEAD + b"\r" * (2 * MEGABYTE)
    yield "zeros.csv", HEAD + bytes(100)
    yield "formula.csv", HEAD + b"=1+1,14\n@SUM(A1),15\n"
    yield "utf-16-odd.csv", "Name\nCrest\n".encode("utf-16") + b"\xd8"
    yield "half-a-character.csv", HEAD + b"\xed\xa0\x80,14\n"
