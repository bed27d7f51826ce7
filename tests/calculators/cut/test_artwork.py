"""Which regions artwork has: of drawn outlines by shapely, of the colours of a picture by their geometry."""

import io
import math
from itertools import pairwise

import pytest
from PIL import Image, ImageDraw
from shapely import MultiPolygon, Polygon, box

from calculators.cut.traced import from_picture
from calculators.files.picture import read_picture
from calculators.pixels.raster import raster_of
from calculators.pixels.white_areas import areas
from calculators.values import in_one_go
from tests.calculators.cut.cut_artwork import GRID, of_svg, region

#: Drawn eight times as large and reduced, so that edges have the shades of their coverage.
TIMES = 8
RED, NAVY, WHITE = "#c63f2b", "#1f3b4d", "#ffffff"


def picture_of(shapes, width=240, height=160, ground=WHITE):
    """Return the raster of discs (colour, x, y, radius in pixels), later ones over earlier ones."""
    image = Image.new("RGB", (width * TIMES, height * TIMES), ground)
    draw = ImageDraw.Draw(image)
    for colour, x, y, radius in shapes:
        corners = [(each + side * radius) * TIMES for side in (-1, 1) for each in (x, y)]
        draw.ellipse(corners, fill=colour)
    stream = io.BytesIO()
    image.resize((width, height), Image.Resampling.BOX).save(stream, "PNG")
    return raster_of(read_picture("discs.png", stream.getvalue(), wanted=True))


def of_picture(raster, width_mm, marks=""):
    return in_one_go(from_picture(raster, in_one_go(areas(raster, marks)).meaning(), width_mm))


def test_what_is_seen_of_drawn_shapes_is_what_no_later_one_covers():
    artwork = of_svg(
        f'<path fill="{RED}" d="M1 1H11V11H1Z"/><path fill="{NAVY}" d="M6 6H16V16H6Z"/>'
        f'<path fill="{RED}" d="M14 14H19V19H14Z"/>',
        20,
        20,
    )
    red = (box(1, 1, 11, 11) - box(6, 6, 16, 16)) | box(14, 14, 19, 19)
    assert region(artwork.plane, artwork.colours[RED]).symmetric_difference(red).area < 100 * GRID
    navy = box(6, 6, 16, 16) - box(14, 14, 19, 19)
    assert region(artwork.plane, artwork.colours[NAVY]).symmetric_difference(navy).area < 100 * GRID


def test_what_lies_outside_the_drawing_is_not_cut():
    artwork = of_svg(f'<path fill="{RED}" d="M-5 -5H8V8H-5Z"/>', 10, 10)
    assert region(artwork.plane, artwork.colours[RED]).symmetric_difference(box(0, 0, 8, 8)).area < 100 * GRID


@pytest.mark.parametrize(("mark", "is_white"), [("2 wanted", True), ("2 hole", False), ("2 background", False)])
def test_a_white_field_is_what_it_was_marked_as(mark, is_white):
    shapes = f'<path fill="{RED}" d="M1 1H19V11H1Z"/><path fill="{WHITE}" d="M4 4H16V8H4Z"/>'
    artwork = of_svg(shapes, 20, 12, mark)
    white = region(artwork.plane, artwork.white)
    assert white.symmetric_difference(box(4, 4, 16, 8) if is_white else Polygon()).area < 100 * GRID
    assert region(artwork.plane, artwork.coloured).area == pytest.approx(18 * 10 - 12 * 4, abs=100 * GRID)


def test_an_empty_field_that_is_wanted_white_counts_as_white():
    """A drawing made for white paper leaves its white out."""
    shapes = f'<path fill="{RED}" fill-rule="evenodd" d="M1 1H19V11H1ZM4 4H16V8H4Z"/>'
    white = region((artwork := of_svg(shapes, 20, 12, "2 wanted")).plane, artwork.white)
    assert white.symmetric_difference(box(4, 4, 16, 8)).area < 100 * GRID


def test_colours_of_a_picture_are_cut_at_the_width_that_is_typed():
    """Discs of 60 and 30 px in a picture of 240 px that is 60 mm wide: radii of 15 and 7.5 mm."""
    raster = picture_of([(RED, 80, 80, 60), (NAVY, 80, 80, 30), (NAVY, 200, 80, 30)])
    artwork = of_picture(raster, 60)
    assert artwork.size == 60 + 40j and not artwork.white
    navy, red = (region(artwork.plane, artwork.colours[each]) for each in (NAVY, RED))
    assert isinstance(navy, MultiPolygon) and len(navy.geoms) == 2
    assert navy.area == pytest.approx(2 * math.pi * 7.5**2, rel=0.005)
    assert red.area == pytest.approx(math.pi * (15**2 - 7.5**2), rel=0.005)
    # They share their border, point by point.
    assert region(artwork.plane, artwork.coloured).area == pytest.approx(red.area + navy.area, abs=100 * GRID)


@pytest.mark.parametrize(("mark", "is_white"), [("2 wanted", True), ("2 hole", False)])
def test_a_white_field_of_a_picture_is_what_it_was_marked_as(mark, is_white):
    raster = picture_of([(RED, 120, 80, 60), (WHITE, 120, 80, 30)])
    artwork = of_picture(raster, 60, mark)
    expected = math.pi * 7.5**2 if is_white else 0.0
    assert region(artwork.plane, artwork.white).area == pytest.approx(expected, rel=0.005)


def test_curves_of_a_large_drawing_are_followed_more_coarsely_but_within_5_micrometres():
    artwork = of_svg(f'<circle cx="200" cy="200" r="190" fill="{RED}"/>', 400, 400)
    (ring,) = artwork.colours[RED]
    assert len(ring) < 1500
    points = [*artwork.plane.polygon(ring)]
    middles = [(start + end) / 2 for start, end in pairwise(points)]
    # A cubic is itself up to 0.027 % of its radius off a circle (0.05 mm here), always outwards.
    assert all(189.995 <= abs(point - (200 + 200j)) <= 190.06 for point in (*points, *middles))
