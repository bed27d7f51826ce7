"""The narrowest part of an area, on shapes drawn to known widths."""

from math import cos, radians, sin, sqrt

import pytest
from PIL import Image, ImageDraw

from calculators.pixels.narrowest import narrowest_px

FINE = 8
MOST = 24


def plane(draw, width=200, height=160):
    """A shape drawn finely and averaged down, as a byte a pixel."""
    image = Image.new("L", (width * FINE, height * FINE))
    draw(ImageDraw.Draw(image))
    small = image.resize((width, height), Image.Resampling.BOX)
    return bytes(255 if level >= 128 else 0 for level in small.tobytes()), width, height


def bar(wide, degrees):
    """A bar of a width in pixels, turned about the middle."""
    across, down, half = cos(radians(degrees)), sin(radians(degrees)), wide / 2
    corners = [(100 + x * across - y * down, 80 + x * down + y * across) for x, y in ((-60, -half), (60, -half), (60, half), (-60, half))]
    return lambda pen: pen.polygon([(FINE * x, FINE * y) for x, y in corners], fill=255)


@pytest.mark.parametrize("wide", [2, 3, 5, 8, 12])
@pytest.mark.parametrize("degrees", [0, 15, 30, 45, 60, 90])
def test_a_bar_is_as_wide_as_it_was_drawn(wide, degrees):
    slanted = abs(cos(radians(degrees))) + abs(sin(radians(degrees)))
    found = narrowest_px(*plane(bar(wide, degrees)), MOST)
    assert wide / slanted - 1 <= found <= wide + 1
    assert found >= wide / sqrt(2) - 1


@pytest.mark.parametrize("wide", [3, 6])
def test_a_thin_neck_is_found_beside_a_wide_body(wide):
    def neck(pen):
        pen.rectangle([FINE * each for each in (20, 20, 90, 140)], fill=255)
        pen.rectangle([FINE * each for each in (90, 70, 180, 70 + wide)], fill=255)

    assert narrowest_px(*plane(neck), MOST) == pytest.approx(wide, abs=1)


def test_a_wide_body_alone_has_no_narrow_part():
    assert narrowest_px(*plane(lambda pen: pen.ellipse([FINE * each for each in (40, 20, 160, 140)], fill=255)), MOST) == MOST
    assert narrowest_px(*plane(lambda pen: pen.rectangle([FINE * each for each in (0, 0, 200, 160)], fill=255)), MOST) == MOST


def test_a_ring_is_as_narrow_as_its_band():
    def ring(pen):
        pen.ellipse([FINE * each for each in (40, 20, 160, 140)], fill=255)
        pen.ellipse([FINE * each for each in (46, 26, 154, 134)], fill=0)

    assert 6 / sqrt(2) - 1 <= narrowest_px(*plane(ring), MOST) <= 7


@pytest.mark.parametrize(("width", "height"), [(1, 1), (1, 9), (9, 1), (2, 2)])
def test_the_smallest_areas_are_answered(width, height):
    assert 1 <= narrowest_px(b"\1" * (width * height), width, height, 5) <= 5
    assert narrowest_px(bytes(width * height), width, height, 5) == 5
