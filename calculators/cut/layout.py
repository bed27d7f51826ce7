"""Pieces of one job laid out for a cutter: each in its frame, with register crosses at the same place in all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil, inf, sqrt

from calculators.cut.plane import Flat, Plane
from calculators.shapes.cut_pieces import CutPiece, Layer, NotCuttable, Run
from calculators.shapes.offsets import as_pieces
from calculators.shapes.register import ARM_MM, OFF_MM, cross_arms
from calculators.shapes.waste import rectangle, waste_cuts

#: How far the frame lies outside of the crosses' arms, and two frames from one another, in mm (estimates).
FRAME_OFF_MM, BETWEEN_MM = 2.5, 5.0
#: Pieces go on below one another for so many mm at most: no file takes lines much further away.
LONGEST_MM = 2300.0
#: Files have no more points of outlines than this; further copies are only asked for in the note.
MOST_POINTS = 150_000


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
    """How pieces are laid out. Crosses and frame lie ``beyond`` mm further out where a rim would reach them.

    Rows are as long as fits on a sheet ``sheet_width`` mm wide; pieces that only fit turned are turned.
    """

    size: complex
    beyond: float = 0.0
    mirrored: bool = False
    has_frame: bool = True
    has_waste_cuts: bool = False
    sheet_width: float = inf

    @property
    def fits(self) -> bool:
        """Whether a piece in its frame is no wider than the sheet, turned if necessary."""
        return across_sheet(self) <= self.sheet_width

    @cached_property
    def is_turned(self) -> bool:
        """Whether pieces lie turned by a quarter."""
        low, high = self.upright
        return (high - low).real > self.sheet_width and self.fits

    @property
    def upright(self) -> tuple[complex, complex]:
        """The corners of the frame of a piece that is not turned."""
        margin = complex(self.margin, self.margin)
        return -margin, self.size + margin

    @property
    def margin(self) -> float:
        """How far the frame is from the artwork in mm."""
        return self.beyond + OFF_MM + ARM_MM + FRAME_OFF_MM

    @property
    def frame(self) -> tuple[complex, complex]:
        """The corners of the frame as it lies on the sheet, the corner of the artwork in it at 0."""
        low, high = self.upright
        return (low, complex(high.imag, high.real)) if self.is_turned else (low, high)


def crosses(form: Format) -> tuple[Run, ...]:
    """Return the arms of the register crosses of every piece."""
    return tuple((arm,) for arm in cross_arms(form.size, form.beyond))


def laid_out(plane: Plane, wanted: Sequence[Wanted], form: Format, names: tuple[str, str]) -> list[CutPiece]:
    """Return pieces in rows, their copies after one another; ``names`` are the words for a frame and for cuts through
    waste. On a sheet without a width they are about as wide as high in all.

    Raises NotCuttable where not even one of each has room (``drawn_copies``).
    """
    low, high = form.frame
    across, down = _steps(form)
    copies = drawn_copies(wanted, form)
    drawn = [(each, copy) for copy in range(copies) for each in wanted if copy < each.count]
    if not drawn:
        raise NotCuttable("too large")
    columns = _columns(form, len(drawn))
    made: list[CutPiece] = []
    for place, (each, copy) in enumerate(drawn):
        move = complex(place % columns * across, place // columns * down) - low
        outlines = tuple(_placed(tuple(as_pieces(plane.polygon(ring))), form, move) for ring in each.flat)
        marks = tuple(_placed(run, form, move) for run in crosses(form))
        count = 0 if copy else each.count
        piece = CutPiece(each.name, each.layer, each.material, outlines, marks, count, form.mirrored)
        made.append(piece)
        if form.has_frame:
            frame = CutPiece(names[0], Layer.FRAME, each.material, (rectangle(low + move, high + move),), count=0)
            if form.has_waste_cuts:
                made.append(waste_cuts([piece], frame, names[1], each.material))
            made.append(frame)
    return made


def drawn_copies(wanted: Sequence[Wanted], form: Format) -> int:
    """Return how many copies of each piece files have: all, unless these are too many. 0 if there is no room for one
    of each.
    """
    across, down = _steps(form)
    room = int(LONGEST_MM / across) * int(LONGEST_MM / down) // len(wanted)
    points = sum(len(ring) for each in wanted for ring in each.flat)
    return min(room, max(each.count for each in wanted), max(1, MOST_POINTS // max(1, points)))


def stays_on_sheet(wanted: Sequence[Wanted], form: Format) -> bool:
    """Return whether all pieces lie side by side and below one another on a sheet of this width."""
    count = sum(min(drawn_copies(wanted, form), each.count) for each in wanted)
    return form.fits and _columns(form, count) * _steps(form)[0] - BETWEEN_MM <= form.sheet_width


def _steps(form: Format) -> tuple[float, float]:
    """Return how far pieces are from one another, across and down."""
    low, high = form.frame
    return (high - low).real + BETWEEN_MM, (high - low).imag + BETWEEN_MM


def _columns(form: Format, count: int) -> int:
    """Return how many pieces lie side by side."""
    across, down = _steps(form)
    if form.fits and form.sheet_width < inf:
        columns = max(1, min(count, int((form.sheet_width + BETWEEN_MM) / across)))
        if ceil(count / columns) * down <= LONGEST_MM:
            return columns
    square = min(round(sqrt(count * down / across)), int(LONGEST_MM / across))
    return max(1, square, ceil(count / int(LONGEST_MM / down)))


def across_sheet(form: Format) -> float:
    """Return the least width of a sheet in mm on which a piece lies, turned if that is narrower."""
    low, high = form.upright
    return min((high - low).real, (high - low).imag)


def _placed(run: Run, form: Format, move: complex) -> Run:
    return tuple(tuple(_on_sheet(point, form) + move for point in piece) for piece in run)


def _on_sheet(point: complex, form: Format) -> complex:
    """Return where a point of the artwork lies, mirrored and turned as the pieces are."""
    if form.mirrored:
        point = complex(form.size.real - point.real, point.imag)
    return complex(form.size.imag - point.imag, point.real) if form.is_turned else point
