"""Strokes as areas: lines of a width, with joins, caps, miter limit and dashes.

Source: SVG 2, 13.5 (stroke properties) and 13.7 (how a stroke's shape is computed), from memory.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from calculators.shapes.cubics import Piece, at
from calculators.shapes.grid import shares
from calculators.shapes.parallels import BUTT, MITER, ROUND, SQUARE, Corner, arc_step, cap, parallel, round_corner
from calculators.shapes.set_operations import cleaned

#: A dashed line has no more dashes than this.
MOST_DASHES = 20_000


class TooManyDashes(ValueError):
    """A line that would be cut into more dashes than anybody draws."""


@dataclass(frozen=True)
class Pen:
    """How a line is stroked, lengths in the unit of the line; ``dashes`` are the lengths of dashes and gaps in turn."""

    width: float
    cap: str = BUTT
    join: str = MITER
    miter_limit: float = 4.0
    dashes: tuple[float, ...] = ()
    dash_offset: float = 0.0


@dataclass(frozen=True)
class Track:
    """A line that a pen follows: its points, and which of them are corners; a closed one ends where it begins."""

    points: list[complex]
    sharp: frozenset[int]
    closed: bool


def stroked(lines: Sequence[tuple[Sequence[Piece], bool]], pen: Pen, followed: float) -> list[list[Piece]]:
    """Return the rings round what a ``pen`` covers along ``lines``, each of pieces and whether it is closed.

    Curves are followed within ``followed``. Raises TooManyDashes.

    >>> rings = stroked([([(0j, 4 + 0j)], False)], Pen(2.0), 0.01)
    >>> sorted((each[0].real, each[0].imag) for each in rings[0])
    [(0.0, -1.0), (0.0, 1.0), (4.0, -1.0), (4.0, 1.0)]
    """
    if pen.width <= 0:
        return []
    outlines: list[list[complex]] = []
    for pieces, closed in lines:
        track = _track(pieces, closed, followed)
        for part in _dashed(track, pen) if any(pen.dashes) else [track]:
            outlines += _outlines(part, pen, followed)
    rings = [list(zip(ring, [*ring[1:], ring[0]], strict=True)) for ring in outlines]
    return cleaned(rings, followed=followed)


def _track(pieces: Sequence[Piece], closed: bool, followed: float) -> Track:
    points, sharp = [pieces[0][0]], set()
    for piece in pieces:
        sharp.add(len(points) - 1)
        for share in shares(piece, followed):
            point = at(piece, share) if share < 1 else piece[-1]
            if point != points[-1]:
                points.append(point)
    sharp.add(len(points) - 1)
    if closed and len(points) > 1 and points[-1] == points[0]:
        sharp.discard(len(points) - 1)
        points.pop()
        sharp.add(0)
    return Track(points, frozenset(sharp), closed)


def _outlines(track: Track, pen: Pen, followed: float) -> list[list[complex]]:
    """Return closed lines that go round all that is covered in the same sense."""
    half = pen.width / 2
    points = track.points
    corner = Corner(arc_step(half, followed), pen.join, pen.miter_limit)
    if len(points) == 1:
        if pen.cap == ROUND:
            return [cap(points[0], 1, half, ROUND, corner.arc)[:-1] + cap(points[0], -1, half, ROUND, corner.arc)[:-1]]
        if pen.cap == SQUARE:
            return [[points[0] + half * each for each in (-1 - 1j, 1 - 1j, 1 + 1j, -1 + 1j)]]
        return []
    last = len(points) - 1
    if track.closed and last > 1:
        back = {last - place for place in track.sharp}
        return [
            list(parallel(points, half, corner, track.sharp)),
            list(parallel(points[::-1], half, corner, back)),
        ]
    if track.closed:
        points = [*points, points[0]]
        last += 1
    return [
        [
            *_open_side(points, track.sharp, pen, corner),
            *_open_side(points[::-1], {last - place for place in track.sharp}, pen, corner),
        ]
    ]


def _open_side(points: list[complex], sharp: set[int] | frozenset[int], pen: Pen, corner: Corner) -> list[complex]:
    """Return the line along the right of an open line, and its cap at the end."""
    half = pen.width / 2
    bend = Corner(corner.arc)
    ways = [end - start for start, end in pairwise(points)]
    made = [
        each
        for place in range(1, len(points) - 1)
        for each in round_corner(points[place], ways[place - 1], ways[place], half, corner if place in sharp else bend)
    ]
    way = ways[-1]
    return made + cap(points[-1], way / abs(way), half, pen.cap, corner.arc)


def _dashed(track: Track, pen: Pen) -> Iterator[Track]:
    """Yield the dashes of a line. Raises TooManyDashes."""
    points = [*track.points, track.points[0]] if track.closed else track.points
    lengths = [0.0, *accumulate(abs(end - start) for start, end in pairwise(points))]
    whole = lengths[-1]
    pattern = pen.dashes * (2 if len(pen.dashes) % 2 else 1)
    period = sum(pattern)
    if whole / period * len(pattern) > MOST_DASHES:
        raise TooManyDashes
    place = -(pen.dash_offset % period)
    while place < whole:
        for number, length in enumerate(pattern):
            if not number % 2 and place + length >= 0 and place <= whole and (length or place >= 0):
                yield _stretch(points, track.sharp, lengths, max(0.0, place), min(whole, place + length))
            place += length


def _stretch(points: list[complex], sharp: frozenset[int], lengths: list[float], start: float, end: float) -> Track:
    """Return the part of a line between two lengths along it."""

    def point(length: float) -> complex:
        place = min(bisect_right(lengths, length), len(points) - 1)
        span = lengths[place] - lengths[place - 1]
        share = (length - lengths[place - 1]) / span if span else 0.0
        return points[place - 1] + share * (points[place] - points[place - 1])

    first, last = bisect_right(lengths, start), bisect_right(lengths, end)
    inner = [place for place in range(first, last) if start < lengths[place] < end]
    made = [point(start), *(points[place] for place in inner), point(end)]
    if len(made) == 2 and made[0] == made[1]:
        return Track(made[:1], frozenset((0,)), False)
    corners = {number for number, place in enumerate(inner, 1) if place in sharp}
    return Track(made, frozenset(corners | {0, len(made) - 1}), False)
