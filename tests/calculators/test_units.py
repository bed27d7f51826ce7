"""How lengths, ratios and numbers are read; 25.4 mm to the inch is exact (agreement of 1959)."""

import math

import pytest

from calculators import numbers, units


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("12 in", 304.8),
        ('0.5"', 12.7),
        ("3 cm", 30),
        ("1'6\"", 457.2),
        ("1,5", 1.5),
        ("1ft 6in", 457.2),
        ("1'6", 457.2),
        ("5 1/2 in", 139.7),
        ('3/4"', 19.05),
        ("½ in", 12.7),
        ('2½"', 63.5),
        ("1' 6 1/2\"", 469.9),
        ("10 thou", 0.254),
        ("0.3m", 300),
        ("150 µm", 0.15),
        ("25.4", 25.4),
        (" 25.4 mm ", 25.4),
        (".5in", 12.7),
        ("0,125 in", 3.175),
        ("1.000", 1),
        ("12 Inches", 304.8),
        ("1 yd", 914.4),
        ("6''", 152.4),
        ("1′ 6″", 457.2),
        ("1２ mm", 12),
        ("1e2", 100),
        ("-3 mm", -3),
        ("−3", -3),
        ("1'.5\"", 317.5),
        ("6'3/4\"", 1847.85),
        ("5 125/1000 in", 130.175),
        ("1 000 1/2 mm", 1000.5),
    ],
)
def test_length(typed, mm):
    assert math.isclose(units.length_mm(typed), mm, rel_tol=1e-12)


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("1,000", "Type 1000 for the large number, or 1.000 for the small one."),
        ("12,500 mm", "Type 12500 for the large number, or 12.500 for the small one."),
        ("1.00,5", "Use one point or comma, and only for the decimals."),
        ("1 00", "Type one length, such as 12 mm, 0.5 in or 1'6\"."),
        ("12 parsecs", "Use mm, cm, m, in, ft or thou."),
        ("6 in 1 ft", "Type one length, such as 12 mm, 0.5 in or 1'6\"."),
        ("twelve", "Type digits, such as 12 or 0.5."),
        ("6 ft.3 in", "Type one length, such as 12 mm, 0.5 in or 1'6\"."),
        ("½2", "Type one length, such as 12 mm, 0.5 in or 1'6\"."),
        ("½²", "Type digits, such as 12 or 0.5."),
        ("1/0", "Nothing can be divided by 0."),
        ("", "Type digits, such as 12 or 0.5."),
    ],
)
def test_a_refused_length_is_quoted_in_the_hint(typed, hint):
    with pytest.raises(units.Unread) as refused:
        units.length_mm(typed)
    assert str(refused.value) == f"You typed “{typed}”. {hint}"


@pytest.mark.parametrize(("typed", "ratio"), [("1:43.5", 43.5), ("1/72", 72), ("1 : 76,2", 76.2), ("48", 48)])
def test_ratio(typed, ratio):
    assert units.ratio(typed) == ratio


@pytest.mark.parametrize(("value", "inches"), [(25.4, "1"), (12.7, "0.5"), (304.8, "12"), (0.254, "0.01")])
def test_restated_in_inches(value, inches):
    assert units.restated(value, units.INCH) == inches


def test_rounding_keeps_three_digits():
    assert [numbers.rounded(value, 1) for value in (1320.8, 0.0349, 7.25, 0)] == ["1320.8", "0.0349", "7.25", "0.0"]


@pytest.mark.parametrize(
    ("value", "decimals", "expected"),
    [
        (12 * 25.4 / 32, 2, "9.53"),
        (0.375 * 25.4, 2, "9.53"),
        (2.675, 2, "2.68"),
        (-9.525, 2, "-9.53"),
        (0.5, 0, "0.500"),
        (1234.5, 0, "1235"),
        (9.5249999, 2, "9.52"),
        (1.005, 2, "1.01"),
        (100.25, 1, "100.3"),
    ],
)
def test_halves_round_away_from_zero(value, decimals, expected):
    """ISO 80000-1, annex B, rule B of rounding a half: the greater in magnitude (from memory).

    12 in at 1:32 is 9.525 mm.
    """
    assert numbers.rounded(value, decimals) == expected


def test_halves_in_scales_round_away_from_zero():
    assert [numbers.at_most(value, 2) for value in (43.125, 72.0, 76.2)] == ["43.13", "72", "76.2"]
