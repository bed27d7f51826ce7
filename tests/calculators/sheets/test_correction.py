"""The correction takes the printer's error back, and refuses what is no error of a printer."""

from __future__ import annotations

from itertools import product

import numpy
import pytest

from calculators.declare.sentences import sentence
from calculators.shapes.transforms import mapped
from calculators.sheets.correction import Correction, PrinterError, TooLarge
from calculators.units import MM

A4 = 210 + 297j
FACTORS = (0.97, 0.993, 1.0, 1.004, 1.03)
SKEWS = (-2.0, -0.2, 0.0, 0.2, 2.0)
#: Corners and places between them, from the centre of the sheet.
PLACES = [complex(x, y) for x, y in product((-105, -31, 0, 64, 105), (-148.5, -20, 0, 77, 148.5))]


@pytest.mark.parametrize(("across", "down", "skew"), list(product(FACTORS, FACTORS, SKEWS)))
def test_what_is_corrected_comes_out_in_its_place(across, down, skew):
    error = PrinterError(across, down, skew)
    correction = Correction.of(error)
    assert max(abs(error.printed(correction.applied(place)) - place) for place in PLACES) < 1e-9


@pytest.mark.parametrize(("across", "down", "skew"), list(product(FACTORS, FACTORS, SKEWS)))
def test_the_matrix_is_the_inverse_that_numpy_finds(across, down, skew):
    """By numpy, ``linalg.inv``; the matrix of the error is worked out here from its bars."""
    slant = numpy.radians(skew)
    bar_across, bar_down = (across, 0), (down * numpy.sin(slant), down * numpy.cos(slant))
    expected = numpy.linalg.inv(numpy.array([bar_across, bar_down]).T)
    made = Correction.of(PrinterError(across, down, skew))
    assert numpy.allclose([[made.xx, made.xy], [made.yx, made.yy]], expected, atol=1e-12)


def test_an_error_is_found_again_in_its_correction():
    found = Correction.of(PrinterError(0.993, 1.004, 0.2)).error()
    assert (found.across, found.down, found.skew) == pytest.approx((0.993, 1.004, 0.2), abs=1e-12)


def test_the_centre_of_the_sheet_stays_where_it_is():
    correction = Correction.of(PrinterError(0.993, 1.004, 0.2))
    matrix = correction.about(A4 / 2)
    assert mapped(matrix, (105, 148.5)) == pytest.approx((105, 148.5), abs=1e-12)
    expected = A4 / 2 + correction.applied(20 - 30j)
    assert complex(*mapped(matrix, (125, 118.5))) == pytest.approx(expected, abs=1e-12)


def test_bars_across_stay_level():
    correction = Correction.of(PrinterError(0.993, 1.004, 0.2))
    assert correction.applied(50 + 0j).imag == 0


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (PrinterError(0.8, 1.0, 0.0), "80.0 % of its length"),
        (PrinterError(1.0, 1.2, 0.0), "120.0 % of its length"),
        (PrinterError(1.0, 0.9699, 0.0), "97.0 % of its length"),
        (PrinterError(1.0, 1.0, 2.1), "2.1°"),
        (PrinterError(1.0, 1.0, -45.0), "-45.0°"),
        (PrinterError(float("nan"), 1.0, 0.0), "fit to page"),
        (PrinterError(1.0, 1.0, float("inf")), "crooked"),
    ],
)
def test_what_is_no_error_of_a_printer_is_refused(error, words):
    with pytest.raises(TooLarge) as refused:
        Correction.of(error)
    assert words in sentence(refused.value.sentence, MM)


def test_the_sheet_says_what_was_taken_out():
    assert Correction.identity.words() == "No correction for the printer."
    words = Correction.of(PrinterError(0.993, 1.004, -0.001)).words()
    assert words == "Printer's error taken out: 0.9930 across, 1.0040 down, slant 0.00°."
