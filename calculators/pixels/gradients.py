"""Gradients that flat colours cut into steps: places with an even change, unlike an edge or a flat colour."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from calculators.pixels.colour_table import OPAQUE_FROM
from calculators.pixels.raster import Raster

#: The number of places examined, and the side in pixels of their squares, each compared with squares on both sides.
SAMPLES, SQUARE = 1_500, 3
#: That distance as a share of the picture's longer side, and its least value in pixels.
OF_SIDE, LEAST_PX = 1 / 24, 6
#: An even change has two steps in one direction: the least and the most levels of
#: each, and the greatest ratio of the two.
LEAST_STEP, MOST_STEP, ALIKE = 2.0, 24.0, 2.0
#: The least and the greatest share of a step over half of the way.
HALF = 0.2, 0.8
#: The greatest range of levels within a square of a gradient, with the noise of compression.
MOST_WITHIN = 48
#: A picture has a gradient if this share of its opaque places, and at least this many, change evenly; the last is the
#: most places marked. (On the tuning half of the web pictures, drawings with a gradient reach 0.19 and more, flat ones
#: 0.09 and less.)
GRADIENT_SHARE, FEWEST, MARKED = 0.12, 12, 60


def gradient_places(raster: Raster) -> list[tuple[int, int]]:
    """Return some places (x, y) where the picture goes evenly from one colour to another;
    none where it has no gradient to speak of.
    """
    reach = max(LEAST_PX, round(OF_SIDE * max(raster.width, raster.height)))
    looked_at = [place for place in _sample(raster, reach + SQUARE) if _is_opaque(raster, *place)]
    found = [(x, y) for x, y in looked_at if _changes_evenly(raster, x, y, reach)]
    if len(found) < max(FEWEST, GRADIENT_SHARE * len(looked_at)):
        return []
    return found[:: ceil(len(found) / MARKED)]


def _sample(raster: Raster, margin: int) -> Iterator[tuple[int, int]]:
    step = max(1, ceil((raster.width * raster.height / SAMPLES) ** 0.5))
    return (
        (x, y) for y in range(margin, raster.height - margin, step) for x in range(margin, raster.width - margin, step)
    )


def _is_opaque(raster: Raster, x: int, y: int) -> bool:
    return raster.rgba[4 * (y * raster.width + x) + 3] >= OPAQUE_FROM


def _changes_evenly(raster: Raster, x: int, y: int, reach: int) -> bool:
    middle = _square(raster, x, y)
    for right, down in ((reach, 0), (0, reach)):
        # Most places of flat artwork have one colour.
        if (start := _square(raster, x - right, y - down)) == middle:
            continue
        if (end := _square(raster, x + right, y + down)) == middle:
            continue
        every = [(x + right * part // 2, y + down * part // 2) for part in (-2, -1, 0, 1, 2)]
        if not all(_is_opaque(raster, *place) for place in every):
            continue
        for channel in range(3):
            before, here, after = (_mean(square, channel) for square in (start, middle, end))
            first, second = here - before, after - here
            low, high = sorted((abs(first), abs(second)))
            if first * second <= 0 or low < LEAST_STEP or high > min(MOST_STEP, ALIKE * low):
                continue
            first_half, second_half = (_mean(_square(raster, *every[half]), channel) for half in (1, 3))
            # An edge changes all in one place; in a gradient, half of the way makes about half of each step.
            halves = (first_half - before) / first, (second_half - here) / second
            if all(HALF[0] <= half <= HALF[1] for half in halves) and all(
                _is_even(_square(raster, *place)) for place in every
            ):
                return True
    return False


def _square(raster: Raster, x: int, y: int) -> bytes:
    """Return the pixels of a small square, row by row."""
    rgba, start, row = raster.rgba, 4 * ((y - SQUARE // 2) * raster.width + x - SQUARE // 2), 4 * raster.width
    return b"".join([rgba[at : at + 4 * SQUARE] for at in range(start, start + SQUARE * row, row)])


def _is_even(square: bytes) -> bool:
    """Return whether no edge crosses a square: along one that slants a little, its shades change evenly too."""
    return all(max(square[channel::4]) - min(square[channel::4]) <= MOST_WITHIN for channel in range(3))


def _mean(square: bytes, channel: int) -> float:
    """Return the mean level of a square."""
    return sum(square[channel::4]) / SQUARE**2
