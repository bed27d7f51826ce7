"""What lies along the edges of a picture that is told by labels, a byte a pixel."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from math import dist

from calculators.pixels.colour_table import Rgb
from calculators.pixels.connected import Area

#: Between two colours a strip is only the shade of their edge up to so many pixels, with so much of its boundary on
#: either, and so near to the straight line between them (levels of 255).
FRINGE_PX, BESIDE, OFF_LINE = 3.5, 0.25, 40.0
_WHITE = (255, 255, 255)


def edge_share(labels: bytes, width: int, height: int, label: int, none: int) -> float:
    """Return the share of all edges towards ``none``, the picture's rim included, at which ``label`` lies two pixels deep.

    One pixel alone is the soft edge of what lies behind it.

    >>> edge_share(b"\1" * 9, 3, 3, 1, 255), edge_share(b"\2\2\2\2\1\2\2\2\2", 3, 3, 1, 255)
    (1.0, 0.0)
    """
    rows = [labels[at : at + width] for at in range(0, width * height, width)]
    columns = [labels[at::width] for at in range(width)]
    every = of_label = 0
    outside = bytes([none])
    for line in (*rows, *columns):
        for way in (line, line[::-1]):
            edged = outside + way + outside
            at = edged.find(outside)
            while at < len(edged) - 1:
                if edged[at + 1] != none:
                    every += 1
                    of_label += edged[at + 1] == label and edged[at + 2] in (label, none)
                at = edged.find(outside, at + 1)
    return of_label / every if every else 0.0


def fringes(labels: bytes, width: int, height: int, label: int, colours: tuple[Rgb, ...]) -> Callable[[Area], bool]:
    """Return a function that tells of a strip of ``label`` whether it is but the shade of the edge between two other colours."""

    def colour(of: int) -> Rgb:
        return colours[of] if of < len(colours) else _WHITE

    def is_fringe(strip: Area) -> bool:
        if strip.size > FRINGE_PX * max(strip.box[2] - strip.box[0], strip.box[3] - strip.box[1], strip.sides / 4):
            return False
        beside = _beside(strip, labels, width, height)
        whole = sum(beside.values())
        beside.pop(label, None)
        (one, most), (two, less) = (*beside.most_common(2), (0, 0), (0, 0))[:2]
        return most + less > 0 and less >= BESIDE * whole and _is_between(colour(label), colour(one), colour(two))

    return is_fringe


def _beside(strip: Area, labels: bytes, width: int, height: int) -> Counter[int]:
    """Count the labels of the pixels that touch a strip by their sides."""
    inside = {pixel for start, stop in strip.runs for pixel in range(start, stop)}
    beside: Counter[int] = Counter()
    for pixel in inside:
        column = pixel % width
        for other, is_there in (
            (pixel - 1, column > 0), (pixel + 1, column < width - 1), (pixel - width, pixel >= width), (pixel + width, pixel < width * (height - 1)),
        ):  # fmt: skip
            if is_there and other not in inside:
                beside[labels[other]] += 1
    return beside


def _is_between(colour: Rgb, one: Rgb, two: Rgb) -> bool:
    """Return whether a colour is a mix of two others."""
    whole = dist(one, two)
    if not whole:
        return False
    along = sum((c - a) * (b - a) for c, a, b in zip(colour, one, two, strict=True)) / whole**2
    nearest = [a + along * (b - a) for a, b in zip(one, two, strict=True)]
    return 0.1 <= along <= 0.9 and dist(colour, nearest) <= OFF_LINE
