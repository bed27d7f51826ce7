"""Places where a piece cannot be cut, on shapes whose widths and angles are known by construction."""

import math

import pytest

from calculators.cut.judgement import (
    CLEANLY,
    LOOSE,
    NOT_LIKE_THIS,
    SMALL_OPENING,
    SMALL_PIECE,
    STARVED,
    THIN,
    WITH_CARE,
    Limits,
    Place,
    islands,
    judged,
    narrow_places,
    necks,
    places_in_loose_stencil,
    places_in_mask,
    places_in_piece,
    sharp_corners,
    small_places,
    touching_places,
)
from calculators.cut.plane import Plane
from calculators.shapes.offsets import as_pieces
from tests.calculators.cut.cut_artwork import bridged
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


def kinds(places):
    return [each.kind for each in places]


def test_an_adhesive_mask_holds_its_islands_and_names_the_small_ones():
    """Two rings: the island of one is 6 mm across, that of the other 1.2 mm."""
    sheet = flat(box(0, 0, 40, 20))
    openings = flat(box(2, 2, 12, 12), hole(box(5, 5, 6, 6)), box(20, 2, 6, 6), hole(box(22.4, 4.4, 1.2, 1.2)))
    alone = islands(PLANE, openings, sheet)
    assert len(alone) == 2
    (place,) = places_in_mask(PLANE, openings, sheet, alone, Limits())
    assert place.kind == SMALL_PIECE and place.middle == pytest.approx(23 + 5j, abs=1e-6)
    assert not places_in_mask(PLANE, openings, sheet, alone, Limits(smallest_piece=1.1))


def test_a_loose_stencil_is_clean_with_its_bridges_and_falls_apart_without():
    sheet = flat(box(0, 0, 40, 20))
    openings = flat(box(2, 2, 12, 12), hole(box(5, 5, 6, 6)))
    held = bridged(PLANE, openings, sheet, 0.8)
    assert not places_in_loose_stencil(PLANE, held, sheet, Limits())
    loose = bridged(PLANE, openings, sheet, 0.8, ", ".join(f"{each.number} off" for each in held.bridges))
    (place,) = places_in_loose_stencil(PLANE, loose, sheet, Limits())
    assert place.kind == LOOSE and place.middle == pytest.approx(8 + 8j, abs=1e-6)


def test_bridges_narrower_than_a_strip_may_be_are_named():
    sheet = flat(box(0, 0, 40, 20))
    openings = flat(box(2, 2, 12, 12), hole(box(5, 5, 6, 6)))
    held = bridged(PLANE, openings, sheet, 0.5)
    found = places_in_loose_stencil(PLANE, held, sheet, Limits())
    assert set(kinds(found)) == {THIN} and all(each.size == pytest.approx(0.5, abs=0.01) for each in found)
    assert all(min(abs(each.middle - bridge.middle) for bridge in held.bridges) < 2 for each in found)


def test_a_stencil_whose_bridges_cover_too_much_names_the_openings():
    """Narrow rings round large islands: bridges of 3 mm cover more than a tenth of each."""
    sheet = flat(box(0, 0, 40, 20))
    openings = flat(box(2, 2, 8, 8), hole(box(3, 3, 6, 6)), box(20, 2, 8, 8), hole(box(21, 3, 6, 6)))
    found = places_in_loose_stencil(PLANE, bridged(PLANE, openings, sheet, 3), sheet, Limits())
    starved = [each.middle for each in found if each.kind == STARVED]
    assert sorted(starved, key=lambda each: each.real) == [
        pytest.approx(6 + 6j, abs=1e-6),
        pytest.approx(24 + 6j, abs=1e-6),
    ]
    assert judged(found, 2) == NOT_LIKE_THIS


def test_a_backing_piece_names_small_parts_narrow_holes_and_necks():
    piece = flat(
        box(1, 1, 10, 10),
        hole(box(3, 3, 4, 0.3)),
        box(15, 1, 1, 1),
        box(20, 1, 5, 8),
        box(25, 4, 3, 0.4),
        box(28, 1, 5, 8),
    )
    found = places_in_piece(PLANE, piece, Limits())
    assert set(kinds(found)) == {SMALL_PIECE, SMALL_OPENING, THIN}
    by_kind = {each.kind: each for each in found}
    assert by_kind[SMALL_PIECE].middle == pytest.approx(15.5 + 1.5j, abs=1e-6)
    assert by_kind[SMALL_OPENING].middle == pytest.approx(5 + 3.15j, abs=1e-6)
    assert by_kind[THIN].size == pytest.approx(0.4, abs=0.01) and 25 < by_kind[THIN].middle.real < 28
    assert judged(found, len(piece)) == WITH_CARE
