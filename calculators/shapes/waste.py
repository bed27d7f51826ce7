"""The frame round what is cut, and cuts through the waste in between, by which it comes off in parts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from calculators.shapes.cut_pieces import CutPiece, Layer, NotCuttable, Run
from calculators.shapes.cutting_order import FOLLOWED, Boundary
from calculators.shapes.grid import flattened

#: A shorter cut through waste parts nothing that a hand could hold, in mm (estimate).
SHORTEST_MM = 0.5


def corners_of(runs: Iterable[Run]) -> tuple[complex, complex]:
    """Return the top left and the bottom right corner of the box round ``runs``, by their curves.

    Raises NotCuttable where there are none.
    """
    points = [point for run in runs for point in (run[0][0], *flattened(run, FOLLOWED))]
    if not points:
        raise NotCuttable("nothing")
    across, down = [point.real for point in points], [point.imag for point in points]
    return complex(min(across), min(down)), complex(max(across), max(down))


def rectangle(low: complex, high: complex) -> Run:
    """Return a closed run round a box."""
    corners = [low, complex(high.real, low.imag), high, complex(low.real, high.imag), low]
    return tuple(pairwise(corners))


def waste_frame(pieces: Sequence[CutPiece], margin_mm: float, name: str, material: str) -> CutPiece:
    """Return a frame that leaves ``margin_mm`` round ``pieces``, register marks included."""
    low, high = corners_of(run for piece in pieces for run in (*piece.outlines, *piece.marks))
    margin = complex(margin_mm, margin_mm)
    return CutPiece(name, Layer.FRAME, material, (rectangle(low - margin, high + margin),), count=0)


def waste_cuts(pieces: Sequence[CutPiece], frame: CutPiece, name: str, material: str) -> CutPiece:
    """Return cuts straight across the waste, from the left and the right end of each piece to what is next to it.

    Each begins and ends on an outline, and crosses none; where a register mark is in the way, there is none. The waste
    above the pieces of a row then comes off without that below.
    """
    marks = [Boundary([run[0][0], *flattened(run, FOLLOWED)]) for piece in pieces for run in piece.marks]
    inner = [Boundary(flattened(run, FOLLOWED)) for piece in pieces for run in piece.outlines]
    outlines = [*inner, *(Boundary(flattened(run, FOLLOWED)) for run in frame.outlines)]
    found: dict[tuple[int, int, int], Run] = {}
    for place, outline in enumerate(inner):
        if any(other is not outline and other.holds(outline.points[0]) for other in inner):
            continue
        for side in (-1, 1):
            start = max(outline.points, key=lambda point: side * point.real)
            ends = [(side * (x - start.real), hit) for x, hit in _crossed(outlines, start.imag) if hit != place]
            length, hit = min((end for end in ends if end[0] > 0), default=(0.0, place))
            barred = any(0 <= side * (x - start.real) <= length for x, _mark in _crossed(marks, start.imag))
            if length >= SHORTEST_MM and not barred:
                # One cut between the same two pieces is enough.
                between = (place, hit, side) if place < hit else (hit, place, -side)
                found.setdefault(between, ((start, start + side * length),))
    return CutPiece(name, Layer.WASTE, material, (), tuple(found.values()), count=0)


def _crossed(outlines: Sequence[Boundary], y: float) -> Iterator[tuple[float, int]]:
    """Yield where outlines cross or touch a level line, and the number of each."""
    for place, outline in enumerate(outlines):
        if not outline.top <= y <= outline.bottom:
            continue
        for before, after in pairwise([outline.points[-1], *outline.points]):
            if min(before.imag, after.imag) <= y <= max(before.imag, after.imag):
                if before.imag == after.imag:
                    yield before.real, place
                    yield after.real, place
                else:
                    share = (y - before.imag) / (after.imag - before.imag)
                    yield before.real + share * (after.real - before.real), place
