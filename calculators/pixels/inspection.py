"""Inspect a picture for everything that matters in print."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.cache import PICTURES
from calculators.files.picture import Picture
from calculators.pixels.detail import Detail, Transparency, edges, transparency, true_detail
from calculators.pixels.jpeg_damage import JpegDamage, jpeg_damage
from calculators.pixels.raster import raster_of
from calculators.pixels.squares import Patches

#: Lossless kinds of file.
LOSSLESS = ("PNG", "BMP", "TIFF")


@dataclass(frozen=True)
class Inspection:
    """The findings in the pixels of a picture. ``edges`` is "soft" or "hard"."""

    detail: Detail
    edges: str
    clear: Transparency
    jpeg: JpegDamage

    @property
    def transparency(self) -> str:
        """Whether anything is clear: "none", "clear" (all or nothing) or "partial" (in between too)."""
        if not self.clear.has_any:
            return "none"
        return "partial" if self.clear.partial_share > 0 else "clear"


def inspected(picture: Picture) -> Inspection:
    """Return the findings in the pixels of ``picture``, which must have been read with them.

    The result is cached, so that a change of the printed size alone needs no new inspection.
    """
    return PICTURES.remembered(picture.digest, ("inspected",), lambda: _inspected(picture))


def _inspected(picture: Picture) -> Inspection:
    size = picture.pixels, *picture.size_px
    patches = Patches(raster_of(picture))
    jpeg = jpeg_damage(picture, patches)
    exact = picture.header.kind in LOSSLESS and not jpeg.found
    return Inspection(true_detail(*size, patches, exact=exact), edges(*size), transparency(picture.pixels), jpeg)
