"""A picture as a few flat colours, and the colour of each pixel.

A colour is real if it fills squares, or if nearby colours do not explain it. A mix of other colours that only lies in
thin runs between them is the shade of an edge: its pixels go to the nearer side, with a record of how far they lean to
the other.
"""

from __future__ import annotations

import re
from collections.abc import Generator
from dataclasses import dataclass, replace
from functools import partial
from math import dist

from calculators import messages
from calculators.cache import PICTURES
from calculators.colour.difference import delta_e
from calculators.pixels.around import REACH, Around
from calculators.pixels.colour_groups import (
    NOISE_TOLERANCES,
    NOISY_REACH,
    SIDES_REACH,
    THICK_SHARE,
    UNSURE,
    Group,
    Sides,
    count_solid,
    groups_of,
    may_be_artwork,
    real_colours,
)
from calculators.pixels.colour_table import (
    CLEAR,
    LIGHT_APART,
    NOISE_BITS,
    ColourTable,
    Rgb,
    colour_table,
    hex_of,
    lab,
    unpacked,
)
from calculators.pixels.full_colours import FullColours
from calculators.pixels.planes import OF_THREE, OF_TWO, Planes, counted
from calculators.pixels.raster import Raster
from calculators.pixels.shades import between, is_noisy
from calculators.values import Progress, part_of_work

#: The label of a clear pixel; in ``others``: no other colour.
NONE = 255
#: The default tolerance: nearer colours (delta E 2000) are one.
TOLERANCE = 5.0
#: The most colours of flat artwork.
MOST_COLOURS = 32
#: A colour is thick if this share of its solid pixels lies in squares of three by three.
MOSTLY_THICK = 0.8
#: A pair of colours explains a pixel clearly better if its line is nearer by this
#: many levels, and exactly within the second.
CLEARLY, EXACTLY = 8.0, 3.0
#: A detail of which nothing is solid has a pixel from this share on, or a line along
#: which two rows are half covered would go.
SMALL_FROM = 0.4
#: Less than this share of the opaque pixels in squares of two by two of the colours found: nothing is flat.
LEAST_FLAT = 0.4
_IN_THREE = bytes(255 if has & OF_THREE else 0 for has in range(256))
_PIXELS_BETWEEN_STEPS, _COLOURS_BETWEEN_STEPS = 20_000, 500


class NotFlat(ValueError):
    """The picture is no flat artwork: its colours, counted in ``table``, fall into ``groups`` that are not alike."""

    def __init__(self, table: ColourTable, groups: int) -> None:
        super().__init__(f"{table.distinct} colours, {groups} groups")
        self.table, self.groups = table, groups

    @property
    def colours(self) -> int:
        """The least number of distinct colours."""
        return self.table.distinct


@dataclass(frozen=True)
class FlatColour:
    """One colour of the artwork, and its share of all opaque pixels (0 to 1)."""

    rgb: Rgb
    share: float

    @property
    def hex(self) -> str:
        """The colour as #rrggbb."""
        return hex_of(self.rgb)


@dataclass(frozen=True)
class FlatColours:
    """The flat colours of a picture, the most frequent first, and three planes of one byte a pixel.

    ``labels``: the place of its colour in ``colours``, 255 where the picture is clear. ``others``: for a
    pixel on an edge the colour of the other side, else 255. ``leans``: how much of the other is mixed
    in, 0 to 127 of 255; 0 where there is no other. ``noisy``: the picture has the noise that compression leaves.
    """

    width: int
    height: int
    colours: tuple[FlatColour, ...]
    labels: bytes
    others: bytes
    leans: bytes
    noisy: bool = False


def known_flat_colours(
    raster: Raster, *, tolerance: float = TOLERANCE, count: int | None = None
) -> Generator[Progress, None, FlatColours]:
    """Return the flat colours of ``raster``, cached, so that no calculator looks for what another has found."""
    operation = ("flat colours", raster.width, raster.height, tolerance, count)
    make = partial(flat_colours, raster, tolerance=tolerance, count=count)
    return (yield from PICTURES.worked_out(raster.source, operation, make))


