"""Lines along one side of another line, at a distance, from which strokes, spreads and chokes are made.

Such a line goes along a rectangle on each part of the other, as deep as the distance, and round each corner that opens
to that side. Where a corner closes, it goes back to the corner and out again, unless the parts beside it are long
enough to end in one point. Whatever is covered is then gone round once in the same sense, and nothing more is.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from math import acos, ceil, pi

ROUND, MITER, BEVEL = "round", "miter", "bevel"
BUTT, SQUARE = "butt", "square"
#: No arc has more points than 628 to a turn, in radians: 0.0013 % of the radius off.
LEAST_STEP = 0.01
#: Parts at least so many times as long as what a corner cuts off them end in one point beside it.
ROOM = 3.0


@dataclass(frozen=True)
class Corner:
    """How lines go round corners: ``arc`` is the largest angle between points of a round one, in radians; a
    miter longer than ``limit`` times the width is a bevel (SVG 2, 13.5.5).
    """

    arc: float
    join: str = ROUND
    limit: float = 4.0


def arc_step(radius: float, followed: float) -> float:
    """Return the angle in radians at whose chord an arc of ``radius`` is ``followed`` high.

    >>> round(arc_step(1.0, 0.5), 6) == round(2 * pi / 3, 6)
    True
    """
    return max(LEAST_STEP, 2 * acos(1 - min(followed / radius, 0.5)))


def parallel(
    points: Sequence[complex], distance: float, corner: Corner, sharp: Collection[int] | None = None
) -> Iterator[complex]:
    """Yield the line at ``distance`` on the right of a closed line (y up), on the left where it is below 0.

    No point may equal the one before. ``sharp`` are the places of the corners that are joined as ``corner`` says,
    all if it is None; others are bends of a curve.
    """
    count = len(points)
    ways = [points[(place + 1) % count] - point for place, point in enumerate(points)]
    bend = Corner(corner.arc)
    for place, point in enumerate(points):
        joined = corner if sharp is None or place in sharp else bend
        yield from round_corner(point, ways[place - 1], ways[place], distance, joined)


def round_corner(point: complex, came: complex, goes: complex, distance: float, corner: Corner) -> Iterator[complex]:
    """Yield the line at ``distance`` on the right of a corner between two ways, as ``parallel`` does."""
    length, next_length = abs(came), abs(goes)
    one, two = -1j * came / length, -1j * goes / next_length
    turned = one.conjugate() * two
    along, turn = turned.real, turned.imag
    if turn * distance > 0 or (along < 0 and turn == 0):
        yield from _opening(point, one, turned, distance, corner)
    elif along > -0.5 and abs(distance * turn) * ROOM <= (1 + along) * min(length, next_length):
        # The tangent of half the turn is turn / (1 + along). What each rectangle loses, the other covers.
        yield point + distance * (one + two) / (1 + along)
    else:
        yield point + distance * one
        yield point
        yield point + distance * two


def _opening(point: complex, one: complex, turned: complex, distance: float, corner: Corner) -> Iterator[complex]:
    """Yield the line round a corner from the direction ``one``, turned by ``turned``."""
    along = turned.real
    angle = abs(phase(turned)) if distance > 0 else -abs(phase(turned))
    start = distance * one
    if corner.join == ROUND and abs(angle) <= corner.arc and along > 0:
        # The arc and the tangents at its ends are the same within what is followed.
        yield point + start * (1 + turned) / (1 + along)
        return
    yield point + start
    if corner.join == ROUND:
        steps = ceil(abs(angle) / corner.arc)
        for each in range(1, steps):
            yield point + start * rect(1.0, angle * each / steps)
    elif corner.join == MITER and 2 <= corner.limit**2 * (1 + along):
        # The miter is 1 / cos(half the turn) long, and cos² of the half is (1 + along) / 2.
        yield point + start * (1 + turned) / (1 + along)
    yield point + start * turned


def cap(end: complex, way: complex, half: float, kind: str, arc: float) -> list[complex]:
    """Return the line round the end of a stroke that arrives in the unit direction ``way``, from its right to its left.

    ``half`` is half its width, ``arc`` as in Corner.
    """
    right = -1j * way * half
    if kind == ROUND:
        steps = ceil(pi / arc)
        return [end + right * rect(1.0, pi * each / steps) for each in range(steps + 1)]
    if kind == SQUARE:
        return [end + right, end + right + way * half, end - right + way * half, end - right]
    return [end + right, end - right]
