"""Verdicts on air: dew points of WMO-No. 8, 3 °C from ISO 8502-4 (from memory), estimates of the table of coats."""

import itertools

import pytest

from calculators import tables
from calculators.read import read
from calculators.seal.air_checks import FAILS, PASSES, checks_of_coat
from calculators.seal.dew_point import Air, dew_point_celsius
from calculators.seal.drying_air import CALCULATOR, DryingAirInputs
from calculators.units import MM
from calculators.view import view
from tests.calculators.test_declarations import ask

COATS = [row for row in tables.load("coats") if row.bench != "never"]
EXACT = {"humidity_error_percent": "0", "air_error_c": "0", "surface_error_c": "0"}


def asked(**typed: str):
    reading = read(DryingAirInputs, typed)
    assert not reading.problems, reading.problems
    return CALCULATOR.answer(reading.inputs)


def level(answered, name: str) -> str:
    (row,) = (each for each in answered.checks if each.check == name)
    return row.level


def test_85_percent_at_20_degrees_needs_a_surface_of_20_40():
    """17.40 °C by WMO-No. 8, and 3 °C above it."""
    answered = asked(air_c="20", relative_humidity_percent="85")
    assert answered.needed_surface_c == pytest.approx(20.40, abs=0.005)
    assert answered.verdict == "condenses"


@pytest.mark.parametrize(("surface", "expected"), [("20.39", "fails"), ("20.41", "passes")])
def test_condensation_turns_at_three_degrees(surface, expected):
    answered = asked(air_c="20", relative_humidity_percent="85", surface_c=surface, **EXACT)
    assert level(answered, "Condensation") == expected


def test_condensation_depends_where_only_the_errors_take_the_margin():
    """20 °C and 70 %: a dew point of 14.36 °C, so 5.64 K as read, and less than 3 K at the worst corner."""
    worst = 20 - 1 - dew_point_celsius(21, 75)
    assert worst < 3
    answered = asked(air_c="20", relative_humidity_percent="70", carrier="clear-oil")
    assert answered.margin_worst_k == pytest.approx(worst)
    assert level(answered, "Condensation") == "depends"
    assert answered.verdict == "test-first"


@pytest.mark.parametrize("coat", COATS, ids=lambda row: row.id)
def test_blush_is_judged_at_both_ends_of_the_coat_s_ranges(coat):
    for humidity, celsius in itertools.product((20, 35, 50, 65, 80, 95), (5, 20, 35)):
        air = Air(celsius, humidity, celsius, 1, 5, 1)
        checks = {each.id: each.level for each in checks_of_coat(air, coat)}
        cools = coat.cooling
        expected = PASSES if air.worst_margin - cools.high >= 3 else FAILS if air.margin - cools.low < 3 else "depends"
        assert checks["cooling"] == expected
        most = coat.humidity
        humid = PASSES if humidity + 5 <= most.low else FAILS if humidity > most.high else "depends"
        assert checks["humidity"] == humid


def test_a_fast_carrier_fails_in_air_that_a_slow_one_withstands():
    typed = {"air_c": "20", "relative_humidity_percent": "60", **EXACT}
    assert asked(carrier="clear-lacquer", **typed).verdict != "dry"
    assert asked(carrier="clear-oil", **typed).verdict == "dry"


@pytest.mark.parametrize("coat", COATS, ids=lambda row: row.id)
def test_air_at_the_highest_humidity_passes_and_just_above_does_not(coat):
    """Condensation and blush; the temperature is warm enough for every coat."""
    most = asked(carrier=coat.id, air_c="22").highest_humidity_percent
    assert most is not None
    below = asked(carrier=coat.id, air_c="22", relative_humidity_percent=f"{most - 0.01:.4f}")
    above = asked(carrier=coat.id, air_c="22", relative_humidity_percent=f"{most + 0.01:.4f}")
    assert below.verdict == "dry"
    assert above.verdict == "test-first"


