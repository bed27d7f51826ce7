"""Turn a picture into regions with outlines: separate its colours, set its ground aside, trace its edges."""

from __future__ import annotations

from collections import Counter
from collections.abc import Generator
from dataclasses import dataclass, replace

from calculators import messages
from calculators.cache import PICTURES
from calculators.pixels.border import border_of, has_outside, is_filled, is_narrow
from calculators.pixels.cleaning import PAPER, near_of
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb
from calculators.pixels.connected import Area, connected, pixels_of
from calculators.pixels.edge_shares import with_edges
from calculators.pixels.flat_colours import NONE, FlatColour, FlatColours, known_flat_colours
from calculators.pixels.planes import Planes, counted
from calculators.pixels.raster import Raster
from calculators.shapes.corners import Sought
from calculators.shapes.outlines import Line, lines
from calculators.shapes.planar_map import MOST_STEPS, TooManySteps, is_stepped, planar_map
from calculators.shapes.regions import Ring, rings, sound
from calculators.shapes.steps import FITTING, UNTANGLING, WALKING
from calculators.values import Progress, in_words, part_of_work

SEVERAL, ONE, TRANSPARENCY = "several", "one", "transparency"
#: The label of a ground colour that reaches the border; colours have the labels below.
GROUND = 254
#: The colour of regions traced by transparency alone.
INK: Rgb = (28, 34, 38)
#: The most pixels in a detached end of a tip, and the least coverage, of 255, of the pixel between.
TIP_SIZE, LEAST_BETWEEN = 3, 24
_WORDS = {WALKING: messages.WALKING_EDGES, FITTING: messages.FITTING_CURVES, UNTANGLING: messages.UNTANGLING}


class NothingToTrace(ValueError):
    """The picture has no edge: ``why`` is "clear", "opaque", "specks" or "one", the last with its ``colour``."""

    def __init__(self, why: str, colour: Rgb | None = None) -> None:
        super().__init__(why)
        self.why, self.colour = why, colour


@dataclass(frozen=True)
class Region:
    """An area of one colour: its rings in pixels, and its place among the picture's colours."""

    place: int
    rgb: Rgb
    rings: tuple[Ring, ...]

    @property
    def area(self) -> float:
        """In square pixels."""
        return sum(ring.area for ring in self.rings)


@dataclass(frozen=True)
class Traced:
    """The regions of a picture of ``width`` x ``height`` pixels, the lines between them, and what was set aside.

    ``thin`` is the share of the picture's ink, 0 to 1, that is thinner than two pixels; ``hard`` the share of all
    outlines that run along hard steps, those along rows and columns left out; ``soft``: some edges have in-between
    shades. ``empty`` is the number of rings dropped because they enclosed nothing.
    ``grainy``: so many false corners turned up that the search for corners stopped. ``noise`` is how far three quarters
    of the points of edges lie from their neighbours, in pixels.
    """

    width: int
    height: int
    regions: tuple[Region, ...]
    lines: tuple[Line, ...]
    ground: Rgb | None
    specks: int
    thin: float
    hard: float
    soft: bool
    empty: int
    grainy: bool
    noise: float


def traced(
    raster: Raster,
    *,
    by: str,
    count: int | None,
    keep_ground: bool,
    tolerance: float,
    angle: float,
    smallest: float,
    closely: bool = False,
) -> Generator[Progress, None, Traced]:
    """Return ``raster`` as regions with outlines. Yields progress.

    ``by`` is one of SEVERAL, ONE and TRANSPARENCY; ``count`` the most colours, None for as many as are found.
    ``tolerance`` is in pixels, and is widened for noisy edges unless ``closely``; ``angle`` is in radians, ``smallest``
    in square pixels. Raises NotFlat, TooManySteps, TooManyArcs and NothingToTrace.
    """
    # Release unneeded data before the long part, which needs the most memory.
    flat, ground, specks = yield from _prepared(raster, by, count, smallest)
    colours, planes = flat.colours, Planes(flat.width, flat.height)
    left = counted(flat.labels, (*range(len(colours)), GROUND, NONE))
    if not left.keys() - {NONE, GROUND}:
        raise NothingToTrace("specks") if specks else NothingToTrace("one", colours[ground or 0].rgb)
    if not keep_ground:
        left.pop(GROUND, None)
    thin = _thin(flat, planes, left)
    # The part set aside still has the ground's colour: an edge leans to either in the same way.
    walked = planar_map(
        flat.labels, flat.others, flat.leans, flat.width, alike={} if ground is None else {GROUND: ground}
    )
    # Only noise of compression is smoothed: a lossless edge that looks noisy has small shapes.
    closely |= not flat.noisy
    del flat
    made = yield from part_of_work(in_words(walked, _WORDS), 0.5, 0.55)
    sought = Sought(angle)
    of_picture = yield from part_of_work(in_words(lines(made, tolerance, sought, closely=closely), _WORDS), 0.55, 0.95)
    found = of_picture.lines
    whole, empty = sound(rings(made, found))
    return Traced(
        planes.width,
        planes.height,
        _regions(colours, whole, left, ground),
        tuple(found),
        None if ground is None or keep_ground else colours[ground].rgb,
        specks,
        thin,
        sum(len(line.arc.corners) for line in found if line.hard and is_stepped(line.arc))
        / sum(len(line.arc.corners) for line in found),
        of_picture.soft,
        empty,
        sought.patience <= 0,
        of_picture.noise,
    )


