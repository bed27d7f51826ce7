"""The distinct colours of a picture, so that work on colour is done once a colour and not once a pixel."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import hypot

from calculators.files.pixels import Raster
from calculators.underlay import srgb
from calculators.underlay.difference import delta_e

#: A pixel less opaque than this counts as clear.
OPAQUE_FROM = 128
#: Above so many distinct colours, their last bits are left out, in steps; with no more bits than this left, it is noise.
MOST_DISTINCT, NOISE_BITS = 12_000, 4
#: Where a sample of so many pixels has so many distinct ones, all 8 bits are not even counted: it would take long.
SAMPLE, MOST_IN_SAMPLE = 200_000, 60_000
#: Two colours differ in L* by at most this times their CIEDE2000: S_L is never more, at L* of 0 and 100.
LIGHT_APART = 1.75
#: And in a* and b* by at most this times it times S_C, taken at the greater chroma; S_H is smaller, and the rotation
#: of blues does not take more than this off (found over all of sRGB, tests/calculators/artwork).
COLOUR_APART = 1.5
#: A clear pixel, as a packed colour.
CLEAR = 0

Rgb = tuple[int, int, int]

_LIGHT = tuple(srgb.decoded(level) for level in range(256))
_OPAQUE = bytes(255 if level >= OPAQUE_FROM else 0 for level in range(256))


def lab(colour: Rgb) -> srgb.Triple:
    """Return L*a*b* of an sRGB colour in levels."""
    red, green, blue = colour
    return srgb.lab_of((_LIGHT[red], _LIGHT[green], _LIGHT[blue]))


def hex_of(colour: Rgb) -> str:
    """Return #rrggbb.

    >>> hex_of((122, 34, 50))
    '#7a2232'
    """
    return "#{:02x}{:02x}{:02x}".format(*colour)


def rgb_of(text: str) -> Rgb:
    """Return the levels of #rrggbb."""
    return tuple(bytes.fromhex(text[1:]))


@dataclass(frozen=True)
class ColourTable:
    """The pixels of a picture as packed colours, and how often each occurs.

    ``packed`` holds one 32-bit number a pixel: ``CLEAR``, or red + 256 green + 65536 blue, opaque.
    ``counts`` leaves clear pixels out. ``bits`` is how many of each channel's 8 were kept, and ``distinct`` how many
    colours there were before, at least.
    """

    packed: memoryview
    counts: Mapping[int, int]
    bits: int
    distinct: int

    @cached_property
    def labs(self) -> dict[int, srgb.Triple]:
        """L*a*b* of each colour that occurs."""
        return {packed: lab(unpacked(packed)) for packed in self.counts}

    def plane(self, value_of: Mapping[int, int]) -> bytes:
        """Return one byte a pixel: what ``value_of`` holds for its colour, ``CLEAR`` included."""
        return bytes(map(value_of.__getitem__, self.packed))


def unpacked(packed: int) -> Rgb:
    """Return the levels of a packed colour."""
    return packed & 255, packed >> 8 & 255, packed >> 16 & 255


def colour_table(raster: Raster) -> ColourTable:
    """Return the distinct colours of ``raster``; clear pixels have none.

    Where there are more than ``MOST_DISTINCT``, each channel keeps its 6, 5 or 4 highest bits and stands for the
    middle of what was left out.
    """
    opaque = raster.rgba[3::4].translate(_OPAQUE)
    whole = bytearray(4 * len(opaque))
    for channel in range(4):
        whole[channel::4] = opaque
    rgba = bytearray(raster.rgba)
    rgba[3::4] = opaque
    if opaque.count(255) != len(opaque):
        rgba = (int.from_bytes(rgba, "little") & int.from_bytes(whole, "little")).to_bytes(len(rgba), "little")
    every = memoryview(bytes(rgba)).cast("I")
    distinct = len(set(every[:: max(1, len(every) // SAMPLE)]))
    if distinct <= MOST_IN_SAMPLE:
        distinct = 0
    for bits in (6, 5, NOISE_BITS) if distinct else (8, 6, 5, NOISE_BITS):
        if bits < 8:
            kept, middle = 256 - (1 << 8 - bits), 1 << 7 - bits
            rgba = bytes(rgba).translate(bytes(level & kept | middle for level in range(256)))
            rgba = (int.from_bytes(rgba, "little") & int.from_bytes(whole, "little")).to_bytes(len(rgba), "little")
        packed = memoryview(bytes(rgba)).cast("I")
        counts = Counter(packed)
        distinct = distinct or len(counts) - (CLEAR in counts)
        if len(counts) <= MOST_DISTINCT:
            break
    counts.pop(CLEAR, None)
    return ColourTable(packed, counts, bits, distinct)


def within(first: srgb.Triple, tolerance: float) -> Callable[[srgb.Triple], bool]:
    """Return a test whether a colour in L*a*b* lies within ``tolerance`` (delta E 2000) of ``first``."""
    light, a, b = first
    apart, chroma = LIGHT_APART * tolerance, hypot(a, b)

    def near(other: srgb.Triple) -> bool:
        # What is far off in plain distance is not worth the formula.
        if abs(other[0] - light) > apart:
            return False
        off = hypot(other[1] - a, other[2] - b)
        if off > COLOUR_APART * tolerance * (1 + 0.045 * (chroma + off)):
            return False
        return delta_e(first, other) <= tolerance

    return near
