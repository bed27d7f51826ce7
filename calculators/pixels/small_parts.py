"""Small compact shapes of a picture, such as stars and dots, and whether a result preserves them.

The colour of a pixel, between those of the ground and the shape, gives the share that the shape covers. So shape and
result can be compared to a fraction of a pixel. The noise of compression mostly cancels out over a few pixels; a
rounded point or a filled notch does not.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from calculators.pixels.colour_table import Rgb
from calculators.pixels.connected import AreasOf, all_areas
from calculators.pixels.flat_colours import NONE, FlatColours
from calculators.pixels.planes import Planes
from calculators.pixels.raster import Raster
from calculators.pixels.washed import dot, off, seen

#: The greatest width and height of a small shape, and its least number of pixels; smaller ones are specks.
MOST_PX, LEAST_SIZE = 24, 9
#: The least share of the ground around it, and the least contrast with that (0 to 255, as in ``seen``).
OF_GROUND, LEAST_CONTRAST = 0.9, 26.0
#: The margin in pixels beyond its labels, for the faint ends of its points.
MARGIN = 2
#: If its brightness differs from the ground's by this many levels, use it alone: compression preserves it best.
DIFFERS = 30.0
#: A point is lost, or a notch filled, if a window with this side in pixels has this many missing or in excess. This
#: share of each pixel may be noise. (Set on stars of 9 and 14 px and discs of 9 px at quality 80 and 85, and on the
#: tuning half of the web pictures.)
WINDOW, MISSING_PX, NOISE = 3, 0.7, 0.15
#: A pixel belongs wholly to the shape from this share on. Where those show clearly less or more than all in the
#: picture, that is its full colour there; with hardly anything the colour was merged, which is another loss.
WHOLE, ABOUT_FULL, LEAST_FULL = 0.95, 0.75, 0.3
#: With more changes of label along rows than this, or more shapes, a picture is no drawing with a few small shapes.
MOST_CHANGES, MOST_SHAPES = 60_000, 400

Box = tuple[int, int, int, int]
#: Returns for each of some boxes what the result shows of it, row by row: a colour
#: a pixel, None where it shows nothing.
Rendered = Callable[[Sequence[Box]], Sequence[Sequence[Sequence[float] | None]]]


@dataclass(frozen=True)
class Part:
    """A small shape of colour ``label`` on a ground of one colour; ``box`` holds it with a
    margin, ``other`` is 1 where further things are.
    """

    box: Box
    label: int
    ground: int
    size: int
    other: bytes


def small_parts(
    labels: bytes, width: int, height: int, colours: Sequence[Rgb], areas_of: AreasOf | None = None
) -> list[Part]:
    """Return the small shapes of ``labels``, each alone on a ground of one colour.

    ``areas_of`` returns the areas of the labels where they are known already.
    """
    planes = Planes(width, height)
    alike = planes.in_bands(Planes.same_right, labels)
    if len(alike) - alike.count(1) > MOST_CHANGES:
        return []
    areas = areas_of() if areas_of else all_areas(labels, width, height)
    small = bytearray(len(labels))
    for area in areas:
        left, top, right, bottom = area.box
        if area.value != NONE and max(right - left, bottom - top) <= MOST_PX and not area.at_border:
            for start, stop in area.runs:
                small[start:stop] = b"\1" * (stop - start)
    if 1 not in small:
        return []
    shapes = [each for each in all_areas(bytes(small), width, height, by_corners=(1,)) if each.value]
    found = (
        _part(each.box, bytes(small), labels, width, height, colours) for each in shapes if each.size >= LEAST_SIZE
    )
    return [part for part in found if part][:MOST_SHAPES]


def _part(inner: Box, small: bytes, labels: bytes, width: int, height: int, colours: Sequence[Rgb]) -> Part | None:
    left, top, right, bottom = inner
    if max(right - left, bottom - top) > MOST_PX or min(left, top, width - right, height - bottom) < MARGIN:
        return None
    box = left - MARGIN, top - MARGIN, right + MARGIN, bottom + MARGIN
    rows = [labels[row * width + box[0] : row * width + box[2]] for row in range(box[1], box[3])]
    has, is_small = (
        b"".join(rows),
        b"".join(small[row * width + box[0] : row * width + box[2]] for row in range(box[1], box[3])),
    )
    around = Counter(label for label, part in zip(has, is_small, strict=True) if not part)
    inside = Counter(label for label, part in zip(has, is_small, strict=True) if part)
    ground, times = around.most_common(1)[0]
    if ground == NONE or times < OF_GROUND * around.total():
        return None
    inside.pop(ground, None)
    if not inside:
        return None
    label = max(inside, key=lambda each: (inside[each], -each))
    if dot(away := off(seen(colours[label]), seen(colours[ground])), away) < LEAST_CONTRAST**2:
        return None
    return Part(
        box,
        label,
        ground,
        inside.total(),
        bytes(not part and label != ground for label, part in zip(has, is_small, strict=True)),
    )


def rendered_flat(flat: FlatColours) -> Rendered:
    """Return a function that renders flat colours, mixing each pixel of an edge from both sides."""
    colours = [each.rgb for each in flat.colours]

    def pixel(at: int) -> Sequence[float] | None:
        if (label := flat.labels[at]) == NONE:
            return None
        if (other := flat.others[at]) == NONE:
            return colours[label]
        lean = flat.leans[at] / 255
        return [one + (two - one) * lean for one, two in zip(colours[label], colours[other], strict=True)]

    return lambda boxes: [[pixel(at) for at in _places(box, flat.width)] for box in boxes]


def misshapen(
    raster: Raster, labels: bytes, colours: Sequence[Rgb], rendered: Rendered, areas_of: AreasOf | None = None
) -> list[Part]:
    """Return the small shapes of ``labels`` that lost a point or have a filled notch as ``rendered``."""
    parts = small_parts(labels, raster.width, raster.height, colours, areas_of)
    return [
        part
        for part, result in zip(parts, rendered([each.box for each in parts]), strict=True)
        if _most_off(_less(raster, part, colours, result), part.box[2] - part.box[0]) >= MISSING_PX
    ]


def _less(raster: Raster, part: Part, colours: Sequence[Rgb], result: Sequence[Sequence[float] | None]) -> list[float]:
    """Return for each pixel the share that the shape lost between picture and result, without noise."""
    share = _share(colours[part.ground], colours[part.label])
    was = [share(raster.rgba[4 * at : 4 * at + 3]) for at in _places(part.box, raster.width)]
    has = [None if each is None or other else share(each) for each, other in zip(result, part.other, strict=True)]
    # After joining colours, the shape differs in colour between picture and result.
    within = [one for one, two in zip(was, has, strict=True) if two is not None and two >= WHOLE]
    full = median(within) if within else 1.0
    if full < LEAST_FULL:
        return [0.0] * len(was)
    if ABOUT_FULL <= full <= 1 / ABOUT_FULL:
        full = 1.0
    return [
        0.0 if two is None else _beyond_noise(max(0.0, min(1.0, one / full)) - max(0.0, min(1.0, two)))
        for one, two in zip(was, has, strict=True)
    ]


def _beyond_noise(less: float) -> float:
    return max(0.0, abs(less) - NOISE) * (1 if less > 0 else -1)


def _most_off(less: Sequence[float], width: int) -> float:
    """Return the number of missing or excess pixels in the worst window."""
    rows = [less[start : start + width] for start in range(0, len(less), width)]
    across = [[sum(row[at : at + WINDOW]) for at in range(width - WINDOW + 1)] for row in rows]
    return max(
        abs(sum(each[at] for each in across[row : row + WINDOW]))
        for row in range(len(rows) - WINDOW + 1)
        for at in range(width - WINDOW + 1)
    )


def _places(box: Box, width: int) -> Iterator[int]:
    left, top, right, bottom = box
    return (row * width + column for row in range(top, bottom) for column in range(left, right))


def _share(ground: Rgb, full: Rgb) -> Callable[[Sequence[float]], float]:
    """Return a function that gives the share of ``full`` in a colour on ``ground``."""
    start, way = seen(ground), off(seen(full), seen(ground))
    if abs(way[0]) >= DIFFERS:
        return lambda rgb: (seen(rgb)[0] - start[0]) / way[0]
    length = dot(way, way)
    return lambda rgb: dot(off(seen(rgb), start), way) / length
