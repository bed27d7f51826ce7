"""The border of two paints across a picture, against a fine grid of points and by counting."""

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.shapes.border import Border

BORDERS = st.builds(Border, st.integers(1, 40), st.integers(1, 40), st.floats(0, 100), st.floats(-180, 180))


def area(polygon):
    """The area of a polygon, by the cross products of its corners."""
    x, y = numpy.array(polygon or [(0.0, 0.0)]).T
    return abs(float(numpy.dot(x, numpy.roll(y, -1)) - numpy.dot(y, numpy.roll(x, -1)))) / 2


@settings(max_examples=200, deadline=None)
@given(border=BORDERS)
def test_border_areas_match_a_grid_of_points(border):
    left, top, right, bottom = box = (-3.0, -2.0, border.width + 3.0, border.height + 2.0)
    steps = 300
    x, y = numpy.meshgrid(
        *(low + (numpy.arange(steps) + 0.5) * (high - low) / steps for low, high in ((left, right), (top, bottom)))
    )
    across, down = border.normal
    off = x * across + y * down - border.limit
    whole = (right - left) * (bottom - top)
    for polygon, inside in zip(border.sides(box, 2.0), (off < 0, off > 0, numpy.abs(off) < 2.0), strict=True):
        assert area(polygon) == pytest.approx(whole * inside.mean(), abs=whole * 6 / steps)
    assert sum(map(area, border.sides(box)[:2])) == pytest.approx(whole)


@settings(max_examples=200, deadline=None)
@given(border=BORDERS)
def test_each_pixel_is_on_the_side_of_its_centre(border):
    across, down = border.normal
    for row in range(int(border.height)):
        start, stop = border.first(row)
        for column in range(int(border.width)):
            off = (column + 0.5) * across + (row + 0.5) * down - border.limit
            if abs(off) > 1e-6:
                assert (start <= column < stop) == (off < 0)


@settings(max_examples=100, deadline=None)
@given(border=BORDERS)
def test_split_parts_rejoin_completely(border):
    size = int(border.width) * int(border.height)
    first, second = border.split(bytes([1]) * size)
    assert len(first) + len(second) == size
    joined = border.joined(b"\1" * size, b"\2" * size, 1)
    assert joined.count(1) == len(first)


@pytest.mark.parametrize(("degrees", "inside"), [(0, (5, 1)), (90, (8, 5)), (180, (5, 8)), (-90, (1, 5))])
def test_more_degrees_turn_it_clockwise(degrees, inside):
    """At 0 the first paint is above; a quarter turn clockwise moves it to the right."""
    column, row = inside
    start, stop = Border(10, 10, 50, degrees).first(row)
    assert start <= column < stop


@pytest.mark.parametrize("degrees", [0, 33, 90, -120])
def test_the_border_enters_and_leaves_at_the_ends(degrees):
    size = 12 * 7
    for percent, count in ((0, 0), (100, size)):
        first, _second = Border(12, 7, percent, degrees).split(bytes(size))
        assert len(first) == count
