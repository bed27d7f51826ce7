"""Places of a compressed picture with a colour that no mix of the labels around them explains.

Compression mixes adjacent colours, brightness and colour each by itself, and adds noise that cancels out over a few
pixels. What neither explains has a colour that was drawn there and that no label has any more.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from itertools import combinations
from math import ceil, sqrt

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, lab, unpacked
from calculators.pixels.flat_colours import NONE
from calculators.pixels.lost_parts import Place
from calculators.pixels.merged_areas import is_washed
from calculators.pixels.merged_colours import COARSE, MIDDLE, whole_place
from calculators.pixels.raster import Raster
from calculators.pixels.washed import dot, off, seen

#: How far around a pixel labels may mix with its own, and how far around it compression mixes their colours.
REACH, COLOUR_REACH = 2, 3
#: A pixel is strange if it, and the mean of the nine about it, are further than this from every mix of two colours
#: (levels, as seen).
FAR = 12.0
#: This share of the picture has to be strange. (On 173 compressed pictures of the tuning half that lost nothing, all
#: but one reach 0.003 and less; where a colour was lost in a small drawing it is 0.006 or 0.011.)
LEAST_SHARE, LEAST_PX = 0.004, 12
#: Thin parts keep at least this share of the distance to the colour of their label.
WASHED = 0.75
#: About so many pixels are looked at.
LOOKED_AT = 40_000

_Way = tuple[float, float, float]


def strange_colours(raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float) -> tuple[Place, ...]:
    """Return by label the places with strange colours, none if those are few. Colours within ``apart`` are one."""
    looking = _Strange(raster, labels, colours)
    width, pixels = raster.width, memoryview(raster.rgba).cast("I")
    step = ceil((width * raster.height / LOOKED_AT) ** 0.5)
    looked_at, found = 0, defaultdict[int, list[int]](list)
    plain: dict[tuple[int, int], bool] = {}
    for row in range(COLOUR_REACH, raster.height - COLOUR_REACH, step):
        for at in range(row * width + COLOUR_REACH, (row + 1) * width - COLOUR_REACH, step):
            label = labels[at]
            if label == NONE:
                continue
            looked_at += 1
            key = label, pixels[at] & COARSE
            if key not in plain:
                plain[key] = _length(off(seen(unpacked(key[1] | MIDDLE)), looking.seen[label])) <= FAR
            if not plain[key] and looking.at(at):
                found[label].append(at)
    far = {label: places for label, places in found.items() if _are_far(raster, places, colours[label], apart)}
    if sum(map(len, far.values())) < max(LEAST_PX, LEAST_SHARE * looked_at):
        return ()
    return tuple(
        whole_place([(at % width, at // width) for at in places], _mean(raster, places), colours[label])
        for label, places in sorted(far.items(), key=lambda each: (-len(each[1]), each[0]))
        if len(places) >= LEAST_PX
    )


def _are_far(raster: Raster, places: Sequence[int], own: Rgb, apart: float) -> bool:
    """Return whether half of the places are further from the colour of their label than colours that are one."""
    least = WASHED * apart
    shades = Counter(memoryview(raster.rgba).cast("I")[at] & COARSE for at in places)
    far = sum(times for packed, times in shades.items() if delta_e(lab(unpacked(packed | MIDDLE)), lab(own)) > least)
    return 2 * far >= len(places)


class _Strange:
    """Decides whether a pixel is strange, and works out each colour among some labels once."""

    def __init__(self, raster: Raster, labels: bytes, colours: Sequence[Rgb]) -> None:
        self.raster, self.labels, self.colours = raster, labels, colours
        self.seen = [seen(rgb) for rgb in colours]
        self._pixels = memoryview(raster.rgba).cast("I")
        self._off: dict[tuple[int, bytes], _Way] = {}

    def at(self, at: int) -> bool:
        width = self.raster.width
        if _length(self._off_at(at)) <= FAR:
            return False
        ways = [self._off_at(at + down + right) for down in (-width, 0, width) for right in (-1, 0, 1)]
        if _length([sum(each) / 9 for each in zip(*ways, strict=True)]) <= FAR:
            return False
        own, near = unpacked(self._pixels[at]), self._around(at, COLOUR_REACH)
        pairs = combinations([self.colours[label] for label in near], 2)
        return not (
            any(is_washed(own, self.colours[label], self.colours[label]) for label in near)
            or any(is_washed(own, one, two) for one, two in pairs)
        )

    def _around(self, at: int, reach: int) -> bytes:
        """Return the labels near a pixel, sorted."""
        width, labels = self.raster.width, self.labels
        rows = range(max(0, at - reach * width), at + reach * width + 1, width)
        return bytes(sorted({*b"".join([labels[row - reach : row + reach + 1] for row in rows])} - {NONE}))

    def _off_at(self, at: int) -> _Way:
        """Return how a pixel differs from the nearest mix of two labels around it, nothing where it is clear."""
        packed = self._pixels[at]
        near = self._around(at, REACH)
        if not near or packed >> 24 < OPAQUE_FROM:
            return 0.0, 0.0, 0.0
        key = packed & COARSE, near
        if key not in self._off:
            self._off[key] = self._nearest(seen(unpacked(key[0] | MIDDLE)), near)
        return self._off[key]

    def _nearest(self, here: Sequence[float], near: bytes) -> _Way:
        ways = [off(here, self.seen[label]) for label in near]
        for one, two in combinations(near, 2):
            line, way = off(self.seen[two], self.seen[one]), off(here, self.seen[one])
            share = dot(way, line) / (dot(line, line) or 1.0)
            if 0 < share < 1:
                ways.append((way[0] - share * line[0], way[1] - share * line[1], way[2] - share * line[2]))
        return min(ways, key=lambda each: dot(each, each))


def _length(way: Sequence[float]) -> float:
    return sqrt(dot(way, way))


def _mean(raster: Raster, places: Sequence[int]) -> Rgb:
    red, green, blue = (
        round(sum(raster.rgba[4 * at + channel] for at in places) / len(places)) for channel in range(3)
    )
    return red, green, blue
