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
    """One piece, drawn once; whoever wants copies on the sheet places them as pieces of ``count`` 0.

    ``name`` and ``material`` are words for the reader ("stencil for white", "adhesive masking film").
    ``count`` is how many of it to cut, with the copies that are placed.
    """

    name: str
    layer: Layer
    material: str
    #: Closed: each run ends exactly where it begins. Together they fill by even-odd and neither cross nor touch; in
    #: which direction a hole runs does not matter. Of a stencil they are the openings.
    outlines: tuple[Run, ...]
    #: Open lines that are drawn or cut lightly, never filled: they do not cut the piece loose.
    marks: tuple[Run, ...] = ()
    count: int = 1
    #: Only for the note: the lines are as they are cut.
    mirrored: bool = False