def flat_colours(
    raster: Raster, *, tolerance: float = TOLERANCE, count: int | None = None
) -> Generator[Progress, None, FlatColours]:
    """Return the flat colours of ``raster``. Yields progress.

    Colours nearer than ``tolerance`` (delta E 2000) are one. With ``count`` no more than so many are left:
    the nearest are joined, and no picture is refused. Raises NotFlat.
    """
    yield Progress(0.0, messages.COUNTING_COLOURS)
    table = colour_table(raster)
    planes = Planes(raster.width, raster.height)
    if not table.counts:
        clear = bytes([NONE]) * planes.size
        return FlatColours(raster.width, raster.height, (), clear, clear, bytes(planes.size))
    if table.bits == NOISE_BITS and count is None:
        raise NotFlat(table, len(table.counts))
    yield Progress(0.15, messages.GROUPING_COLOURS)
    groups, group_of = groups_of(table, tolerance)
    yield Progress(0.2, messages.GROUPING_COLOURS)
    rough = table.plane(group_of | {CLEAR: NONE})
    squares = planes.in_bands(Planes.squares, rough, margin=2)
    solid, thick = (
        squares.translate(bytes(255 if has & kind else 0 for has in range(256))) for kind in (OF_TWO, OF_THREE)
    )
    del squares
    middles = planes.in_bands(Planes.middles, rough, margin=2)
    noisy = is_noisy(table, rough, middles, [group.seed for group in groups], thick.count(0))
    core = _of_five(planes, rough, middles) if noisy else thick
    count_solid(groups, planes, rough, solid, thick, core)
    whole = sum(table.counts.values())
    may_be_flat = not noisy or may_be_artwork(groups, whole, thick.count(255))
    if table.distinct > MOST_COLOURS:
        # It is not flat in any case, so there is no need to separate colours from shades.
        may_be_flat &= sum(each.solid for each in groups) >= LEAST_FLAT * whole
    full = FullColours(table, rough, raster.width) if noisy else None
    sides_of = Sides(rough, raster.width, NOISY_REACH if noisy else SIDES_REACH)
    looking = real_colours(groups, tolerance, whole, sides_of, full, look=may_be_flat)
    real = yield from part_of_work(looking, 0.25, 0.35)
    is_flat = may_be_flat and len(real) <= MOST_COLOURS and sum(each.solid for each in real) >= LEAST_FLAT * whole
    if not is_flat and count is None and table.distinct > MOST_COLOURS:
        raise NotFlat(table, len(real))
    sides = _Sides(real[:MOST_COLOURS], table, tolerance)
    if is_flat:
        own = _own(sides, rough)
        known = planes.in_bands(_known, own, _sure(planes, sides, rough, solid, thick))
        del rough, solid, thick
        made = yield from _labelled(raster, table, sides, own, known)
    else:
        made = yield from part_of_work(_by_nearest(raster, table, sides), 0.35, 1.0)
    return replace(_ordered(made if count is None else _joined(made, count)), noisy=noisy)


def _of_five(planes: Planes, rough: bytes, middles: bytes) -> bytes:
    """Return 255 where a pixel is among the inner ones of a square of five by five of one group, else 0."""
    inner = planes.in_bands(_inner, rough, middles)
    squares = planes.in_bands(Planes.squares, inner, margin=2)
    return planes.in_bands(Planes.both, squares.translate(_IN_THREE), middles.translate(b"\0\xff" + bytes(254)))


def _inner(planes: Planes, rough: bytes, middles: bytes) -> int:
    inside = planes.whole(planes.number(middles))
    return planes.number(rough) & inside | planes.number(bytes([NONE]) * planes.size) & ~inside


