"""Recognise paper round a marking: a light, nearly even ground that is further from white than the tolerance."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from statistics import median_low

from calculators.colour.difference import delta_e
from calculators.colour.srgb import lab_of
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, lab
from calculators.pixels.raster import Raster

#: The greatest distance of paper from white (delta E 2000): our estimate, which
#: includes yellowed paper but not pale flat colours.
FURTHEST = 20.0
#: Paper this near to white is simply white (our estimate; a JPEG of white paper stays below it).
OFF_WHITE = 2.0
#: At least this share of the border differs by at most this much from its middle colour (our
#: estimates); grain and uneven light stay below it.
EVEN_SHARE, EVEN = 0.6, 6.0


@dataclass(frozen=True)
class Paper:
    """The colour of the ground, its difference from white, and a white tolerance that takes it in."""

    colour: Rgb
    difference: float
    tolerance: int


def even_ground(raster: Raster) -> Rgb | None:
    """Return the colour of most of a picture's border; None if the border is transparent or has several colours."""
    pixels = [raster.rgba[4 * place : 4 * place + 4] for place in _border(raster.width, raster.height)]
    opaque = [(red, green, blue) for red, green, blue, alpha in pixels if alpha >= OPAQUE_FROM]
    if 2 * len(opaque) < len(pixels):
        return None
    red, green, blue = map(median_low, zip(*opaque, strict=True))
    colour = red, green, blue
    ground = lab(colour)
    near = {rgb for rgb in set(opaque) if delta_e(ground, lab(rgb)) <= EVEN}
    return colour if sum(rgb in near for rgb in opaque) >= EVEN_SHARE * len(opaque) else None


def paper_ground(raster: Raster, tolerance: float) -> Paper | None:
    """Return the ground of a picture whose border may be paper, None where it is no
    such colour or within ``tolerance`` anyway.
    """
    colour = even_ground(raster)
    if colour is None:
        return None
    difference = delta_e(lab(colour), lab_of((1.0, 1.0, 1.0)))
    if not tolerance < difference <= FURTHEST:
        return None
    # Add a little to what the middle colour needs, for the darker grain.
    return Paper(colour, difference, ceil(difference + 2))


def _border(width: int, height: int) -> set[int]:
    return {
        *range(width),
        *range((height - 1) * width, height * width),
        *range(0, width * height, width),
        *range(width - 1, width * height, width),
    }
