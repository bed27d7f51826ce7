"""Borders between two labels where the picture shows none: compression makes similar colours alike, pixel by pixel.

Across an edge, four pixels in a row go from one colour to the other. Where the labels change and the four hardly do,
the labels are guessed.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from math import ceil

from calculators.pixels.colour_table import Rgb
from calculators.pixels.flat_colours import NONE
from calculators.pixels.raster import Raster
from calculators.pixels.washed import dot, off, seen

#: Two pixels of one label beside two of another.
_SIDE = re.compile(rb"(?=(.)\1(?!\1)(.)\2)", re.DOTALL)
#: At an edge, the inner two of four pixels differ by more than this share of the labels' difference, or the outer two
#: by more than the second.
INNER, OUTER = 0.25, 0.4
#: So many sides, and this share of them, show no edge. (On the tuning half of the web pictures, those where labels of
#: similar colours were mixed up reach 0.045 and more, nearly all others 0.04 and less.)
LEAST_SIDES, UNSTEADY_SHARE = 30, 0.043
#: The same for the sides between two labels alone. (On the tuning half: where one of two similar colours lost a seventh
#: of its length or more to the other, 18 sides and more, and 9 % of theirs; of 370 pictures without a loss, two have as
#: many, both of quality 50 and less. Ordinary pairs stay below 8 %.)
LEAST_OF_PAIR, SHARE_OF_PAIR = 18, 0.08
#: About this many pixels are looked at, and so many places are returned.
LOOKED_AT, MARKED = 150_000, 60


def unsteady_places(raster: Raster, labels: bytes, colours: Sequence[Rgb]) -> tuple[tuple[int, int], ...]:
    """Return some places (x, y) where labels change without an edge, none if those are few of all."""
    width, levels, known = raster.width, [seen(rgb) for rgb in colours], memoryview(raster.rgba)
    found: defaultdict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    counts: Counter[tuple[int, int]] = Counter()
    for at, step in _sides(labels, width, raster.height):
        one, two = labels[at + step], labels[at + 2 * step]
        if NONE in (one, two):
            continue
        pair = min(one, two), max(one, two)
        counts[pair] += 1
        way = off(levels[two], levels[one])
        far = dot(way, way)
        second, third = (seen(known[4 * place : 4 * place + 3]) for place in (at + step, at + 2 * step))
        # Most changes are edges, which the inner two show.
        if dot(off(third, second), way) > INNER * far:
            continue
        first, fourth = (seen(known[4 * place : 4 * place + 3]) for place in (at, at + 3 * step))
        if dot(off(fourth, first), way) <= OUTER * far:
            place = at + step
            found[pair].append((place % width, place // width))
    if sum(map(len, found.values())) < max(LEAST_SIDES, UNSTEADY_SHARE * counts.total()):
        least = {pair: max(LEAST_OF_PAIR, SHARE_OF_PAIR * times) for pair, times in counts.items()}
        every = [place for pair, places in found.items() if len(places) >= least[pair] for place in places]
    else:
        every = [place for places in found.values() for place in places]
    return tuple(every[:: ceil(len(every) / MARKED)]) if every else ()


def _sides(labels: bytes, width: int, height: int) -> Iterator[tuple[int, int]]:
    """Yield the first of four pixels in a row or a column that two labels share, and the step to the next."""
    every = max(1, 2 * width * height // LOOKED_AT)
    for row in range(0, height, every):
        for side in _SIDE.finditer(labels[row * width : (row + 1) * width]):
            yield row * width + side.start(), 1
    for column in range(0, width, every):
        for side in _SIDE.finditer(labels[column::width]):
            yield side.start() * width + column, width