class _Sides:
    """Decides which real colour a pixel belongs to, from those near it, and caches its decisions."""

    def __init__(self, real: list[Group], table: ColourTable, tolerance: float) -> None:
        self.real, self.table, self.tolerance = real, table, tolerance
        self.label_of_group = {group.place: label for label, group in enumerate(real)}
        self._decided: dict[tuple[int, int, bytes], tuple[int, int, int]] = {}
        self._noise: dict[tuple[int, int], bool] = {}
        self._every = bytes(range(len(real)))
        self.thin = frozenset(label for label, group in enumerate(real) if group.thick < THICK_SHARE * group.size)

    def settles(self, packed: int, own: int, near: bytes) -> bool:
        """Return whether what is ``near``, at most one label, tells enough of a
        pixel: its own colour, or noise on it.
        """
        if not near or own == near[0]:
            return bool(near)
        key = packed, near[0]
        if key not in self._noise:
            apart = delta_e(self.real[near[0]].lab, self.table.labs[packed])
            self._noise[key] = own == UNSURE and apart <= NOISE_TOLERANCES * self.tolerance
        return self._noise[key]

    def in_doubt(self, packed: int, label: int, other: int, lean: int) -> bool:
        """Return whether the decision explains a pixel so badly that a thin colour may be there."""
        first = self.real[label].stands_for
        second = first if other == NONE else self.real[other].stands_for
        meant = [a + (b - a) * lean / 255 for a, b in zip(first, second, strict=True)]
        return dist(unpacked(packed), meant) > CLEARLY

    def nearest(self, packed: int, among: bytes | None = None) -> int:
        """Return the label of the real colour, of some or of all, that looks nearest."""
        here = self.table.labs[packed]
        best, nearest = float("inf"), 0
        for light, label in sorted((abs(self.real[label].lab[0] - here[0]), label) for label in among or self._every):
            # A larger difference in brightness alone rules a colour out.
            if light > LIGHT_APART * best:
                break
            if (apart := delta_e(self.real[label].lab, here)) < best:
                best, nearest = apart, label
        return nearest

    def decide(self, packed: int, own: int, near: bytes) -> tuple[int, int, int]:
        """Return (label, other, lean) of a pixel: ``own`` its real colour or UNSURE,
        ``near`` the labels round it, sorted.
        """
        key = packed, own, near
        if key not in self._decided:
            self._decided[key] = self._decision(packed, own, near)
        return self._decided[key]

    def _decision(self, packed: int, own: int, near: bytes) -> tuple[int, int, int]:
        if own in near:
            return own, NONE, 0
        pairs = [(first, second) for place, first in enumerate(near) for second in near[place + 1 :]]
        edge = self._nearest_edge(packed, pairs)
        if edge and edge[0] > CLEARLY:
            # A thin line may nowhere be solid: it is there where a mix with its colour is
            # exact and that of what is near is not.
            exact = self._nearest_edge(
                packed, [(first, second) for first in near for second in self.thin if second not in near]
            )
            edge = exact if exact and exact[0] <= EXACTLY else edge
        # What has a colour of its own is no edge if it lies further from any edge.
        if edge and (own == UNSURE or edge[0] < CLEARLY + dist(unpacked(packed), self.real[own].stands_for)):
            return edge[1]
        if own != UNSURE:
            return own, NONE, 0
        nearest = near[0] if len(near) == 1 else self.nearest(packed, near)
        if self.settles(packed, own, bytes([nearest])):
            return nearest, NONE, 0
        # A detail so small that none of it is solid: between what is near and any colour of the picture.
        pairs = [(first, second) for first in near for second in self._every if first != second]
        edge = self._nearest_edge(packed, pairs, SMALL_FROM)
        return edge[1] if edge else (self.nearest(packed), NONE, 0)

    def _nearest_edge(
        self, packed: int, pairs: list[tuple[int, int]], turn: float = 0.5
    ) -> tuple[float, tuple[int, int, int]] | None:
        """Return how far the nearest line between a pair of colours is, and (label, other,
        lean) by it; None where none is near enough.

        A pixel has the second colour of its pair from a share of ``turn`` on.
        """
        rgb, best = unpacked(packed), None
        for first, second in pairs:
            found = between(rgb, self.real[first].stands_for, self.real[second].stands_for)
            if found and (best is None or found[0] < best[0]):
                best = *found, first, second
        if not best:
            return None
        distance, share, first, second = best
        if share > turn:
            first, second, share = second, first, 1 - share
        return distance, (first, second, min(127, round(255 * share)))


def _sure(planes: Planes, sides: _Sides, rough: bytes, solid: bytes, thick: bytes) -> bytes:
    """Return 255 where a pixel's own colour is beyond doubt: in squares of two by two,
    of colours that are mostly thick of three.

    Along a slanting edge, two or four shades may by chance equal each other and a colour from elsewhere.
    """
    counts = counted(planes.in_bands(Planes.both, rough, thick), sides.label_of_group)
    thin = thick.count(0)
    at_home = bytearray(256)
    for place, label in sides.label_of_group.items():
        group = sides.real[label]
        if counts[place] - (0 if place else thin) >= MOSTLY_THICK * group.solid:
            at_home[place] = 255
    return planes.in_bands(_beyond_doubt, solid, rough.translate(bytes(at_home)), thick)


def _beyond_doubt(planes: Planes, solid: bytes, at_home: bytes, thick: bytes) -> int:
    return planes.number(solid) & ~(planes.number(at_home) & ~planes.number(thick))


def _own(sides: _Sides, rough: bytes) -> bytes:
    """Return the label of each pixel's own colour, UNSURE where that is none of the real ones."""
    to_label = bytearray([UNSURE]) * 256
    for group, label in sides.label_of_group.items():
        to_label[group] = label
    to_label[NONE] = NONE
    return rough.translate(bytes(to_label))


