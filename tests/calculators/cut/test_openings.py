"""White beneath artwork and colours under one another, against shapely's buffers of the artwork's own edges."""

import math
from functools import cache

import pytest
from shapely import Point, Polygon, line_interpolate_point, line_merge, prepare, unary_union

from calculators.cut.openings import beneath, cut_outs, edges_of_colour, light_to_dark, outline, painted
from tests.calculators.cut.cut_artwork import DRAWN, GRID, drawn, of_file, of_svg, region

CHOKE = 0.2
#: How far an opening may lie from where it belongs, in mm.
OFF_MM = 0.005
#: What lies within so many mm of wanted white is no edge towards what is bare.
BESIDE = 1e-4
SEGMENTS = 16
#: An area in mm² that counts as nothing where two regions are compared.
NOTHING_MM2 = 2e-4

ARTWORK = {
    "crest as outlines": lambda: of_file("crest-left.svg", 14),
    "crest traced from pixels": lambda: of_file("crest-200px.png", 14),
    "door notices": lambda: of_file("door-notices.svg", 30),
    **{name: (lambda name=name: drawn(name)) for name in DRAWN},
}


@cache
def edges(name):
    """Return colour, white, and the lines where colour meets what is bare, by shapely."""
    artwork = ARTWORK[name]()
    coloured = unary_union([region(artwork.plane, flat) for flat in artwork.colours.values()], grid_size=GRID)
    white = region(artwork.plane, artwork.white)
    # Where three regions meet, rounding leaves gaps of some square micrometres.
    parts = getattr(union := coloured | white, "geoms", [union])
    whole = [
        Polygon(part.exterior, [each for each in part.interiors if Polygon(each).area > NOTHING_MM2]) for part in parts
    ]
    return coloured, white, line_merge(unary_union([part.boundary for part in whole]) - white.buffer(BESIDE))


def along(line, every=0.3):
    """Return points along lines, ``every`` mm."""
    return [
        line_interpolate_point(each, place * every)
        for each in getattr(line, "geoms", [line])
        for place in range(math.ceil(each.length / every))
    ]


@pytest.mark.parametrize("name", ARTWORK)
def test_white_beneath_keeps_its_visible_edges_and_is_choked_elsewhere(name):
    artwork = ARTWORK[name]()
    coloured, white, bare_edges = edges(name)
    made = region(artwork.plane, beneath(artwork, CHOKE).flat)
    expected = white | (coloured - bare_edges.buffer(CHOKE, quad_segs=SEGMENTS))
    assert made.is_valid and expected.area > 1
    assert (made - expected.buffer(OFF_MM)).area < NOTHING_MM2
    assert (expected - made.buffer(OFF_MM)).area < NOTHING_MM2


@pytest.mark.parametrize("name", ARTWORK)
def test_each_point_of_an_opening_lies_where_its_edge_belongs(name):
    artwork = ARTWORK[name]()
    coloured, white, bare_edges = edges(name)
    white_edges = white.boundary - coloured.buffer(BESIDE)
    made = region(artwork.plane, beneath(artwork, CHOKE).flat)
    meetings = (bare_edges.buffer(2 * CHOKE) & white_edges.buffer(2 * CHOKE)).buffer(OFF_MM)
    for each in (meetings, white, white_edges, bare_edges):
        prepare(each)
    for point in along(made.boundary):
        far = point.distance(bare_edges)
        assert (
            point.distance(white_edges) <= OFF_MM
            or abs(far - CHOKE) <= OFF_MM
            # Colour narrower than the choke: wanted white beside it keeps its size all the same.
            or (far < CHOKE and point.distance(white) <= OFF_MM)
            or meetings.contains(point)
        ), (point, far)
    for point in along(white_edges - bare_edges.buffer(2 * CHOKE)):
        assert point.distance(made.boundary) <= OFF_MM


def test_white_beneath_is_choked_far_as_it_is_near():
    artwork = drawn("half-bordered plate")
    fine = of_svg(
        '<circle cx="10" cy="6" r="5" fill="#c63f2b"/><circle cx="12" cy="6" r="5" fill="#ffffff"/>', 20, 12, "2 wanted"
    )
    for each, choke in ((artwork, 0.9), (fine, 2.0)):
        made = region(each.plane, beneath(each, choke).flat)
        coloured, white = region(each.plane, each.coloured), region(each.plane, each.white)
        expected = white | (coloured - (coloured.boundary - white.buffer(BESIDE)).buffer(choke, quad_segs=SEGMENTS))
        assert (made - expected.buffer(OFF_MM)).area < NOTHING_MM2
        assert (expected - made.buffer(OFF_MM)).area < NOTHING_MM2


