"""Squares of 8 x 8 pixels as sums of waves: whether they are JPEG's own, and the finest waves of a picture.

JPEG stores each square as a sum of waves and rounds most of the finer ones to zero. After decoding, those waves are
missing only in squares on JPEG's own grid: any other square of the picture has some of all. So the share of missing
waves in squares on the grid is compared with that in squares beside it. Drawn art without fine waves lacks them in
both.

A picture that was enlarged, or was never sharp, lacks the finest waves at any place, and JPEG adds none. A sharp one
keeps some at its edges even after JPEG. So the finest waves show a possible enlargement even without a trace of its
method.

The squares are those of ITU-T T.81, A.1.3, and the waves those of A.3.3.
"""

from __future__ import annotations

from functools import cached_property
from itertools import groupby
from math import sqrt
from operator import itemgetter

from calculators.pixels.raster import ACROSS, Raster
from calculators.pixels.waves import SIDE as BLOCK
from calculators.pixels.waves import Plane, square_waves, turned, waves_of

#: The offsets of squares beside the grid.
BESIDE = ((4, 4), (3, 2), (5, 3), (2, 6))
#: The number of squares tried on the grid, and of the busiest ones examined.
TRIED, LOOKED_INTO = 600, 160
#: How far shares of missing waves scatter by chance, over the root of the count of
#: squares (estimate, set on the tuning half).
SCATTER = 0.3
#: Fewer squares are no evidence.
FEWEST = 6
#: A square with less range than this (levels of 255) has no fine waves to lose.
LEAST_RANGE = 16.0
#: A wave this faint (levels, as A.3.3 scales them) is missing: rounding to whole levels leaves less.
MISSING = 1.0
#: Waves along one axis alone are left out, since straight edges lack the others,
#: and so are coarse ones, which JPEG keeps.
FINE = tuple((u, v) for u in range(1, BLOCK) for v in range(1, BLOCK) if u + v >= 4)

#: Of how many of the busiest squares the waves are weighed, and the least share of their range that is a wave at all.
#: Set on the tuning half of the sample pictures: of the sharp originals there nearly all have waves of all eight kinds.
WEIGHED, LEAST_SHARE = 64, 0.05


class Patches:
    """Patches of a picture of two by two squares each, the first of which lies on the grid:
    the busiest first, their luminance in rows.
    """

    def __init__(self, raster: Raster) -> None:
        self._raster = raster
        self._made: list[Plane] = []

    def first(self, count: int) -> list[Plane]:
        """Return that many of the busiest, or all that are not plain; the result is cached."""
        for left, top in self._places[len(self._made) : count]:
            self._made.append(_patch(self._raster, left, top))
        return self._made[:count]

    @cached_property
    def _places(self) -> list[tuple[int, int]]:
        """The corners of the busiest squares tried, by the range of their green."""
        raster = self._raster
        wide, high = raster.width // BLOCK - 1, raster.height // BLOCK - 1
        if wide < 1 or high < 1:
            return []
        count = wide * high
        by_row = groupby(
            (divmod(index * count // min(count, TRIED), wide) for index in range(min(count, TRIED))), itemgetter(0)
        )
        found = []
        for row, places in by_row:
            top = row * BLOCK
            lines = [raster.channel(ACROSS, line, 0, raster.width, 1) for line in range(top, top + 2 * BLOCK)]
            for _row, column in places:
                left = column * BLOCK
                greens = b"".join([line[left : left + 2 * BLOCK] for line in lines])
                if busy := max(greens) - min(greens):
                    found.append((busy, left, top))
        return [(left, top) for _busy, left, top in sorted(found, reverse=True)]


def excess(patches: Patches) -> float | None:
    """Return by how much the share of missing waves in squares on the grid exceeds that in squares beside it,
    less the effect of chance; None with too few squares.

    The place beside with the largest share counts: repeated pixels lack waves in every second place.

    Holds while the squares lie where they were made: not for a picture that was cut, enlarged or reduced since.
    """
    places = ((0, 0), *BESIDE)
    counts = [[0, 0] for _ in places]
    for patch in patches.first(LOOKED_INTO):
        for (left, top), count in zip(places, counts, strict=True):
            _count(patch, left, top, count)
    if min(whole for _missing, whole in counts) < FEWEST * len(FINE):
        return None
    on_grid, *beside = (missing / whole for missing, whole in counts)
    return on_grid - max(beside) - SCATTER / sqrt(min(whole for _missing, whole in counts) / len(FINE))


def finest(patches: Patches) -> int | None:
    """Return how many of the eight kinds of waves, from the coarsest on, the busiest
    squares hold; None with too few squares.
    """
    squares = [square for patch in patches.first(WEIGHED) if _range(square := _square(patch, 0, 0)) >= LEAST_RANGE]
    if len(squares) < FEWEST:
        return None
    least = LEAST_SHARE * sum(map(_range, squares))
    along = (
        [[waves_of(line) for line in square] for square in squares],
        [[waves_of(line) for line in turned(square)] for square in squares],
    )
    for u in range(BLOCK - 1, 0, -1):
        if max(sum(sqrt(sum([line[u] ** 2 for line in square])) for square in axis) for axis in along) >= least:
            return u + 1
    return 1


def _square(patch: Plane, left: int, top: int) -> Plane:
    return [row[left : left + BLOCK] for row in patch[top : top + BLOCK]]


def _range(square: Plane) -> float:
    return max(map(max, square)) - min(map(min, square))


def _count(patch: Plane, left: int, top: int, counts: list[int]) -> None:
    """Add to ``counts`` the missing waves and all waves of a square in a patch, if it is busy."""
    square = _square(patch, left, top)
    if _range(square) < LEAST_RANGE:
        return
    waves = square_waves(square)
    counts[0] += sum([abs(waves[v][u]) < MISSING for u, v in FINE])
    counts[1] += len(FINE)


def _patch(raster: Raster, left: int, top: int) -> Plane:
    """Return the luminance as JPEG has it (ITU-T T.871, 7)."""
    rows = []
    for line in range(top, top + 2 * BLOCK):
        red, green, blue = (raster.channel(ACROSS, line, left, left + 2 * BLOCK, channel) for channel in range(3))
        rows.append([0.299 * r + 0.587 * g + 0.114 * b for r, g, b in zip(red, green, blue, strict=True)])
    return rows