def _known(planes: Planes, own: bytes, sure: bytes) -> int:
    """Return the labels that are ``sure`` (255) or clear, UNSURE elsewhere."""
    whole = planes.number(sure) | planes.whole(planes.where(own, NONE))
    return planes.number(own) & whole | planes.number(bytes([UNSURE]) * planes.size) & ~whole


def _labelled(
    raster: Raster, table: ColourTable, sides: _Sides, own: bytes, known: bytes
) -> Generator[Progress, None, FlatColours]:
    """Return the picture with each pixel labelled: known ones by their ``own`` colour, the others by what is near."""
    labels, others, leans = bytearray(known), bytearray(bytes([NONE]) * len(known)), bytearray(len(known))
    unsure = [found.span() for found in re.finditer(bytes([UNSURE]) + b"+", known)]
    around = Around(known, own, NONE, raster.width, raster.height)
    done, left = 0, sum(stop - start for start, stop in unsure)
    for start, stop in unsure:
        for place in range(start, stop):
            if done % _PIXELS_BETWEEN_STEPS == 0:
                yield Progress(0.35 + 0.65 * done / left, messages.TELLING_EDGES)
            done += 1
            has, packed = own[place], table.packed[place]
            near = around.beside(place, has)
            reach = 1
            while len(near) < 2 and reach < REACH and not sides.settles(packed, has, near):
                reach += 1
                near = around.labels(place, reach, has)
            decided = sides.decide(packed, has, near)
            if (
                sides.thin
                and sides.in_doubt(packed, *decided)
                and (thin := around.own_near(place, sides.thin).difference(near))
            ):
                decided = sides.decide(packed, has, bytes(sorted(thin.union(near))))
            labels[place], others[place], leans[place] = decided
    return _shared(raster, sides, bytes(labels), bytes(others), bytes(leans))


def _by_nearest(raster: Raster, table: ColourTable, sides: _Sides) -> Generator[Progress, None, FlatColours]:
    """Return a picture that is not flat with each pixel labelled by the colour that looks nearest."""
    label_of = {CLEAR: NONE}
    for done, packed in enumerate(table.counts):
        if done % _COLOURS_BETWEEN_STEPS == 0:
            yield Progress(done / len(table.counts), messages.GROUPING_COLOURS)
        label_of[packed] = sides.nearest(packed)
    labels = table.plane(label_of)
    return _shared(raster, sides, labels, bytes([NONE]) * len(labels), bytes(len(labels)))


def _shared(raster: Raster, sides: _Sides, labels: bytes, others: bytes, leans: bytes) -> FlatColours:
    counts = counted(labels, range(len(sides.real)))
    whole = counts.total()
    colours = tuple(FlatColour(group.stands_for, counts[label] / whole) for label, group in enumerate(sides.real))
    return FlatColours(raster.width, raster.height, colours, labels, others, leans)


def _joined(flat: FlatColours, count: int) -> FlatColours:
    """Return ``flat`` with the nearest colours joined until ``count`` are left; the larger share keeps its colour."""
    left = {label: (lab(each.rgb), each.share) for label, each in enumerate(flat.colours)}
    goes_to = {label: label for label in left}
    while len(left) > count:
        small, large = min(
            ((a, b) if left[a][1] <= left[b][1] else (b, a) for a in left for b in left if a < b),
            key=lambda pair: delta_e(left[pair[0]][0], left[pair[1]][0]) * (left[pair[0]][1] + 1e-4) ** 0.5,
        )
        left[large] = left[large][0], left[large][1] + left[small][1]
        del left[small]
        goes_to = {label: large if to == small else to for label, to in goes_to.items()}
    table = bytes(goes_to.get(label, label) for label in range(256))
    colours = tuple(
        replace(each, share=left[label][1] if label in left else 0.0) for label, each in enumerate(flat.colours)
    )
    return replace(flat, colours=colours, labels=flat.labels.translate(table), others=flat.others.translate(table))


def _ordered(flat: FlatColours) -> FlatColours:
    """Return ``flat`` without colours that no pixel has, the most frequent first."""
    order = sorted(
        (place for place, each in enumerate(flat.colours) if each.share), key=lambda at: (-flat.colours[at].share, at)
    )
    places = bytearray([NONE]) * 256
    for new, old in enumerate(order):
        places[old] = new
    table = bytes(places)
    return replace(
        flat,
        colours=tuple(flat.colours[at] for at in order),
        labels=flat.labels.translate(table),
        others=flat.others.translate(table),
    )