def _prepared(
    raster: Raster, by: str, count: int | None, smallest: float
) -> Generator[Progress, None, tuple[FlatColours, int | None, int]]:
    """Return the picture in flat colours with its specks filled and its ground set
    aside, the ground's label, and how many specks.
    """
    if by == TRANSPARENCY:
        flat = _by_alpha(raster)
    else:
        count = _asked_count(raster, by, count)
        # Cached for an answer at another size.
        operation = ("flat colours with edges", raster.width, raster.height, count)
        flat = yield from PICTURES.worked_out(raster.source, operation, lambda: _with_edges(raster, count))
    planes = Planes(flat.width, flat.height)
    if flat.labels.count(NONE) == planes.size:
        raise NothingToTrace("clear")
    if (steps := _steps(flat)) > MOST_STEPS:
        raise TooManySteps(steps)
    areas = yield from part_of_work(connected(flat.labels, flat.width, flat.height), 0.45, 0.48)
    joined = _with_tips_joined(flat, areas)
    if joined is not flat:
        flat = joined
        areas = yield from part_of_work(connected(flat.labels, flat.width, flat.height), 0.48, 0.5)
    flat, specks = _without_specks(flat, areas, smallest)
    ground = None if by == TRANSPARENCY else _ground(flat, areas, may_fill=by == SEVERAL)
    if ground is not None:
        reached = [area for area in areas if area.value == ground and area.at_border and area.size >= smallest]
        flat = _set_aside(flat, ground, reached, specks)
    return flat, ground, len(specks)


def _with_edges(raster: Raster, count: int | None) -> Generator[Progress, None, FlatColours]:
    return with_edges((yield from part_of_work(known_flat_colours(raster, count=count), 0.0, 0.45)), raster)


def _asked_count(raster: Raster, by: str, count: int | None) -> int | None:
    """Return the number of colours to find: one colour stands on a ground, which is another unless transparent."""
    if by != ONE:
        return count
    border = border_of(raster.rgba[3::4], raster.width)
    return 1 if 2 * sum(level < OPAQUE_FROM for level in border) > len(border) else 2


def _by_alpha(raster: Raster) -> FlatColours:
    alpha = raster.rgba[3::4]
    if alpha.count(255) == len(alpha):
        raise NothingToTrace("opaque")
    labels = alpha.translate(bytes(NONE if level < OPAQUE_FROM else 0 for level in range(256)))
    flat = FlatColours(
        raster.width, raster.height, (FlatColour(INK, 1.0),), labels, bytes([NONE]) * len(labels), bytes(len(labels))
    )
    return with_edges(flat, raster)


def _steps(flat: FlatColours) -> int:
    """Return the number of pixel sides between two labels in the picture."""
    planes = Planes(flat.width, flat.height)
    alike = planes.in_bands(_alike, flat.labels, margin=1)
    return 2 * planes.size - flat.height - flat.width - alike.count(1) - alike.count(2) - 2 * alike.count(3)


def _alike(planes: Planes, labels: bytes) -> int:
    """Return 1 where a pixel has the label of the one right of it, with 2 where of the one below."""
    return planes.same_right(labels) | planes.same_below(labels) << 1


def _with_tips_joined(flat: FlatColours, areas: list[Area]) -> FlatColours:
    """Return ``flat`` with the ends of sharp tips joined to the rest, where a pixel
    that is less than half covered parts them.

    That pixel gets the label of the tip, and leans by more than half.
    """
    labels, others, leans, width, size = flat.labels, flat.others, flat.leans, flat.width, len(flat.labels)
    between: dict[int, int] = {}
    for area in areas:
        if area.size > TIP_SIZE or area.value == NONE:
            continue
        own = set(pixels_of(area))
        best, chosen = LEAST_BETWEEN - 1, None
        for place in own:
            for beside in _beside(place, width, size):
                if others[beside] == area.value and leans[beside] > best and labels[beside] != area.value:
                    if any(labels[at] == area.value and at not in own for at in _beside(beside, width, size)):
                        best, chosen = leans[beside], beside
        if chosen is not None:
            between[chosen] = area.value
    if not between:
        return flat
    new_labels, new_others, new_leans = bytearray(labels), bytearray(others), bytearray(leans)
    for place, label in between.items():
        new_labels[place], new_others[place], new_leans[place] = label, labels[place], 255 - leans[place]
    return replace(flat, labels=bytes(new_labels), others=bytes(new_others), leans=bytes(new_leans))


