"""Small JPEGs: a drawing of ten flat colours is flat artwork at any size, photographs of scikit-image are not."""

from __future__ import annotations

import io

import numpy
import pytest
import skimage
from PIL import Image, ImageDraw

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import lab, rgb_of
from calculators.pixels.flat_colours import NotFlat, flat_colours
from calculators.pixels.raster import Raster
from tests.steps import finished

TIMES = 8
SKY, EARTH, STEEL, RED, BLACK, YELLOW, GREEN, BRASS, CREAM, STEAM = (
    "#9bd3f5",
    "#7a5a3a",
    "#4a4f55",
    "#b3261e",
    "#1f1f23",
    "#f6d34a",
    "#2f6b3f",
    "#c9a227",
    "#e9e3d2",
    "#ffffff",
)
BOXES = [
    (EARTH, 0, 128, 150, 22),
    (STEEL, 0, 124, 150, 4),
    (RED, 10, 48, 44, 60),
    (BLACK, 6, 42, 52, 8),
    (YELLOW, 16, 58, 14, 18),
    (YELLOW, 36, 58, 12, 18),
    (GREEN, 54, 66, 80, 38),
    *((BRASS, x, 64, 4, 42) for x in (66, 86, 106, 126)),
    (BLACK, 110, 38, 14, 28),
    (BRASS, 106, 34, 22, 6),
    (BLACK, 130, 62, 10, 44),
    (RED, 6, 104, 134, 7),
]
WHEELS = ((28, 18), (64, 18), (100, 13), (126, 13))
PUFFS = ((112, 24, 8), (100, 16, 10), (84, 10, 11))


def engine(side: int) -> Image.Image:
    """Return a small steam engine in ten flat colours, smoothed by exact coverage."""
    large = Image.new("RGB", (side * TIMES, side * TIMES), SKY)
    pen, unit = ImageDraw.Draw(large), side * TIMES / 150

    def disc(colour: str, x: float, y: float, radius: float) -> None:
        pen.ellipse([each * unit for each in (x - radius, y - radius, x + radius, y + radius)], fill=colour)

    for colour, left, top, wide, high in BOXES:
        pen.rectangle([each * unit for each in (left, top, left + wide, top + high)], fill=colour)
    for x, radius in WHEELS:
        for colour, less in ((BLACK, 0), (RED, 3), (CREAM, 7)):
            disc(colour, x, 128 - radius, radius - less)
        disc(BLACK, x, 128 - radius, 3)
    for x, y, radius in PUFFS:
        disc(STEAM, x, y, radius)
    return large.reduce(TIMES)


def as_jpeg(image: Image.Image, quality: int) -> Raster:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=quality, subsampling=2)
    pixels = numpy.asarray(Image.open(file).convert("RGBA"))
    return Raster(pixels.tobytes(), *image.size)


@pytest.mark.parametrize(("side", "quality"), [(100, 70), (120, 85), (150, 70), (180, 70)])
def test_a_small_jpeg_of_ten_flat_colours_is_flat_artwork(side, quality):
    """Its broad colours are found; those of thin parts are washed at that size."""
    found = finished(flat_colours(as_jpeg(engine(side), quality)))
    assert len(found.colours) <= 14
    for colour in (SKY, EARTH, RED, GREEN):
        assert min(delta_e(lab(rgb_of(colour)), lab(each.rgb)) for each in found.colours) <= 4, colour


@pytest.mark.parametrize("side", [100, 180])
@pytest.mark.parametrize("name", ["chelsea", "astronaut", "coffee"])
def test_a_small_jpeg_of_a_photograph_is_not_flat(side, name):
    image = Image.fromarray(getattr(skimage.data, name)())
    image.thumbnail((side, side), Image.Resampling.LANCZOS)
    with pytest.raises(NotFlat):
        finished(flat_colours(as_jpeg(image, 70)))
