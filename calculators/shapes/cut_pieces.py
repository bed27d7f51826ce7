"""What a knife or a cutter gets: pieces of material, with the lines that are cut and those that only mark.

Everything lies in one plane, in mm, y down: pieces that share a sheet have their places already, and a piece that is
cut mirrored is mirrored already.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from calculators.shapes.cubics import Piece

#: A line of pieces (``cubics.Piece``), each beginning exactly where the one before ends.
Run = tuple[Piece, ...]
#: Ends of a closed run may be apart by this much, in mm, and what is no longer is a point: rounding.
CLOSED_MM = 1e-6
#: No line goes further than this from the origin, in mm: a page of PDF is at most 5,080 mm long.
FARTHEST_MM = 2500.0


class NotCuttable(ValueError):
    """A line has no length, is not closed where it must be, or has numbers that are too large or none at all."""


class Layer(Enum):
    """What a line is there for, by which cutting programs take it up or leave it out."""

    BACKING = "BACKING"
    STENCIL = "STENCIL"
    OUTLINE = "OUTLINE"
    CUT_OUT = "CUT_OUT"
    TEMPLATE = "TEMPLATE"
    #: Register crosses and whatever else is only marked.
    REGISTER = "REGISTER"
    #: Cuts through waste, by which it comes off in parts, and the frame round it.
    WASTE = "WASTE"
    FRAME = "FRAME"
    #: The square to measure.
    CHECK = "CHECK_50MM"


@dataclass(frozen=True)
class CutPiece:
    """One piece.

    ``name`` and ``material`` are words for the reader ("stencil for white", "adhesive masking film").
    ``count`` is how many of it are to be cut in all, further copies that are drawn among them. It is 0 for what the
    note is not to list: those copies, a frame, cuts through waste.
    """

    name: str
    layer: Layer
    material: str
    #: Closed: each run ends exactly where it begins. Together they fill by even-odd and neither cross nor touch; in
    #: which direction a hole runs does not matter. Of a stencil they are the openings.
    outlines: tuple[Run, ...]
    #: Open lines that are drawn or cut lightly: they cut nothing loose. On the layer WASTE they are cuts.
    marks: tuple[Run, ...] = ()
    count: int = 1
    #: Only for the note: the lines are as they are cut.
    mirrored: bool = False

    def __post_init__(self) -> None:
        """Raise NotCuttable."""
        for run in (*self.outlines, *self.marks):
            # A number that is none compares as false with everything.
            if not run or not all(_is_near(point) for piece in run for point in piece):
                raise NotCuttable(self.name)
            if all(abs(point - run[0][0]) <= CLOSED_MM for piece in run for point in piece):
                raise NotCuttable(self.name)
        for run in self.outlines:
            if not abs(run[-1][-1] - run[0][0]) <= CLOSED_MM:
                raise NotCuttable(self.name)


def _is_near(point: complex) -> bool:
    return abs(point.real) <= FARTHEST_MM and abs(point.imag) <= FARTHEST_MM
