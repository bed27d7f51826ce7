"""A series of texts: numbers in a row, or a list, each with how often it is needed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from calculators.lettering import sentences
from calculators.lettering.layout import lines_of
from calculators.lettering.sizes import Unfit
from calculators.values import message

#: Rows of one series.
MOST_ROWS = 200
_RANGE = re.compile(r"(.*?)(\d{1,9})\s*(?:\.\.\.|…|\bto\b)\s*(.*?)(\d{1,9})", re.IGNORECASE)
#: Between bare numbers or after letters alone a dash means the same. After other figures it belongs to the text.
_DASHED = re.compile(r"(\D*)(\d{1,9})\s*[-\u2013]\s*(\D*)(\d{1,9})")
_COPIES = re.compile(r"(.*?)\s+[x×]\s*(\d{1,3})", re.IGNORECASE)


@dataclass(frozen=True)
class Row:
    """One text of a series and how often it is needed."""

    text: str
    copies: int


def series(typed: str, lines_of: Callable[[str], list[str]] = lines_of) -> list[Row]:
    """Return the rows of a typed list: texts between commas, semicolons, tabs or line ends.

    "12 to 15", "12-15" and "12 … 15" stand for all between, with as many digits; "14 x 3" for three copies.
    ``lines_of`` returns the lines of one text as they are drawn.
    Raises Unfit for what no line of letters can be, for a series that runs backwards, and for too many rows.

    >>> [(row.text, row.copies) for row in series("08 to 10, 14 x 3")]
    [('08', 1), ('09', 1), ('10', 1), ('14', 3)]
    """
    rows: list[Row] = []
    for part in filter(None, map(str.strip, re.split(r"[,;\t\r\n]", typed))):
        copies = 1
        if found := _COPIES.fullmatch(part):
            part, copies = found[1], int(found[2])
        if not copies:
            continue
        rows += [Row(lines_of(text)[0], copies) for text in _texts(part)]
        if len(rows) > MOST_ROWS:
            raise Unfit(message(sentences.SERIES_TOO_LONG, count=str(len(rows)), most=str(MOST_ROWS)))
    if not rows:
        lines_of("")
    return rows


def _texts(part: str) -> list[str]:
    found = _RANGE.fullmatch(part) or _DASHED.fullmatch(part)
    if found is None:
        return [part]
    before, first, again, last = found.groups()
    count = int(last) - int(first) + 1
    if count < 1 or again.strip() not in ("", before.strip()):
        raise Unfit(message(sentences.SERIES_BACKWARDS, first=before + first, last=again + last))
    if count > MOST_ROWS:
        raise Unfit(message(sentences.SERIES_TOO_LONG, count=str(count), most=str(MOST_ROWS)))
    return [f"{before}{number:0{len(first)}}" for number in range(int(first), int(last) + 1)]
