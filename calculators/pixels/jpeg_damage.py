"""Find whether saving as JPEG harmed a picture.

A JPEG file says how coarsely it was rounded, so rounding it again measures the harm (``resaving.py``). That separates
files with visible loss from files without, at any quality. Other files only have their pixels as evidence. A file was a
JPEG if squares of 8 x 8 pixels lack waves that squares between them have (``squares.py``), or if flat artwork has
ripples beside its edges (``ripples.py``), which survive a reduction.
"""

from __future__ import annotations

from dataclasses import dataclass

from calculators.files.jpeg_coding import coding_of
from calculators.files.picture import Picture
from calculators.pixels.raster import raster_of
from calculators.pixels.resaving import harmed_share
from calculators.pixels.ripples import has_ripples
from calculators.pixels.squares import Patches, excess

#: A JPEG is damaged where so much of its area is put off by more than is unseen: the estimate is rather high where each
#: pixel has its own chroma, and low where pixels share it, since a blurred chroma blurs less. Set on the tuning half of
#: the sample pictures, on which 0.005 of the area counts as damage.
LEAST_SHARE, LEAST_OF_SHARED_CHROMA = 0.009, 0.0055
#: The share of missing waves on the grid of the squares is this much above that beside it, and what chance can do,
#: where JPEG squeezed a picture that is none now: thin rules on the grid miss waves too. An estimate, set on the tuning
#: half.
EXCESS = 0.03


@dataclass(frozen=True)
class JpegDamage:
    """Whether there is visible damage; an estimate. ``share`` is the damaged share of the area, None if unknown."""

    found: bool
    share: float | None = None


def jpeg_damage(picture: Picture, patches: Patches | None = None) -> JpegDamage:
    """Return whether a decoded ``picture`` was harmed by JPEG, whether it is one now or was one before.

    Estimate. Past JPEG damage is found while the squares lie in their old places, and in flat artwork by ripples too.
    It is not found in a photograph that was cropped, enlarged or reduced since. ``patches`` are those of the picture,
    if already found.
    """
    raster = raster_of(picture)
    if picture.header.kind != "JPEG":
        missing = excess(patches or Patches(raster))
        was_one = missing is not None and missing >= EXCESS
        # The dithering of a palette looks like ripples.
        return JpegDamage(was_one or (picture.header.colour != "palette" and has_ripples(raster)))
    coding = coding_of(picture.data)
    share = harmed_share(raster, coding) if coding else None
    if coding is None or share is None:
        return JpegDamage(False)
    return JpegDamage(share >= (LEAST_OF_SHARED_CHROMA if coding.shares_chroma else LEAST_SHARE), share)
