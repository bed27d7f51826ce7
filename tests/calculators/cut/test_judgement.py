"""Places where a piece cannot be cut, on shapes whose widths and angles are known by construction."""

import math

import pytest

from calculators.cut.judgement import (
    CLEANLY,
    LOOSE,
    NOT_LIKE_THIS,
    SMALL_OPENING,
    SMALL_PIECE,
    WITH_CARE,
    Place,
    judged,
    narrow_places,
    necks,
    sharp_corners,
    small_places,
    touching_places,
)
from calculators.cut.plane import Plane
from calculators.shapes.offsets import as_pieces
from tests.calculators.shapes.offset_shapes import SHAPES, around, box, hole, polygon

PLANE = Plane([box(0, 0, 60, 60)], 10)


def flat(*rings):
    return PLANE.flat(rings)


def test_parts_narrower_than_the_limit_are_named_with_their_place():
    (place,) = narrow_places(PLANE, flat(box(1, 1, 8, 0.4), box(1, 5, 8, 0.6)), SMALL_OPENING, 0.5)
    assert place == Place(SMALL_OPENING, place.middle, place.size)
    assert place.middle == pytest.approx(5 + 1.2j, abs=1e-6) and place.size == pytest.approx(8, abs=1e-6)


def test_parts_that_are_small_all_round_are_named():
    found = list(small_places(PLANE, flat(box(1, 1, 1.4, 1.4), box(5, 1, 1.6, 0.4)), SMALL_PIECE, 1.5))
    assert [each.middle for each in found] == [pytest.approx(1.7 + 1.7j, abs=1e-6)]


def test_a_neck_is_found_where_it_is_and_only_if_it_is_too_narrow():
    dumb_bell = PLANE.flat(SHAPES["dumb-bell"])
    found = necks(PLANE, dumb_bell, 0.3)
    assert found and all(5 < each.middle.real < 9 for each in found)
    assert all(each.middle.imag == pytest.approx(2.5, abs=0.01) for each in found)
    assert all(each.size == pytest.approx(0.2, abs=1e-3) for each in found)
    assert not necks(PLANE, dumb_bell, 0.2)


def test_a_short_neck_between_two_discs_is_found():
    discs = [as_pieces(around(200, lambda _turn: 5, 10 + 10j)), as_pieces(around(200, lambda _turn: 5, 19.9 + 10j))]
    (place,) = necks(PLANE, flat(*discs), 3)
    assert place.size == pytest.approx(2 * math.sqrt(25 - 4.95**2), abs=0.02)
    assert place.middle.real == pytest.approx(14.95, abs=0.01) and abs(place.middle.imag - 10) < 0.01


def test_the_rim_between_two_openings_is_a_neck_of_the_stencil():
    stencil = flat(box(0, 0, 40, 20), hole(box(5, 5, 10, 10)), hole(box(15.6, 5, 10, 10)))
    found = necks(PLANE, stencil, 0.8)
    assert found and all(each.middle.real == pytest.approx(15.3, abs=0.01) for each in found)
    assert all(each.size == pytest.approx(0.6, abs=1e-3) and 5 < each.middle.imag < 15 for each in found)
    assert not necks(PLANE, stencil, 0.59)


@pytest.mark.parametrize(("degrees", "count"), [(20, 1), (24, 1), (26, 0), (60, 0)])
def test_a_corner_counts_as_sharp_by_its_angle(degrees, count):
    half = math.radians(degrees / 2)
    tip = flat(polygon((10, 30), (30, 30 - 20 * math.tan(half)), (30, 30 + 20 * math.tan(half))))
    found = list(sharp_corners(PLANE, tip, 25))
    assert [each.middle for each in found] == [pytest.approx(10 + 30j, abs=1e-6)] * count
    assert all(each.size == pytest.approx(degrees, abs=0.01) for each in found)


def test_a_tip_is_no_neck():
    for degrees in (25, 36, 60):
        half = math.radians(degrees / 2)
        tip = polygon((10, 30), (30, 30 - 20 * math.tan(half)), (30, 30 + 20 * math.tan(half)))
        assert not necks(PLANE, flat(tip), 0.8)


def test_a_fine_curve_has_no_sharp_corner():
    assert not list(sharp_corners(PLANE, flat(as_pieces(around(300, lambda _turn: 0.6, 5 + 5j))), 25))


def test_outlines_that_meet_are_found_where_they_meet():
    (place,) = touching_places(PLANE, flat(box(0, 0, 4, 4), box(4, 4, 4, 4)))
    assert place.middle == 4 + 4j


def test_the_verdict_follows_from_the_places():
    small = Place(SMALL_OPENING, 0j, 0.3)
    assert judged([], 3) == CLEANLY and judged([], 0) == NOT_LIKE_THIS
    assert judged([small], 3) == WITH_CARE and judged([small, small], 3) == NOT_LIKE_THIS
    assert judged([Place(LOOSE, 0j, 3)], 9) == NOT_LIKE_THIS
