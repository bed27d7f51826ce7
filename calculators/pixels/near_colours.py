"""Even areas of a colour that became another near it. That is a loss where a reader sees two colours."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import combinations
from math import ceil
from typing import NamedTuple

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import Rgb, lab, unpacked
from calculators.pixels.flat_colours import NONE
from calculators.pixels.lost_parts import Place
from calculators.pixels.merged_colours import MERGED_APART, SLIGHT, SLIGHT_SHARE, packed_opaque, sampled, whole_place
from calculators.pixels.raster import Raster
from calculators.pixels.repeats import repeats
from calculators.pixels.shades import between

#: The least share of the picture, and the least difference (delta E 2000), of an even area of a colour near another.
NEAR_SHARE, LEAST_NEAR = 0.015, 1.0
#: From this difference on (delta E 2000) a colour is seen beside another. An estimate: in drawings of two packages
#: shades of 2.7 and 2.9 were plain to see, over a whole ring and a whole wall.
VISIBLE = 2.5
#: In a picture without compression such a colour is one of its own: if it makes the first share of the pixels looked at
#: and is even in the second, and in so many of them. (No edge has squares of three by three of one shade.)
OWN_SHARE, EVEN_SHARE, LEAST_EVEN = 0.004, 0.001, 9
#: Even areas of two colours nearer than this are steps of a gradient, not colours of their own.
STEP = 2.0
#: A mix of two colours lies within so many levels of the line between them, for rounding. So many near colours may mix.
BESIDE_MIX, MOST_MIXED = 2.0, 6
#: The rows and columns in which repeated pixels are looked for, and the most pixels of each.
LINES, LONGEST = 48, 1024

#: A label and the packed colour of its pixels, and where in the picture they lie.
_Key = tuple[int, int]
_Places = dict[_Key, list[int]]


def near_colours(
    raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float
) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
    """Return colours of even areas that differ from their label's, yet within ``apart``: lost ones, and all others.

    Lost is a flat colour in a picture without compression that is visible beside its label's. If ``apart`` is
    larger than usual, none is: then a reader wants near colours to be one.
    """
    sample = _sample(raster, labels, colours)
    near = {
        key: places
        for key, places in sorted(sample.even.items(), key=lambda each: (-len(each[1]), each[0]))
        if len(places) >= max(4, EVEN_SHARE * sample.size) and LEAST_NEAR <= _difference(key, colours) <= apart
    }
    own = [] if apart > MERGED_APART else _colours_of_their_own(raster, labels, colours, sample, near)
    others = [key for key in near if key not in own and len(near[key]) >= max(4, NEAR_SHARE * sample.size)]
    lost, one = (tuple(_place(raster.width, key, near[key], colours) for key in keys) for keys in (own, others))
    return lost, one


class _Sample(NamedTuple):
    """Pixels of another colour than their label's: where the picture is ``even`` in it, and how many there are.

    ``size`` pixels were looked at.
    """

    even: _Places
    differing: Counter[_Key]
    size: int


def _sample(raster: Raster, labels: bytes, colours: Sequence[Rgb]) -> _Sample:
    even: _Places = {}
    differing: Counter[_Key] = Counter()
    size, width, pixels = 0, raster.width, memoryview(raster.rgba).cast("I")
    own = [packed_opaque(rgb) for rgb in colours]
    for every, has, packed in sampled(raster, labels, 1):
        size += len(has) - has.count(NONE)
        for at, label, pixel in zip(every, has, packed, strict=True):
            if label != NONE and pixel != own[label]:
                differing[label, pixel] += 1
                # Most are shades of edges; a call for each would take twice as long.
                if pixels[at - 1] == pixel == pixels[at + 1] and _is_even(pixels, labels, at, width):
                    even.setdefault((label, pixel), []).append(at)
    return _Sample(even, differing, size)


def _is_even(pixels: memoryview, labels: bytes, at: int, width: int) -> bool:
    """Return whether a pixel and the eight around it have one colour and one label."""
    pixel, label = pixels[at], labels[at]
    return pixels[at - 1] == pixel == pixels[at + 1] and all(
        labels[each] == label and set(pixels[each - 1 : each + 2]) == {pixel} for each in (at - width, at + width)
    )


def _colours_of_their_own(
    raster: Raster, labels: bytes, colours: Sequence[Rgb], sample: _Sample, near: Iterable[_Key]
) -> list[_Key]:
    """Return which colours of ``near`` a reader sees as their own; none in a compressed picture."""
    even, least = sample.even, max(LEAST_EVEN, EVEN_SHARE * sample.size)
    broad = [key for key in near if len(even[key]) >= least]
    own = [key for key in broad if sample.differing[key] >= OWN_SHARE * sample.size and not _is_step(key, even)]
    if not own:
        return []
    drawn = _are_drawn(raster, labels, colours, least)
    own = [key for key in own if _is_visible(key, even, colours[key[0]], least, is_drawn=key[0] in drawn)]
    if not own or _is_noisy(sample, colours, broad):
        return []
    reach = _repeated(raster)
    return own if reach == 1 else [key for key in own if _count_even(raster, even[key], reach) >= least]


def _difference(key: _Key, colours: Sequence[Rgb]) -> float:
    return delta_e(lab(unpacked(key[1])), lab(colours[key[0]]))


def _are_drawn(raster: Raster, labels: bytes, colours: Sequence[Rgb], least: float) -> set[int]:
    """Return the labels in whose very colour the picture is even.

    Others have the mean of several, or one that is a little off.
    """
    width, pixels = raster.width, memoryview(raster.rgba).cast("I")
    own, found = [packed_opaque(rgb) for rgb in colours], Counter[int]()
    for every, has, packed in sampled(raster, labels, 1):
        for at, label, pixel in zip(every, has, packed, strict=True):
            if label != NONE and pixel == own[label] and found[label] < least and _is_even(pixels, labels, at, width):
                found[label] += 1
    return {label for label, times in found.items() if times >= least}


def _is_visible(key: _Key, even: _Places, now: Rgb, least: float, *, is_drawn: bool) -> bool:
    """Return whether a colour is seen beside ``now``, or if that is not drawn, beside others of its label."""
    own = lab(unpacked(key[1]))
    if is_drawn:
        return delta_e(own, lab(now)) >= VISIBLE
    others = (pixel for (label, pixel), places in even.items() if label == key[0] and len(places) >= least)
    return any(delta_e(own, lab(unpacked(pixel))) >= VISIBLE for pixel in others)


def _is_step(key: _Key, even: _Places) -> bool:
    """Return whether another colour of even areas follows at the distance of a gradient's steps."""
    own = lab(unpacked(key[1]))
    return any(
        len(places) >= LEAST_EVEN and delta_e(own, lab(unpacked(other[1]))) < STEP
        for other, places in even.items()
        if other[1] != key[1]
    )


