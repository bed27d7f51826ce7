"""Spread and choke against shapely's buffer with round joins and fine segments, and by their own laws."""

import math
import time

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from calculators.shapes.grid import flattened
from calculators.shapes.offsets import Moved, as_pieces, choke, spread
from tests.calculators.cut.cut_artwork import of_file
from tests.calculators.shapes.offset_shapes import SHAPES, around

#: Of the result's perimeter in mm, and of its area.
OFF_MM, OFF_SHARE = 0.005, 1e-6
SEGMENTS = 64


def plain(ring) -> Polygon:
    return Polygon([(point.real, point.imag) for point in ring])


def region(rings) -> BaseGeometry:
    """Return what rings fill that neither cross nor overlap: what lies in an odd number of them."""
    made: BaseGeometry = Polygon()
    for ring in sorted((plain(each) for each in rings), key=lambda each: -each.area):
        made = made.symmetric_difference(ring)
    return made


def filled(rings) -> BaseGeometry:
    """Return what rings fill by winding."""
    return region(spread(rings, 0).rings)


def assert_close(moved: Moved, expected: BaseGeometry) -> None:
    made = region(moved.rings)
    assert made.is_valid and all(plain(ring).is_valid for ring in moved.rings)
    assert made.symmetric_difference(expected).area <= OFF_MM * expected.length + OFF_SHARE * expected.area


def test_filled_shapes_are_those_of_shapely():
    """What the other tests start from: holes and overlaps, filled by winding."""
    for name in ("frame", "overlapping squares", "R", "8", "shaded figures"):
        outers, holes = [], []
        for ring in SHAPES[name]:
            points = flattened(ring, 1e-4)
            made = plain(points)
            (
                outers if made.exterior.is_ccw == plain(flattened(SHAPES[name][0], 1e-4)).exterior.is_ccw else holes
            ).append(made)
        expected = unary_union(outers) - unary_union(holes)
        assert filled(SHAPES[name]).symmetric_difference(expected).area < 2e-4 * expected.length, name


@pytest.mark.parametrize("distance", [0.05, 0.2, 0.7, 2.0])
@pytest.mark.parametrize("name", SHAPES)
def test_spread_is_shapelys_buffer(name, distance):
    expected = filled(SHAPES[name]).buffer(distance, quad_segs=SEGMENTS)
    assert_close(spread(SHAPES[name], distance), expected)


@pytest.mark.parametrize("distance", [0.05, 0.2, 0.7, 2.0])
@pytest.mark.parametrize("name", SHAPES)
def test_choke_is_shapelys_buffer_inwards(name, distance):
    expected = filled(SHAPES[name]).buffer(-distance, quad_segs=SEGMENTS)
    assert_close(choke(SHAPES[name], distance), expected)


def test_traced_artwork_moves_as_shapelys_buffer():
    """Gold and brown of the crest as they are traced from 200 pixels: rings, thin lines and specks."""
    artwork = of_file("crest-200px.png", 14)
    for colour, distances in (("#c8993a", (0.05, 0.7)), ("#5a4632", (0.2, 2.0))):
        rings = [as_pieces(artwork.plane.polygon(ring)) for ring in artwork.colours[colour]]
        whole = region([artwork.plane.polygon(ring) for ring in artwork.colours[colour]])
        for distance in distances:
            assert_close(spread(rings, distance), whole.buffer(distance, quad_segs=SEGMENTS))
            assert_close(choke(rings, distance), whole.buffer(-distance, quad_segs=SEGMENTS))


@pytest.mark.parametrize("distance", [0.05, 0.3, 1.0])
@pytest.mark.parametrize("name", SHAPES)
def test_parts_that_vanish_are_those_that_shapely_loses(name, distance):
    whole = filled(SHAPES[name])
    vanished = choke(SHAPES[name], distance).vanished
    lost = list(getattr(whole, "geoms", [whole]))
    surely = sum(part.buffer(-distance + OFF_MM, quad_segs=SEGMENTS).is_empty for part in lost)
    perhaps = sum(part.buffer(-distance - OFF_MM, quad_segs=SEGMENTS).is_empty for part in lost)
    assert surely <= len([ring for ring in vanished if plain(ring).exterior.is_ccw]) <= perhaps


def test_holes_that_a_spread_closes_are_listed():
    assert len(spread(SHAPES["frame"], 1.9).vanished) == 0
    assert len(spread(SHAPES["frame"], 2.1).vanished) == 1
    assert len(spread(SHAPES["sieve"], 0.6).vanished) == 6


def test_convex_corners_stay_sharp_under_a_choke_and_round_under_a_spread():
    inside = choke(SHAPES["square"], 1).rings
    assert len(inside) == 1 and sorted((p.real, p.imag) for p in inside[0]) == [(1, 1), (1, 9), (9, 1), (9, 9)]
    outside = region(spread(SHAPES["square"], 1).rings)
    assert outside.area == pytest.approx(100 + 40 + math.pi, abs=1e-3)


def test_a_tip_of_36_degrees_draws_back_as_far_as_its_angle_says():
    """0.15 mm / sin 18 degrees = 0.49 mm."""
    tip = as_pieces([0j, 10 - 10j * math.tan(math.radians(18)), 10 + 10j * math.tan(math.radians(18))])
    assert min(point.real for point in choke([tip], 0.15).rings[0]) == pytest.approx(0.4854, abs=1e-3)


def test_an_outline_of_5000_segments_is_choked_in_2_s():
    ring = as_pieces(around(5000, lambda turn: 20 + 3 * math.sin(11 * turn)))
    started = time.process_time()
    choke([ring], 0.2)
    # Of the processor; a slow machine gets as much longer as it takes for a million squares (0.06 s is usual).
    took_s, started = time.process_time() - started, time.process_time()
    sum(number * number for number in range(1_000_000))
    assert took_s <= 2 * max(1.0, (time.process_time() - started) / 0.06)


@pytest.mark.parametrize("distance", [-0.1])
def test_a_negative_distance_is_refused(distance):
    for move in (spread, choke):
        with pytest.raises(ValueError, match="never negative"):
            move(SHAPES["square"], distance)


places = st.builds(complex, st.floats(0, 20), st.floats(0, 20))
lines = st.lists(places, min_size=3, max_size=9)
some_mm = st.floats(0.05, 2)


@settings(max_examples=15, deadline=None)
@given(st.lists(lines, min_size=1, max_size=2), some_mm, some_mm)
# Smaller than any unit of a grid.
@example([[0j, 0j, 5e-324j]], 1.0, 1.0)
def test_two_spreads_are_one_by_their_sum_and_two_chokes_likewise(shape, one, two):
    rings = [as_pieces(ring) for ring in shape]
    for move in (spread, choke):
        twice = move([as_pieces(ring) for ring in move(rings, one).rings], two)
        assert_close(twice, region(move(rings, one + two).rings))


@settings(max_examples=15, deadline=None)
@given(st.lists(lines, min_size=1, max_size=2), some_mm)
def test_closing_contains_the_shape_and_opening_lies_in_it(shape, distance):
    rings = [as_pieces(ring) for ring in shape]
    whole = filled(rings)
    closed = region(choke([as_pieces(ring) for ring in spread(rings, distance).rings], distance).rings)
    opened = region(spread([as_pieces(ring) for ring in choke(rings, distance).rings], distance).rings)
    assert (whole - closed.buffer(0.001)).area < 1e-6
    assert (opened - whole.buffer(0.001)).area < 1e-6
