"""What the flat colours of a picture have lost of it: thin strokes without a label
of their own, and colours that were merged.

A thin stroke is a ridge: along it the picture differs from the ground on either side, in the same direction of colour.
It survives if some label along it lies at least half of that way off both grounds. Ridges are looked for in
brightness and in two planes of colour at once, a whole band at a time; what is found there is few pixels, and is looked
at one by one.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from functools import cache, partial
from math import ceil, hypot

from calculators.cache import PICTURES
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, unpacked
from calculators.pixels.connected import all_areas
from calculators.pixels.flat_colours import NONE
from calculators.pixels.gradients import gradient_places
from calculators.pixels.lost_parts import NOTHING_LOST, Losses, Place
from calculators.pixels.merged_areas import merged_areas
from calculators.pixels.merged_colours import (
    COARSE,
    MERGED_APART,
    MIDDLE,
    merged,
    merged_thin,
    whole_place,
)
from calculators.pixels.near_colours import near_colours
from calculators.pixels.planes import Planes
from calculators.pixels.raster import Raster
from calculators.pixels.small_parts import Part, Rendered, misshapen
from calculators.pixels.strange_colours import strange_colours
from calculators.pixels.unsteady import unsteady_places
from calculators.pixels.washed import dot, off, seen, washed

#: A stroke differs from its ground by at least so much (0 to 255, as ``seen`` has it).
LEAST_CONTRAST = 26.0
#: And by this share of the greatest contrast within ``RINGS_WITHIN`` pixels:
#: compression leaves fainter ripples beside an edge.
OF_NEAR, RINGS_WITHIN = 0.3, 6
#: The least ridge or deviation in the planes, which have seven bits: for brightness, and for colour.
LEAST_IN_PLANE = 10, 8
#: How many pixels to either side the ground is searched for.
REACHES = 2, 3
#: A label keeps a stroke if it lies at least this part of the way from the ground to the stroke.
SURVIVES_FROM = 0.5
#: If a label keeps the stroke beside a pixel, the pixel is inside from this share of that label's contrast on.
INSIDE = 0.6
#: Seen from a stroke, its two grounds lie in the same direction of colour: the least cosine between them.
LEAST_COSINE = 0.5
#: The least length of a lost piece, and the distance within which pieces make one place.
LEAST_LENGTH, NEAR = 4, 2
#: A line that covers its pixels in part, as at the seam of two shapes, differs by less than this from its ground, and
#: its length counts by that share: short ones are left out unless all of them together have so much.
WHOLLY, LEAST_IN_ALL = 128.0, 8.0
#: The most pixels examined one by one, and the rows of a stripe if there are more.
MOST_CANDIDATES, STRIPE = 50_000, 24

_WEIGHTS = (0.299, 0.587, 0.114)
_BLUE, _RED = (-0.1687, -0.3313, 0.5), (0.5, -0.4187, -0.0813)


def losses(
    raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float = MERGED_APART, rendered: Rendered | None = None
) -> Losses:
    """Return what ``labels`` (a byte a pixel, ``NONE`` where clear) with their ``colours`` have lost of ``raster``.

    Colours merged within ``apart`` (delta E 2000) are one, except flat ones as in ``near_colours``. Small shapes are
    compared with their ``rendered`` result, if there is one.
    """
    if not colours:
        return NOTHING_LOST
    strokes = _places(raster, labels, colours, _lost_pixels(raster, labels, colours))
    gradient = _gradient(raster) if len(colours) > 1 else ()
    flat, near = ((), ()) if gradient else near_colours(raster, labels, colours, apart)
    areas_of = cache(lambda: all_areas(labels, raster.width, raster.height))
    return Losses(
        tuple(place for place, _ in strokes),
        sum(length for _, length in strokes),
        merged(raster, labels, colours, apart)
        or merged_thin(raster, labels, colours, apart)
        or merged_areas(raster, labels, colours, apart, areas_of)
        or strange_colours(raster, labels, colours, apart),
        tuple(
            whole_place(places, colours[further], colours[label])
            for label, further, places in washed(raster, labels, colours, apart)
        ),
        tuple(_of_shape(part, colours) for part in misshapen(raster, labels, colours, rendered, areas_of))
        if rendered
        else (),
        gradient,
        () if gradient else unsteady_places(raster, labels, colours),
        near,
        flat,
    )


def _gradient(raster: Raster) -> tuple[tuple[int, int], ...]:
    """Return the places of a gradient, cached: they depend on the picture alone, which several calculators compare."""
    operation = "gradient", raster.width, raster.height
    return PICTURES.remembered(raster.source, operation, lambda: tuple(gradient_places(raster)))


def _of_shape(part: Part, colours: Sequence[Rgb]) -> Place:
    return Place(part.box, colours[part.label], colours[part.ground])


@cache
def _tables() -> tuple[tuple[bytes, bytes, bytes], ...]:
    """Return for brightness and two planes of colour what each level of red, green and blue adds, in seven bits."""
    made = []
    for weights in (_WEIGHTS, _BLUE, _RED):
        # Add the complement instead of subtracting, so that no sum falls below 0.
        red, green, blue = (
            bytes(int(abs(w) * (level if w > 0 else 255 - level) / 2) for level in range(256)) for w in weights
        )
        made.append((red, green, blue))
    return tuple(made)


def _in_plane(which: int, rgb: Rgb) -> int:
    return sum(table[level] for table, level in zip(_tables()[which], rgb, strict=True))


def _candidates(raster: Raster, labels: bytes, colours: Sequence[Rgb]) -> bytes:
    """Return a plane with 128 where the picture has a ridge and its label has another colour."""
    of_label = [bytes(_in_plane(which, rgb) for rgb in colours).ljust(256, b"\0") for which in range(3)]
    planes = Planes(raster.width, raster.height)
    return planes.in_bands(partial(_ridges, of_label), raster.rgba, labels, margin=max(REACHES))


def _ridges(of_label: list[bytes], planes: Planes, rgba: bytes, labels: bytes) -> int:
    high = planes.number(b"\x80" * planes.size)
    opaque = planes.number(rgba[3::4].translate(bytes(OPAQUE_FROM) + b"\xff" * (256 - OPAQUE_FROM))) & planes.number(
        labels.translate(b"\xff" * NONE + b"\0")
    )
    found = 0
    for which in range(3):
        least = LEAST_IN_PLANE[which > 0]
        levels = sum(planes.number(rgba[channel::4].translate(table)) for channel, table in enumerate(_tables()[which]))
        has = labels.translate(of_label[which])
        # Give transparent pixels their label's level: no ridge, no deviation.
        levels = (levels & opaque) | (planes.number(has) & ~opaque)
        plus = bytes(min(127, level + least) for level in range(256))
        for light in (True, False):
            # A dark ridge is a light one in the negative.
            level = planes.plane(levels) if light else planes.plane(planes.number(b"\x7f" * planes.size) ^ levels)
            label = has if light else planes.plane(planes.number(b"\x7f" * planes.size) ^ planes.number(has))
            top, more = planes.number(level) | high, planes.number(level.translate(plus))
            off = (top - planes.number(label.translate(plus))) & high
            if off:
                found |= off & _between_lower(planes.width, top, more, high)
    return found


def _between_lower(width: int, top: int, more: int, high: int) -> int:
    """Return the high bit of each byte where ``top`` is no less than ``more`` on
    both sides, in one of four directions.
    """
    found, every = 0, (high << 1) - (high >> 7)
    for reach in REACHES:
        for step in (1, width - 1, width, width + 1):
            shift = 8 * reach * step
            found |= (top - (more >> shift)) & (top - (more << shift & every))
    return found & high


#: How a colour differs from a ground, and how far, squared.
_Way = tuple[float, float, float, float]


class _Strokes:
    """Decides whether a pixel lies on a stroke that no label keeps."""

    def __init__(self, raster: Raster, labels: bytes, colours: Sequence[Rgb]) -> None:
        self.raster, self.labels = raster, labels
        self.width, self.height = raster.width, raster.height
        self.pixels = memoryview(raster.rgba).cast("I")
        self.colours = [seen(rgb) for rgb in colours]
        #: How each label differs from each ground, and which do most; how a colour differs from two.
        self._offs = [[off(label, ground) for label in self.colours] for ground in self.colours]
        self._furthest = [
            sorted(((hypot(*way), label) for label, way in enumerate(ways)), reverse=True) for ways in self._offs
        ]
        self._ways: defaultdict[int, dict[int, tuple[_Way, ...]]] = defaultdict(dict)
        #: (step in the plane, columns to the right, rows down, step to the next pixel) to one
        #: side; the other is as far the other way.
        self._directions = [
            (reach * (down * self.width + right), reach * right, reach * down, down * self.width + right)
            for reach in REACHES
            for down, right in ((0, 1), (1, -1), (1, 0), (1, 1))
        ]
        self._every_step = [(step, beside) for step, _right, _down, beside in self._directions]

    def lost(self, place: int) -> int:
        """Return 1 + the label of the ground where the stroke at ``place`` is lost, else 0."""
        row, column = divmod(place, self.width)
        labels, packed, near = self.labels, self.pixels[place] & COARSE, None
        known = self._ways[packed]
        for step, beside in self._within(row, column):
            one, two = labels[place - step], labels[place + step]
            ways = known.get(key := one << 8 | two)
            if ways is None:
                ways = known[key] = self._alike(packed, one, two)
            if not ways:
                continue
            across = labels[place - beside], labels[place], labels[place + beside]
            if self._keeps(across, one, two, ways, SURVIVES_FROM):
                continue
            near = set(self._around(row, column, 1)) if near is None else near
            # Beyond the end of a stroke that a nearby label keeps, a weaker colour is only its edge.
            if (
                not self._keeps(near, one, two, ways, 1 / INSIDE)
                and self._ridge(place, step, one, two)
                and self._stands_out(place, one, two, row, column)
            ):
                return 1 + one
        return 0

    def _within(self, row: int, column: int) -> list[tuple[int, int]]:
        """Return the steps to one side, and to the next pixel there, that stay in the picture on both sides."""
        free = min(row, column, self.height - 1 - row, self.width - 1 - column)
        if free >= max(REACHES):
            return self._every_step
        return [
            (step, beside)
            for step, right, down, beside in self._directions
            if down <= row < self.height - down and abs(right) <= column < self.width - abs(right)
        ]

    def _at(self, place: int) -> tuple[float, float, float]:
        return seen(self.raster.rgba[4 * place : 4 * place + 3])

    def _around(self, row: int, column: int, reach: int) -> bytes:
        """Return the labels within that many pixels."""
        left, right = max(0, column - reach), min(self.width, column + reach + 1)
        rows = range(max(0, row - reach) * self.width, min(self.height, row + reach + 1) * self.width, self.width)
        return b"".join([self.labels[start + left : start + right] for start in rows])

    def _alike(self, packed: int, one: int, two: int) -> tuple[_Way, ...]:
        """Return how a colour differs from the grounds on both sides; nothing where it does
        too little, or not in the same direction.
        """
        if NONE in (one, two):
            return ()
        here = seen(unpacked(packed | MIDDLE))
        first, second = off(here, self.colours[one]), off(here, self.colours[two])
        lengths = hypot(*first), hypot(*second)
        if min(lengths) < LEAST_CONTRAST or dot(first, second) < LEAST_COSINE * lengths[0] * lengths[1]:
            return ()
        return (*first, dot(first, first)), (*second, dot(second, second))

    def _keeps(
        self,
        labels: Iterable[int],
        one: int,
        two: int,
        ways: tuple[_Way, ...],
        share: float,
    ) -> bool:
        """Return whether any of the ``labels`` goes at least such a share of the way from both grounds to a colour."""
        # Written out, since it is asked some million times of a grainy picture.
        (x1, y1, z1, far1), (x2, y2, z2, far2) = ways
        from_one, from_two = self._offs[one], self._offs[two]
        for label in labels:
            if label != NONE:
                x, y, z = from_one[label]
                if x * x1 + y * y1 + z * z1 >= share * far1:
                    x, y, z = from_two[label]
                    if x * x2 + y * y2 + z * z2 >= share * far2:
                        return True
        return False

    def _ridge(self, place: int, step: int, one: int, two: int) -> bool:
        """Return whether the picture itself differs from what it shows on both sides, as it does from their labels."""
        here = self._at(place)
        for side, label in ((place - step, one), (place + step, two)):
            differs = off(here, self._at(side))
            if hypot(*differs) < LEAST_CONTRAST or dot(off(here, self.colours[label]), differs) <= 0:
                return False
        return True

    def _stands_out(self, place: int, one: int, two: int, row: int, column: int) -> bool:
        here, around = self._at(place), None
        for ground in (one, two):
            own = hypot(*off(here, self.colours[ground]))
            for far, label in self._furthest[ground]:
                if own >= OF_NEAR * far:
                    break
                around = self._around(row, column, RINGS_WITHIN) if around is None else around
                if label in around:
                    return False
        return True


def _lost_pixels(raster: Raster, labels: bytes, colours: Sequence[Rgb]) -> dict[int, int]:
    """Return the pixels on strokes that are lost, each with the label of its ground."""
    plane = _candidates(raster, labels, colours)
    strokes, found = _Strokes(raster, labels, colours), {}
    every, stripe = ceil(plane.count(b"\x80") / MOST_CANDIDATES), STRIPE * raster.width
    # Sample a grainy picture in stripes all over it.
    for start in range(0, len(plane), stripe * max(1, every)):
        for candidate in re.finditer(b"\x80", plane[start : start + stripe]):
            if ground := strokes.lost(at := start + candidate.start()):
                found[at] = ground - 1
    return found


def _places(raster: Raster, labels: bytes, colours: Sequence[Rgb], lost: dict[int, int]) -> list[tuple[Place, int]]:
    """Return the lost pieces with at least a stroke's length, each with that length in pixels, the longest first."""
    left, made, width = set(lost), [], raster.width
    while left:
        start = left.pop()
        piece, reached = [start], [start]
        while reached:
            row, column = divmod(reached.pop(), width)
            for y in range(row - NEAR, row + NEAR + 1):
                for x in range(max(0, column - NEAR), min(width, column + NEAR + 1)):
                    if (place := y * width + x) in left:
                        left.remove(place)
                        piece.append(place)
                        reached.append(place)
        rows, columns = [at // width for at in piece], [at % width for at in piece]
        box = min(columns), min(rows), max(columns) + 1, max(rows) + 1
        length = max(box[2] - box[0], box[3] - box[1])
        if length < LEAST_LENGTH or len(piece) < LEAST_LENGTH:
            continue
        ground = colours[Counter(lost[at] for at in piece).most_common(1)[0][0]]
        levels = [(raster.rgba[4 * at], raster.rgba[4 * at + 1], raster.rgba[4 * at + 2]) for at in piece]
        was = max(levels, key=lambda rgb: hypot(*off(rgb, ground)))
        made.append((Place(box, was, ground), length))
    weights = [length * min(1.0, hypot(*off(seen(place.was), seen(place.now))) / WHOLLY) for place, length in made]
    if sum(weights) < LEAST_IN_ALL:
        made = [each for each, weight in zip(made, weights, strict=True) if weight >= LEAST_LENGTH]
    return sorted(made, key=lambda each: (-each[1], each[0].box))
