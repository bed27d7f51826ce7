"""Small areas of a compressed picture whose own colour is far from that of their label.

Compression spoils each pixel of a small area, but not the median of many. Where that is far from the colour of the
label, and no mix of it with what lies around, the area had a colour of its own that was merged with another.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from math import ceil, hypot
from statistics import median

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import Rgb, lab
from calculators.pixels.connected import Area, AreasOf, pixels_of
from calculators.pixels.flat_colours import NONE
from calculators.pixels.lost_parts import Place
from calculators.pixels.merged_colours import whole_place
from calculators.pixels.planes import OF_TWO, Planes
from calculators.pixels.raster import Raster
from calculators.pixels.shades import (
    COLOUR_NOISE,
    COLOUR_SWING,
    LIGHT_NOISE,
    LIGHT_SWING,
    from_stretch,
    light_and_colour,
)

#: Larger areas than this share of the picture are seen in squares; all small ones of one label together have this share
#: at least, and the colour of each comes from so many of its inner pixels.
SMALL_SHARE, LEAST_SHARE, LEAST_INNER, SAMPLED = 0.05, 0.002, 8, 150
#: So many times the distance at which colours count as merged, since compression moves even the median.
CLEARLY = 1.4
#: The most areas that are looked at, the largest first.
MOST_AREAS = 400


def merged_areas(
    raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float, areas_of: AreasOf
) -> tuple[Place, ...]:
    """Return colours of small areas that are further than ``apart`` (delta E 2000) from the colour of their label.

    ``areas_of`` returns the areas of the labels.
    """
    width, size = raster.width, len(labels)
    small = [each for each in areas_of() if each.value != NONE and LEAST_INNER <= each.size <= SMALL_SHARE * size]
    if not small:
        return ()
    planes = Planes(width, raster.height)
    middles = planes.in_bands(Planes.middles, labels, margin=2)
    squares = planes.in_bands(Planes.squares, labels, margin=2)
    labs = [lab(rgb) for rgb in colours]
    off: defaultdict[int, list[tuple[Area, Rgb]]] = defaultdict(list)
    for area in sorted(small, key=lambda each: -each.size)[:MOST_AREAS]:
        own = _median(raster, list(pixels_of(area)), middles, squares)
        if own is None or delta_e(lab(own), labs[area.value]) <= CLEARLY * apart:
            continue
        around = _around(labels, area, width)
        if not any(is_washed(own, colours[area.value], colours[other]) for other in around):
            off[area.value].append((area, own))
    made = []
    for label, found in sorted(off.items()):
        if sum(area.size for area, _own in found) >= LEAST_SHARE * size:
            places = [(at % width, at // width) for area, _own in found for at in pixels_of(area)]
            made.append(whole_place(places, found[0][1], colours[label]))
    return tuple(made)


def _median(raster: Raster, places: list[int], middles: bytes, squares: bytes) -> Rgb | None:
    """Return the median colour of the inner pixels of an area, None with too few of them."""
    inner = [at for at in places if middles[at]]
    if len(inner) < LEAST_INNER:
        inner = [at for at in places if squares[at] & OF_TWO]
    if len(inner) < LEAST_INNER:
        return None
    sampled = inner[:: ceil(len(inner) / SAMPLED)]
    red, green, blue = (round(median(raster.rgba[4 * at + channel] for at in sampled)) for channel in range(3))
    return red, green, blue


def is_washed(own: Rgb, label: Rgb, other: Rgb) -> bool:
    """Return whether a colour is a mix of two, brightness and colour each by itself: compression washes the colour of
    thin parts further out than their brightness.
    """
    here, full, ground = map(light_and_colour, (own, label, other))
    swing = LIGHT_NOISE + LIGHT_SWING * abs(full[0] - ground[0])
    wide = hypot(full[1] - ground[1], full[2] - ground[2])
    return (
        min(full[0], ground[0]) - swing <= here[0] <= max(full[0], ground[0]) + swing
        and from_stretch(here[1:], full[1:], ground[1:]) <= COLOUR_NOISE + COLOUR_SWING * wide
    )


def _around(labels: bytes, area: Area, width: int) -> set[int]:
    """Return the labels beside an area, but for rare ones."""
    beside: Counter[int] = Counter()
    for start, stop in area.runs:
        beside.update(labels[max(0, start - 1) : stop + 1])
        beside.update(labels[max(0, start - width) : max(0, stop - width)])
        beside.update(labels[start + width : stop + width])
    del beside[area.value]
    return {label for label, times in beside.items() if label != NONE and times >= 0.1 * beside.total()}
