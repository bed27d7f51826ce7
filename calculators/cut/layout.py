"""Pieces of one job laid out for a cutter: each in its frame, with register crosses at the same place in all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from calculators.cut.plane import Flat, Plane
from calculators.shapes.cut_pieces import CutPiece, Layer, Run
from calculators.shapes.offsets import as_pieces
from calculators.shapes.waste import rectangle, waste_cuts

#: How far the middles of register crosses lie outside the artwork, and how long their arms are, in mm (estimates).
CROSS_OFF_MM, ARM_MM = 4.0, 2.5
#: How far the frame lies outside of the crosses' arms, and two frames from one another, in mm (estimates).
FRAME_OFF_MM, BETWEEN_MM = 2.5, 5.0


@dataclass(frozen=True)
class Wanted:
    """One piece that is wanted: words for it, and its region (of a stencil the openings)."""

    name: str
    layer: Layer
    material: str
    flat: Flat
    count: int = 1


@dataclass(frozen=True)
class Format:
    """How pieces are laid out. The frame lies ``beyond`` further out, the rim of what reaches beyond the artwork."""

    size: complex
    beyond: float = 0.0
    mirrored: bool = False
    has_frame: bool = True
    has_waste_cuts: bool = False

    @property
    def margin(self) -> float:
        """How far the frame is from the artwork in mm."""
        return self.beyond + CROSS_OFF_MM + ARM_MM + FRAME_OFF_MM

    @property
    def frame(self) -> tuple[complex, complex]:
        """The corners of the frame, the artwork's own corner at 0."""
        margin = complex(self.margin, self.margin)
        return -margin, self.size + margin


def crosses(form: Format) -> tuple[Run, ...]:
    """Return the arms of the register crosses of every piece: at three corners, so that none fits on turned or mirrored
    by mistake.
    """
    off = form.beyond + CROSS_OFF_MM
    right, bottom = form.size.real + off, form.size.imag + off
    made: list[Run] = []
    for middle in (complex(-off, -off), complex(right, -off), complex(-off, bottom)):
        for arm in (complex(ARM_MM, 0), complex(0, ARM_MM)):
            made.append(((middle - arm, middle + arm),))
    return tuple(made)


def laid_out(plane: Plane, wanted: Sequence[Wanted], form: Format, names: tuple[str, str]) -> list[CutPiece]:
    """Return pieces in rows, about as wide as high in all; ``names`` are the words for a frame and for cuts through
    waste.
    """
    low, high = form.frame
    across, down = (high - low).real + BETWEEN_MM, (high - low).imag + BETWEEN_MM
    columns = max(1, round(sqrt(len(wanted) * down / across)))
    made: list[CutPiece] = []
    for place, each in enumerate(wanted):
        move = complex(place % columns * across, place // columns * down) - low
        outlines = tuple(_placed(tuple(as_pieces(plane.polygon(ring))), form, move) for ring in each.flat)
        marks = tuple(_placed(run, form, move) for run in crosses(form))
        piece = CutPiece(each.name, each.layer, each.material, outlines, marks, each.count, form.mirrored)
        made.append(piece)
        if form.has_frame:
            frame = CutPiece(names[0], Layer.FRAME, each.material, (rectangle(low + move, high + move),), count=0)
            if form.has_waste_cuts:
                made.append(waste_cuts([piece], frame, names[1], each.material))
            made.append(frame)
    return made


def across_sheet(form: Format) -> float:
    """Return the least width of a sheet in mm on which a piece lies, turned if that is narrower."""
    low, high = form.frame
    return min((high - low).real, (high - low).imag)


def _placed(run: Run, form: Format, move: complex) -> Run:
    if not form.mirrored:
        return tuple(tuple(point + move for point in piece) for piece in run)
    width = form.size.real
    return tuple(tuple(complex(width - point.real, point.imag) + move for point in piece) for piece in run)
