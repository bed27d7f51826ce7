"""Which glyph a font has for a character: looked up in its table ``cmap``, of which nothing else is read.

A range in the table may claim every character there is, so no list is made of it.
Source: OpenType 1.9.1, cmap (formats 4, 6 and 12), from memory; held against HarfBuzz in the tests.
"""

from __future__ import annotations

import struct
from collections.abc import Callable

#: Platform and encoding of the tables that are read, the best first.
_PREFERRED = ((3, 10), (0, 6), (0, 4), (3, 1), (0, 3), (0, 2), (0, 1), (0, 0), (3, 0))
#: Where fonts of signs have what a keyboard types.
_SIGNS = 0xF000
_MOST_SUBTABLES = 100


def glyph_lookup(cmap: bytes) -> Callable[[str], int]:
    """Return what gives the number of a character's glyph, 0 if the font has none.

    Raises ValueError or struct.error for a table that has no characters of Unicode.
    """
    (count,) = struct.unpack_from(">H", cmap, 2)
    places = {}
    for number in range(min(count, _MOST_SUBTABLES)):
        platform, encoding, offset = struct.unpack_from(">HHI", cmap, 4 + 8 * number)
        places[platform, encoding] = offset
    for kind in _PREFERRED:
        if kind not in places:
            continue
        table = cmap[places[kind] :]
        (form,) = struct.unpack_from(">H", table)
        if reader := _READERS.get(form):
            if kind == (3, 0):
                return lambda sign: (
                    reader(table, ord(sign)) or (reader(table, _SIGNS + ord(sign)) if ord(sign) < 256 else 0)
                )
            return lambda sign: reader(table, ord(sign))
    raise ValueError("no characters of Unicode")


def _segments(table: bytes, code: int) -> int:
    """Return the glyph of a character in format 4."""
    if code > 0xFFFF:
        return 0
    count = struct.unpack_from(">H", table, 6)[0] // 2
    ends = 14
    at = _first(count, lambda number: struct.unpack_from(">H", table, ends + 2 * number)[0] >= code)
    if at == count:
        return 0
    starts = ends + 2 * count + 2
    start, delta, offset = (struct.unpack_from(">H", table, starts + 2 * (at + part * count))[0] for part in range(3))
    if code < start:
        return 0
    if not offset:
        return int(code + delta) & 0xFFFF
    place = starts + 2 * (at + 2 * count) + offset + 2 * (code - start)
    if place + 2 > len(table):
        return 0
    (glyph,) = struct.unpack_from(">H", table, place)
    return (glyph + delta) & 0xFFFF if glyph else 0


def _run(table: bytes, code: int) -> int:
    """Return the glyph of a character in format 6."""
    first, count = struct.unpack_from(">HH", table, 6)
    return struct.unpack_from(">H", table, 10 + 2 * (code - first))[0] if first <= code < first + count else 0


def _groups(table: bytes, code: int) -> int:
    """Return the glyph of a character in format 12."""
    (count,) = struct.unpack_from(">I", table, 12)
    count = min(count, (len(table) - 16) // 12)
    at = _first(count, lambda number: struct.unpack_from(">I", table, 20 + 12 * number)[0] >= code)
    if at == count:
        return 0
    start, _end, glyph = struct.unpack_from(">III", table, 16 + 12 * at)
    return min(glyph + code - start, 0xFFFF) if start <= code else 0


_READERS: dict[int, Callable[[bytes, int], int]] = {4: _segments, 6: _run, 12: _groups}


def _first(count: int, holds: Callable[[int], bool]) -> int:
    """Return the first number below ``count`` for which something holds, as it does for all after it."""
    low, high = 0, count
    while low < high:
        middle = (low + high) // 2
        if holds(middle):
            high = middle
        else:
            low = middle + 1
    return low
