"""The border of a plane, and a drawn outline that runs along it: the marking's own edge, not its background."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Set
from itertools import chain, groupby
from statistics import median

from calculators.pixels.connected import Area

#: A line reaches inwards over at most this share of the picture's smaller side, and at least so many pixels (our
#: estimate: outlines of emblems are 1 to 3 % of their width).
_DEEPEST_SHARE, _DEEPEST_PX = 0.03, 3
#: So much of the border lies outside the line (our estimate: less may be a stray pixel in a corner).
_LEAST_OUTSIDE = 0.02
#: So much of what surrounds an area is the line, where the area lies outside it; soft edges add other colours.
_MOSTLY = 0.9
#: A stripe has so much of a side of the picture, or so much of all four, as the arms of a cross have.
_STRIPE_SHARE, _ARM_SHARE = 0.2, 0.05
#: A colour with a whole side goes on along so much of the sides that adjoin it.
_GOES_ON = 0.12
#: A stripe keeps its width inwards: looked at so deep, as a share of the picture and in pixels at least, it differs by
#: at most so many pixels and so much of the depth. The edge of a disc or of a shield that is cropped closely does not.
_DEPTH_SHARE, _DEPTH_PX, _WIDER_PX, _WIDER_SHARE = 0.04, 4, 2, 0.25


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


def is_filled(labels: bytes, width: int, apart_from: Set[int]) -> bool:
    """Return whether stripes reach the border, so that the marking fills the picture, as a flag does.

    ``apart_from`` are the labels that are no stripes: the ground's, that of an outline along the border, and clear.
    """
    height = len(labels) // width
    depth = max(_DEPTH_PX, round(_DEPTH_SHARE * min(width, height)))
    if 2 * depth >= min(width, height):
        return False
    rows = [labels[at * width : (at + 1) * width] for at in (0, depth, height - 1, height - 1 - depth)]
    columns = [labels[at::width] for at in (0, depth, width - 1, width - 1 - depth)]
    above, below, left, right = (
        [(stop - start) / len(outer) for start, stop in _stripes(outer, inner, depth, apart_from)]
        for outer, inner in (rows[:2], rows[2:], columns[:2], columns[2:])
    )
    widest = [max(shares, default=0.0) for shares in (above, below, left, right)]
    # Narrow stripes count together only if they go across: downwards, the stems of closely cropped letters do too.
    across = min(sum(left), sum(right)) >= _STRIPE_SHARE
    return (
        across
        or sum(share >= _STRIPE_SHARE for share in widest) > 1
        or min(widest) >= _ARM_SHARE
        or _has_whole_side(rows[0], rows[2], columns[0], columns[2], apart_from)
    )


def _has_whole_side(top: bytes, bottom: bytes, left: bytes, right: bytes, apart_from: Set[int]) -> bool:
    """Return whether one other colour has a whole side of the border, and goes on along both sides that adjoin it.

    The stem of a closely cropped letter goes on by less.
    """
    for side, one, two in (
        (left, top, bottom),
        (right, top[::-1], bottom[::-1]),
        (top, left, right),
        (bottom, left[::-1], right[::-1]),
    ):
        label = side[:1]
        if label[0] not in apart_from and side.count(label) >= _MOSTLY * len(side):
            goes_on = [(len(each) - len(each.lstrip(label))) / len(each) for each in (one, two)]
            if min(goes_on) >= _GOES_ON:
                return True
    return False


def is_in_blocks(border: bytes, least: int) -> bool:
    """Return whether nearly all of a border, laid out as ``border_of`` does, lies in stretches of ``least`` pixels."""
    long = sum(stop - start for _, start, stop in _stretches(border) if stop - start >= least)
    return long >= _MOSTLY * len(border)


def _stripes(outer: bytes, inner: bytes, depth: int, apart_from: Set[int]) -> Iterator[tuple[int, int]]:
    """Yield start and stop of each stripe along a side. ``inner`` is what lies ``depth`` pixels inwards."""
    within = list(_stretches(inner))
    for label, start, stop in _stretches(outer):
        # A slanting stripe goes sideways by its depth at most.
        if label not in apart_from and any(
            label == other
            and abs(begin + end - start - stop) <= 2 * depth
            and abs(end - begin - stop + start) <= max(_WIDER_PX, _WIDER_SHARE * depth)
            for other, begin, end in within
        ):
            yield start, stop


def _stretches(side: bytes) -> Iterator[tuple[int, int, int]]:
    """Yield (label, start, stop) of each stretch of one label."""
    at = 0
    for label, alike in groupby(side):
        start, at = at, at + sum(1 for _ in alike)
        yield label, start, at


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
