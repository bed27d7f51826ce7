"""Rings on a grid of whole numbers, fine enough that nobody sees it, and back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, frexp, ldexp, sqrt

from calculators.shapes.cubics import Piece, at
from calculators.shapes.snap_rounding import Node

#: A grid has at least 2 to this power of units across what is drawn: 1.5 nm of 100 mm.
FINENESS = 26
#: No unit is below 2 to this power: a smaller one could be rounded to nothing.
FINEST = -1000

#: Closed rings of pieces. By winding, or by even-odd.
Rings = Sequence[Sequence[Piece]]


@dataclass(frozen=True)
class Grid:
    """A grid whose ``unit`` is a power of two, so that points of it are the same in every finer grid."""

    unit: float

    def node(self, place: complex) -> Node:
        """Return the nearest point of the grid."""
        return round(place.real / self.unit), round(place.imag / self.unit)

    def place(self, node: Node) -> complex:
        """Return where a point of the grid is."""
        return complex(node[0] * self.unit, node[1] * self.unit)


def grid_for(rings: Iterable[Sequence[Piece]], reach: float = 0.0) -> Grid:
    """Return a grid for ``rings`` and what lies within ``reach`` of them."""
    points = [point for ring in rings for piece in ring for point in piece]
    if not points:
        return Grid(1.0)
    across, down = [point.real for point in points], [point.imag for point in points]
    span = max(max(across) - min(across), max(down) - min(down)) + 2 * reach
    return Grid(ldexp(1.0, max(FINEST, frexp(span or 1.0)[1] - FINENESS)))


def shares(piece: Piece, followed: float) -> Iterator[float]:
    """Yield the shares (0 to 1) of a piece's parameter, the first left out, between which straight lines stay
    within ``followed`` of it.

    >>> list(shares((0j, 1 + 0j), 0.01))
    [1.0]
    """
    steps = 1
    if len(piece) == 4:
        start, one, other, end = piece
        bend = max(abs(start - 2 * one + other), abs(one - 2 * other + end))
        # The chord of a part of n lies no further off than a eighth of the second derivative, at most 6 bends, by n².
        steps = max(1, ceil(sqrt(0.75 * bend / followed)))
    for step in range(1, steps):
        yield step / steps
    yield 1.0


def flattened(ring: Sequence[Piece], followed: float) -> list[complex]:
    """Return the corners of straight lines within ``followed`` of a closed ring, the first not repeated."""
    points: list[complex] = []
    for piece in ring:
        if len(piece) == 4:
            points += (at(piece, share) for share in shares(piece, followed) if share < 1)
        points.append(piece[-1])
    return points


def doubled_area(ring: Sequence[Node]) -> int:
    """Return twice the area within nodes, above 0 if it is on their left (y up)."""
    total = 0
    x, y = ring[-1] if ring else (0, 0)
    for to_x, to_y in ring:
        total += x * to_y - to_x * y
        x, y = to_x, to_y
    return total
