"""Strokes against shapely's buffer of a line, which has the same joins and caps."""

import itertools

import pytest
from shapely.geometry import LinearRing, LineString

from calculators.shapes.strokes import Pen, TooManyDashes, stroked
from tests.calculators.shapes.test_set_operations import region

PLACES = [0j, 10 + 0j, 10 + 10j, 3 + 3j, 2 + 8j]
PIECES = list(itertools.pairwise(PLACES))
CAPS = {"butt": "flat", "round": "round", "square": "square"}
JOINS = {"round": "round", "miter": "mitre", "bevel": "bevel"}


def line(closed: bool):
    points = [(place.real, place.imag) for place in PLACES]
    return LinearRing(points) if closed else LineString(points)


@pytest.mark.parametrize("closed", [False, True])
@pytest.mark.parametrize("join", JOINS)
@pytest.mark.parametrize("cap", CAPS)
def test_strokes_have_shapelys_joins_and_caps(cap, join, closed):
    pieces = [*PIECES, (PLACES[-1], PLACES[0])] if closed else PIECES
    made = region(stroked([(pieces, closed)], Pen(2, cap, join, 30), 1e-4))
    expected = line(closed).buffer(1, quad_segs=200, cap_style=CAPS[cap], join_style=JOINS[join], mitre_limit=30)
    assert made.is_valid and made.symmetric_difference(expected).area < 0.002


def test_a_miter_over_its_limit_is_a_bevel():
    made, bevelled = (
        region(stroked([(PIECES, False)], Pen(2, "butt", join, 1.1), 1e-4)) for join in ("miter", "bevel")
    )
    assert made.equals(bevelled)


def test_dashes_are_as_long_as_the_pattern_says():
    rings = stroked([([(0j, 10 + 0j)], False)], Pen(1, dashes=(2.0, 1.0), dash_offset=0.5), 1e-3)
    assert sorted(min(piece[0].real for piece in ring) for ring in rings) == [0, 2.5, 5.5, 8.5]
    assert region(rings).area == pytest.approx(1.5 + 2 + 2 + 1.5)


def test_an_odd_pattern_is_repeated_with_gaps_for_dashes():
    assert region(stroked([([(0j, 12 + 0j)], False)], Pen(1, dashes=(1.0, 2.0, 3.0)), 1e-3)).area == pytest.approx(6)


def test_a_pattern_finer_than_anybody_draws_is_refused():
    with pytest.raises(TooManyDashes):
        stroked([([(0j, 12 + 0j)], False)], Pen(1, dashes=(1e-6,)), 1e-3)


@pytest.mark.parametrize(("cap", "area"), [("butt", 0), ("square", 4), ("round", 3.14159)])
def test_a_point_is_drawn_by_its_cap(cap, area):
    assert region(stroked([([(3 + 3j, 3 + 3j)], False)], Pen(2, cap), 1e-5)).area == pytest.approx(area, abs=1e-3)
