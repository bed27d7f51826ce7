"""A font that is open: its glyphs by character, joined outlines, advances, kerning, and the heights of its letters."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from calculators.lettering.fonts import sentences
from calculators.lettering.fonts.characters import glyph_lookup
from calculators.lettering.fonts.container import Unreadable, damaged, opened, tables_of
from calculators.lettering.fonts.glyphs import CffGlyphs, Glyphs, Ring, TooComplex, TrueTypeGlyphs, check_tangle
from calculators.lettering.fonts.kerning import pair_kerning
from calculators.messages import legible
from calculators.shapes.extents import bounds
from calculators.shapes.set_operations import cleaned
from calculators.shapes.snap_rounding import TooTangled

#: Curves are followed within this share of the em while it is decided what lies where. They stay curves.
_FOLLOWED = 4e-5
#: Characters with a flat foot and a flat top, by which a height is measured: of capitals, and of figures.
CAPITALS, FIGURES = "HIEX", "147"
#: Units of an em that a font may have (OpenType 1.9.1, head).
_LEAST_EM, _MOST_EM = 16, 16384


class Font:
    """An open font. Lengths are in its own units, of which an em has ``units``; y runs up from the baseline.

    Raises Unreadable where the file turns out to be damaged.
    """

    def __init__(self, name: str, data: bytes) -> None:
        self.name = name
        self._tables = tables_of(name, data)
        try:
            self._open()
        except Unreadable:
            raise
        except Exception as trouble:  # a damaged file may raise anything
            raise damaged(name) from trouble
        self._rings: dict[int, list[Ring]] = {}
        self._kerning: dict[str, Callable[[int, int], int]] = {}

    def _open(self) -> None:
        tables = self._tables
        if "CFF2" in tables:
            raise Unreadable(sentences.VARIABLE_CFF.format(name=self.name), sentences.SAVE_STATIC)
        if "CFF " not in tables and not {"glyf", "loca"} <= tables.keys():
            raise Unreadable(sentences.NO_OUTLINES.format(name=self.name), sentences.TRY_ANOTHER)
        font: Any = opened(tables)
        self.units: int = font["head"].unitsPerEm
        if not _LEAST_EM <= self.units <= _MOST_EM:
            raise damaged(self.name)
        self._advances = font["hmtx"]
        self._count: int = font["maxp"].numGlyphs
        heights = font["hhea"]
        self.line_distance: float = heights.ascent - heights.descent + heights.lineGap
        self._glyph_of = glyph_lookup(tables["cmap"])
        self._glyphs: Glyphs = CffGlyphs(tables["CFF "]) if "CFF " in tables else TrueTypeGlyphs(font)

    def glyph(self, character: str) -> int:
        """Return the number of a character's glyph, 0 if the font has none."""
        try:
            glyph = self._glyph_of(character)
        except Exception as trouble:  # as above
            raise damaged(self.name) from trouble
        return glyph if glyph < self._count else 0

    def advance(self, character: str) -> float:
        """Return how far the next character is from this one."""
        width: float = self._advances[f"g{self.glyph(character)}"][0]
        return width

    def kerning(self, left: str, right: str, script: str) -> float:
        """Return the kerning between two characters in a text of a script, given by its OpenType tag."""
        if script not in self._kerning:
            tables = self._tables
            self._kerning[script] = pair_kerning(tables.get("GPOS", b""), tables.get("kern", b""), script)
        return self._kerning[script](self.glyph(left), self.glyph(right))

    def contours(self, character: str) -> list[Ring]:
        """Return the contours of a character as the font has them, which may overlap."""
        try:
            return self._glyphs.rings(self.glyph(character))
        except (TooComplex, RecursionError):
            raise self._too_complex(character) from None
        except Exception as trouble:  # as above
            raise damaged(self.name) from trouble

    def rings(self, character: str) -> list[Ring]:
        """Return the outlines of a character: rings that neither cross nor overlap, holes the other way round."""
        glyph = self.glyph(character)
        if glyph not in self._rings:
            try:
                contours = self.contours(character)
                check_tangle(contours)
                self._rings[glyph] = cleaned(contours, followed=_FOLLOWED * self.units)
            except (TooComplex, TooTangled, OverflowError):
                raise self._too_complex(character) from None
        return self._rings[glyph]

    def _too_complex(self, character: str) -> Unreadable:
        parts = {"name": self.name, "character": f"“{legible(character)}”"}
        return Unreadable(sentences.TOO_COMPLEX.format(**parts), sentences.TRY_ANOTHER)

    def height(self, reference: str) -> float:
        """Return how high the highest of the ``reference`` characters is. Raises Unreadable if the font has none."""
        tops = [bounds(rings)[1].imag for sign in reference if self.glyph(sign) and (rings := self.rings(sign))]
        if not tops or max(tops) <= 0:
            text = sentences.NO_REFERENCE.format(name=self.name, characters=", ".join(reference))
            raise Unreadable(text, sentences.TRY_ANOTHER)
        return max(tops)
