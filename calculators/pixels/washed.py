"""Thin strokes with a colour washed towards their ground, by JPEG or because no pixel is wholly covered.

The colour of such a stroke lies between those of its ground and of its drawing. The drawn colour is an
estimate: the picture's colour further out on the same line.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from math import ceil, hypot

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import Rgb, lab
from calculators.pixels.flat_colours import NONE
from calculators.pixels.planes import Planes, counted
from calculators.pixels.raster import Raster

#: The weight of colour beside brightness, since compression preserves less of it.
OF_COLOUR = 0.6
#: A colour is thin where at most this share of it lies in squares of three by three; it stands on a ground that makes
#: this share of what is beside it, and it is washed where it lies beside the line (levels, as seen) from there to a
#: further colour, and this far along it. A sample of so many pixels is looked at, and fewer than the least are none.
MOST_THICK, OF_GROUND, BESIDE_LINE, WASHED_FROM, SAMPLED, LEAST_PX = 0.1, 0.85, 20.0, 0.4, 400, 12
#: A colour was drawn if this share of the sample has exactly it.
SAME_SHARE = 0.06


def seen(rgb: Sequence[float]) -> tuple[float, float, float]:
    """Return brightness and two measures of colour, which compression treats separately."""
    red, green, blue = rgb
    return (
        0.299 * red + 0.587 * green + 0.114 * blue,
        OF_COLOUR * (-0.1687 * red - 0.3313 * green + 0.5 * blue),
        OF_COLOUR * (0.5 * red - 0.4187 * green - 0.0813 * blue),
    )


def off(one: Sequence[float], two: Sequence[float]) -> tuple[float, float, float]:
    return one[0] - two[0], one[1] - two[1], one[2] - two[2]


def dot(one: Sequence[float], two: Sequence[float]) -> float:
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def washed(
    raster: Raster, labels: bytes, colours: Sequence[Rgb], apart: float
) -> list[tuple[int, int, list[tuple[int, int]]]]:
    """Return the labels of thin parts that are probably another of the ``colours``, washed towards their ground.

    With each come the place of that other colour, and some of its pixels (x, y). Colours within ``apart`` are one.
    """
    width, planes = raster.width, Planes(raster.width, raster.height)
    counts = counted(labels, range(len(colours)))
    thick = counted(planes.in_bands(_thick, labels, margin=2), range(len(colours)))
    made = []
    for label, own in enumerate(colours):
        if counts[label] < LEAST_PX or thick[label] > MOST_THICK * counts[label]:
            continue
        every = [found.start() for found in re.finditer(re.escape(bytes([label])), labels)]
        every = every[:: ceil(len(every) / SAMPLED)]
        beside = Counter(
            labels[at + way]
            for at in every
            for way in (-2, 2, -2 * width, 2 * width)
            if 0 <= at + way < len(labels) and labels[at + way] != label
        )
        if not beside:
            continue
        ground, times = beside.most_common(1)[0]
        if ground == NONE or times < OF_GROUND * beside.total():
            continue
        further = _further(seen(own), seen(colours[ground]), [seen(each) for each in colours])
        if (
            further is not None
            and delta_e(lab(own), lab(colours[further])) > apart
            and not _is_itself(raster, every, own)
        ):
            made.append((label, further, [(at % width, at // width) for at in every]))
    # The colour that another was washed from has its full strength.
    full = {further for _label, further, _places in made}
    return [each for each in made if each[0] not in full]


def _is_itself(raster: Raster, places: list[int], own: Rgb) -> bool:
    """Return whether many pixels have exactly the colour: without compression it was drawn and is no shade."""
    same = sum(raster.rgba[4 * at : 4 * at + 3] == bytes(own) for at in places)
    return same >= SAME_SHARE * len(places)


def _thick(planes: Planes, labels: bytes) -> int:
    """Return the labels of pixels in squares of three by three, NONE elsewhere."""
    inside = planes.whole(planes.squares(labels) >> 1 & planes.number(b"\1" * planes.size))
    return planes.number(labels) & inside | planes.number(bytes([NONE]) * planes.size) & ~inside


def _further(own: Sequence[float], ground: Sequence[float], colours: Sequence[Sequence[float]]) -> int | None:
    """Return the place of the colour whose line from ``ground`` passes nearest to
    ``own`` and goes on beyond it, if any does.
    """
    way, best = off(own, ground), (BESIDE_LINE, -1)
    for place, each in enumerate(colours):
        line = off(each, ground)
        if not (length := dot(line, line)):
            continue
        share = dot(way, line) / length
        if WASHED_FROM <= share < 1:
            best = min(best, (hypot(*(a - share * b for a, b in zip(way, line, strict=True))), place))
    return best[1] if best[1] >= 0 else None