def test_edges_of_colour_are_those_towards_what_is_bare():
    for name in DRAWN:
        artwork = drawn(name)
        _coloured, _white, expected = edges(name)
        length = sum(
            abs(end - start)
            for line in edges_of_colour(artwork)
            for start, end in zip(line.points, line.points[1:], strict=False)
        )
        assert length == pytest.approx(expected.length, abs=0.01), name


def test_colour_too_narrow_for_white_beneath_is_listed():
    assert len(beneath(drawn("thinly outlined disc"), 0.31).vanished) == 1
    assert not beneath(drawn("thinly outlined disc"), 0.29).vanished
    two = of_svg('<path fill="#1f3b4d" d="M1 1H9V5H1ZM1 7H9V7.3H1Z"/>', 10, 9)
    assert [len(part.outer) for part in beneath(two, CHOKE).vanished] == [4]


def test_white_beneath_without_choke_is_all_that_is_not_bare():
    artwork = drawn("hairline white rim")
    made = region(artwork.plane, beneath(artwork, 0).flat)
    whole = region(artwork.plane, artwork.printed)
    assert made.symmetric_difference(whole).area < OFF_MM * whole.length


def test_each_colour_goes_on_beneath_darker_ones_and_nowhere_else():
    for name in ("door notices", "half-bordered plate"):
        artwork = ARTWORK[name]()
        own = {colour: region(artwork.plane, flat) for colour, flat in artwork.colours.items()}
        own["#ffffff"] = region(artwork.plane, artwork.white)
        order = light_to_dark(list(own))
        made = list(painted(artwork, CHOKE))
        assert [colour for colour, _opening in made] == order and order[0] == "#ffffff"
        for place, (colour, opening) in enumerate(made):
            darker = unary_union([own[each] for each in order[place + 1 :]])
            whole = region(artwork.plane, opening.flat)
            expected = own[colour] | (own[colour].buffer(CHOKE, quad_segs=SEGMENTS) & darker)
            # What lies across a gap does not touch its colour, and is left out.
            expected = unary_union(
                [each for each in getattr(expected, "geoms", [expected]) if each.intersects(own[colour].buffer(BESIDE))]
            )
            assert (whole - expected.buffer(OFF_MM)).area < NOTHING_MM2, (name, colour)
            assert (expected - whole.buffer(OFF_MM)).area < NOTHING_MM2, (name, colour)


def test_no_gap_opens_between_colours_that_are_shifted_by_half_their_spread():
    artwork = drawn("half-bordered plate")
    lower, upper = (region(artwork.plane, opening.flat) for _colour, opening in painted(artwork, CHOKE))
    border = region(artwork.plane, artwork.white).boundary & region(artwork.plane, artwork.colours["#c63f2b"]).boundary
    covered = lower | upper.buffer(-CHOKE / 2)
    assert border.length > 10
    assert all(covered.contains(point.buffer(CHOKE / 4)) for point in along(border.buffer(1e-6).intersection(border)))


def test_a_hair_between_two_colours_is_no_hole_and_a_slit_is_one():
    for wide, rings in ((0.03, 1), (0.06, 2)):
        artwork = of_svg(
            f'<path fill="#1f3b4d" d="M1 1H9V5H1Z"/><path fill="#c63f2b" d="M1 5H4V{5 + wide}H6V5H9V9H1Z"/>', 10, 10
        )
        assert len(beneath(artwork, 0).flat) == rings
        assert len(edges_of_colour(artwork)) == rings


def test_outline_of_a_marking_goes_round_it_at_its_rim_and_over_its_holes():
    artwork = drawn("hairline white rim")
    made = region(artwork.plane, outline(artwork, 0.5).flat)
    assert made.symmetric_difference(Point(10, 6).buffer(5.5, quad_segs=128)).area < OFF_MM * made.length


def test_cut_outs_are_the_holes_within_their_rim():
    artwork = drawn("hairline white rim")
    made = region(artwork.plane, cut_outs(artwork, 0.3).flat)
    assert made.bounds == pytest.approx((8.3, 5.3, 11.7, 6.7), abs=OFF_MM)
    assert len(cut_outs(artwork, 1.1).vanished) == 1 and not cut_outs(artwork, 1.1).flat
