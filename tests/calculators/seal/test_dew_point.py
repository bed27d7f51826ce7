"""Dew points against WMO-No. 8, psychrolib 2.5.0 and MetPy 1.7.1, and the instruments' errors by brute force."""

import csv
import itertools
import random
from pathlib import Path

import psychrolib
import pytest

from calculators.seal.dew_point import COLDEST, WARMEST, Air, dew_point_celsius, humidity_percent

#: Magnus with the WMO constants and with Bolton's, psychrolib and MetPy, as printed by those packages.
PUBLISHED = Path(__file__).resolve().parents[2] / "published" / "dewpoint_table.csv"


def printed_rows() -> list[dict[str, float]]:
    with PUBLISHED.open(encoding="utf-8") as file:
        return [{name: float(text) for name, text in row.items()} for row in csv.DictReader(file)]


@pytest.mark.parametrize(
    ("air", "humidity", "dew"), [(20, 50, 9.26), (20, 70, 14.36), (20, 85, 17.40), (25, 50, 13.85), (30, 80, 26.17)]
)
def test_dew_point_by_the_wmo_formula(air, humidity, dew):
    """Worked out from WMO-No. 8, annex 4.B (6.112 hPa, 17.62, 243.12 °C), to two decimals."""
    assert dew_point_celsius(air, humidity) == pytest.approx(dew, abs=0.005)


@pytest.mark.parametrize("column", ["Magnus_17.67_243.5(Bolton)", "psychrolib_2.5.0", "metpy_1.7.1"])
def test_printed_dew_points_agree_above_freezing(column):
    rows = [row for row in printed_rows() if row[column] > 0]
    assert len(rows) > 40
    for row in rows:
        assert dew_point_celsius(row["T_C"], row["RH_pct"]) == pytest.approx(row[column], abs=0.1)


def test_printed_magnus_values_agree_everywhere():
    for row in printed_rows():
        assert dew_point_celsius(row["T_C"], row["RH_pct"]) == pytest.approx(row["Magnus_17.62_243.12"], abs=0.006)


def test_psychrolib_agrees_at_two_thousand_random_points():
    psychrolib.SetUnitSystem(psychrolib.SI)
    drawn, compared = random.Random(8), 0
    while compared < 2000:
        air, humidity = drawn.uniform(0, 50), drawn.uniform(5, 100)
        dew = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
        if dew <= 0:
            continue
        compared += 1
        assert dew_point_celsius(air, humidity) == pytest.approx(dew, abs=0.1), (air, humidity)


def test_humidity_and_dew_point_are_the_reverse_of_each_other():
    for air, humidity in itertools.product((-30, 0, 20, 50), (1, 30, 85, 100)):
        assert humidity_percent(air, dew_point_celsius(air, humidity)) == pytest.approx(humidity, rel=1e-12)


@pytest.mark.parametrize(
    ("air", "humidity"), [(COLDEST - 0.1, 50), (WARMEST + 0.1, 50), (20, 0), (20, 110), (-300, 50)]
)
def test_there_is_no_dew_point_outside_the_formula(air, humidity):
    with pytest.raises(ValueError, match="no dew point"):
        dew_point_celsius(air, humidity)


def corner_margins(air: Air) -> list[float]:
    """The margin at each corner of the instruments' errors; no air is more humid than 100 %."""
    return [
        air.surface_celsius
        + surface * air.surface_error
        - dew_point_celsius(
            air.air_celsius + warmer * air.air_error, min(100, air.humidity_percent + damper * air.humidity_error)
        )
        for surface, warmer, damper in itertools.product((-1, 1), repeat=3)
    ]


def test_the_worst_margin_is_the_worst_corner_of_the_errors():
    drawn = random.Random(85)
    for _ in range(2000):
        errors = drawn.uniform(0, 5), drawn.uniform(0, 20), drawn.uniform(0, 5)
        air = Air(drawn.uniform(-30, 50), drawn.uniform(25, 100), drawn.uniform(-30, 50), *errors)
        assert air.worst_margin == pytest.approx(min(corner_margins(air)), abs=1e-9)


def test_usual_errors_move_the_dew_point_by_about_two_degrees():
    air = Air(20, 50, 20, 1, 5, 1)
    assert 2 <= air.worst_dew_celsius - air.dew_celsius < 2.6


@pytest.mark.parametrize("needed", [3.0, 6.0, 11.0])
def test_the_highest_humidity_leaves_just_the_needed_margin(needed):
    for celsius, errors in itertools.product((5, 20, 35), ((0, 0, 0), (1, 5, 1))):
        air = Air(celsius, 50, celsius, *errors)
        most = air.highest_humidity(needed)
        assert most is not None
        there = Air(celsius, most, celsius, *errors)
        assert there.worst_margin == pytest.approx(needed, abs=1e-9)
