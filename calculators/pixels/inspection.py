"""A picture looked into from every side that a print cares about."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.cache import PICTURES
from calculators.files.picture import Picture
from calculators.pixels.detail import Detail, Transparency, edges, transparency, true_detail
from calculators.pixels.jpeg_damage import JpegDamage, jpeg_damage
from calculators.pixels.raster import raster_of
from calculators.pixels.squares import Patches

#: Kinds of file that keep every pixel as it was.
LOSSLESS = ("PNG", "BMP", "TIFF")


@dataclass(frozen=True)
class Inspection:
    """What the pixels of a picture tell. ``edges`` is "soft" or "hard"."""

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
    """Return what the pixels of ``picture`` tell; it must have been read with them.

    It is kept, so that a change of the printed size alone is answered at once.
    """
    return PICTURES.remembered(picture.digest, ("inspected",), lambda: _inspected(picture))


def _inspected(picture: Picture) -> Inspection:
    size = picture.pixels, *picture.size_px
    patches = Patches(raster_of(picture))
    jpeg = jpeg_damage(picture, patches)
    exact = picture.header.kind in LOSSLESS and not jpeg.found
    return Inspection(true_detail(*size, patches, exact=exact), edges(*size), transparency(picture.pixels), jpeg)
