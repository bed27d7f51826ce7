"""Squares of 8 x 8 pixels as sums of waves: are they JPEG's own, and how fine are the waves that a picture holds?

JPEG keeps each square as a sum of waves and rounds most of the finer ones to nothing. Decoded again, those waves are
still missing, but only in squares that lie where JPEG laid them: any other square of the same picture has some of all.
So the share of missing waves in squares on the grid is compared with that in squares beside it. Drawn art that lacks fine
waves of itself lacks them in both.

A picture that was enlarged, or was never sharp, lacks the finest waves wherever the squares are laid, and JPEG brings none
back. A sharp one that JPEG squeezed keeps some at its edges. So what is finest tells whether a picture may have been
enlarged where no trace is left of how.

The squares are those of ITU-T T.81, A.1.3, and the waves those of A.3.3.
"""

from __future__ import annotations

from math import cos, pi, sqrt
from operator import mul

from calculators.pixels.raster import ACROSS, Raster

#: JPEG's squares have this many pixels a side (ITU-T T.81, A.1.3).
BLOCK = 8
#: Where squares beside the grid lie, from it.
BESIDE = ((4, 4), (3, 2), (5, 3), (2, 6))
#: So many squares on the grid are tried, and the busiest of them looked into.
TRIED, LOOKED_INTO = 600, 160
#: How far shares of missing waves scatter by chance, over the root of the count of squares (estimate, set on the tuning half).
SCATTER = 0.3
#: Fewer squares tell nothing.
FEWEST = 6
#: A square with less range than this (levels of 255) has no fine waves to lose.
LEAST_RANGE = 16.0
#: A wave this faint (levels, as A.3.3 scales them) is missing: rounding to whole levels leaves less.
MISSING = 1.0
#: Waves along one axis alone are left out, since straight edges lack the others, and so are coarse ones, which JPEG keeps.
FINE = tuple((u, v) for u in range(1, BLOCK) for v in range(1, BLOCK) if u + v >= 4)

#: Of how many of the busiest squares the waves are weighed, and the least share of their range that is a wave at all.
#: Set on the tuning half of the sample pictures: of the sharp originals there nearly all have waves of all eight kinds.
WEIGHED, LEAST_SHARE = 64, 0.05

_WAVES = [
    [(sqrt(1 / BLOCK) if not u else sqrt(2 / BLOCK)) * cos((2 * at + 1) * u * pi / (2 * BLOCK)) for at in range(BLOCK)]
    for u in range(BLOCK)
]

Patch = list[list[float]]


def excess(raster: Raster) -> float | None:
    """Return by how much the share of missing waves in squares on the grid exceeds that in squares beside it, less what chance can do; None where too few can be told.

    Of the places beside, that with most counts: pixels that were repeated lack waves in every second place.

    Holds while the squares lie where they were made: not for a picture that was cut, enlarged or reduced since.
    """
    places = ((0, 0), *BESIDE)
    counts = [[0, 0] for _ in places]
    for patch in _busiest_patches(raster):
        for (left, top), count in zip(places, counts, strict=True):
            _count(patch, left, top, count)
    if min(whole for _missing, whole in counts) < FEWEST * len(FINE):
        return None
    on_grid, *beside = (missing / whole for missing, whole in counts)
    return on_grid - max(beside) - SCATTER / sqrt(min(whole for _missing, whole in counts) / len(FINE))


def finest(raster: Raster) -> int | None:
    """Return how many of the eight kinds of waves, from the coarsest on, the busiest squares hold; None where too few can be told."""
    squares = [square for patch in _busiest_patches(raster)[:WEIGHED] if _range(square := _square(patch, 0, 0)) >= LEAST_RANGE]
    if len(squares) < FEWEST:
        return None
    least = LEAST_SHARE * sum(map(_range, squares))
    for u in range(BLOCK - 1, 0, -1):
        wave = _WAVES[u]
        across = sum(sqrt(sum(sum(map(mul, row, wave)) ** 2 for row in square)) for square in squares)
        down = sum(sqrt(sum(sum(map(mul, column, wave)) ** 2 for column in zip(*square, strict=True))) for square in squares)
        if max(across, down) >= least:
            return u + 1
    return 1


def _square(patch: Patch, left: int, top: int) -> Patch:
    return [row[left : left + BLOCK] for row in patch[top : top + BLOCK]]


def _range(square: Patch) -> float:
    return max(map(max, square)) - min(map(min, square))


def _count(patch: Patch, left: int, top: int, counts: list[int]) -> None:
    """Add to ``counts`` the missing waves and all waves of a square in a patch, if it is busy."""
    square = _square(patch, left, top)
    if _range(square) < LEAST_RANGE:
        return
    across = [[sum(map(mul, row, wave)) for row in square] for wave in _WAVES[1:]]
    counts[0] += sum(abs(sum(map(mul, across[u - 1], _WAVES[v]))) < MISSING for u, v in FINE)
    counts[1] += len(FINE)


def _busiest_patches(raster: Raster) -> list[Patch]:
    """Return the luminance of patches of two by two squares, each begun by a square on the grid: the busiest."""
    wide, high = raster.width // BLOCK - 1, raster.height // BLOCK - 1
    if wide < 1 or high < 1:
        return []
    count = wide * high
    places = [index * count // min(count, TRIED) for index in range(min(count, TRIED))]
    found = []
    for place in places:
        left, top = place % wide * BLOCK, place // wide * BLOCK
        rows = [raster.channel(ACROSS, line, left, left + 2 * BLOCK, 1) for line in range(top, top + 2 * BLOCK)]
        busy = max(map(max, rows)) - min(map(min, rows))
        if busy:
            found.append((busy, left, top))
    found.sort(reverse=True)
    return [_patch(raster, left, top) for _busy, left, top in found[:LOOKED_INTO]]


def _patch(raster: Raster, left: int, top: int) -> Patch:
    """Return the luminance as JPEG has it (ITU-T T.871, 7)."""
    rows = []
    for line in range(top, top + 2 * BLOCK):
        red, green, blue = (raster.channel(ACROSS, line, left, left + 2 * BLOCK, channel) for channel in range(3))
        rows.append([0.299 * r + 0.587 * g + 0.114 * b for r, g, b in zip(red, green, blue, strict=True)])
    return rows
