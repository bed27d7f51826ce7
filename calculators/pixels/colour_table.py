"""The distinct colours of a picture, so that colour work runs once a colour and not once a pixel."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, compress
from math import hypot, inf
from operator import mul, sub

from calculators.colour import srgb
from calculators.colour.difference import delta_e
from calculators.pixels.raster import Raster

#: A pixel with less alpha than this counts as transparent.
OPAQUE_FROM = 128
#: Above this many distinct colours their last bits are dropped in steps; with only
#: this many bits left, the picture is noise.
MOST_DISTINCT, NOISE_BITS = 12_000, 4
FEWER_BITS = {8: 6, 6: 5, 5: NOISE_BITS}
#: If a sample of this many pixels has this many distinct ones, skip the slow count with all 8 bits.
SAMPLE, MOST_IN_SAMPLE = 200_000, 60_000
#: The pixels searched at a time for runs of equal ones, and the most runs for each pixel that make them useful.
AT_ONCE, FEW_RUNS = 1 << 18, 0.25
#: Up to this many colours are found faster bit by bit than pixel by pixel.
FEW_COLOURS = 64
#: Two colours differ in L* by at most this times their CIEDE2000: S_L is never more, at L* of 0 and 100.
LIGHT_APART = 1.75
#: And in a* and b* by at most this times it times S_C, taken at the greater chroma. S_H is smaller, and the rotation
#: term of blues makes the formula smallest: a search over sRGB found 2.04 there.
COLOUR_APART = 2.1
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
    return srgb.levels_of(text)


@dataclass(frozen=True)
class ColourTable:
    """The pixels of a picture as packed colours, and how often each occurs.

    ``packed`` holds one 32-bit number a pixel: ``CLEAR``, or red + 256 green + 65536 blue, opaque.
    ``runs``: the packed colour and the length of each stretch of equal pixels, row after row; None where they are
    short. ``counts`` leaves clear pixels out. ``bits`` is how many of each channel's 8 were kept, and ``distinct`` how
    many colours there were before, at least.
    """

    packed: memoryview
    runs: tuple[array[int], array[int]] | None
    counts: Mapping[int, int]
    bits: int
    distinct: int

    @cached_property
    def labs(self) -> dict[int, srgb.Triple]:
        """L*a*b* of each colour that occurs."""
        return {packed: lab(unpacked(packed)) for packed in self.counts}

    def plane(self, value_of: Mapping[int, int]) -> bytes:
        """Return one byte a pixel: the entry of ``value_of`` for its colour, including ``CLEAR``."""
        if not self.runs:
            return bytes(map(value_of.__getitem__, self.packed))
        colours, lengths = self.runs
        pixel_of = {packed: bytes([value]) for packed, value in value_of.items()}
        return b"".join(map(mul, map(pixel_of.__getitem__, colours), lengths))

    def plane_of_few(self, value_of: Mapping[int, int]) -> bytes:
        """Return one byte a pixel: the entry of ``value_of`` for its colour, else 0. Fast if it has few entries.

        Each of eight colours has a bit of its own: a pixel has that colour where all of its channels have the bit.
        """
        if len(value_of) > FEW_COLOURS:
            return self.plane({**dict.fromkeys((CLEAR, *self.counts), 0), **value_of})
        channels = [bytes(self.packed.cast("B")[channel::4]) for channel in range(4)]
        size, made = len(self.packed), 0
        levels_of = list(value_of.items())
        for some in (levels_of[at : at + 8] for at in range(0, len(levels_of), 8)):
            has = -1
            for channel, levels in enumerate(channels):
                bits = bytearray(256)
                for bit, (packed, _) in enumerate(some):
                    bits[packed >> 8 * channel & 255] |= 1 << bit
                has &= int.from_bytes(levels.translate(bits), "little")
            values = bytearray(256)
            for bit, (_, value) in enumerate(some):
                values[1 << bit] = value
            made |= int.from_bytes(has.to_bytes(size, "little").translate(values), "little")
        return made.to_bytes(size, "little")


def unpacked(packed: int) -> Rgb:
    """Return the levels of a packed colour."""
    return packed & 255, packed >> 8 & 255, packed >> 16 & 255


def colour_table(raster: Raster) -> ColourTable:
    """Return the distinct colours of ``raster``; clear pixels have none.

    Where there are more than ``MOST_DISTINCT``, each channel keeps its 6, 5 or 4 highest bits and stands for the
    middle of what was left out.
    """
    opaque = raster.rgba[3::4].translate(_OPAQUE)
    rgba = _masked(raster.rgba, opaque)
    every = memoryview(rgba).cast("I")
    distinct = len(set(every[:: max(1, len(every) // SAMPLE)]) - {CLEAR})
    if distinct <= MOST_IN_SAMPLE:
        distinct = 0
    bits = counted_to = FEWER_BITS[8] if distinct else 8
    cut = _cut(rgba, opaque, bits)
    runs = _runs(cut)
    counts = _counted(memoryview(cut).cast("I"), runs)
    distinct = distinct or len(counts) - (CLEAR in counts)
    # There are far fewer colours than pixels, so add up the counts instead of counting pixels again.
    while len(counts) > MOST_DISTINCT and bits in FEWER_BITS:
        bits = FEWER_BITS[bits]
        counts = _added_up(counts, bits)
    if bits != counted_to:
        cut = _cut(rgba, opaque, bits)
        runs = _runs(cut)
    counts.pop(CLEAR, None)
    return ColourTable(memoryview(cut).cast("I"), runs, counts, bits, distinct)


def _cut(rgba: bytes, opaque: bytes, bits: int) -> bytes:
    """Return ``rgba`` with only the high bits of each level, set to the middle of the range they leave."""
    if bits == 8:
        return rgba
    high_bits, middle = 256 - (1 << 8 - bits), 1 << 7 - bits
    return _masked(rgba.translate(bytes(level & high_bits | middle for level in range(256))), opaque)


def _added_up(counts: Counter[int], bits: int) -> Counter[int]:
    """Return the ``counts`` of packed colours after reducing each to this many bits a channel."""
    high_bits, middle = 0xFF000000 | 0x010101 * (256 - (1 << 8 - bits)), 0x010101 << 7 - bits
    fewer: Counter[int] = Counter()
    for packed, n in counts.items():
        fewer[packed & high_bits | middle if packed else CLEAR] += n
    return fewer


def _masked(rgba: bytes, opaque: bytes) -> bytes:
    """Return ``rgba`` with 0 for pixels that are not ``opaque`` (255, else 0), and full alpha for the others."""
    if opaque.count(255) == len(opaque) == rgba[3::4].count(255):
        return rgba
    made = []
    for start in range(0, len(opaque), AT_ONCE):
        alpha = opaque[start : start + AT_ONCE]
        pixels, whole = bytearray(rgba[4 * start : 4 * (start + AT_ONCE)]), bytearray(4 * len(alpha))
        pixels[3::4] = alpha
        for channel in range(4):
            whole[channel::4] = alpha
        made.append(
            (int.from_bytes(pixels, "little") & int.from_bytes(whole, "little")).to_bytes(len(pixels), "little")
        )
    return b"".join(made)


def _runs(rgba: bytes) -> tuple[array[int], array[int]] | None:
    """Return the packed colour and the length of each stretch of equal pixels; None where most are short."""
    packed, starts = memoryview(rgba).cast("I"), array("I")
    # The first pixel begins a run: it differs from the value set before it.
    before = bytes([rgba[0] ^ 1, *rgba[1:4]])
    for start in range(0, len(packed), AT_ONCE):
        pixels = rgba[4 * start : 4 * (start + AT_ONCE)]
        shifted = before + pixels[:-4]
        before = pixels[-4:]
        differs = (int.from_bytes(pixels, "little") ^ int.from_bytes(shifted, "little")).to_bytes(len(pixels), "little")
        red, green, blue, alpha = (int.from_bytes(differs[channel::4], "little") for channel in range(4))
        begins = (red | green | blue | alpha).to_bytes(len(pixels) // 4, "little")
        starts.extend(compress(range(start, start + len(begins)), begins))
        if len(starts) > FEW_RUNS * len(packed):
            return None
    stops = chain(starts[1:], (len(packed),))
    return array("I", map(packed.__getitem__, starts)), array("I", map(sub, stops, starts))


def _counted(packed: memoryview, runs: tuple[array[int], array[int]] | None) -> Counter[int]:
    if not runs:
        return Counter(packed)
    counts: Counter[int] = Counter()
    for colour, length in zip(*runs, strict=True):
        counts[colour] += length
    return counts


def within(first: srgb.Triple, tolerance: float) -> Callable[[srgb.Triple], bool]:
    """Return a test whether a colour in L*a*b* lies within ``tolerance`` (delta E 2000) of ``first``."""
    light, a, b = first
    apart, most, slope = LIGHT_APART * tolerance, COLOUR_APART * tolerance, COLOUR_APART * tolerance * 0.045
    # Further than this in a* and b*, off > most x (1 + 0.045 x (chroma + off)).
    reach = (most + slope * hypot(a, b)) / (1 - slope) if slope < 1 else inf
    squared = reach * reach

    def near(other: srgb.Triple) -> bool:
        # A large plain distance makes the costly formula needless.
        here, its_a, its_b = other
        if abs(here - light) > apart or (its_a - a) * (its_a - a) + (its_b - b) * (its_b - b) > squared:
            return False
        return delta_e(first, other) <= tolerance

    return near
