"""What rules forbid in a text, and series of texts."""

import pytest

from calculators import tables
from calculators.lettering.series import series
from calculators.lettering.sizes import Unfit
from calculators.lettering.text_rules import completed, forbidden


def found(rule, text):
    return [each.sentence.format(**each.values) for each in forbidden(tables.row("rules", rule), text)]


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        # UIC 438, from memory; ISO 6346, read in copies; 14 CFR 47.15, from memory; SI 2001/561, read.
        ("uic-number", "33 84 4796 100-8"),
        ("container-code", "CSQU 305438 3"),
        ("container-code", "mwcu 605978 4"),
        ("us-aircraft-fixed-wing", "N12345"),
        ("us-aircraft-fixed-wing", "N1"),
        ("us-aircraft-fixed-wing", "N123AB"),
        ("us-aircraft-fixed-wing", "N1234Z"),
        ("uk-plate-2001", "AB12 CDE"),
        ("icao-fuselage", "G-ABCD"),
    ],
)
def test_a_correct_text_is_not_faulted(rule, text):
    assert found(rule, text) == []


@pytest.mark.parametrize(
    ("rule", "text", "expected"),
    [
        ("uic-number", "33 84 4796 100-7", ["The check digit 7 is wrong. The digit that fits is 8."]),
        ("uic-number", "33 84 4796 100", ["The check digit is missing. The digit that fits is 8."]),
        ("container-code", "CSQU 305438 5", ["The check digit 5 is wrong. The digit that fits is 3."]),
        ("container-code", "MWCU 605978", ["The check digit is missing. The digit that fits is 4."]),
        ("uk-plate-2001", "AB12 CDEF", ["The rule allows at most 7 characters. The text has 8."]),
        ("uk-plate-2001", "AB-12", ["The rule does not have -."]),
    ],
)
def test_what_a_rule_forbids_is_named(rule, text, expected):
    assert found(rule, text) == expected


@pytest.mark.parametrize("text", ["N0123", "N123456", "N12IA", "N1ABC", "NABC", "G-ABCD", "N1A2"])
def test_registrations_that_no_us_aircraft_has(text):
    # 14 CFR 47.15, from memory.
    assert any("After N come" in each for each in found("us-aircraft-fixed-wing", text))


@pytest.mark.parametrize(
    ("rule", "text", "meant"),
    [
        ("uic-number", "33 84 4796 1OO-8", "3384479 6100-8".replace(" ", "")),
        ("container-code", "CSQU 3O5438 3", "CSQU3054383"),
        ("us-aircraft-fixed-wing", "N12O", "N120"),
    ],
)
def test_likely_slips_are_advice_only(rule, text, meant):
    guesses = [each for each in forbidden(tables.row("rules", rule), text) if each.is_advice]
    assert [each.values["meant"] for each in guesses] == [meant]
    assert "Perhaps" in guesses[0].sentence


@pytest.mark.parametrize(
    ("typed", "rows"),
    [
        ("12, 13, 14", [("12", 1), ("13", 1), ("14", 1)]),
        ("12 to 14", [("12", 1), ("13", 1), ("14", 1)]),
        ("12 … 13; 20 x 4", [("12", 1), ("13", 1), ("20", 4)]),
        ("098...101", [("098", 1), ("099", 1), ("100", 1), ("101", 1)]),
        ("W 7 to 8\nteasel ×2", [("W 7", 1), ("W 8", 1), ("TEASEL", 2)]),
        ("33 84 4796 100-8,", [("33 84 4796 100-8", 1)]),
        ("12-14", [("12", 1), ("13", 1), ("14", 1)]),
        ("W 7 – 8\t9", [("W 7", 1), ("W 8", 1), ("9", 1)]),
        ("33 84 4796 100 to 101", [("33 84 4796 100", 1), ("33 84 4796 101", 1)]),
        ("12 x 0, 13", [("13", 1)]),
    ],
)
def test_a_series_is_read(typed, rows):
    assert [(row.text, row.copies) for row in series(typed)] == rows


@pytest.mark.parametrize(
    "typed", ["", " , ", "12 x 0", "14 to 12", "19-12", "A1 to B9", "1 to 900", "12, é", ",".join(["1"] * 201)]
)
def test_a_series_that_cannot_be_is_refused(typed):
    with pytest.raises(Unfit):
        series(typed)


@pytest.mark.parametrize(
    ("rule", "text", "whole"),
    [
        # UIC 438, from memory; ISO 6346, as its published examples have it.
        ("uic-number", "33 84 4796 100", "33 84 4796 100-8"),
        ("container-code", "CSQU 305438", "CSQU 305438 3"),
        ("container-code", "MWCU 605978", "MWCU 605978 4"),
        # What is there already stays, right or wrong, and so does what is no whole number.
        ("uic-number", "33 84 4796 100-7", "33 84 4796 100-7"),
        ("uic-number", "33 84", "33 84"),
        ("us-aircraft-fixed-wing", "N12345", "N12345"),
    ],
)
def test_a_missing_check_digit_is_added(rule, text, whole):
    assert completed(tables.row("rules", rule), text) == whole
