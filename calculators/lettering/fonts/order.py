"""What is asked of a font."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.values import NamedFile


@dataclass(frozen=True, kw_only=True)
class FontOrder:
    """What is asked of a font. Lengths are mm at full size; ``letters`` names a font of the site or ``OWN_FONT``."""

    letters: str
    font_file: NamedFile | None
    font_height_mm: float
    height_of: str
    kerned: bool
    letter_space_mm: float
    word_space_mm: float
    baseline: str
    radius_mm: float
