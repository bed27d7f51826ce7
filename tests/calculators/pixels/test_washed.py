"""Thin strokes that are washed towards their ground: lines drawn by exact coverage, so that their shade is known."""

from __future__ import annotations

import io

import numpy
import pytest
from PIL import Image

from calculators.pixels.raster import Raster
from calculators.pixels.washed import washed

NAVY, WHITE = (16, 48, 96), (255, 255, 255)


def lines(shade: tuple[int, int, int], wide: int, quality: int | None = None) -> tuple[Raster, bytes]:
    """Return a white block and upright lines of ``shade`` on navy, and its labels: 0 navy, 1 white, 2 the shade."""
    levels, labels = numpy.full((120, 120, 3), NAVY, numpy.uint8), numpy.zeros((120, 120), numpy.uint8)
    levels[80:, :] = WHITE
    labels[80:, :] = 1
    for column in range(10, 110, 12):
        levels[10:70, column : column + wide] = shade
        labels[10:70, column : column + wide] = 2
    image = Image.fromarray(levels)
    if quality:
        file = io.BytesIO()
        image.save(file, "JPEG", quality=quality, subsampling=2)
        image = Image.open(file)
    return Raster(image.convert("RGBA").tobytes(), 120, 120), labels.tobytes()


def covered(share: float) -> tuple[int, int, int]:
    return tuple(round(share * white + (1 - share) * navy) for white, navy in zip(WHITE, NAVY, strict=True))


@pytest.mark.parametrize("share", [0.5, 0.65, 0.8])
@pytest.mark.parametrize("quality", [85, 70, 50])
def test_a_partly_covering_line_is_possibly_white(share, quality):
    picture, labels = lines(covered(share), 1, quality)
    ((label, further, places),) = washed(picture, labels, [NAVY, WHITE, covered(share)], 6.0)
    assert (label, further) == (2, 1)
    assert all(labels[y * 120 + x] == 2 for x, y in places)


@pytest.mark.parametrize("wide", [1, 2])
def test_lines_of_exactly_one_colour_keep_it(wide):
    picture, labels = lines(covered(0.65), wide)
    assert washed(picture, labels, [NAVY, WHITE, covered(0.65)], 6.0) == []


def test_a_colour_beside_the_line_to_white_is_not_washed():
    picture, labels = lines((208, 31, 31), 1)
    assert washed(picture, labels, [NAVY, WHITE, (208, 31, 31)], 6.0) == []


def test_the_shade_between_two_colours_is_an_edge():
    """Where half of what is beside it is white, it stands on no ground."""
    levels, labels = numpy.full((60, 60, 3), NAVY, numpy.uint8), numpy.zeros((60, 60), numpy.uint8)
    levels[30:], labels[30:] = WHITE, 1
    levels[29], labels[29] = covered(0.5), 2
    picture = Raster(numpy.dstack([levels, numpy.full((60, 60), 255, numpy.uint8)]).tobytes(), 60, 60)
    assert washed(picture, labels.tobytes(), [NAVY, WHITE, covered(0.5)], 6.0) == []