def _is_noisy(sample: _Sample, colours: Sequence[Rgb], near: Sequence[_Key]) -> bool:
    """Return whether many pixels differ by little from their labels' colours, as compression leaves them.

    Even areas do not count, nor mixes of those of a label that are ``near``, nor edges to nothing, whose colours are
    rounded.
    """
    flat = {label: [rgb] for label, rgb in enumerate(colours)}
    for label, pixel in near[:MOST_MIXED]:
        flat[label].append(unpacked(pixel))
    slightly = whole = 0
    for (label, pixel), times in sample.differing.items():
        here, now = unpacked(pixel), colours[label]
        if (
            pixel >> 24 < 255
            or len(sample.even.get((label, pixel), ())) >= LEAST_EVEN
            or any(between(here, one, two, BESIDE_MIX) for one, two in combinations(flat[label], 2))
        ):
            continue
        whole += times
        if max(abs(one - two) for one, two in zip(here, now, strict=True)) <= SLIGHT:
            slightly += times
    return slightly > SLIGHT_SHARE * whole


def _count_even(raster: Raster, places: Sequence[int], reach: int) -> int:
    """Return at how many places all pixels ``reach`` away have the same colour."""
    width, pixels, found = raster.width, memoryview(raster.rgba).cast("I"), 0
    for at in places:
        row, column = divmod(at, width)
        if reach <= row < raster.height - reach and reach <= column < width - reach:
            around = (at + down + right for down in (-reach * width, reach * width) for right in (-reach, reach))
            found += all(pixels[each] == pixels[at] for each in around)
    return found


def _repeated(raster: Raster) -> int:
    """Return how many pixels one of the original makes at most, 1 if none are repeated."""
    width, height, pixels = raster.width, raster.height, memoryview(raster.rgba).cast("I")
    rows = range(0, height, ceil(height / LINES))
    columns = range(0, width, ceil(width / LINES))
    across = repeats([pixels[row * width : row * width + min(width, LONGEST)].tolist() for row in rows])
    down = repeats([pixels[column : min(height, LONGEST) * width : width].tolist() for column in columns])
    return max(ceil(found.factor or 1) for found in (across, down))


def _place(width: int, key: _Key, places: Sequence[int], colours: Sequence[Rgb]) -> Place:
    return whole_place([(at % width, at // width) for at in places], unpacked(key[1]), colours[key[0]])
