"""Colour past the cut, and white plates of pixels and outlines, against shapely and slow loops over pixels."""

from __future__ import annotations

from math import dist, hypot

import pytest
from PIL import Image
from shapely import Point, Polygon, box, unary_union
from shapely.geometry.base import BaseGeometry

from calculators.cut.artwork import Meanings
from calculators.files.picture import read_picture
from calculators.pixels.white_areas import BARE, PRINTED, WHITE
from calculators.sheets.bleed import bleed_strips, carried, cut_holes, without_narrow_holes
from calculators.sheets.contents import content_of
from calculators.sheets.masks import white_rows
from calculators.sheets.model import Placement
from calculators.sheets.print_file import PrintOptions, print_file
from calculators.sheets.white_plate import Plate
from calculators.values import in_one_go
from tests.calculators.files.pdf_files import poppler, rendered
from tests.calculators.files.pdf_geometry import things
from tests.calculators.sheets.printed_sheets import contents, item, layout

#: Pixels by letter: bare, printed in two colours, wanted white.
LETTERS = {".": (BARE, (0, 0, 0, 0)), "r": (PRINTED, (200, 40, 30, 255)), "b": (PRINTED, (20, 40, 200, 255))}
LETTERS["w"] = (WHITE, (255, 255, 255, 255))
DRAWN = """
....................
....................
....rrrrrrrbbbbb....
....rrrrrrrbbbbb....
....rrr..rrbbbbb....
....rrr..rrbbbbb....
....rrrrrrrbbbbb....
....wwwwwwwbbbbb....
....wwwwwwwbbbbb....
....................
""".split()
WIDTH, HEIGHT = len(DRAWN[0]), len(DRAWN)


def enlarged(times):
    return ["".join(each * times for each in row) for row in DRAWN for _ in range(times)]


def meanings(pixel_mm=1.0, drawn=DRAWN):
    plane = bytes(LETTERS[each][0] for row in drawn for each in row)
    return Meanings(plane, len(drawn[0]), len(drawn), complex(pixel_mm, pixel_mm))


def rgba(drawn=DRAWN):
    return b"".join(bytes(LETTERS[each][1]) for row in drawn for each in row)


def printed_pixels(drawn=DRAWN):
    return {(x, y): letter for y, row in enumerate(drawn) for x, letter in enumerate(row) if letter != "."}


def around(own, x, y):
    """Return the bare places at most two pixels to the side of a place, or two up or down."""
    ways = [(x + off, y) for off in (-2, -1, 1, 2)] + [(x, y + off) for off in (-2, -1, 1, 2)]
    return [each for each in ways if each not in own]


# The enlarged picture is worked on in several stretches, with whole colours between them.
@pytest.mark.parametrize(("reach", "times"), [(1, 1), (3, 1), (7, 1), (1, 3)])
def test_pixels_are_carried_to_what_is_near_and_no_further(reach, times):
    drawn = enlarged(times)
    made = carried(rgba(drawn), meanings(drawn=drawn), reach)
    width, height = len(drawn[0]), len(drawn)
    wide = width + 2 * reach
    own = printed_pixels(drawn)
    for y in range(-reach, height + reach):
        for x in range(-reach, width + reach):
            at = 4 * ((y + reach) * wide + x + reach)
            pixel = tuple(made[at : at + 4])
            if (x, y) in own:
                # Its own colour at the edges, so that no light line shows, and nothing inside.
                beside = {(x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)}
                assert pixel in (LETTERS[own[x, y]][1], (0, 0, 0, 0)), (x, y)
                assert pixel[3] or beside <= own.keys(), (x, y)
                assert not pixel[3] or around(own, x, y), (x, y)
                continue
            nearest = min(own, key=lambda each: dist(each, (x, y)))
            far = dist(nearest, (x, y))
            # To the sides it goes as far as it should, and into the corners of a square.
            assert pixel[3] == 255 or far > reach, (x, y)
            assert pixel[3] == 0 or min(max(abs(x - one), abs(y - other)) for one, other in own) <= reach, (x, y)
            if pixel[3] and far < reach:
                near = {LETTERS[own[each]][1] for each in own if dist(each, (x, y)) <= far * 1.5 + 1}
                assert pixel in near, (x, y)
    assert len(made) == 4 * wide * (height + 2 * reach)


