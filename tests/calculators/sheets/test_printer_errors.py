"""Errors that a job knows by printer and film, as text."""

from __future__ import annotations

import pytest

from calculators.declare.sentences import sentence
from calculators.sheets.correction import Correction, PrinterError, TooLarge
from calculators.sheets.printer_errors import KnownError, Unreadable, correction_for, known_errors, with_error
from calculators.units import MM

INKJET = KnownError("inkjet-pigment", "clear", PrinterError(0.993, 1.004, 0.2))
LASER = KnownError("laser", "white", PrinterError(1.0, 0.998, -0.05))


def test_what_was_written_is_read_again():
    text = with_error(with_error("", INKJET), LASER)
    assert known_errors(text) == (INKJET, LASER)
    assert known_errors(text.replace("; ", "\n\n ")) == (INKJET, LASER)


def test_a_new_measurement_replaces_that_of_the_same_printer_and_film():
    again = KnownError("inkjet-pigment", "clear", PrinterError(0.99, 1.0, 0.0))
    text = with_error(with_error(with_error("", INKJET), LASER), again)
    assert known_errors(text) == (LASER, again)


def test_each_printer_and_film_has_its_own_correction():
    text = with_error(with_error("", INKJET), LASER)
    assert correction_for(text, "inkjet-pigment", "clear") == Correction.of(INKJET.error)
    assert correction_for(text, "laser", "white") == Correction.of(LASER.error)
    assert correction_for(text, "laser", "clear") is None
    assert correction_for("", "laser", "white") is None


def test_rounding_moves_no_place_on_the_sheet():
    error = PrinterError(0.9931234567, 1.0041234567, 0.1234567)
    (known,) = known_errors(KnownError("laser", "clear", error).written())
    places = [complex(x, y) for x in (-105, 105) for y in (-148.5, 148.5)]
    assert max(abs(error.printed(each) - known.error.printed(each)) for each in places) < 0.003


@pytest.mark.parametrize(
    "text",
    [
        "twaddle",
        "laser on clear: 1 across, 1 down",
        "laser on clear: 1e3 across, 1 down, 0° slant",
        "laser: " + "9" * 999,
    ],
)
def test_an_entry_that_says_nothing_is_named(text):
    with pytest.raises(Unreadable) as unread:
        known_errors(f"{INKJET.written()}; {text}")
    assert text[:5] in sentence(unread.value.sentence, MM)


def test_an_error_too_large_to_be_the_printer_s_is_refused():
    with pytest.raises(TooLarge):
        correction_for("laser on clear: 0.8 across, 1 down, 0° slant", "laser", "clear")
