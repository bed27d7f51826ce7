"""Outlines of single glyphs as cubic pieces, in units of the font, y up: of TrueType tables and of CFF.

Quadratic curves are raised to cubics, which is exact. What a hostile file could make endless is counted: parts of
parts, points, and bytes of subroutines.
Sources: OpenType 1.9.1, glyf; Adobe Technical Notes 5176 and 5177 (CFF, Type 2 charstrings), from memory; parsed by
fontTools, held against FreeType in the tests.
"""

from __future__ import annotations

from io import BytesIO
from itertools import pairwise
from typing import Any, Protocol

from fontTools.cffLib import CFFFontSet
from fontTools.encodings import StandardEncoding
from fontTools.misc.psCharStrings import T2OutlineExtractor
from fontTools.ttLib.tables import _g_l_y_f, _h_e_a_d, _h_h_e_a, _h_m_t_x, _l_o_c_a, _m_a_x_p

from calculators.shapes.cubics import Piece

#: Modules that fontTools imports only when it first reads a table, or an accented letter of an old font.
READ_LATE = (_g_l_y_f, _h_e_a_d, _h_h_e_a, _h_m_t_x, _l_o_c_a, _m_a_x_p, StandardEncoding)
#: Points of one glyph, how deep parts may lie within parts, and how many parts a glyph may have.
MOST_POINTS, DEEPEST, MOST_COMPONENTS = 6000, 8, 200
#: Bytes of charstrings that are executed for one glyph; a subroutine counts as often as it is called.
MOST_EXECUTED = 200_000
#: Pairs of pieces of one glyph that may lie across each other, and pairs that are compared for that.
MOST_MEETING, MOST_COMPARED = 30_000, 1_000_000
#: How deep subroutines may call others (Technical Note 5177, appendix B).
DEEPEST_CALL = 10

#: A ring of a glyph: pieces that follow each other.
Ring = list[Piece]
#: A contour of TrueType: points with whether they lie on the curve.
_Contour = list[tuple[complex, bool]]


class TooComplex(ValueError):
    """A glyph with more than is read of one, or with parts that contain themselves."""


class Glyphs(Protocol):
    """The outlines of a font by the numbers of glyphs."""

    def rings(self, glyph: int) -> list[Ring]:
        """Return the contours of a glyph as they are in the font, which may overlap.

        Raises TooComplex, or anything for a damaged font.
        """


class TrueTypeGlyphs:
    """Outlines of the table glyf."""

    def __init__(self, font: Any) -> None:
        self.glyf, self.metrics = font["glyf"], font["hmtx"]

    def rings(self, glyph: int) -> list[Ring]:
        name = f"g{glyph}"
        contours = _Walk(self.glyf).contours(name, 0)
        # The glyph begins where its side bearing says, whatever its coordinates are.
        glyf = self.glyf[name]
        moved = self.metrics[name][1] - glyf.xMin if contours else 0
        return [made for contour in contours if (made := _curves([(at + moved, on) for at, on in contour]))]


class _Walk:
    """Goes through the parts of one glyph."""

    def __init__(self, glyf: Any) -> None:
        self.glyf = glyf
        self.points = self.components = 0

    def contours(self, name: str, depth: int) -> list[_Contour]:
        if depth > DEEPEST:
            raise TooComplex
        glyph = self.glyf[name]
        if glyph.numberOfContours == 0:
            return []
        if not glyph.isComposite():
            return self.simple(glyph)
        made: list[_Contour] = []
        for part in glyph.components:
            self.components += 1
            if self.components > MOST_COMPONENTS:
                raise TooComplex
            made += _placed(part, self.contours(part.glyphName, depth + 1), made)
        return made

    def simple(self, glyph: Any) -> list[_Contour]:
        self.points += len(glyph.coordinates)
        if self.points > MOST_POINTS:
            raise TooComplex
        points = [(complex(x, y), bool(flag & 1)) for (x, y), flag in zip(glyph.coordinates, glyph.flags, strict=True)]
        starts = [0, *(end + 1 for end in glyph.endPtsOfContours)]
        return [points[start:end] for start, end in pairwise(starts) if end > start]


def _placed(part: Any, contours: list[_Contour], before: list[_Contour]) -> list[_Contour]:
    """Return the contours of a part of a glyph in its place; points of it may lie on points of what came ``before``."""
    (xx, xy), (yx, yy) = getattr(part, "transform", ((1, 0), (0, 1)))

    def turned(at: complex) -> complex:
        return complex(xx * at.real + yx * at.imag, xy * at.real + yy * at.imag)

    made = [[(turned(at), on) for at, on in contour] for contour in contours]
    if hasattr(part, "x"):
        offset = complex(part.x, part.y)
        if part.flags & _g_l_y_f.SCALED_COMPONENT_OFFSET:
            offset = complex(offset.real * abs(complex(xx, xy)), offset.imag * abs(complex(yx, yy)))
    else:
        anchors = [at for contour in before for at, _on in contour]
        own = [at for contour in made for at, _on in contour]
        offset = anchors[part.firstPt] - own[part.secondPt]
    return [[(at + offset, on) for at, on in contour] for contour in made]