@pytest.mark.parametrize("choke", [0.0, 1.0, 1.5, 2.3])
def test_white_of_pixels_is_choked_by_the_distance_from_edges_of_colour_alone(choke):
    rows = white_rows(meanings(), choke)
    seen = {
        (x, y) for y in range(HEIGHT) for x in range(WIDTH) if rows[y * ((WIDTH + 7) // 8) + x // 8] >> 7 - x % 8 & 1
    }
    own = printed_pixels()
    edges = {
        (x, y)
        for y in range(-1, HEIGHT + 1)
        for x in range(-1, WIDTH + 1)
        if (x, y) not in own
        and any(own.get(each, ".") in "rb" for each in ((x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)))
    }
    expected = {
        place
        for place, letter in own.items()
        if letter == "w"
        or not choke
        or all(hypot(place[0] - edge[0], place[1] - edge[1]) > choke + 0.5 for edge in edges)
    }
    assert seen == expected


def plate_region(data) -> BaseGeometry:
    (made,) = [each for each in things(data) if each.colour[0] == "/Separation"]
    # The rings come one after another; each closed ring begins where a point comes again.
    rings, ring = [], []
    for point in made.points:
        ring.append((point.real, point.imag))
        if len(ring) > 1 and ring[0] == ring[-1]:
            rings.append(Polygon(ring))
            ring = []
    return unary_union(rings)


def test_plate_of_outlines_is_choked_under_colour_and_whole_at_visible_white():
    choke = 0.2
    options = PrintOptions("t", "d", plate=Plate("White", choke))
    data = in_one_go(print_file([layout(Placement(item("plate"), 1, 20 + 20j))], contents(), options))
    region = plate_region(data)
    white, colour = box(21, 21, 24, 29), box(24, 21, 39, 29)
    edge = colour.boundary.difference(white.boundary.buffer(1e-9)).difference(white.buffer(1e-9))
    expected = unary_union([white, colour]).difference(edge.buffer(choke, quad_segs=64)).union(white)
    assert region.hausdorff_distance(expected) <= 0.005
    # Unchoked: the left edge of the white rim is the very line.
    left = [point for point in region.exterior.coords if point[0] < 21.5]
    assert {round(point[0], 6) for point in left} == {21.0}
    # Choked: every point of the right and lower edges lies at the choke, within 0.005 mm.
    for x, y in region.exterior.coords:
        if x > 24.5 + choke:
            assert abs(edge.distance(Point(x, y)) - choke) <= 0.005


def test_plate_of_an_opaque_picture_is_its_box_choked_all_round():
    options = PrintOptions("t", "d", plate=Plate("White", 0.2))
    data = in_one_go(print_file([layout(Placement(item("photo"), 1, 20 + 20j))], contents(), options))
    assert plate_region(data).hausdorff_distance(box(20.2, 20.2, 37.8, 31.8)) <= 0.005


@poppler
def test_white_film_gets_colour_past_the_cut_but_none_beside_wanted_white(tmp_path):
    sheet = layout(
        Placement(item("plate", film="white", bleed=1.0, rim=0.0, tab=0.0), 1, 20 + 20j),
        Placement(item("emblem", film="white", bleed=1.0, rim=0.0, tab=0.0), 1, 60 + 20j),
        Placement(item("photo", film="white", bleed=1.0, rim=0.0, tab=0.0), 1, 90 + 20j),
        film="white",
    )
    data = in_one_go(print_file([sheet], contents(), PrintOptions("t", "d")))
    seen: Image.Image = rendered(data, tmp_path, 508)

    def at(x, y):
        return seen.getpixel((round(x * 20), round(y * 20)))

    red, blue, nothing = (198, 63, 43), (31, 59, 77), (255, 255, 255)
    assert at(39.9, 23) == red and at(39.9, 28.5) == blue and at(30, 20.1) == red and at(30, 29.9) == blue
    # Beyond the reach, in the wanted white, and past the white rim there is none.
    for place in ((40.1, 23), (30, 19.8), (32, 24), (22, 25), (20.5, 25), (22, 20.5)):
        assert at(*place) == nothing, place
    orange, green = (230, 120, 20), (20, 120, 60)
    # The emblem's fields go from 62.5, 22.5 to 72.5, 32.5, the green one is its lower left quarter.
    assert at(62.3, 25) == at(61.6, 25) == orange and at(62.3, 31) == at(61.6, 31) == green
    assert at(61.2, 25) == nothing
    # No light line between picture and bleed.
    assert all(at(61.7 + step / 20, 25)[2] < 60 for step in range(30))
    # The photograph fills its box, and its outermost pixels go on.
    assert at(89.5, 26) == at(89.2, 26) != nothing


def stripes(white="", gap=2.0):
    """Return a plate of 12 x 6 mm in a box of 16 x 10: stripes of two colours, 1 mm wide, with a hole in the middle."""
    bars = "".join(
        f'<path fill="{"#e6b422" if x % 2 else "#1c2226"}" fill-rule="evenodd" d="M{2 + x} 2h1v6h-1Z"/>'
        for x in range(12)
    )
    hole = f'<path fill="#ffffff" d="M{8 - gap / 2} {5 - gap / 2}h{gap}v{gap}h-{gap}Z"/>'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="16mm" height="10mm" viewBox="0 0 16 10">{bars}{hole}</svg>'
    drawing = read_picture("stripes.svg", svg.encode(), wanted=True, or_outlines=True)
    return in_one_go(content_of(drawing, 16, marks=white))


def test_strips_continue_each_colour_at_right_angles():
    content = stripes("2 hole")
    made = {
        colour: unary_union([Polygon([(point.real, point.imag) for point in each]) for each in polygons])
        for colour, polygons in bleed_strips(content.white, 1.0)
    }
    # Above the upper edge, y 1 to 2, each stripe has just its own colour.
    for x in range(12):
        above = box(2 + x + 0.01, 1.01, 3 + x - 0.01, 1.99)
        own, other = ("#e6b422", "#1c2226") if x % 2 else ("#1c2226", "#e6b422")
        assert above.difference(made[own]).area < 1e-6
        assert above.intersection(made[other]).area < 1e-6 or x in (0, 11)
    whole = unary_union(list(made.values()))
    outside = box(2, 2, 14, 8).buffer(1.0, quad_segs=64).difference(box(2, 2, 14, 8))
    # All that lies within 1 mm of the edge, rounded at the corners, and no more.
    assert outside.difference(whole).area < 0.01
    assert whole.difference(box(2, 2, 14, 8).buffer(1.001, quad_segs=256)).area < 1e-4


def test_only_holes_that_can_be_cut_out_get_colour_past_their_edges():
    wide, narrow = cut_holes(stripes("2 hole", gap=3.0).white, 1.0)
    assert len(wide) == 1 and not narrow
    wide, narrow = cut_holes(stripes("2 hole", gap=1.5).white, 1.0)
    assert not wide and len(narrow) == 1
    wide, narrow = cut_holes(stripes("2 wanted", gap=3.0).white, 1.0)
    assert not wide and not narrow


def test_narrow_holes_of_pixels_stay_white():
    # The hole of two by two pixels is narrower than twice a bleed of 2, and as wide as twice one of 1.
    assert without_narrow_holes(meanings(), 1).plane == meanings().plane
    plane = without_narrow_holes(meanings(), 2).plane
    changed = [place for place, (one, other) in enumerate(zip(meanings().plane, plane, strict=True)) if one != other]
    assert [(place % WIDTH, place // WIDTH) for place in changed] == [(7, 4), (8, 4), (7, 5), (8, 5)]
    assert {plane[place] for place in changed} == {WHITE}
