"""Four pairs of points determine a projective transform; points that cannot show a rectangle are refused."""

from itertools import permutations
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.shapes.homography import Crossed, DentedIn, OnOneLine, check_corners, drift, homography
from calculators.shapes.transforms import mapped

SQUARE = [(0, 0), (1, 0), (1, 1), (0, 1)]
#: A point moved at random about each corner of a 1000 px square: always convex.
SPREAD = st.lists(st.tuples(st.floats(-240, 240), st.floats(-240, 240)), min_size=4, max_size=4)


def quadrilateral(spread):
    return [(1000 * x + dx, 1000 * y + dy) for (x, y), (dx, dy) in zip(SQUARE, spread, strict=True)]


@given(SPREAD, SPREAD)
def test_corners_go_where_they_should(sources, targets):
    sources, targets = quadrilateral(sources), quadrilateral(targets)
    check_corners(sources)
    matrix = homography(sources, targets)
    assert all(dist(mapped(matrix, a), b) < 1e-6 for a, b in zip(sources, targets, strict=True))


@given(SPREAD)
def test_straight_lines_stay_straight(spread):
    """The diagonals of any view of a square cross at the image of its centre."""
    corners = quadrilateral(spread)
    x, y = mapped(homography(SQUARE, corners), (0.5, 0.5))
    for (x0, y0), (x1, y1) in ((corners[0], corners[2]), (corners[1], corners[3])):
        off_line = ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / dist((x0, y0), (x1, y1))
        assert abs(off_line) < 1e-6


@given(st.tuples(st.floats(-0.5, 1.5), st.floats(-0.5, 1.5)))
def test_drift_equals_the_effect_of_a_moved_corner(point):
    step = 1e-6
    for place, corner in enumerate(SQUARE):
        for move in ((1, 0), (0, 1), (0.6, -0.8)):
            moved = list(SQUARE)
            moved[place] = (corner[0] + step * move[0], corner[1] + step * move[1])
            there = mapped(homography(SQUARE, moved), point)
            expected = [(a - b) / step for a, b in zip(there, point, strict=True)]
            assert drift(corner, move, point) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize("turned", range(4))
@pytest.mark.parametrize("order", [(0, 1, 2, 3), (3, 2, 1, 0)])
def test_any_corner_may_be_first_and_either_way_round(order, turned):
    corners = [(100 * SQUARE[place][0], 60 * SQUARE[place][1]) for place in order]
    check_corners(corners[turned:] + corners[:turned])


@given(SPREAD)
def test_crossed_corners_are_reported_with_a_working_swap(spread):
    corners, crossed = quadrilateral(spread), 0
    for order in permutations(range(4)):
        mixed = [corners[place] for place in order]
        try:
            check_corners(mixed)
        except Crossed as trouble:
            crossed += 1
            one, other = trouble.places
            mixed[one], mixed[other] = mixed[other], mixed[one]
            check_corners(mixed)
    assert crossed == 16  # of 24 orders, 4 starting corners x 2 directions are right


def test_three_corners_on_a_line_are_reported():
    for corners, place in (
        ([(0, 0), (50, 0.5), (100, 0), (50, 80)], 1),
        ([(0, 0), (0, 0), (100, 0), (50, 80)], 0),
        ([(0, 0), (100, 0), (0, 0), (50, 80)], 1),
        ([(5, 5)] * 4, 0),
    ):
        with pytest.raises(OnOneLine) as refused:
            check_corners(corners)
        assert refused.value.places == (place,)


def test_a_corner_between_the_others_is_reported():
    with pytest.raises(DentedIn) as refused:
        check_corners([(0, 0), (100, 0), (30, 30), (0, 100)])
    assert refused.value.places == (2,)
