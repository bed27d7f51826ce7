"""Strokes of a letter as closed rings: bars, beams with flat ends, and paths with round corners.

Points are x + y j in one unit, y down, the box of a letter from 0 to its width and its height. All rings run the same
way round what they fill, so that those of one letter may overlap.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil, pi, sqrt, tan

from calculators.shapes.areas import backwards, enclosed
from calculators.shapes.cubics import Piece

#: An arc is drawn by cubic curves of at most this turn, in radians: they are within 5 millionths of its radius.
MOST_TURN = pi / 4
#: The directions in which the end of a stroke may be cut.
ACROSS, DOWN = 1 + 0j, 1j

Line = tuple[complex, complex]


@dataclass
class Pen:
    """Draws strokes of one width; ``rings`` are what was drawn so far."""

    width: float
    rings: list[list[Piece]] = field(default_factory=list)

    def polygon(self, *points: complex) -> None:
        """Fill a polygon."""
        self._add(list(zip(points, [*points[1:], points[0]], strict=True)))

    def bar(self, left: float, top: float, right: float, bottom: float) -> None:
        """Fill an upright rectangle."""
        self.polygon(complex(left, top), complex(right, top), complex(right, bottom), complex(left, bottom))

    def slab(self, top_left: complex, bottom_left: complex, across: float) -> None:
        """Fill a stroke with horizontal ends that are ``across`` wide."""
        self.polygon(top_left, top_left + across, bottom_left + across, bottom_left)

    def path(
        self,
        points: Sequence[complex],
        radius: float,
        *,
        sharp: Collection[int] = (),
        closed: bool = False,
        start: complex | None = None,
        end: complex | None = None,
    ) -> None:
        """Fill a stroke along straight lines; its outer corners get ``radius`` as far as there is room.

        ``sharp`` are the places of corners without. ``start`` and ``end`` are the directions in which the ends are
        cut, straight across where they are None.
        """
        radii = _radii(points, self.width, radius, sharp, closed)
        right, left = (_side(points, half, radii, self.width, closed, start, end) for half in _halves(self.width))
        if closed:
            outer, inner = sorted((right, left), key=lambda ring: -abs(enclosed(ring)))
            self._add(outer)
            self._add(inner, hole=True)
        else:
            joins = [(right[-1][-1], left[-1][-1])], [(left[0][0], right[0][0])]
            self._add([*right, *joins[0], *backwards(left), *joins[1]])

    def _add(self, ring: list[Piece], *, hole: bool = False) -> None:
        self.rings.append(ring if (enclosed(ring) > 0) != hole else backwards(ring))


def slab_width(width: float, height: float, run: float, share: float = 0.0) -> float:
    """Return how wide a stroke of ``width`` is across if it runs ``run`` less ``share`` of that sideways on ``height``.

    >>> round(slab_width(3, 4, 3), 6)
    3.75
    """
    # across² height² = width² (height² + (run - share across)²), by the positive root.
    square = height * height - (share * width) ** 2
    half = run * share * width * width
    return (sqrt(half * half + square * width * width * (height * height + run * run)) - half) / square


def crossing(one: Line, other: Line) -> complex:
    """Return where two lines, each a point and a direction, cross. Raises ZeroDivisionError for parallel ones."""
    (point, way), (through, along) = one, other
    share = ((through - point).conjugate() * along).imag / (way.conjugate() * along).imag
    return point + share * way


def _halves(width: float) -> tuple[float, float]:
    return width / 2, -width / 2


def _ways(points: Sequence[complex], closed: bool) -> list[complex]:
    """Return the unit direction of each part."""
    ends = [*points, points[0]] if closed else points
    return [(end - start) / abs(end - start) for start, end in pairwise(ends)]


def _radii(points: Sequence[complex], width: float, radius: float, sharp: Collection[int], closed: bool) -> list[float]:
    """Return the outer radius at each point: the wanted one as far as the parts beside it have room."""
    ways, count = _ways(points, closed), len(points)
    ends = [*points, points[0]] if closed else points
    lengths = [abs(end - start) for start, end in pairwise(ends)]
    rounded = [radius if radius and place not in sharp else 0.0 for place in range(count)]
    if not closed:
        rounded[0] = rounded[-1] = 0.0
    radii = []
    for place in range(count):
        if not rounded[place]:
            radii.append(0.0)
            continue
        room = min(
            lengths[part] / (2 if rounded[neighbour % count] else 1)
            for part, neighbour in ((place - 1, place - 1), (place, place + 1))
        )
        tangent = tan(abs(phase(ways[place - 1].conjugate() * ways[place])) / 2)
        radii.append(min(radius, room / tangent + width / 2))
    return radii


def _side(
    points: Sequence[complex],
    half: float,
    radii: Sequence[float],
    width: float,
    closed: bool,
    start: complex | None,
    end: complex | None,
) -> list[Piece]:
    """Return the line along one side of a stroke, at the distance ``half``."""
    ways = _ways(points, closed)
    made: list[Piece] = []
    corners: list[tuple[complex, complex, list[Piece]]] = []
    for place, point in enumerate(points):
        if not closed and place in (0, len(points) - 1):
            way = ways[0] if place == 0 else ways[-1]
            cut = (start if place == 0 else end) or way * 1j
            tip = crossing((point + half * 1j * way, way), (point, cut))
            corners.append((tip, tip, []))
            continue
        came, goes = ways[place - 1], ways[place]
        turned = came.conjugate() * goes
        tip = point + half * 1j * (came + goes) / (1 + turned.real)
        inner = turned.imag * half > 0
        radius = max(0.0, radii[place] - width) if inner else radii[place]
        corners.append(_rounded(tip, came, goes, radius))
    for (_first, leaves, arc), (arrives, _last, _arc) in pairwise([*corners, *corners[:closed]]):
        made += [*arc, (leaves, arrives)]
    return [piece for piece in made if len(piece) == 4 or piece[0] != piece[1]]


def _rounded(tip: complex, came: complex, goes: complex, radius: float) -> tuple[complex, complex, list[Piece]]:
    """Return where the round corner of a ``radius`` begins and ends, and its curves."""
    turn = phase(came.conjugate() * goes)
    if not radius:
        return tip, tip, []
    reach = radius * tan(abs(turn) / 2)
    first, last = tip - reach * came, tip + reach * goes
    inward = came * (1j if turn > 0 else -1j)
    centre = first + radius * inward
    steps = ceil(abs(turn) / MOST_TURN - 1e-9)
    handle = 4 / 3 * tan(turn / steps / 4) * 1j
    spokes = [-radius * inward * rect(1.0, turn * step / steps) for step in range(steps + 1)]
    spokes[0], spokes[-1] = first - centre, last - centre
    arc: list[Piece] = [
        (centre + one, centre + one + handle * one, centre + other - handle * other, centre + other)
        for one, other in pairwise(spokes)
    ]
    return first, last, arc
