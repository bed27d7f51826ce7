"""Whether a piece comes out without any ink: white is bare film."""

from __future__ import annotations

from calculators.colour.srgb import lab_of
from calculators.cut.artwork import CutArtwork, Meanings
from calculators.pixels.colour_table import lab, rgb_of, within
from calculators.pixels.white_areas import PRINTED, TOLERANCE
from calculators.sheets.contents import Content, OutlineContent

_IS_WHITE = within(lab_of((1.0, 1.0, 1.0)), TOLERANCE)


def is_blank(content: Content) -> bool:
    """Return whether nothing but white is drawn. A picture whose pixels nobody has looked at yet counts as coloured."""
    if isinstance(content.white, CutArtwork):
        return not any(content.white.colours.values())
    if isinstance(content.white, Meanings):
        return PRINTED not in content.white.plane
    return isinstance(content, OutlineContent) and all(_IS_WHITE(lab(rgb_of(each.fill))) for each in content.shapes)
