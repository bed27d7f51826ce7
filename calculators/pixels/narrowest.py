"""The narrowest strokes of an area, in pixels, and their places: the parts that a fitted round shape cannot reach.

An area is one integer with a bit for each pixel and empty room between rows, so fitting a shape takes a few shifts of
the whole. The shape is an octagon, about equally wide in every direction. A part beyond its reach is a stroke only if
it is long enough, unlike corners, single pixels and the ragged edges of a JPEG.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from calculators.pixels.connected import Area, TooManyRuns, connected
from calculators.values import in_one_go

#: The least pixels of strokes that count, and their least share of the area: for the whole outline, and for one colour.
LEAST_PX, OF_OUTLINE, OF_COLOUR = 8, 0.003, 0.01
#: The least length of a stroke in pixels; a spot as large as the shape counts too, from the second on.
SHORTEST_PX, SPOT_PX = 5, 12
#: Widths are tried in steps of this factor, and then one by one.
LADDER = 1.3
#: A thin stroke is between so many pixels narrower than the first shape that does not fit in.
THIN_PX, FINER = 6, (0.25, 1.0)
#: The number of places reported, the largest first.
PLACES = 3
#: How much shorter a boundary is for each corner of a pixel that it cuts.
CUT_CORNER = 1 - sqrt(0.5)
_ROUND = 2 + sqrt(2)

Box = tuple[int, int, int, int]


@dataclass(frozen=True)
class Narrowest:
    """The narrowest strokes: their width in pixels, and the ``places`` (left, top, right, bottom) of the largest."""

    px: float
    strokes: tuple[Area, ...] = ()

    @property
    def places(self) -> tuple[Box, ...]:
        """Where they lie."""
        return tuple(each.box for each in self.strokes)


def narrowest(
    plane: bytes,
    width: int,
    height: int,
    most: int,
    least_share: float = OF_OUTLINE,
    is_fringe: Callable[[Area], bool] | None = None,
) -> Narrowest:
    r"""Return the narrowest strokes of where ``plane``, a byte a pixel, is not 0;
    ``most`` pixels and no place if none is narrower.

    ``is_fringe`` decides whether a stroke is only the shade of an edge. The error is about one pixel, at any slant.

    >>> narrowest((bytes(3) + b"\1\1\1" + bytes(3)) * 20, 9, 20, 8).px
    3.0
    """
    room = 2 * most + 4
    area = _number(plane, width, height, room)
    least = max(LEAST_PX, least_share * area.bit_count())

    def strokes(side: int) -> list[Area]:
        return _strokes(area, width, height, room, side, least, is_fringe)

    tried, reached = 1, 1
    found: list[Area] = []
    while tried < most and not found:
        reached, tried = tried, min(most, max(tried + 1, int(tried * LADDER)))
        found = strokes(tried)
    if not found:
        return Narrowest(float(most))
    for side in range(reached + 1, tried):
        if nearer := strokes(side):
            tried, found = side, nearer
            break
    found.sort(key=lambda each: -each.size)
    widths = sorted(measured(each, width)[0] for each in found)
    # The fitting shape is whole pixels wide; the area of a stroke over its length is more exact.
    px = min(tried - FINER[0], max(tried - FINER[1], widths[len(widths) // 2])) if tried <= THIN_PX else tried - 1.0
    return Narrowest(px, tuple(found[:PLACES]))


def _strokes(
    area: int, width: int, height: int, room: int, side: int, least: float, is_fringe: Callable[[Area], bool] | None
) -> list[Area]:
    """Return the parts narrower than an octagon of ``side`` pixels and long enough for a stroke."""
    row = width + room
    # Grow the rest by the shape and half of it more: any part still missing is no corner.
    more = side // 2 + 1
    left = _octagon(area, side, row, _fits)
    grown = _octagon(_octagon(left, side, row, _grown), 2 * more + 1, row, _grown)
    # Growing by a shape moves its middle down and to the right.
    grown >>= more * row + more - _slant(2 * more + 1)
    missing = area & ~grown
    if missing.bit_count() < least:
        return []
    found = [
        each
        for each in _pieces(_plane(missing, width, height, room), width, height)
        if each.value and _is_stroke(each, width, side) and not (is_fringe and is_fringe(each))
    ]
    return found if sum(each.size for each in found) >= least else []


def _pieces(plane: bytes, width: int, height: int) -> list[Area]:
    try:
        return in_one_go(connected(plane, width, height, by_corners=(1,)))
    except TooManyRuns:
        return []


def _is_stroke(piece: Area, width: int, side: int) -> bool:
    if piece.size >= SPOT_PX and piece.size >= 0.5 * (side - 1) ** 2:
        return True
    return measured(piece, width)[1] >= max(SHORTEST_PX, side)


def measured(piece: Area, width: int) -> tuple[float, float]:
    """Return the width and length of a piece of a picture ``width`` pixels wide, as
    of a strip with its area and its boundary.
    """
    # The sides of pixels run round each corner of a slanted boundary, which itself cuts it.
    half = (piece.sides - CUT_CORNER * _corners(piece, width)) / 2
    length = (half + sqrt(max(0.0, half * half - 4 * piece.size))) / 2
    across, down = piece.box[2] - piece.box[0], piece.box[3] - piece.box[1]
    length = max(length, float(across), float(down))
    return piece.size / length, length


def _corners(piece: Area, width: int) -> int:
    """Return the number of corners of a piece's boundary."""
    ends: dict[int, set[int]] = {}
    for start, stop in piece.runs:
        row = start // width
        ends.setdefault(row, set()).update((start - row * width, stop - row * width))
    return sum(len(ends.get(row, set()) ^ ends.get(row + 1, set())) for row in range(min(ends) - 1, max(ends) + 1))


