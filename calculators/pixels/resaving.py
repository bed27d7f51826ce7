"""Measure the harm of saving as JPEG by saving once more, with the squares between the old ones.

The original is lost, but the picture still resembles it, and the file says how coarsely it was rounded. New squares
between the old ones treat the picture as the old ones treated the original, and do about as much harm. Comparing a JPEG
with itself cut by half a square is known from the search for hidden messages (J. Fridrich, M. Goljan and D. Hogea,
"Steganalysis of JPEG images: breaking the F5 algorithm", 2002, quoted from memory); judging damage by it is our idea.

This saves a sample of squares by the steps of ITU-T T.81, annex A, and T.871, 7.
"""

from __future__ import annotations

from functools import lru_cache

from calculators.colour.difference import delta_e
from calculators.colour.srgb import Triple, decoded, lab_of
from calculators.files.jpeg_coding import Coding, Table
from calculators.pixels.raster import ACROSS, Raster
from calculators.pixels.waves import SIDE, Plane, square_of, square_waves, turned

#: A patch is two by two squares, at this offset from the grid.
PATCH, OFF = 2 * SIDE, 4
#: The number of patches examined, and of those saved among the ones that are not plain.
LOOKED_AT, SAVED = 240, 32
#: A pixel that differs by more than this (CIEDE2000) is seen to; one whose channels
#: differ by no more than this in sum never is.
SEEN_DELTA_E, UNSEEN_LEVELS = 3.0, 4
#: One pixel in this many is compared, starting one later in each row.
EVERY = 4


Pixels = list[list[tuple[int, int, int]]]


def harmed_share(raster: Raster, coding: Coding) -> float | None:
    """Return the share of the area that saving with ``coding`` changes visibly; None if no square fits.

    This estimates the harm of the past saving from the present picture. Transparent parts count as their colours.
    """
    wide, high = (raster.width - OFF) // PATCH, (raster.height - OFF) // PATCH
    count = wide * high
    if min(wide, high) < 1:
        return None
    places = [index * count // min(count, LOOKED_AT) for index in range(min(count, LOOKED_AT))]
    found = [_patch(raster, OFF + place % wide * PATCH, OFF + place // wide * PATCH) for place in places]
    busy = [patch for patch in found if patch]
    chosen = busy if len(busy) <= SAVED else [busy[index * len(busy) // SAVED] for index in range(SAVED)]
    if not chosen:
        return 0.0
    return len(busy) / len(places) * sum(_harmed(patch, coding) for patch in chosen) / len(chosen)


def _patch(raster: Raster, left: int, top: int) -> Pixels | None:
    """Return the pixels of a patch in rows, None if all are alike."""
    reds, greens, blues = (
        [raster.channel(ACROSS, line, left, left + PATCH, channel) for line in range(top, top + PATCH)]
        for channel in range(3)
    )
    if all(row == bytes([rows[0][0]]) * PATCH for rows in (reds, greens, blues) for row in rows):
        return None
    return [list(zip(*row, strict=True)) for row in zip(reds, greens, blues, strict=True)]


def _harmed(patch: Pixels, coding: Coding) -> float:
    """Return the share of a patch's pixels that saving changes visibly."""
    luma = _by_squares([[0.299 * r + 0.587 * g + 0.114 * b for r, g, b in row] for row in patch], coding.luma)
    if coding.chroma is None:
        blueness = redness = [[0.0] * PATCH] * PATCH
    else:
        blueness = _chroma([[-0.168736 * r - 0.331264 * g + 0.5 * b for r, g, b in row] for row in patch], coding)
        redness = _chroma([[0.5 * r - 0.418688 * g - 0.081312 * b for r, g, b in row] for row in patch], coding)
    harmed = 0
    for y, row in enumerate(patch):
        for x in range(y % EVERY, PATCH, EVERY):
            light, blue, red = luma[y][x], blueness[y][x], redness[y][x]
            now = (
                _level(light + 1.402 * red),
                _level(light - 0.344136 * blue - 0.714136 * red),
                _level(light + 1.772 * blue),
            )
            was = row[x]
            if abs(now[0] - was[0]) + abs(now[1] - was[1]) + abs(now[2] - was[2]) > UNSEEN_LEVELS:
                harmed += delta_e(_lab(was), _lab(now)) > SEEN_DELTA_E
    return harmed * EVERY / PATCH**2


def _level(value: float) -> int:
    return min(255, max(0, round(value)))


@lru_cache(maxsize=1024)
def _lab(rgb: tuple[int, int, int]) -> Triple:
    red, green, blue = rgb
    return lab_of((_LIGHT[red], _LIGHT[green], _LIGHT[blue]))


def _chroma(plane: Plane, coding: Coding) -> Plane:
    """Return a plane of chroma as it is decoded again, halved and spread where pixels share theirs."""
    if coding.wide > 1:
        plane = [_halved(row) for row in plane]
    if coding.high > 1:
        plane = turned([_halved(column) for column in turned(plane)])
    if coding.chroma:
        plane = _by_squares(plane, coding.chroma)
    if coding.wide > 1:
        plane = [_spread(row) for row in plane]
    return turned([_spread(column) for column in turned(plane)]) if coding.high > 1 else plane


def _halved(line: list[float]) -> list[float]:
    return [(one + other) / 2 for one, other in zip(line[::2], line[1::2], strict=True)]


def _spread(line: list[float]) -> list[float]:
    """Return a line twice as long, a quarter of each value from the next neighbour, as the usual decoders do."""
    before, after = [line[0], *line[:-1]], [*line[1:], line[-1]]
    return [
        each
        for here, one, other in zip(line, before, after, strict=True)
        for each in (0.75 * here + 0.25 * one, 0.75 * here + 0.25 * other)
    ]


def _by_squares(plane: Plane, steps: Table) -> Plane:
    """Return a plane, whose sides hold whole squares, with the waves of each rounded."""
    made: Plane = []
    for top in range(0, len(plane), SIDE):
        rows = plane[top : top + SIDE]
        squares = [_rounded([row[left : left + SIDE] for row in rows], steps) for left in range(0, len(rows[0]), SIDE)]
        made += [[each for square in squares for each in square[line]] for line in range(SIDE)]
    return made


def _rounded(square: Plane, steps: Table) -> Plane:
    """Return a square with its waves rounded to whole ``steps``.

    The middle of the range is 128, which only affects the first wave.
    """
    if all(row == square[0] for row in square) and min(square[0]) == max(square[0]):
        # It is plain: it only has its first wave, which moves it by less than a level or two.
        return square
    waves = square_waves(square)
    rounded: Plane = [
        [round(each / step) * step for each, step in zip(row, steps[SIDE * at : SIDE * at + SIDE], strict=True)]
        for at, row in enumerate(waves)
    ]
    return square_of(rounded)


_LIGHT = [decoded(level) for level in range(256)]
