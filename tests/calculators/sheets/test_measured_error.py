"""The printer's error from readings: exact ones give it back, and the stated interval covers it as often as it says."""

from __future__ import annotations

from math import asin, cos, degrees, hypot, radians, sin

import numpy
import pytest
from scipy import stats

from calculators.sheets.correction import Correction, PrinterError
from calculators.sheets.measured_error import SEEN, T_95, Reading, measured_error

TRUTH = PrinterError(0.993, 1.004, 0.2)
LENGTH_MM = 180.0


def bars(error: PrinterError, length_mm: float = LENGTH_MM) -> Reading:
    """Return what an exact ruler reads on a print with that error."""
    right, bottom = length_mm * error.across, length_mm * error.down
    slant = radians(error.skew)
    across, down = complex(right, 0), complex(bottom * sin(slant), bottom * cos(slant))
    return Reading(abs(across), abs(down), abs(across + down), abs(across - down))


def test_exact_readings_give_the_error_back():
    found = measured_error(LENGTH_MM, [bars(TRUTH), bars(TRUTH)], 0.2).error
    assert (found.across, found.down, found.skew) == pytest.approx((0.993, 1.004, 0.2), abs=1e-9)


def test_a_layout_that_is_corrected_by_readings_lands_in_its_place():
    readings = [bars(TRUTH), bars(TRUTH)]
    correction = Correction.of(measured_error(LENGTH_MM, readings, 0.1).to_correct)
    places = [complex(x, y) for x in (-105, -40, 0, 105) for y in (-148.5, -60, 0, 148.5)]
    assert max(abs(TRUTH.printed(correction.applied(place)) - place) for place in places) < 1e-6


#: Ruler (limits in mm), scatter of each reading (mm) and scatter of factors and slant from print to print.
MIXES = [
    pytest.param(0.1, 0.0, 0.0, id="ruler-alone"),
    pytest.param(0.5, 0.02, 1e-4, id="rough-ruler"),
    pytest.param(0.2, 0.1, 0.0, id="both-by-reading"),
    pytest.param(0.2, 0.0, 6e-4, id="both-by-print"),
    pytest.param(0.1, 0.05, 3e-4, id="all-three"),
    pytest.param(0.05, 0.3, 0.0, id="scatter-by-reading"),
    pytest.param(0.05, 0.0, 2e-3, id="scatter-by-print"),
]


@pytest.mark.parametrize("prints", [2, 3])
@pytest.mark.parametrize(("ruler_mm", "scatter_mm", "scatter"), MIXES)
def test_the_stated_interval_covers_the_truth_in_93_to_97_of_100_sets(prints, ruler_mm, scatter_mm, scatter):
    """1,000 sets of readings, made with numpy's generator; the ruler is off by anything up to its limits."""
    random = numpy.random.default_rng(20261129)
    covered = numpy.zeros(3)
    for _ in range(1000):
        readings = []
        for _print in range(prints):
            across, down, slant = random.normal((TRUTH.across, TRUTH.down, sin(radians(TRUTH.skew))), scatter)
            exact = bars(PrinterError(across, down, degrees(asin(slant))))
            off = random.normal(0, scatter_mm, 4) + random.uniform(-ruler_mm, ruler_mm, 4)
            readings.append(Reading(*(numpy.array(list(vars(exact).values())) + off)))
        found = measured_error(LENGTH_MM, readings, ruler_mm)
        for place, name in enumerate(("across", "down", "skew")):
            covered[place] += abs(getattr(found.error, name) - getattr(TRUTH, name)) <= getattr(found.off, name)
    assert (covered >= 930).all() and (covered <= 970).all(), covered


def test_student_s_t_and_chi_squared_are_those_of_scipy():
    assert T_95 == pytest.approx(stats.t.ppf(0.975, range(1, 16)), abs=0.006)
    for freedom, most in SEEN.items():
        assert most == pytest.approx(stats.chi2.ppf(0.95, freedom) / freedom, abs=0.001)


def test_a_finer_ruler_and_more_prints_make_it_more_certain():
    def off(prints: int, ruler_mm: float) -> float:
        return measured_error(LENGTH_MM, [bars(TRUTH)] * prints, ruler_mm).off.across

    assert off(2, 0.1) == pytest.approx(off(2, 0.2) / 2)
    assert off(4, 0.2) == pytest.approx(off(2, 0.2) / 2**0.5)


def test_what_the_ruler_cannot_tell_from_none_is_not_corrected():
    slight = PrinterError(1.0004, 1.004, 0.01)
    found = measured_error(LENGTH_MM, [bars(slight), bars(slight)], 0.2)
    assert found.seen == (False, True, False)
    assert found.to_correct == PrinterError(1.0, found.error.down, 0.0)


def test_prints_that_differ_by_more_than_the_ruler_explains_are_noticed():
    first, second = PrinterError(0.995, 1.002, 0.1), PrinterError(0.998, 1.006, 0.1)
    found = measured_error(LENGTH_MM, [bars(first), bars(second)], 0.1)
    assert found.scatters and found.uneven is None
    assert not measured_error(LENGTH_MM, [bars(first), bars(first)], 0.1).scatters


def test_one_direction_that_scatters_by_far_more_goes_by_its_own_prints():
    readings = [bars(PrinterError(0.995, each, 0.1)) for each in (1.001, 1.007)]
    found = measured_error(LENGTH_MM, readings, 0.1)
    assert found.uneven == "down"
    # Student's t of one degree of freedom, of two values that differ by 0.006.
    assert found.off.down == pytest.approx(12.71 * 0.006 / 2, rel=1e-3)
    assert found.off.across < found.off.down / 3


@pytest.mark.parametrize("name", ["across", "down", "falling", "rising"])
@pytest.mark.parametrize("wrong_mm", [-2.0, -1.0, 1.0, 2.0])
def test_a_misread_millimetre_is_noticed(name, wrong_mm):
    exact = bars(TRUTH)
    wrong = Reading(**{**vars(exact), name: getattr(exact, name) + wrong_mm})
    assert measured_error(LENGTH_MM, [exact, wrong], 0.1).misread == 1
    assert measured_error(LENGTH_MM, [exact, exact], 0.1).misread is None


def test_the_bars_of_this_test_follow_the_law_of_cosines():
    made = bars(PrinterError(1.0, 1.0, 30.0), 100)
    assert made.falling == pytest.approx((2 * 100**2 - 2 * 100**2 * cos(radians(120))) ** 0.5)
    assert hypot(made.falling, made.rising) == pytest.approx(200)
