"""The waves of squares held to scipy's transform."""

import numpy
import pytest
from scipy.fft import dctn

from calculators.pixels.waves import SIDE, square_of, square_waves


@pytest.mark.parametrize("seed", range(5))
def test_waves_equal_scipy_and_invert(seed):
    square = numpy.random.default_rng(seed).normal(128, 60, (SIDE, SIDE))
    waves = square_waves(square.tolist())
    assert numpy.array(waves) == pytest.approx(dctn(square, norm="ortho"), abs=1e-9)
    assert numpy.array(square_of(waves)) == pytest.approx(square, abs=1e-9)
