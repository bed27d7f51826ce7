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


@pytest.mark.parametrize(
    ("typed", "unit", "number"),
    [
        # 32 °F is 0 °C, 212 °F is 100 °C, and 9 °F are 5 °C, by definition.
        ("32 °F", "°C", 0),
        ("212F", "°C", 100),
        ("-40 deg F", "°C", -40),
        ("68 degrees F", "°C", 20),
        ("68 ℉", "°C", 20),
        ("9 F", "K", 5),
        ("2 °C", "K", 2),
        # A fluid ounce of the United States is 231/128 cubic inches; an imperial one is 4546.09 mL / 160.
        ("1 fl oz", "mL", 231 / 128 * 16.387064),
        ("2 fl. oz.", "mL", 2 * 231 / 128 * 16.387064),
        ("1 imp fl oz", "mL", 28.4130625),
        ("0.5 L", "mL", 500),
        # A foot is 0.3048 m.
        ("1000 cu ft", "m³", 1000 * 0.3048**3),
        ("30 m³", "m³", 30),
        ("100 CFM", "m³/h", 6000 * 0.3048**3),
        ("100 ft³/min", "m³/h", 6000 * 0.3048**3),
        ("10 l/s", "m³/h", 36),
        ("150 m3/h", "m³/h", 150),
        ("2 h", "min", 120),
        ("90 s", "min", 1.5),
        ("1 thou", "µm", 25.4),
    ],
)
def test_other_units_are_read_where_a_field_has_its_own(typed, unit, number):
    assert units.number(typed, unit) == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize(("typed", "unit"), [("20 fl oz", "°C"), ("68 F", "%"), ("3 cfm", "m³"), ("fl oz", "mL")])
def test_a_unit_of_something_else_is_refused(typed, unit):
    with pytest.raises(units.Unread):
        units.number(typed, unit)


def test_a_unit_that_was_typed_is_that_of_the_answer():
    assert units.typed_unit("68 F", "°C").shown == "°F"
    assert units.typed_unit("2 fl oz", "mL").shown == "fl oz"
    assert units.typed_unit("100 cfm", "m³/h").shown == "cfm"
    assert [units.typed_unit(text, "°C") for text in ("20", "20 C", "x", "½²")] == [None] * 4


@pytest.mark.parametrize("other", units.OTHERS, ids=lambda each: each.names[0])
def test_a_value_survives_the_way_to_another_unit_and_back(other):
    for unit in other.sizes:
        assert other.of(units.number(f"12.5 {other.names[0]}", unit), unit) == pytest.approx(12.5, rel=1e-12)
