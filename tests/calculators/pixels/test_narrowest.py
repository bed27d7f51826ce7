"""The narrowest part of an area, on shapes drawn to known widths."""

from io import BytesIO
from math import cos, radians, sin
from random import Random

import pytest
from PIL import Image, ImageDraw

from calculators.pixels.narrowest import narrowest

FINE = 8
MOST = 24


def px(*area):
    """The narrowest part of an area, in pixels."""
    return narrowest(*area).px


def plane(draw, width=200, height=160):
    """A shape drawn finely and averaged down, as a byte a pixel."""
    image = Image.new("L", (width * FINE, height * FINE))
    draw(ImageDraw.Draw(image))
    small = image.resize((width, height), Image.Resampling.BOX)
    return bytes(255 if level >= 128 else 0 for level in small.tobytes()), width, height


def bar(wide, degrees):
    """A bar of a width in pixels, turned about the middle."""
    across, down, half = cos(radians(degrees)), sin(radians(degrees)), wide / 2
    corners = [
        (100 + x * across - y * down, 80 + x * down + y * across)
        for x, y in ((-60, -half), (60, -half), (60, half), (-60, half))
    ]
    return lambda pen: pen.polygon([(FINE * x, FINE * y) for x, y in corners], fill=255)


@pytest.mark.parametrize("wide", [2, 3, 5, 8, 12])
@pytest.mark.parametrize("degrees", [0, 15, 30, 45, 60, 90])
def test_a_bar_is_as_wide_as_it_was_drawn(wide, degrees):
    found = px(*plane(bar(wide, degrees)), MOST)
    assert found == pytest.approx(wide, abs=1)


@pytest.mark.parametrize("wide", [3, 6])
def test_a_thin_neck_is_found_beside_a_wide_body(wide):
    def neck(pen):
        pen.rectangle([FINE * each for each in (20, 20, 90, 140)], fill=255)
        pen.rectangle([FINE * each for each in (90, 70, 180, 70 + wide)], fill=255)

    assert px(*plane(neck), MOST) == pytest.approx(wide, abs=1)


def test_a_wide_body_alone_has_no_narrow_part():
    assert px(*plane(lambda pen: pen.ellipse([FINE * each for each in (40, 20, 160, 140)], fill=255)), MOST) == MOST
    assert px(*plane(lambda pen: pen.rectangle([FINE * each for each in (0, 0, 200, 160)], fill=255)), MOST) == MOST


def test_a_ring_is_as_narrow_as_its_band():
    def ring(pen):
        pen.ellipse([FINE * each for each in (40, 20, 160, 140)], fill=255)
        pen.ellipse([FINE * each for each in (46, 26, 154, 134)], fill=0)

    assert px(*plane(ring), MOST) == pytest.approx(6, abs=1)


@pytest.mark.parametrize(("width", "height"), [(1, 1), (1, 9), (9, 1), (2, 2)])
def test_the_smallest_areas_are_answered(width, height):
    assert 1 <= px(b"\1" * (width * height), width, height, 5) <= 5
    assert px(bytes(width * height), width, height, 5) == 5


@pytest.mark.parametrize("seed", range(4))
def test_single_pixels_and_ragged_edges_are_no_narrow_part(seed):
    chance = Random(seed)
    made, width, height = plane(lambda pen: pen.rectangle([FINE * each for each in (20, 20, 180, 140)], fill=255))
    ragged = bytearray(made)
    for _ in range(400):
        # Specks in and out of the area, and nibbles at its edges.
        ragged[chance.randrange(width * height)] ^= 255
        ragged[chance.choice((19, 20, 139, 140)) * width + chance.randrange(20, 180)] ^= 255
    assert px(bytes(ragged), width, height, 6) == 6


def test_the_narrowest_part_is_located():
    def neck(pen):
        pen.rectangle([FINE * each for each in (20, 20, 90, 140)], fill=255)
        pen.rectangle([FINE * each for each in (90, 70, 180, 73)], fill=255)

    (left, top, right, bottom), *_ = narrowest(*plane(neck), MOST).places
    assert 88 <= left <= 100 and 176 <= right <= 181
    assert 69 <= top and bottom <= 74


@pytest.mark.parametrize("quality", [95, 70, 50, 30])
def test_a_stroke_keeps_its_width_in_a_jpeg(quality):
    """White strokes of 4 pixels on red, saved by Pillow, and separated by the nearer of the two colours."""
    image = Image.new("RGB", (200, 160), "#b82a2a")
    pen = ImageDraw.Draw(image)
    for at in range(30, 131, 25):
        pen.rectangle((20, at, 179, at + 3), fill="white")
    saved = BytesIO()
    image.save(saved, "JPEG", quality=quality)
    with Image.open(saved) as opened:
        near_white = bytes(255 if level >= 148 else 0 for level in opened.convert("RGB").getchannel("G").tobytes())
    assert px(near_white, 200, 160, MOST) == pytest.approx(4, abs=1)


def test_declared_fringes_are_left_out():
    made, width, height = plane(lambda pen: pen.rectangle([FINE * each for each in (20, 70, 180, 72)], fill=255))
    assert px(made, width, height, MOST) < 4
    assert narrowest(made, width, height, MOST, 0.01, lambda _piece: True).px == MOST
