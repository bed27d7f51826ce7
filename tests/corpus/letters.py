"""Lettering as outlines, so that every renderer draws the same letters.

The fonts come with the site from npm and have the SIL Open Font License 1.1: Atkinson Hyperlegible Next, Atkinson
Hyperlegible Mono and Bitter.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from fontTools.misc.transform import Transform
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

FOLDER = Path(__file__).resolve().parents[2] / "node_modules" / "@fontsource"
SANS, MONO, SERIF = "atkinson-hyperlegible-next", "atkinson-hyperlegible-mono", "bitter"
LICENCE = "SIL Open Font License 1.1"


@cache
def _font(family: str, weight: int) -> TTFont:
    return TTFont(FOLDER / family / "files" / f"{family}-latin-{weight}-normal.woff")


def outlines(text: str, x: float, baseline: float, height: float, *, family: str = SANS, weight: int = 400) -> str:
    """Return the path data of ``text`` whose capitals are ``height`` high, centred on ``x``."""
    font = _font(family, weight)
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    drawn = [glyphs[names[ord(letter)]] for letter in text]
    scale = height / font["OS/2"].sCapHeight
    at = x - scale * sum(each.width for each in drawn) / 2
    pen = SVGPathPen(glyphs, ntos=lambda number: f"{number:.3f}".rstrip("0").rstrip("."))
    for each in drawn:
        each.draw(TransformPen(pen, Transform(scale, 0, 0, -scale, at, baseline)))
        at += scale * each.width
    return pen.getCommands()
