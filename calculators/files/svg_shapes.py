"""Regions in one colour: fills and strokes in the units of a whole drawing, and what clip paths leave of them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

from calculators import messages
from calculators.files.svg_numbers import length_of, number_of
from calculators.files.svg_paths import MOST_PIECES, Line
from calculators.files.unread import Unread, broken
from calculators.shapes.cubics import Piece
from calculators.shapes.grid import shares
from calculators.shapes.set_operations import intersection
from calculators.shapes.snap_rounding import TooTangled
from calculators.shapes.strokes import Pen, TooManyDashes, stroked
from calculators.shapes.transforms import Matrix, determinant

#: Maximum straight lines of all strokes, and of all that is clipped, which are joined one by one.
MOST_JOINED = 40_000
#: What beginning another stroke costs, in straight lines.
_EACH = 6
#: No point lies further away than this, in units of the drawing.
FARTHEST = 1e7

Ring = Sequence[Piece]


@dataclass(frozen=True)
class Shape:
    """What is filled with one colour (#rrggbb): closed rings of pieces, in units of the
    drawing; by ``even_odd`` or else by winding.
    """

    fill: str
    rings: tuple[tuple[Piece, ...], ...]
    even_odd: bool


@dataclass(frozen=True)
class Clip:
    """A region outside of which nothing is shown: rings that are filled by winding, and their box, if they are one."""

    rings: tuple[tuple[Piece, ...], ...]
    box: tuple[float, float, float, float] | None


class Budget:
    """How much of a drawing may still be read."""

    def __init__(self) -> None:
        self.pieces, self.joined = MOST_PIECES, MOST_JOINED

    def take(self, pieces: int) -> None:
        """Use up so many pieces. Raises Unread."""
        self.pieces -= pieces
        if self.pieces < 0:
            raise Unread(messages.OUTLINES_TOO_MUCH)

    def join(self, lines: int) -> None:
        """Use up so many lines that are joined. Raises Unread."""
        self.joined -= lines + _EACH
        if self.joined < 0:
            raise Unread(messages.OUTLINES_TOO_TANGLED)


def moved(rings: Sequence[Ring], matrix: Matrix) -> list[tuple[Piece, ...]]:
    """Return rings in the units of the whole drawing. Raises Unread."""
    (a, c, e), (b, d, f), _ = matrix
    made = [
        tuple(tuple(complex(a * p.real + c * p.imag + e, b * p.real + d * p.imag + f) for p in piece) for piece in ring)
        for ring in rings
    ]
    if not all(abs(point) <= FARTHEST for ring in made for piece in ring for point in piece):
        raise Unread(messages.OUTLINES_BEYOND)
    return made


def filled_rings(lines: Sequence[Line]) -> list[Ring]:
    """Return lines as closed rings; open ones are closed, as a fill does."""
    rings: list[Ring] = []
    for pieces, _closed in lines:
        solid = [piece for piece in pieces if len(piece) > 2 or piece[0] != piece[1]]
        if solid:
            start, end = solid[0][0], solid[-1][-1]
            rings.append(solid if start == end else [*solid, (end, start)])
    return rings


def scale_of(matrix: Matrix) -> float:
    """Return by how much a transform enlarges, by the area."""
    return sqrt(abs(determinant(matrix)))


def stroke_rings(
    lines: Sequence[Line], style: Mapping[str, str], port: tuple[float, float], followed: float, budget: Budget
) -> list[list[Piece]]:
    """Return the rings round a stroke, in the units of its lines. Raises Unread."""
    pen = _pen(style, port)
    if not pen.width:
        return []
    budget.join(sum(_straight(piece, followed) for pieces, _closed in lines for piece in pieces))
    try:
        made = stroked(lines, pen, followed)
    except (TooManyDashes, TooTangled):
        raise Unread(messages.OUTLINES_TOO_TANGLED) from None
    budget.take(sum(map(len, made)))
    return made


def _straight(piece: Piece, followed: float) -> int:
    """Return by how many straight lines a piece is followed."""
    return sum(1 for _ in shares(piece, followed))


def _pen(style: Mapping[str, str], port: tuple[float, float]) -> Pen:
    diagonal = sqrt((port[0] ** 2 + port[1] ** 2) / 2)
    width = length_of(style["stroke-width"], diagonal)
    limit = number_of(style["stroke-miterlimit"])
    if width < 0 or limit < 1:
        raise broken(f"stroke-width {style['stroke-width']}, stroke-miterlimit {style['stroke-miterlimit']}")
    dashes: tuple[float, ...] = ()
    if style["stroke-dasharray"] != "none":
        texts = re.split(r"[\s,]+", style["stroke-dasharray"].strip(" ,"))
        dashes = tuple(length_of(each, diagonal) for each in texts)
        if min(dashes) < 0:
            raise broken(style["stroke-dasharray"])
    return Pen(
        width,
        style["stroke-linecap"],
        style["stroke-linejoin"].replace("miter-clip", "miter").replace("arcs", "miter"),
        limit,
        dashes if any(dashes) else (),
        length_of(style["stroke-dashoffset"], diagonal),
    )


def clipped(
    rings: Sequence[Ring], even_odd: bool, clips: Sequence[Clip], followed: float, budget: Budget
) -> tuple[list[Ring], bool]:
    """Return what clip paths leave of ``rings``, and whether it is filled by even-odd. Raises Unread."""
    for clip in clips:
        if not rings:
            break
        if clip.box and _lies_in(rings, clip.box):
            continue
        both = [*rings, *clip.rings]
        budget.join(sum(_straight(piece, followed) for ring in both for piece in ring))
        try:
            rings = intersection(rings, clip.rings, even_odd=(even_odd, False), followed=followed)
        except TooTangled:
            raise Unread(messages.OUTLINES_TOO_TANGLED) from None
        even_odd = False
    return list(rings), even_odd


def _lies_in(rings: Sequence[Ring], box: tuple[float, float, float, float]) -> bool:
    left, top, right, bottom = box
    return all(
        left <= point.real <= right and top <= point.imag <= bottom
        for ring in rings
        for piece in ring
        for point in piece
    )


def clip_of(rings: Sequence[Ring]) -> Clip:
    """Return rings, filled by winding, as a clip."""
    box = None
    if len(rings) == 1 and len(rings[0]) == 4 and all(len(piece) == 2 for piece in rings[0]):
        corners = [piece[0] for piece in rings[0]]
        across, down = {corner.real for corner in corners}, {corner.imag for corner in corners}
        if len(across) == len(down) == 2 and len(set(corners)) == 4:
            box = min(across), min(down), max(across), max(down)
    return Clip(tuple(tuple(ring) for ring in rings), box)
