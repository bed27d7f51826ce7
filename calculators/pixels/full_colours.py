"""The colour of thin parts in a compressed picture, at full strength.

JPEG stores colour at half the resolution of brightness, so a thin part shares its colour with its surroundings. Nothing
is lost: a few pixels together still have as much of each colour as before. Brightness shows which pixels belong to
which part. After subtracting the share of the others, the remaining colour belongs to the thin part.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from math import hypot
from statistics import median

from calculators.pixels.colour_table import CLEAR, ColourTable, Rgb, unpacked
from calculators.pixels.shades import light_and_colour

#: The reach in pixels of shared colour, and the number of places examined.
REACH, SAMPLED = 4, 60
#: The weight of colour beside brightness in deciding the colour of a pixel.
OF_COLOUR = 0.25
#: A part with less than this share of the examined pixels is too small to judge.
LEAST_SHARE = 0.08
#: Brightness separates two colours if it differs by this many levels.
DIFFERS = 30.0
#: A share from which a pixel belongs wholly to the thin part, and how far shares may go below 0 and above 1.
WHOLE_FROM, BEYOND = 0.85, 0.3
#: A colour was shared if its distance from its surroundings is this many times the visible
#: one; less may come from clipping at 0 or 255.
SHARED_FROM = 1.2


class FullColours:
    """Finds the colour of groups at full strength."""

    def __init__(self, table: ColourTable, rough: bytes, width: int) -> None:
        self.table, self.rough, self.width = table, rough, width
        self._lights: dict[int, tuple[float, float, float]] = {}

    def of(self, places: Sequence[int], size: int, visible: Rgb, others: Mapping[int, Rgb]) -> Rgb:
        """Return the colour of the groups at ``places``, which is ``visible``, beside
        ``others`` whose colours are certain.
        """
        own = light_and_colour(visible)
        lights = {other: light_and_colour(rgb) for other, rgb in others.items()}
        pixels = []
        for near, window in self._windows(places, size):
            certain = [lights[other] for other in near if other in lights]
            for packed in window:
                if packed != CLEAR:
                    shade = self._light(packed)
                    pixels.append((shade, min(certain, key=lambda each: _apart(shade, each), default=None)))
        whole = [shade for shade, beside in pixels if _share(shade, own, beside) >= WHOLE_FROM]
        if not whole:
            return visible
        own = median(each[0] for each in whole), median(each[1] for each in whole), median(each[2] for each in whole)
        count = blue = red = blue_beside = red_beside = 0.0
        for shade, beside in pixels:
            share = _share(shade, own, beside)
            count += share
            blue += shade[1]
            red += shade[2]
            if beside:
                blue_beside += (1 - share) * beside[1]
                red_beside += (1 - share) * beside[2]
        others_count = len(pixels) - count
        if count < LEAST_SHARE * len(pixels) or others_count <= 0:
            return _rgb(*own)
        full = (blue - blue_beside) / count, (red - red_beside) / count
        ground = blue_beside / others_count, red_beside / others_count
        if _far(full, ground) < SHARED_FROM * _far(own[1:], ground):
            return _rgb(*own)
        return _rgb(own[0], *full)

    def _windows(self, places: Sequence[int], size: int) -> Iterator[tuple[set[int], list[int]]]:
        width, height = self.width, len(self.rough) // self.width
        every = re.finditer(b"[" + re.escape(bytes(places)) + b"]", self.rough, re.DOTALL)
        for found in islice(every, 0, None, max(1, size // SAMPLED)):
            row, column = divmod(found.start(), width)
            left, right = max(0, column - REACH), min(width, column + REACH + 1)
            rows = range(max(0, row - REACH), min(height, row + REACH + 1))
            near = {each for y in rows for each in self.rough[y * width + left : y * width + right]}
            yield near, [packed for y in rows for packed in self.table.packed[y * width + left : y * width + right]]

    def _light(self, packed: int) -> tuple[float, float, float]:
        found = self._lights.get(packed)
        if found is None:
            found = self._lights[packed] = light_and_colour(unpacked(packed))
        return found


def _far(one: Sequence[float], other: Sequence[float]) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def _apart(one: Sequence[float], other: Sequence[float]) -> float:
    return abs(one[0] - other[0]) + OF_COLOUR * hypot(one[1] - other[1], one[2] - other[2])


def _share(shade: Sequence[float], own: Sequence[float], other: Sequence[float] | None) -> float:
    """Return how much of a pixel belongs to the thin part and not to another
    colour: by brightness where they differ in it.
    """
    if other is None:
        return 1.0
    whole = own[0] - other[0]
    if abs(whole) >= DIFFERS:
        # Brightness swings to both sides of a colour; clipping one side only would bias the sum.
        return max(-BEYOND, min(1 + BEYOND, (shade[0] - other[0]) / whole))
    return float(_apart(shade, own) <= _apart(shade, other))


def _rgb(light: float, blue: float, red: float) -> Rgb:
    """Return the levels of a colour by brightness and differences of colour (ITU-T T.871, 7)."""
    levels = light + 1.402 * red, light - 0.3441 * blue - 0.7141 * red, light + 1.772 * blue
    r, g, b = (max(0, min(255, round(level))) for level in levels)
    return r, g, b
