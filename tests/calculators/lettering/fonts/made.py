"""Small fonts made with fontTools: letters of straight bars and of curves, as TrueType and as CFF."""

from __future__ import annotations

import io
from functools import cache

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

UNITS, CAPITALS = 1000, 700
#: The rectangles of each letter (left, foot, right, top); they overlap, as those of variable fonts do.
BARS = {
    "H": [(80, 0, 180, 700), (420, 0, 520, 700), (130, 310, 470, 390)],
    "X": [(0, 300, 600, 400), (250, 0, 350, 700)],
    "I": [(80, 0, 180, 700)],
    "one": [(100, 0, 200, 680)],
    "hyphen": [(40, 300, 260, 380)],
}
ORDER = [".notdef", "space", *BARS, "O"]
CHARACTERS = {32: "space", 72: "H", 88: "X", 73: "I", 49: "one", 45: "hyphen", 79: "O"}
ADVANCE = 600


def draw(pen, name: str, cubic: bool) -> None:
    """Draw a letter; O is a ring of two curved contours."""
    for left, foot, right, top in BARS.get(name, ()):
        pen.moveTo((left, foot))
        for corner in ((left, top), (right, top), (right, foot)):
            pen.lineTo(corner)
        pen.closePath()
    if name == "O":
        for wide, high, sense in ((250, 350, 1), (150, 250, -1)):
            corners = [(300 - wide, 350), (300, 350 + sense * high), (300 + wide, 350), (300, 350 - sense * high)]
            pen.moveTo(corners[0])
            for at, (x, y) in enumerate([*corners[1:], corners[0]]):
                before = corners[at]
                corner = (before[0], y) if at % 2 == 0 else (x, before[1])
                (pen.curveTo if cubic else pen.qCurveTo)(*([corner, corner] if cubic else [corner]), (x, y))
            pen.closePath()


def _builder(truetype: bool) -> FontBuilder:
    made = FontBuilder(UNITS, isTTF=truetype)
    made.setupGlyphOrder(ORDER)
    made.setupCharacterMap(CHARACTERS)
    return made


def _finish(made: FontBuilder, flavour: str | None) -> bytes:
    made.setupHorizontalMetrics({name: (ADVANCE, _left(name)) for name in ORDER})
    made.setupHorizontalHeader(ascent=900, descent=-250)
    made.setupPost(keepGlyphNames=False)
    return saved(made.font, flavour)


def _left(name: str) -> int:
    return 50 if name == "O" else min((bar[0] for bar in BARS.get(name, ())), default=0)


def saved(font: TTFont, flavour: str | None = None) -> bytes:
    """Return the file of a font; its date would change the bytes."""
    font.recalcTimestamp = False
    font["head"].created = font["head"].modified = 3_800_000_000
    font.flavor = flavour
    file = io.BytesIO()
    font.save(file)
    return file.getvalue()


@cache
def truetype(flavour: str | None = None) -> bytes:
    """Return the letters as a TrueType font."""
    made = _builder(True)
    glyphs = {}
    for name in ORDER:
        pen = TTGlyphPen(None)
        draw(pen, name, cubic=False)
        glyphs[name] = pen.glyph()
    made.setupGlyf(glyphs)
    return _finish(made, flavour)


@cache
def cff(flavour: str | None = None) -> bytes:
    """Return the letters as a CFF font."""
    made = _builder(False)
    charstrings = {}
    for name in ORDER:
        pen = T2CharStringPen(ADVANCE, None)
        draw(pen, name, cubic=True)
        charstrings[name] = pen.getCharString()
    made.setupCFF("Bars-Plain", {}, charstrings, {})
    return _finish(made, flavour)


def without(*names: str) -> bytes:
    """Return the TrueType font with no characters for some of its letters."""
    font = opened(truetype())
    for table in font["cmap"].tables:
        table.cmap = {code: name for code, name in table.cmap.items() if name not in names}
    return saved(font)


def opened(data: bytes) -> TTFont:
    """Return a font to change and save again."""
    return TTFont(io.BytesIO(data), recalcBBoxes=False)
