"""A picture without white by the quick test has no white areas by the full search either."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.colour.difference import delta_e
from calculators.colour.srgb import lab_of
from calculators.pixels.colour_table import lab
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.raster import Raster
from calculators.pixels.white_areas import areas
from calculators.pixels.white_free import LEAST_LEVEL, is_free_of_white

WHITE = lab_of((1.0, 1.0, 1.0))


def found(raster, tolerance):
    steps = areas(raster, "", tolerance)
    while True:
        try:
            next(steps)
        except StopIteration as stop:
            return (*stop.value.areas, *stop.value.unnumbered)


@settings(max_examples=120, deadline=None)
@given(
    colours=st.lists(st.tuples(*[st.integers(140, 255)] * 3), min_size=1, max_size=5),
    seed=st.integers(0, 99),
    tolerance=st.sampled_from([0.0, 2.0, 5.0, 10.0, 15.0, 30.0]),
    noise=st.integers(0, 12),
    clear=st.booleans(),
)
def test_where_white_is_ruled_out_none_is_found(colours, seed, tolerance, noise, clear):
    drawn, side = random.Random(seed), 24
    patches = [[drawn.choice(colours) for _ in range(4)] for _ in range(4)]
    pixels = bytearray()
    for y in range(side):
        for x in range(side):
            level = [min(255, max(0, part + drawn.randint(-noise, noise))) for part in patches[y // 6][x // 6]]
            pixels += bytes((*level, 0 if clear and x < 3 else 255))
    raster = Raster(bytes(pixels), side, side)
    if is_free_of_white(raster, tolerance):
        assert not clear
        try:
            assert found(raster, tolerance) == ()
        except TooManyRuns:
            pytest.fail("white all over, and it was said that there is none")


def test_white_is_not_ruled_out_where_there_is_some():
    """Nor in a picture of many light colours, which would take long to look at."""
    for pixel in ((255, 255, 255, 255), (250, 252, 255, 255), (200, 30, 40, 0), (200, 30, 40, 90)):
        assert not is_free_of_white(Raster(bytes((20, 30, 40, 255)) * 99 + bytes(pixel), 10, 10), 5.0)
    assert is_free_of_white(Raster(bytes((20, 30, 40, 255)) * 100, 10, 10), 5.0)


@pytest.mark.parametrize(("reach", "least"), LEAST_LEVEL.items())
def test_no_colour_near_white_has_so_low_a_level(reach, least):
    drawn = random.Random(1)
    for _ in range(4000):
        colour = [drawn.randint(150, 255) for _ in range(3)]
        colour[drawn.randrange(3)] = least - 1
        assert delta_e(WHITE, lab(tuple(colour))) > reach
