"""A picture looked into from every side that a print cares about."""

from __future__ import annotations

from dataclasses import dataclass, replace

from calculators.cache import PICTURES
from calculators.files.picture import Picture
from calculators.pixels.detail import SMOOTH, Detail, Transparency, edges, transparency, true_detail
from calculators.pixels.jpeg_damage import JpegDamage, jpeg_damage


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
    Smooth enlarging swings over at edges as JPEG does, so the latter is then told of JPEG files only.
    """
    return PICTURES.remembered(picture.digest, ("inspected",), lambda: _inspected(picture))


def _inspected(picture: Picture) -> Inspection:
    size = picture.rgba, picture.width_px, picture.height_px
    detail, jpeg = true_detail(*size), jpeg_damage(picture)
    if detail.enlarged == SMOOTH and picture.header.kind != "JPEG":
        jpeg = replace(jpeg, found=False, worst_level=0.0, share=0.0)
    return Inspection(detail, edges(*size), transparency(picture.rgba), jpeg)