def _beside(place: int, width: int, size: int) -> list[int]:
    """Return the up to four pixels that share a side with one."""
    column = place % width
    near = [place - 1] if column else []
    if column < width - 1:
        near.append(place + 1)
    return [*near, *(at for at in (place - width, place + width) if 0 <= at < size)]


def _without_specks(
    flat: FlatColours, areas: list[Area], smallest: float
) -> tuple[FlatColours, list[tuple[Area, int]]]:
    """Return ``flat`` with areas below ``smallest`` pixels given to the label that most of their border touches.

    Transparent specks are filled like others. Each comes with a pixel of the area that it joined.
    """
    small = sorted((area for area in areas if area.size < smallest), key=lambda area: area.size)
    if not small or len(small) == len(areas):
        return flat, []
    filled: list[tuple[Area, int]] = []
    labels, others, leans = bytearray(flat.labels), bytearray(flat.others), bytearray(flat.leans)
    width, size = flat.width, len(labels)
    for area in small:
        around: list[int] = []
        for start, stop in area.runs:
            row = start - start % width
            around += [place for place in (start - 1, stop) if row <= place < row + width]
            around += range(max(0, start - width), max(0, stop - width))
            around += range(start + width, min(size, stop + width))
        counts = Counter(labels[place] for place in around)
        counts.pop(area.value, None)
        if not counts:
            continue
        label = counts.most_common(1)[0][0]
        filled.append((area, next(place for place in around if labels[place] == label)))
        for start, stop in area.runs:
            labels[start:stop] = bytes([label]) * (stop - start)
            others[start:stop] = bytes([NONE]) * (stop - start)
            leans[start:stop] = bytes(stop - start)
    return replace(flat, labels=bytes(labels), others=bytes(others), leans=bytes(leans)), filled


def _ground(flat: FlatColours, areas: list[Area], *, may_fill: bool) -> int | None:
    """Return the label of most of the picture's border, None if that is transparent or no label has most.

    An outline that runs along the border does not count. With ``may_fill`` a marking whose stripes reach the border has
    no ground.
    """
    labels, row = flat.labels, flat.width
    border = Counter(border_of(labels, row))
    label, _ = border.most_common(1)[0]
    no_stripes = {NONE, label}
    if label != NONE and is_narrow(labels, row, label) and has_outside(labels, row, areas, label):
        del border[label]
    label, count = border.most_common(1)[0]
    no_stripes.add(label)
    if label == NONE or 2 * count < border.total():
        return None
    return None if may_fill and is_filled(labels, row, no_stripes | near_of(flat, label, PAPER)) else label


def _set_aside(flat: FlatColours, ground: int, reached: list[Area], filled: list[tuple[Area, int]]) -> FlatColours:
    """Return ``flat`` with the areas ``reached`` from the border labelled GROUND.

    Pixels that lean to the ``ground`` do not change.
    """
    labels = bytearray(flat.labels)

    def mark(area: Area) -> None:
        for start, stop in area.runs:
            labels[start:stop] = bytes([GROUND]) * (stop - start)

    for area in reached:
        mark(area)
    for area, beside in reversed(filled):
        if labels[area.runs[0][0]] == ground and labels[beside] == GROUND:
            mark(area)
    return replace(flat, labels=bytes(labels))


def _thin(flat: FlatColours, planes: Planes, left: Counter[int]) -> float:
    """Return the share of the regions' pixels that lie in no square of two by two of their label."""
    inked = flat.labels.translate(bytes(1 if left.get(label) and label != NONE else 0 for label in range(256)))
    count = inked.count(1)
    return planes.in_bands(_in_no_square, flat.labels, inked, margin=2).count(1) / count if count else 0.0


def _in_no_square(planes: Planes, labels: bytes, inked: bytes) -> int:
    return planes.number(inked) & ~planes.squares(labels)


def _regions(
    colours: tuple[FlatColour, ...], found: dict[int, list[Ring]], left: Counter[int], ground: int | None
) -> tuple[Region, ...]:
    made = [
        Region(label, colours[label].rgb, tuple(found[label]))
        for label in range(len(colours))
        if left.get(label) and found.get(label)
    ]
    if left.get(GROUND) and ground is not None and found.get(GROUND):
        made.append(Region(GROUND, colours[ground].rgb, tuple(found[GROUND])))
    return tuple(sorted(made, key=lambda region: -region.area))