def test_cold_air_is_too_cold_for_the_coat_even_if_dry():
    answered = asked(carrier="clear-acrylic-water", air_c="4", relative_humidity_percent="20")
    assert answered.verdict == "too-cold"
    row = tables.row("coats", "clear-acrylic-water")
    assert answered.lowest_temperature_c == row.coldest.high and row.coldest.source == "estimate"


def test_an_answer_that_is_not_green_says_what_to_do():
    for humidity, celsius in itertools.product(("30", "55", "90"), ("2", "20")):
        for coat in COATS:
            answered = asked(carrier=coat.id, air_c=celsius, relative_humidity_percent=humidity)
            assert any(each.is_advice for each in answered.reasons)


def test_two_part_urethane_gets_a_refusal_and_no_figures():
    answered = asked(carrier="clear-urethane-two-part", relative_humidity_percent="20")
    assert answered.verdict == "refused" and answered.margin_k is None and answered.chart is None
    told = " ".join(view(answered, MM)["verdict"]["reasons"])
    assert "isocyanates" in told and "supplied air" in told


@pytest.mark.parametrize(
    ("film", "harm"), [("clear-laser", "blisters in a hot fuser"), ("clear-inkjet", "cockles, and the ink bleeds")]
)
def test_damp_air_is_too_damp_for_film_before_printing(film, harm):
    """What damp backing does is common practice, no source; the limits are estimates."""
    damp = asked(purpose="film", film=film, relative_humidity_percent="80")
    assert damp.verdict == "film-damp"
    assert harm in " ".join(view(damp, MM)["verdict"]["reasons"])
    assert asked(purpose="film", film=film, relative_humidity_percent="40").verdict == "film-dry"
    assert asked(purpose="film", film=film, relative_humidity_percent="40", surface_c="5").verdict == "film-damp"


@pytest.mark.parametrize(
    ("name", "typed", "takes"),
    [
        ("relative_humidity_percent", "0", "a number from 1 to 100 %"),
        ("relative_humidity_percent", "110", "a number from 1 to 100 %"),
        ("air_c", "-300", "a number from -35 to 50 °C"),
        ("surface_c", "-300 C", "a number from -35 to 50 °C"),
        ("air_c", "200 F", "a number from -35 to 50 °C"),
    ],
)
def test_impossible_air_is_a_clear_problem(name, typed, takes):
    (problem,) = read(DryingAirInputs, {name: typed}).problems
    assert problem.field == name and takes in problem.text and typed in problem.hint


def test_fahrenheit_is_read_and_answered_in_fahrenheit():
    """68 °F is 20 °C, and 17.40 °C is 63.32 °F; a margin of 1 °C is 1.8 °F."""
    reply = ask(CALCULATOR, {"air_c": "68 F", "relative_humidity_percent": "85"})
    dew, margin = reply["view"]["dew_point_c"], reply["view"]["margin_k"]
    assert (dew["unit"], margin["unit"], reply["view"]["lowest_temperature_c"]["unit"]) == ("°F", "°F", "°F")
    assert float(dew["shown"]) == pytest.approx(63.32, abs=0.01)
    assert float(margin["shown"]) == pytest.approx(1.8 * (20 - 17.40), abs=0.06)
    assert reply["result"]["dew_point_c"] == pytest.approx(17.40, abs=0.005)
    assert "°F" in reply["view"]["verdict"]["reasons"][0] and "°C" not in reply["view"]["verdict"]["reasons"][0]


def test_celsius_stays_celsius():
    reply = ask(CALCULATOR, {"air_c": "20 °C"})
    assert reply["view"]["dew_point_c"]["unit"] == "°C"


def test_the_chart_says_whether_the_reader_s_air_is_inside():
    assert "inside the shaded area" in asked(carrier="clear-oil", relative_humidity_percent="40").chart.alt
    assert "outside it" in asked(relative_humidity_percent="90").chart.alt


def test_every_coat_and_film_has_figures_for_the_air():
    for row in COATS:
        assert row.cooling and row.humidity and row.coldest, row.id
        assert {each.source for each in (row.cooling, row.humidity, row.coldest)} == {"estimate"}
    for row in tables.load("substrates"):
        assert bool(row.humidity) == (row.kind in ("clear film", "white film")), row.id
