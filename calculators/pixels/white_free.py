"""A quick test for pictures without white or transparent areas, to avoid the search for each."""

from __future__ import annotations

from itertools import compress

from calculators.colour.srgb import lab_of
from calculators.pixels.colour_table import NOISE_BITS, OPAQUE_FROM, Rgb, lab, unpacked, within
from calculators.pixels.raster import Raster

#: The greatest distance (delta E 2000) of a flat colour from the middle of its group: the group's tolerance and a
#: little more, since such differences do not quite add up.
FURTHER = 5.5
#: The bits of each channel examined in a picture with very many colours.
BITS = (8, 6, 5, NOISE_BITS)
#: A colour within so much of white has no channel with less than this level, found
#: by looking all colours of sRGB through.
LEAST_LEVEL = {13.0: 185, 18.0: 155, 23.0: 110}
#: With more colours near white than this, it is not worth checking each.
MOST_LOOKED_AT = 20_000


def is_free_of_white(raster: Raster, tolerance: float) -> bool:
    r"""Return whether no pixel is clear, and none is so near to white that an area of it could count as white.

    >>> red, white = bytes([200, 30, 40, 255]) * 4, b"\xff" * 16
    >>> is_free_of_white(Raster(red, 2, 2), 5.0), is_free_of_white(Raster(white, 2, 2), 5.0)
    (True, False)
    """
    if raster.rgba[3::4].translate(None, _OPAQUE):
        return False
    reach = tolerance + FURTHER
    # A colour from few bits may be lighter than the pixel itself.
    least = next((level for most, level in LEAST_LEVEL.items() if reach <= most), 0) - (1 << 8 - NOISE_BITS)
    light = bytes(level >= least for level in range(256))
    red, green, blue = (int.from_bytes(raster.rgba[channel::4].translate(light)) for channel in range(3))
    mask = (red & green & blue).to_bytes(raster.width * raster.height)
    if 1 not in mask:
        return True
    colours = set(compress(memoryview(raster.rgba).cast("I"), mask))
    if len(colours) > MOST_LOOKED_AT:
        return False
    near = within(lab_of((1.0, 1.0, 1.0)), reach)
    looked_at = {_by_bits(unpacked(packed), bits) for packed in colours for bits in BITS}
    return not any(near(lab(rgb)) for rgb in looked_at)


def _by_bits(rgb: Rgb, bits: int) -> Rgb:
    """Return a colour as ``colour_table`` reduces it to that many bits a channel."""
    if bits == 8:
        return rgb
    high_bits, middle = 256 - (1 << 8 - bits), 1 << 7 - bits
    red, green, blue = (level & high_bits | middle for level in rgb)
    return red, green, blue


_OPAQUE = bytes(range(OPAQUE_FROM, 256))
