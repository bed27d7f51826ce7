"""The edges of a picture given as labels, one byte a pixel."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from math import dist, sqrt
from statistics import median

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import Rgb, lab, rgb_of
from calculators.pixels.connected import Area
from calculators.pixels.narrowest import Narrowest, measured
from calculators.pixels.raster import Raster

#: A strip between two colours is only the shade of their edge under three limits: its width in pixels, the share of its
#: boundary on either colour, and its distance from the straight line between them (levels of 255).
FRINGE_PX, BESIDE, OFF_LINE = 3.5, 0.25, 40.0
#: A thin strip this near to the colour beside it (delta E 2000) is a shade of that colour.
SHADE = 15.0
#: Strokes up to the first width are measured by their coverage, out to the second
#: in pixels; none is thinner than the last.
THIN_PX, REACH_PX, LEAST_PX = 4.0, 2, 0.5
_WHITE = (255, 255, 255)


def edge_share(labels: bytes, width: int, height: int, label: int, none: int) -> float:
    r"""Return the share of all edges towards ``none``, including the picture's rim, with ``label`` two pixels deep.

    One pixel alone is the soft edge of what lies behind it.

    >>> edge_share(b"\1" * 9, 3, 3, 1, 255), edge_share(b"\2\2\2\2\1\2\2\2\2", 3, 3, 1, 255)
    (1.0, 0.0)
    """
    every = of_label = 0.0
    outside = bytes([none])
    for lines, weight in _lines(labels, width, height):
        for line in lines:
            for way in (line, line[::-1]):
                edged = outside + way + outside
                at = edged.find(outside)
                while at < len(edged) - 1:
                    if edged[at + 1] != none:
                        every += weight
                        of_label += weight * (edged[at + 1] == label and edged[at + 2] in (label, none))
                    at = edged.find(outside, at + 1)
    return of_label / every if every else 0.0


def _lines(labels: bytes, width: int, height: int) -> Iterator[tuple[list[bytes], float]]:
    """Yield the rows, columns and both sets of diagonals, each with its distance from the next in pixels.

    Crossings with lines in one direction alone, times that distance, count a slope too long or too short (Crofton).
    """
    yield [labels[at : at + width] for at in range(0, width * height, width)], 1.0
    yield [labels[at::width] for at in range(width)], 1.0
    down, up = [], []
    for column in range(1 - height, width):
        row = max(0, -column)
        length = min(height - row, width - max(0, column))
        start = row * width + max(0, column)
        down.append(labels[start : start + (length - 1) * (width + 1) + 1 : width + 1])
        # The same line with left and right exchanged.
        start = row * width + width - 1 - max(0, column)
        up.append(labels[start : start + (length - 1) * (width - 1) + 1 : max(1, width - 1)])
    yield down, sqrt(0.5)
    yield up, sqrt(0.5)


def fringes(labels: bytes, width: int, height: int, label: int, colours: tuple[str, ...]) -> Callable[[Area], bool]:
    """Return a function that decides whether a strip of ``label`` is only a shade of its
    neighbour or of an edge between two other colours.
    """

    def is_fringe(strip: Area) -> bool:
        if strip.size > FRINGE_PX * max(strip.box[2] - strip.box[0], strip.box[3] - strip.box[1], strip.sides / 4):
            return False
        near = _beside(strip, labels, width, height)
        whole = sum(near.values())
        near.pop(label, None)
        (one, most), (two, less) = (*near.most_common(2), (0, 0), (0, 0))[:2]
        if most and delta_e(lab(_rgb(label, colours)), lab(_rgb(one, colours))) <= SHADE:
            return True
        return (
            most + less > 0
            and less >= BESIDE * whole
            and _is_between(*(_rgb(each, colours) for each in (label, one, two)))
        )

    return is_fringe


def covered_width(raster: Raster, labels: bytes, label: int, colours: tuple[str, ...], found: Narrowest) -> float:
    """Return the width in pixels of thin strokes of ``label``: their coverage divided by their length.

    Blur and the half-resolution colour of a JPEG spread a stroke but preserve its coverage.
    """
    width, widths = raster.width, []
    stroke = _rgb(label, colours)
    for piece in found.strokes:
        inside = {pixel for start, stop in piece.runs for pixel in range(start, stop)}
        near, rim = _around(inside, width, raster.height, REACH_PX), _around(inside, width, raster.height, REACH_PX + 1)
        grounds = Counter(labels[each] for each in rim - near if labels[each] != label)
        if not grounds:
            continue
        ground = _rgb(grounds.most_common(1)[0][0], colours)
        whole = dist(stroke, ground) ** 2
        if not whole:
            continue
        covers = 0.0
        for pixel in near:
            if pixel in inside or labels[pixel] != label:
                seen = raster.rgba[4 * pixel : 4 * pixel + 3] if raster.rgba[4 * pixel + 3] >= 128 else bytes(_WHITE)
                covers += min(
                    1.0, max(0.0, sum((s - g) * (c - g) for s, g, c in zip(seen, ground, stroke, strict=True)) / whole)
                )
        widths.append(covers / measured(piece, width)[1])
    return min(found.px + 1.0, max(LEAST_PX, median(widths))) if widths else found.px


def _around(inside: set[int], width: int, height: int, reach: int) -> set[int]:
    """Return the pixels within ``reach`` of the given ones, including these."""
    found = inside
    for _ in range(reach):
        aside = {each + 1 for each in found if each % width < width - 1} | {each - 1 for each in found if each % width}
        found = (
            found
            | aside
            | {each + step for each in found for step in (-width, width) if 0 <= each + step < width * height}
        )
    return found


def _beside(strip: Area, labels: bytes, width: int, height: int) -> Counter[int]:
    """Count the labels of the pixels that share a side with a strip."""
    inside = {pixel for start, stop in strip.runs for pixel in range(start, stop)}
    found: Counter[int] = Counter()
    for pixel in inside:
        column = pixel % width
        for other, is_there in (
            (pixel - 1, column > 0),
            (pixel + 1, column < width - 1),
            (pixel - width, pixel >= width),
            (pixel + width, pixel < width * (height - 1)),
        ):
            if is_there and other not in inside:
                found[labels[other]] += 1
    return found


def _rgb(label: int, colours: tuple[str, ...]) -> Rgb:
    return rgb_of(colours[label]) if label < len(colours) else _WHITE


def _is_between(colour: Rgb, one: Rgb, two: Rgb) -> bool:
    """Return whether a colour is a mix of two others."""
    whole = dist(one, two)
    if not whole:
        return False
    along = sum((c - a) * (b - a) for c, a, b in zip(colour, one, two, strict=True)) / whole**2
    nearest = [a + along * (b - a) for a, b in zip(one, two, strict=True)]
    return 0.1 <= along <= 0.9 and dist(colour, nearest) <= OFF_LINE
