"""Transforms invert, compose in the stated order, and have derivatives that match finite differences."""

from math import isclose

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calculators.shapes.transforms import (
    NoInverse,
    OnHorizon,
    determinant,
    inverse,
    jacobian,
    mapped,
    product,
    rotation,
    scaling,
    translation,
)

PARTS = st.floats(-5, 5).map(lambda part: round(part, 3))
POINTS = st.tuples(PARTS, PARTS)
#: A perspective whose horizon is far from all POINTS.
MATRICES = st.builds(
    lambda a, b, c, d, e, f, g, h: ((a, b, c), (d, e, f), (g / 200, h / 200, 1.0)), *[PARTS] * 8
).filter(lambda matrix: abs(determinant(matrix)) > 0.1)


def close(one, other, within=1e-6):
    return all(isclose(a, b, rel_tol=within, abs_tol=within) for a, b in zip(one, other, strict=True))


@given(MATRICES, POINTS)
def test_inverse_leads_back(matrix, point):
    assert close(mapped(inverse(matrix), mapped(matrix, point)), point)


@given(MATRICES, MATRICES, POINTS)
def test_products_apply_the_last_factor_first(first, second, point):
    between = mapped(second, point)
    assume(max(map(abs, between)) < 50)
    assert close(mapped(product(first, second), point), mapped(first, between))


@given(MATRICES, POINTS)
def test_jacobian_is_the_slope(matrix, point):
    step = 1e-5
    slopes = jacobian(matrix, point)
    for axis in (0, 1):
        there = [part + step * (place == axis) for place, part in enumerate(point)]
        back = [part - step * (place == axis) for place, part in enumerate(point)]
        numeric = [(a - b) / (2 * step) for a, b in zip(mapped(matrix, there), mapped(matrix, back), strict=True)]
        assert close([slopes[0][axis], slopes[1][axis]], numeric, 1e-4)


def test_turn_move_and_stretch():
    chain = product(translation(10, 20), rotation(90), scaling(2, 3))
    assert close(mapped(chain, (1, 0)), (10, 22))
    assert close(mapped(chain, (0, 1)), (7, 20))


def test_a_singular_transform_has_no_inverse():
    with pytest.raises(NoInverse):
        inverse(((1, 2, 3), (2, 4, 6), (0, 0, 1)))


def test_points_beyond_the_horizon_are_reported():
    with pytest.raises(OnHorizon):
        mapped(((1, 0, 0), (0, 1, 0), (1, 0, -2)), (2, 5))