def _curves(contour: _Contour) -> Ring:
    """Return a contour of quadratic curves as pieces. Between two points off the curve lies one on it."""
    if len(contour) < 2:
        return []
    start = next((at for at, (_place, on) in enumerate(contour) if on), None)
    if start is None:
        first = (contour[-1][0] + contour[0][0]) / 2
        turned = list(contour)
    else:
        first = contour[start][0]
        turned = contour[start + 1 :] + contour[:start]
    made: Ring = []
    here, control = first, None
    for place, on in [*turned, (first, True)]:
        if control is None:
            if on:
                if place != here:
                    made.append((here, place))
                here = place
            else:
                control = place
            continue
        end = place if on else (control + place) / 2
        made.append((here, here + 2 / 3 * (control - here), end + 2 / 3 * (control - end), end))
        here, control = end, None if on else place
    return made


class CffGlyphs:
    """Outlines of the table CFF."""

    def __init__(self, table: bytes) -> None:
        fonts = CFFFontSet()
        fonts.decompile(BytesIO(table), None)
        self.top = fonts[0]
        self.charstrings = self.top.CharStrings

    def rings(self, glyph: int) -> list[Ring]:
        pen = _Pen()
        self.draw(self.charstrings.charStringsIndex[glyph], pen, 0j)
        pen.closePath()
        return pen.made

    def draw(self, charstring: Any, pen: _Pen, offset: complex) -> None:
        pen.offset = offset
        private = charstring.private
        subroutines = getattr(private, "Subrs", [])
        widths = private.nominalWidthX, private.defaultWidthX
        _Extractor(pen, subroutines, charstring.globalSubrs, *widths, private).execute(charstring)
        parts, pen.parts = pen.parts, []
        for name, place in parts:
            pen.components += 1
            if pen.components > 2:
                raise TooComplex
            self.draw(self.charstrings[name], pen, place)


class _Pen:
    """Collects what a charstring draws."""

    def __init__(self) -> None:
        self.made: list[Ring] = []
        self.ring: Ring = []
        self.offset = self.here = self.start = 0j
        self.points = self.components = 0
        self.parts: list[tuple[str, complex]] = []

    def point(self, place: tuple[float, float]) -> complex:
        self.points += 1
        if self.points > MOST_POINTS:
            raise TooComplex
        return complex(*place) + self.offset

    def moveTo(self, place: tuple[float, float]) -> None:
        self.closePath()
        self.here = self.start = self.point(place)

    def lineTo(self, place: tuple[float, float]) -> None:
        end = self.point(place)
        if end != self.here:
            self.ring.append((self.here, end))
        self.here = end

    def curveTo(self, *places: tuple[float, float]) -> None:
        one, two, end = map(self.point, places)
        self.ring.append((self.here, one, two, end))
        self.here = end

    def closePath(self) -> None:
        if self.ring and self.here != self.start:
            self.ring.append((self.here, self.start))
        if self.ring:
            self.made.append(self.ring)
        self.ring = []

    endPath = closePath

    def addComponent(self, name: str, transform: tuple[float, ...]) -> None:
        self.parts.append((name, complex(*transform[4:])))


class _Extractor(T2OutlineExtractor):  # type: ignore[misc]  # fontTools has no types
    """fontTools' interpreter of charstrings, with bounds."""

    executed = 0

    def execute(self, charstring: Any) -> None:
        self.executed += len(charstring.bytecode or charstring.program)
        if self.executed > MOST_EXECUTED or len(self.callingStack) > DEEPEST_CALL:
            raise TooComplex
        super().execute(charstring)


def check_tangle(rings: list[Ring]) -> None:
    """Raise TooComplex for outlines so many of whose pieces lie across each other that joining them would take long."""
    boxes = sorted(_box(piece) for ring in rings for piece in ring)
    meeting = compared = 0
    active: list[tuple[float, float, float, float]] = []
    for box in boxes:
        left, _right, low, high = box
        active = [each for each in active if each[1] >= left]
        compared += len(active)
        meeting += sum(each[2] <= high and low <= each[3] for each in active)
        if meeting > MOST_MEETING or compared > MOST_COMPARED:
            raise TooComplex
        active.append(box)


def _box(piece: Piece) -> tuple[float, float, float, float]:
    """Return left, right, foot and top of the points of a piece."""
    across, up = [at.real for at in piece], [at.imag for at in piece]
    return min(across), max(across), min(up), max(up)
