"""Small shapes drawn by Pillow at 16 times: held against what has their shape, and against what has not."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from itertools import product
from math import cos, pi, sin

import numpy
import pytest
from PIL import Image, ImageDraw

from calculators.pixels.gradients import gradient_places
from calculators.pixels.raster import Raster
from calculators.pixels.small_parts import Box, Rendered, misshapen, small_parts

TIMES, SIDE = 16, 192
FORE, GROUND = (255, 255, 255), (1, 33, 105)
#: Where shapes lie, each at another place within its pixel.
PLACES = [(24 + 36 * column + 0.37 * row, 24 + 36 * row + 0.23 * column) for row, column in product(range(5), range(5))]


def star(x: float, y: float, across: float, turn: float) -> list[tuple[float, float]]:
    """Return a five-pointed star (its inner corners on a pentagram's)."""
    inner = 0.382
    radii = [(across / 2 if corner % 2 == 0 else inner * across / 2, pi * corner / 5 + turn) for corner in range(10)]
    return [(x + radius * sin(angle), y - radius * cos(angle)) for radius, angle in radii]


@cache
def drawn(shape: str, across: float) -> Image.Image:
    """Return shapes on their ground, at ``TIMES`` the size."""
    large = Image.new("RGB", (SIDE * TIMES, SIDE * TIMES), GROUND)
    pen = ImageDraw.Draw(large)
    for number, (x, y) in enumerate(PLACES):
        if shape == "star":
            pen.polygon([(TIMES * a, TIMES * b) for a, b in star(x, y, across, 0.2 * (number % 4))], fill=FORE)
        else:
            box = (x - across / 2, y - across / 2, x + across / 2, y + across / 2)
            pen.ellipse([TIMES * each for each in box], fill=FORE)
    return large


def raster_of(image: Image.Image, quality: int | None) -> Raster:
    image = image.reduce(TIMES)
    if quality:
        file = io.BytesIO()
        image.save(file, "JPEG", quality=quality, subsampling=2)
        image = Image.open(file)
    return Raster(image.convert("RGBA").tobytes(), *image.size)


def labels_of(image: Image.Image) -> bytes:
    """Return 1 where a shape covers more than half of a pixel."""
    return (numpy.asarray(image.reduce(TIMES))[..., 0] > (FORE[0] + GROUND[0]) / 2).astype(numpy.uint8).tobytes()


def rendering_of(image: Image.Image) -> Rendered:
    """Return what shows a drawing by its exact coverage."""
    pixels = numpy.asarray(image.reduce(TIMES)).tolist()

    def rendered(boxes: Sequence[Box]) -> list[list[Sequence[float] | None]]:
        return [
            [pixels[y][x] for y in range(top, bottom) for x in range(left, right)] for left, top, right, bottom in boxes
        ]

    return rendered


QUALITIES = pytest.mark.parametrize("quality", [None, 95, 85, 80])


def test_every_small_shape_on_an_even_ground_is_found():
    parts = small_parts(labels_of(drawn("star", 9)), SIDE, SIDE, [GROUND, FORE])
    assert len(parts) == len(PLACES)


@QUALITIES
@pytest.mark.parametrize(("shape", "across"), [("star", 9), ("star", 14), ("disc", 6), ("disc", 9)])
def test_shapes_shown_as_they_were_drawn_are_not_misshapen(shape: str, across: float, quality: int | None):
    image = drawn(shape, across)
    assert not misshapen(raster_of(image, quality), labels_of(image), [GROUND, FORE], rendering_of(image))


@QUALITIES
@pytest.mark.parametrize("across", [9, 14])
def test_stars_shown_as_discs_of_the_same_area_are_misshapen(across: float, quality: int | None):
    image = drawn("star", across)
    # A star's area is 1.1226 times the square of its radius.
    discs = drawn("disc", 2 * (across / 2) * (1.1226 / pi) ** 0.5)
    found = misshapen(raster_of(image, quality), labels_of(image), [GROUND, FORE], rendering_of(discs))
    assert len(found) >= 0.9 * len(PLACES)


@QUALITIES
def test_a_shape_in_a_joined_colour_keeps_its_shape(quality: int | None):
    image = drawn("star", 9)
    joined = numpy.asarray(image).astype(float)
    # The stars became grey: they were joined to a colour half as light.
    grey = tuple((a + b) // 2 for a, b in zip(FORE, GROUND, strict=True))
    joined = (joined - GROUND) * (numpy.subtract(grey, GROUND) / numpy.subtract(FORE, GROUND)) + GROUND
    rendered = rendering_of(Image.fromarray(joined.round().astype(numpy.uint8)))
    assert not misshapen(raster_of(image, quality), labels_of(image), [GROUND, grey], rendered)


@pytest.mark.parametrize("quality", [None, 85, 50])
@pytest.mark.parametrize("way", ["across", "down", "round"])
def test_a_gradient_is_reported_with_places_on_it(way: str, quality: int | None):
    y, x = numpy.mgrid[0 : SIDE * TIMES, 0 : SIDE * TIMES] / (SIDE * TIMES)
    share = {"across": x, "down": y, "round": numpy.hypot(x - 0.5, y - 0.5) * 1.4}[way][..., None]
    image = numpy.array([180, 20, 30]) * (1 - share) + numpy.array([250, 210, 60]) * share
    # A plain card to the left of the gradient.
    image[:, : SIDE * TIMES // 3] = (255, 255, 255)
    places = gradient_places(raster_of(Image.fromarray(image.clip(0, 255).astype(numpy.uint8)), quality))
    assert places and sum(x >= SIDE // 3 - 2 for x, _y in places) == len(places)


@QUALITIES
def test_flat_shapes_are_no_gradient(quality: int | None):
    assert not gradient_places(raster_of(drawn("star", 14), quality))
