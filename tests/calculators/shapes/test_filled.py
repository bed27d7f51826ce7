"""Filled outlines as pixels, against areas by shapely and pictures by another renderer."""

import io
import math
import random
import re

import numpy
import pytest
import resvg_py
from PIL import Image
from shapely import Polygon, box

from calculators import catalogue
from calculators.files.outline_pixels import DRAWN_PX, LONGEST_PX, size_px, with_pixels
from calculators.files.outline_reader import Outlines, Shape
from calculators.files.picture import read_picture
from calculators.shapes.filled import filled
from tests.steps import finished

RED, BLUE = (200, 30, 40), (20, 60, 200)
#: A level of 255, rounded.
LEVEL = 0.5 / 255 + 1e-9


def drawn(fills, width, height) -> numpy.ndarray:
    rgba = finished(filled(fills, width, height))
    return numpy.frombuffer(rgba, "u1").reshape(height, width, 4)


def ring(corners) -> list:
    points = [complex(*each) for each in corners]
    return list(zip(points, points[1:] + points[:1], strict=True))


def star(drawer, middle, least, most, count) -> list[tuple[float, float]]:
    return [
        (middle[0] + radius * math.cos(turn), middle[1] + radius * math.sin(turn))
        for step in range(count)
        for turn, radius in [(2 * math.pi * (step + drawer.random() / 2) / count, drawer.uniform(least, most))]
    ]


def shares(shape, width, height) -> numpy.ndarray:
    return numpy.array(
        [[shape.intersection(box(x, y, x + 1, y + 1)).area for x in range(width)] for y in range(height)]
    )


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("even_odd", [False, True])
def test_each_pixel_has_its_covered_share(seed, backwards, even_odd):
    """A star with a hole, partly outside the picture."""
    drawer = random.Random(seed)
    middle = (drawer.uniform(4, 20), drawer.uniform(4, 12))
    outer, hole = star(drawer, middle, 6, 14, 9), star(drawer, middle, 1, 5, 7)
    truth = shares(Polygon(outer, [hole]), 24, 16)
    # With winding, a hole runs in the opposite direction; with even-odd, either direction works.
    turned = hole[::-1] if not even_odd or backwards else hole
    made = drawn([(RED, [ring(outer), ring(turned)], even_odd)], 24, 16)
    assert numpy.abs(made[..., 3] / 255 - truth).max() <= LEVEL
    assert (made[made[..., 3] > 0][:, :3] == RED).all()


def test_winding_fills_nested_rings_and_even_odd_does_not():
    outer, inner = ring([(1, 1), (9, 1), (9, 9), (1, 9)]), ring([(3, 3), (7, 3), (7, 7), (3, 7)])
    by_winding, by_even_odd = (drawn([(RED, [outer, inner], rule)], 10, 10) for rule in (False, True))
    assert by_winding[5, 5, 3] == 255 and by_even_odd[5, 5, 3] == 0
    assert (by_winding[..., 3] > 0).sum() == 64 and (by_even_odd[..., 3] > 0).sum() == 48


@pytest.mark.parametrize("seed", range(4))
def test_adjacent_regions_have_no_seam(seed):
    """A slanted line through a square, one colour on either side of it."""
    drawer = random.Random(seed)
    top, low = drawer.uniform(2, 10), drawer.uniform(2, 10)
    left, right = [(0, 0), (top, 0), (low, 12), (0, 12)], [(top, 0), (12, 0), (12, 12), (low, 12)]
    made = drawn([(RED, [ring(left)], True), (BLUE, [ring(right)], True)], 12, 12)
    assert (made[..., 3] == 255).all()
    share = shares(Polygon(left), 12, 12)[..., None]
    assert numpy.abs(made[..., :3] - (share * RED + (1 - share) * BLUE)).max() <= 0.5 + 1e-9


@pytest.mark.parametrize("seed", range(4))
def test_upper_shapes_cover_lower_ones(seed):
    drawer = random.Random(seed)
    over = star(drawer, (6, 6), 2, 5, 8)
    made = drawn([(BLUE, [ring([(0, 0), (12, 0), (12, 12), (0, 12)])], True), (RED, [ring(over)], True)], 12, 12)
    share = shares(Polygon(over), 12, 12)[..., None]
    assert numpy.abs(made[..., :3] - (share * RED + (1 - share) * BLUE)).max() <= 1.5
    assert (made[..., 3] == 255).all()


def test_a_traced_crest_matches_another_renderer():
    """The traced demonstration crest against resvg at eight times the size, averaged down."""
    trace = catalogue.find("trace")
    data = trace.answer(trace.inputs(keep_ground=False)).svg.data
    made = finished(with_pixels(read_picture("crest.svg", data, wanted=True, or_outlines=True)))
    width, height = made.width_px, made.height_px
    ours = numpy.frombuffer(made.rgba, "u1").reshape(height, width, 4) / 255
    times = 8
    sized = re.sub(
        r'width="[^"]+" height="[^"]+"', f'width="{times * width}" height="{times * height}"', data.decode(), count=1
    )
    large = Image.open(io.BytesIO(resvg_py.svg_to_bytes(svg_string=sized, skip_system_fonts=True))).convert("RGBA")
    theirs = numpy.array(large).reshape(height, times, width, times, 4) / 255
    alpha = theirs[..., 3:].mean((1, 3))
    light = (theirs[..., :3] * theirs[..., 3:]).mean((1, 3))
    # resvg leaves faint seams between regions and has 8 x 8 soft points to a pixel.
    assert numpy.abs(alpha - ours[..., 3:]).max() < 0.08 and numpy.abs(alpha - ours[..., 3:]).mean() < 0.001
    assert (
        numpy.abs(light - ours[..., :3] * ours[..., 3:]).max() < 0.08
        and numpy.abs(light - ours[..., :3] * ours[..., 3:]).mean() < 0.001
    )


@pytest.mark.parametrize(("width", "height"), [(14, 14), (0.5, 0.5), (400, 1), (1, 400), (27.5, 11), (400, 400)])
def test_the_size_in_pixels_is_bounded_and_in_proportion(width, height):
    across, down = size_px(Outlines(width, height, (0, 0, width, height), (Shape("#000000", (), True),)))
    assert across * down <= 1.01 * DRAWN_PX and max(across, down) <= LONGEST_PX
    assert across / down == pytest.approx(width / height, rel=0.06)
