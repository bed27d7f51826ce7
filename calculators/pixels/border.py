"""The border of a plane, and a drawn outline that runs along it: the marking's own edge, not its background."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import chain
from statistics import median

from calculators.pixels.connected import Area

#: A line reaches inwards over at most this share of the picture's smaller side, and at least so many pixels (our
#: estimate: outlines of emblems are 1 to 3 % of their width).
_DEEPEST_SHARE, _DEEPEST_PX = 0.03, 3
#: So much of the border lies outside the line (our estimate: less may be a stray pixel in a corner).
_LEAST_OUTSIDE = 0.02
#: So much of what surrounds an area is the line, where the area lies outside it; soft edges add other colours.
_MOSTLY = 0.9


def border_of(plane: bytes, width: int) -> bytes:
    """Return what lies along the four sides of ``plane``, of ``width`` a row. Its corners come twice."""
    return plane[:width] + plane[-width:] + plane[::width] + plane[width - 1 :: width]


def is_narrow(labels: bytes, width: int, line: int) -> bool:
    """Return whether ``line``, a label of the border, is no deeper than an outline. ``labels`` has ``width`` a row."""
    height = len(labels) // width
    return median(_depths(labels, width, line)) <= max(_DEEPEST_PX, _DEEPEST_SHARE * min(width, height))


def has_outside(labels: bytes, width: int, areas: list[Area], line: int) -> bool:
    """Return whether areas of the border lie outside ``line``: only it separates them from a larger marking.

    ``areas`` are the connected areas of ``labels``.
    """
    others = [area for area in areas if area.value != line]
    outside = [area for area in others if area.at_border and _only_beside(labels, width, area, line)]
    reach, size = sum(area.at_border for area in outside), sum(area.size for area in outside)
    long_enough = reach >= _LEAST_OUTSIDE * 2 * (width + len(labels) // width)
    return long_enough and 2 * size < sum(area.size for area in others)


def _depths(labels: bytes, width: int, line: int) -> Iterator[int]:
    """Yield how many pixels ``line`` reaches inwards from each of its places on the border."""
    mark = bytes([line])
    rows = (labels[at : at + width] for at in range(0, len(labels), width))
    columns = (labels[at::width] for at in range(width) if line in (labels[at], labels[at - width]))
    for each in chain(rows, columns):
        if each[0] == line:
            yield len(each) - len(each.lstrip(mark))
        if each[-1] == line:
            yield len(each) - len(each.rstrip(mark))


def _only_beside(labels: bytes, width: int, area: Area, line: int) -> bool:
    """Return whether nearly all pixels beside ``area`` belong to ``line``."""
    beside: Counter[int] = Counter()
    for start, stop in area.runs:
        if start % width:
            beside[labels[start - 1]] += 1
        if stop % width:
            beside[labels[stop]] += 1
        beside.update(labels[max(0, start - width) : max(0, stop - width)])
        beside.update(labels[start + width : stop + width])
    del beside[area.value]
    return beside[line] >= _MOSTLY * beside.total() > 0
