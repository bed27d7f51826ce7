"""Marks of ships and signs as outlines: the load line mark, scales of draught, and the octagon.

Lengths are mm at full size, y down. All rings are as ``cleaned`` returns them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from math import sqrt

from calculators.lettering.layout import Lettering, Placed, laid_out
from calculators.lettering.pen import Pen
from calculators.lettering.sizes import Sizes
from calculators.shapes.cubics import Piece
from calculators.shapes.set_operations import cleaned
from calculators.tables.declaration import LENGTHS, Fact
from calculators.tables.lettering_rows import LoadLine


def millimetres(fact: Fact) -> float:
    """Return a length of a table in mm. Raises KeyError for what is no length."""
    return fact.value * LENGTHS[fact.unit]


@lru_cache(maxsize=8)
def load_line_mark(row: LoadLine) -> list[list[Piece]]:
    """Return the ring with the line through it, its centre at the origin. The line's upper edge passes through it.

    The result is cached, since other inputs of a form do not change it. Callers must not change it.
    """
    band, ring, line = map(millimetres, (row.band, row.ring, row.line))
    pen = Pen(band)
    middle = (ring - band) / 2
    corners = [complex(x, y) * middle for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    pen.path(corners, ring / 2, closed=True)
    pen.bar(-line / 2, 0, line / 2, band)
    return cleaned(pen.rings)


def load_lines(row: LoadLine, levels: Mapping[str, float]) -> list[list[Piece]]:
    """Return the vertical line and the load lines beside it; the origin is the centre of the ring, forward is right.

    ``levels`` says how far above the ring's centre the upper edge of each line lies, by its letters. F and TF lie aft
    of the vertical line, the others forward (annex I, regulation 6). The vertical line reaches from the highest to
    the lowest; its distance is taken to its after edge (the text does not say to which).
    """
    band, length, forward = map(millimetres, (row.band, row.load_line, row.forward))
    pen = Pen(band)
    for letters, level in levels.items():
        aft = letters.endswith("F")
        start = forward - length if aft else forward + band
        pen.bar(start, -level, start + length, band - level)
    tops = [-level for level in levels.values()]
    if tops:
        pen.bar(forward, min(tops), forward + band, max(tops) + band)
    return cleaned(pen.rings)


def draught_scale(sizes: Sizes, interval: float, texts: list[str]) -> Lettering:
    """Return figures of a scale of draught, the lowest first; the foot of each stands ``interval`` above the last.

    The foot of a figure is the draught that it names. Raises Unfit.
    """
    placed: list[Placed] = []
    longest = 0.0
    for number, text in enumerate(texts):
        row = laid_out(text, sizes)
        longest = max(longest, row.length)
        up = (len(texts) - 1 - number) * interval
        placed += [replace(each, place=each.place + 1j * up) for each in row.placed]
    height = (len(texts) - 1) * interval + sizes.height
    return Lettering(sizes, tuple(placed), longest, height)


def octagon(width: float) -> list[complex]:
    """Return the corners of a regular octagon between parallel sides ``width`` apart, its box at the origin.

    >>> corners = octagon(762.0)
    >>> round(abs(corners[1] - corners[0]), 4)
    315.6307
    """
    side = width * (sqrt(2) - 1)
    cut = (width - side) / 2
    near, far = cut, width - cut
    return [
        complex(near, 0),
        complex(far, 0),
        complex(width, near),
        complex(width, far),
        complex(far, width),
        complex(near, width),
        complex(0, far),
        complex(0, near),
    ]