# -- Fitting in


def _slant(side: int) -> int:
    """Return the cut at each corner of an octagon ``side`` pixels wide."""
    return min(int(side / _ROUND + 0.2), max(0, (side - 2) // 2))


def _octagon(area: int, side: int, row: int, step: Callable[[int, int, int], int]) -> int:
    """Return where an octagon ``side`` pixels wide fits into the area, or the area grown by
    one, by the ``step`` that does so along a line.
    """
    slant = _slant(side)
    straight = side - 2 * slant
    area = step(step(area, straight, 1), straight, row)
    return step(step(area, slant + 1, row + 1), slant + 1, row - 1) if slant else area


def _number(plane: bytes, width: int, height: int, room: int) -> int:
    """Return the area as a number, with ``room`` empty pixels round each row and above the first."""
    digits = plane.translate(b"0" + b"1" * 255)
    # The first pixel is the lowest bit, so rows and pixels are written backwards.
    rows = (digits[at : at + width][::-1] for at in range((height - 1) * width, -1, -width))
    between = b"0" * room
    return int(between + between.join(rows) + b"0" * (room * (width + room + 1)), 2) if plane else 0


def _plane(area: int, width: int, height: int, room: int) -> bytes:
    """Return the picture's own pixels of an area as a plane of 0 and 1."""
    row = width + room
    digits = (
        bin(area >> room * (row + 1))[2:]
        .encode()[::-1]
        .ljust(row * height, b"0")
        .translate(bytes(each == 49 for each in range(256)))
    )
    return b"".join(digits[at : at + width] for at in range(0, row * height, row))


def _fits(area: int, side: int, step: int) -> int:
    """Return where ``side`` pixels, each ``step`` after the one before, all lie in the area."""
    done = 1
    while done < side:
        by = min(done, side - done)
        area &= area >> by * step
        done += by
    return area


def _grown(area: int, side: int, step: int) -> int:
    """Return the area with ``side`` pixels, each ``step`` after the one before, for each of its own."""
    done = 1
    while done < side:
        by = min(done, side - done)
        area |= area << by * step
        done += by
    return area
