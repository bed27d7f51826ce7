"""Colours of small drawings that labels have lost: drawn here, smoothed by exact coverage, and saved by Pillow."""

from __future__ import annotations

import io

import numpy
import pytest
from PIL import Image, ImageDraw

from calculators.pixels.fidelity import losses
from calculators.pixels.raster import Raster

TIMES, SIDE = 8, 120
GROUND, FIELD, FRAME, BLUE = (255, 255, 255), (237, 41, 57), (252, 8, 10), (128, 207, 225)


def picture(quality: int, subsampling: int, frame: tuple[int, int, int]) -> tuple[Raster, bytes]:
    """Return a field and a small blue shield with a thin frame as a JPEG, and labels: ground, field and frame, blue."""
    large = Image.new("RGB", (SIDE * TIMES, SIDE * TIMES), GROUND)
    pen = ImageDraw.Draw(large)
    pen.rectangle((0, 70 * TIMES, SIDE * TIMES, SIDE * TIMES), fill=FIELD)
    for left in (12, 66):
        outer = [(left + x) * TIMES for x in (0, 40, 40, 20, 0)]
        pen.polygon(list(zip(outer, [y * TIMES for y in (8, 8, 40, 60, 40)], strict=True)), fill=frame)
        inner = [(left + x) * TIMES for x in (2.2, 37.8, 37.8, 20, 2.2)]
        pen.polygon(list(zip(inner, [y * TIMES for y in (10.2, 10.2, 39, 57, 39)], strict=True)), fill=BLUE)
    file = io.BytesIO()
    small = large.reduce(TIMES)
    small.save(file, "JPEG", quality=quality, subsampling=subsampling)
    pixels = numpy.asarray(Image.open(file).convert("RGBA"))
    true = numpy.array([GROUND, FIELD, frame, BLUE])
    apart = ((numpy.asarray(small)[:, :, None].astype(int) - true) ** 2).sum(-1)
    labels = numpy.array([0, 1, 1, 2], numpy.uint8)[apart.argmin(-1)]
    return Raster(pixels.tobytes(), SIDE, SIDE), labels.tobytes()


@pytest.mark.parametrize(("quality", "subsampling"), [(95, 0), (85, 0), (70, 0)])
def test_a_thin_frame_that_became_a_colour_near_its_own_is_reported(quality, subsampling):
    raster, labels = picture(quality, subsampling, FRAME)
    found = losses(raster, labels, [GROUND, FIELD, BLUE]).merged
    assert FIELD in [each.now for each in found]
    (place,) = (each for each in found if each.now == FIELD)
    assert numpy.abs(numpy.subtract(place.was, FRAME)).max() <= 24
    # The frame is there, the field is not.
    assert max(y for _x, y in place.points) < 66


@pytest.mark.parametrize("subsampling", [0, 2])
@pytest.mark.parametrize("quality", [95, 85, 70, 50, 30])
def test_a_frame_of_its_labels_colour_is_no_lost_colour(quality, subsampling):
    raster, labels = picture(quality, subsampling, FIELD)
    assert losses(raster, labels, [GROUND, FIELD, BLUE]).merged == ()
