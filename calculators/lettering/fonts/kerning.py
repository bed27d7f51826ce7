"""Kerning of pairs: looked up in GPOS, or in the table ``kern`` of a font without kerning in GPOS.

Classes and coverage may claim every pair of glyphs there is, so nothing is unfolded: each pair is looked up in the
bytes. What depends on three glyphs or more (contextual positioning) is left out.
Source: OpenType 1.9.1, GPOS (lookup types 2 and 9), common table formats, kern; from memory, held against HarfBuzz.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from functools import lru_cache

#: Lookups and their parts that are looked at.
MOST_PARTS = 2000
_PAIRS, _EXTENSION = 2, 9
_NONE = 0xFFFF


def pair_kerning(gpos: bytes, kern: bytes, script: str) -> Callable[[int, int], int]:
    """Return what gives the kerning between two glyphs by their numbers, in units of the font.

    ``script`` is the tag of the text's script, such as "latn". Tables that are damaged have no kerning.
    """
    try:
        parts = _parts_of(gpos, script) if gpos else None
    except (struct.error, ValueError):
        parts = None
    if parts is None:
        return _by_old_table(kern)

    @lru_cache(maxsize=4096)
    def between(left: int, right: int) -> int:
        return sum(_of_lookup(gpos, lookup, left, right) for lookup in parts)

    return between


def _u16(table: bytes, place: int) -> int:
    return int(struct.unpack_from(">H", table, place)[0])


def _s16(table: bytes, place: int) -> int:
    return int(struct.unpack_from(">h", table, place)[0])


def _parts_of(gpos: bytes, script: str) -> list[list[int]] | None:
    """Return where the parts of each lookup of pairs are that kerning uses; None if there is no kerning."""
    scripts, features, lookups = (_u16(gpos, place) for place in (4, 6, 8))
    by_tag = {
        gpos[at : at + 4].decode("latin1"): scripts + _u16(gpos, at + 4)
        for at in range(scripts + 2, scripts + 2 + 6 * min(_u16(gpos, scripts), MOST_PARTS), 6)
    }
    found = next((by_tag[tag] for tag in (script, "DFLT", "dflt", "latn") if tag in by_tag), None)
    if found is None or not _u16(gpos, found):
        return None
    language = found + _u16(gpos, found)
    required = _u16(gpos, language + 2)
    numbers = [_u16(gpos, language + 6 + 2 * at) for at in range(min(_u16(gpos, language + 4), MOST_PARTS))]
    wanted: set[int] = set()
    for number in numbers if required == _NONE else [required, *numbers]:
        record = features + 2 + 6 * number
        if gpos[record : record + 4] == b"kern":
            feature = features + _u16(gpos, record + 4)
            wanted.update(_u16(gpos, feature + 4 + 2 * at) for at in range(min(_u16(gpos, feature + 2), MOST_PARTS)))
    if not wanted:
        return None
    made: list[list[int]] = []
    left = MOST_PARTS
    for number in sorted(wanted):
        lookup = lookups + _u16(gpos, lookups + 2 + 2 * number)
        count = min(_u16(gpos, lookup + 4), left)
        left -= count
        places = [lookup + _u16(gpos, lookup + 6 + 2 * at) for at in range(count)]
        kind = _u16(gpos, lookup)
        if kind == _EXTENSION:
            kinds = {_u16(gpos, place + 2) for place in places}
            places = [place + struct.unpack_from(">I", gpos, place + 4)[0] for place in places]
            kind = kinds.pop() if len(kinds) == 1 else 0
        if kind == _PAIRS:
            made.append(places)
    return made


def _of_lookup(gpos: bytes, places: list[int], left: int, right: int) -> int:
    """Return what the first part that has the pair says of it."""
    for place in places:
        try:
            found = _FORMS[_u16(gpos, place)](gpos, place, left, right)
        except (struct.error, KeyError):
            continue
        if found is not None:
            return found
    return 0


def _listed_pair(gpos: bytes, place: int, left: int, right: int) -> int | None:
    covered = _covered(gpos, place + _u16(gpos, place + 2), left)
    if covered is None or covered >= _u16(gpos, place + 8):
        return None
    first, second = _u16(gpos, place + 4), _u16(gpos, place + 6)
    size = 2 + 2 * (first.bit_count() + second.bit_count())
    pairs = place + _u16(gpos, place + 10 + 2 * covered)
    at = _found(gpos, pairs + 2, _u16(gpos, pairs), size, right)
    return None if at is None else _advance(gpos, at + 2, first)


def _classes_of_pair(gpos: bytes, place: int, left: int, right: int) -> int | None:
    if _covered(gpos, place + _u16(gpos, place + 2), left) is None:
        return None
    first, second = _u16(gpos, place + 4), _u16(gpos, place + 6)
    left_class = _class(gpos, place + _u16(gpos, place + 8), left)
    right_class = _class(gpos, place + _u16(gpos, place + 10), right)
    rows, columns = _u16(gpos, place + 12), _u16(gpos, place + 14)
    # As HarfBuzz has it: a glyph of no class on the right is left to the next part.
    if left_class >= rows or not 0 < right_class < columns:
        return None
    size = 2 * (first.bit_count() + second.bit_count())
    return _advance(gpos, place + 16 + size * (left_class * columns + right_class), first)


_FORMS = {1: _listed_pair, 2: _classes_of_pair}


def _advance(gpos: bytes, place: int, form: int) -> int:
    """Return the change of the advance in a record of values: two placements may come before it."""
    return _s16(gpos, place + 2 * (form & 3).bit_count()) if form & 4 else 0


def _covered(table: bytes, place: int, glyph: int) -> int | None:
    """Return the number of a glyph in a coverage table, None if it is not covered."""
    form, count = _u16(table, place), _u16(table, place + 2)
    if form == 1:
        at = _found(table, place + 4, count, 2, glyph)
        return None if at is None else (at - place - 4) // 2
    if form != 2 or (at := _range(table, place + 4, count, glyph)) is None:
        return None
    return _u16(table, at + 4) + glyph - _u16(table, at)


def _class(table: bytes, place: int, glyph: int) -> int:
    form = _u16(table, place)
    if form == 1:
        start, count = _u16(table, place + 2), _u16(table, place + 4)
        return _u16(table, place + 6 + 2 * (glyph - start)) if start <= glyph < start + count else 0
    if form != 2 or (at := _range(table, place + 4, _u16(table, place + 2), glyph)) is None:
        return 0
    return _u16(table, at + 4)


def _found(table: bytes, place: int, count: int, size: int, glyph: int) -> int | None:
    """Return where the record that begins with ``glyph`` is among sorted ones."""
    low, high = 0, count
    while low < high:
        middle = (low + high) // 2
        here = _u16(table, place + size * middle)
        if here == glyph:
            return place + size * middle
        low, high = (middle + 1, high) if here < glyph else (low, middle)
    return None


def _range(table: bytes, place: int, count: int, glyph: int) -> int | None:
    """Return where the range is that has ``glyph``, among sorted ones of first glyph, last glyph and a number."""
    low, high = 0, count
    while low < high:
        middle = (low + high) // 2
        at = place + 6 * middle
        if glyph < _u16(table, at):
            high = middle
        elif glyph > _u16(table, at + 2):
            low = middle + 1
        else:
            return at
    return None


def _by_old_table(kern: bytes) -> Callable[[int, int], int]:
    """Return kerning by the table ``kern``: lists of pairs, for lines that run across."""
    try:
        lists = _old_lists(kern)
    except struct.error:
        lists = []

    def between(left: int, right: int) -> int:
        total = 0
        for place, count in lists:
            low, high = 0, count
            while low < high:
                middle = (low + high) // 2
                pair = struct.unpack_from(">HH", kern, place + 6 * middle)
                if pair == (left, right):
                    total += _s16(kern, place + 6 * middle + 4)
                    break
                low, high = (middle + 1, high) if pair < (left, right) else (low, middle)
        return total

    return between


def _old_lists(kern: bytes) -> list[tuple[int, int]]:
    """Return where each list of pairs is, and how many pairs it has."""
    if not kern:
        return []
    apple = _u16(kern, 0) == 1
    count, place = (struct.unpack_from(">I", kern, 4)[0], 8) if apple else (_u16(kern, 2), 4)
    lists = []
    for _ in range(min(count, MOST_PARTS)):
        if apple:
            size, flags = struct.unpack_from(">IH", kern, place)
            head, form, across = 8, flags & 0xFF, not flags & 0xE000
        else:
            size, flags = struct.unpack_from(">HH", kern, place + 2)
            head, form, across = 6, flags >> 8, flags & 7 == 1
        pairs = _u16(kern, place + head)
        if form == 0 and across:
            lists.append((place + head + 8, min(pairs, (len(kern) - place - head - 8) // 6)))
        # Long lists overflow the size that is written beside them.
        place += max(size, head + 8 + 6 * pairs) if form == 0 else size
        if place >= len(kern) or not size:
            break
    return lists
