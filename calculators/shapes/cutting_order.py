"""In which order lines are cut, and how long they are.

Marks come first, while all still holds. Then whatever lies inside something else comes before it, and small before
large: what lies inside is always smaller, so the order of areas does both. A cut through waste comes after the pieces
beside it and before the frame round it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calculators.shapes.areas import enclosed
from calculators.shapes.cubics import at
from calculators.shapes.cut_pieces import CutPiece, Layer, Run
from calculators.shapes.grid import flattened

#: How closely curves are followed to measure them, and to see what lies inside what, in mm.
FOLLOWED = 1e-3
#: The parts of a curve whose lengths are added, each by Simpson's rule.
PARTS = 8


@dataclass(frozen=True)
class Cut:
    """One line in the order of cutting. ``closed`` ones cut something loose; ``name`` is that of the piece."""

    layer: Layer
    name: str
    run: Run
    closed: bool


def cutting_order(pieces: Iterable[CutPiece]) -> list[Cut]:
    """Return the lines of ``pieces`` in the order in which they are cut."""
    marks: list[Cut] = []
    waste: list[Cut] = []
    closed: list[Cut] = []
    for piece in pieces:
        closed += (Cut(piece.layer, piece.name, run, True) for run in piece.outlines)
        if piece.layer is Layer.WASTE:
            waste += (Cut(Layer.WASTE, piece.name, run, False) for run in piece.marks)
        else:
            marks += (Cut(Layer.REGISTER, piece.name, run, False) for run in piece.marks)
    closed.sort(key=lambda cut: abs(enclosed(cut.run)))
    return [*marks, *_with_waste(closed, waste)]


def _with_waste(closed: Sequence[Cut], waste: Sequence[Cut]) -> list[Cut]:
    """Return closed cuts, small before large, each cut through waste before the smallest that has it inside."""
    before: dict[int, list[Cut]] = {}
    if waste:
        boundaries = [Boundary(flattened(cut.run, FOLLOWED)) for cut in closed]
        for cut in waste:
            middle = at(cut.run[len(cut.run) // 2], 0.5)
            holders = (place for place, boundary in enumerate(boundaries) if boundary.holds(middle))
            before.setdefault(next(holders, len(closed)), []).append(cut)
    ordered: list[Cut] = []
    for place in range(len(closed) + 1):
        ordered += before.get(place, [])
        ordered += closed[place : place + 1]
    return ordered


class Boundary:
    """A closed line from point to point.

    >>> square = Boundary([0j, 2 + 0j, 2 + 2j, 2j])
    >>> square.holds(1 + 1j), square.holds(3 + 1j)
    (True, False)
    """

    def __init__(self, points: list[complex]) -> None:
        self.points = points
        self.top, self.bottom = min(point.imag for point in points), max(point.imag for point in points)
        self._left, self._right = min(point.real for point in points), max(point.real for point in points)

    def holds(self, point: complex) -> bool:
        """Return whether ``point`` lies inside."""
        if not (self.top <= point.imag <= self.bottom and self._left <= point.real <= self._right):
            return False
        inside = False
        before = self.points[-1]
        for after in self.points:
            if (before.imag <= point.imag) != (after.imag <= point.imag):
                share = (point.imag - before.imag) / (after.imag - before.imag)
                inside ^= before.real + share * (after.real - before.real) > point.real
            before = after
        return inside


def run_length(run: Run) -> float:
    """Return the length of a run in mm.

    >>> run_length(((0j, 3 + 4j), (3 + 4j, 3 + 5j)))
    6.0
    """
    return sum(abs(piece[-1] - piece[0]) if len(piece) == 2 else _curve_length(*piece) for piece in run)


def cutting_length(cuts: Iterable[Cut]) -> float:
    """Return how many mm of material are cut through; register marks are not."""
    return sum(run_length(cut.run) for cut in cuts if cut.layer is not Layer.REGISTER)


def _curve_length(start: complex, one: complex, two: complex, end: complex) -> float:
    first, second, third = one - start, two - one, end - two

    def speed(share: float) -> float:
        left = 1 - share
        return 3 * abs(left * left * first + 2 * left * share * second + share * share * third)

    speeds = [speed(step / (2 * PARTS)) for step in range(2 * PARTS + 1)]
    return (speeds[0] + speeds[-1] + 4 * sum(speeds[1::2]) + 2 * sum(speeds[2:-1:2])) / (6 * PARTS)
