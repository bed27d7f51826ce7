"""Films, spreading rates and coats. Published values are named beside their checks; ranges are estimates."""

import itertools

import pytest

from calculators import tables
from calculators.finish.coats_needed import CALCULATOR, CoatsNeededInputs, between_coats
from calculators.finish.film_height import dry_um, spreading_rate, volume_ml, wet_um, wet_um_of_rate
from calculators.read import read
from calculators.units import MM
from calculators.view import view
from tests.calculators.test_declarations import ask

CLEARS = [row for row in tables.load("coats") if "levelling coat" in row.uses and row.bench != "never"]
#: An edge, solids and wet film that leave nothing to the tables.
TYPED = {"edge_um": "30", "solids_percent": "25", "laid": "wet-film", "wet_film_um": "40"}


def asked(**typed: str):
    reading = read(CoatsNeededInputs, typed)
    assert not reading.problems, reading.problems
    return CALCULATOR.answer(reading.inputs)


def test_71_percent_solids_at_125_um_dry_need_176_um_wet():
    """A paint maker's data sheet prints 71 % solids, 125 µm dry, 176 µm wet and 5.68 m²/L: 12500 / 71 = 176.06."""
    assert wet_um(125, 71) == pytest.approx(176, abs=0.5)
    assert spreading_rate(125, 71) == pytest.approx(5.68, abs=0.005)


def test_thinning_by_half_needs_125_um_wet_for_25_dry():
    """By arithmetic: 30 parts of solids in 150 leave a fifth."""
    assert wet_um(25, 30, 50) == pytest.approx(125)
    assert dry_um(125, 30, 50) == pytest.approx(25)


def test_wet_dry_and_spreading_rate_fit_each_other():
    for dry, solids, thinner in itertools.product((5, 25, 125), (8, 30, 71), (0, 50, 200)):
        assert dry_um(wet_um(dry, solids, thinner), solids, thinner) == pytest.approx(dry)
    # What is spread at a rate lies as high as a litre over so many square metres.
    assert wet_um_of_rate(spreading_rate(125, 71)) == pytest.approx(wet_um(125, 71))


def test_a_square_metre_one_millimetre_high_is_a_litre():
    assert volume_ml(10_000, 1000, 0) == pytest.approx(1000)


def test_dry_clear_is_edge_and_cover_and_sanding():
    """30 µm edge + 10 + 10 = 50 µm; a pass of 40 µm at 25 % leaves 10: five passes."""
    answered = asked(**TYPED)
    best, worst = answered.ends
    assert (best.clear, worst.clear, best.a_pass) == (50, 50, 10)
    assert best.passes == worst.passes == 5
    row = tables.row("coats", "clear-lacquer").passes
    assert (best.coats, worst.coats) == (-(-5 // int(row.high)), -(-5 // int(row.low)))


def test_overspray_takes_forty_to_seventy_percent():
    """Five passes of 40 µm over 100 cm² are 2 mL on the panel: 2 / 0.6 and 2 / 0.3 to spray."""
    answered = asked(**TYPED)
    assert answered.volume_low_ml == pytest.approx(2 / 0.6)
    assert answered.volume_high_ml == pytest.approx(2 / 0.3)


def test_an_edge_without_seal_is_the_film_of_the_table():
    film = tables.row("substrates", "clear-laser").thickness
    best, worst = asked(film="clear-laser", sealed="no").ends
    assert (best.edge, worst.edge) == (film.low, film.high)


def test_the_seal_adds_its_dry_passes_to_the_edge():
    film, seal = tables.row("substrates", "clear-inkjet").thickness, tables.row("coats", "clear-acrylic-water")
    best, worst = asked(seal="clear-acrylic-water").ends
    for end, row in (("low", best), ("high", worst)):
        passes, wet, solids = (getattr(getattr(seal, name), end) for name in ("passes", "wet_film", "solids"))
        assert row.edge == pytest.approx(getattr(film, end) + passes * wet * solids / 100)


def test_thinner_added_to_typed_solids_needs_more_passes():
    assert asked(**TYPED, thinner_percent="100").ends[0].passes == 10


def test_a_spreading_rate_is_a_wet_film():
    """25 m²/L is 40 µm wet."""
    by_rate = asked(**{**TYPED, "laid": "rate", "rate_m2_per_l": "25"})
    assert by_rate.ends == asked(**TYPED).ends


@pytest.mark.parametrize("clear", CLEARS, ids=lambda row: row.id)
def test_the_worst_end_is_never_better_than_the_best(clear):
    for film in ("clear-inkjet", "white-laser"):
        best, worst = asked(clear=clear.id, film=film).ends
        assert best.passes <= worst.passes and best.coats <= worst.coats and best.clear < worst.clear
        assert best.volume_ml < worst.volume_ml


@pytest.mark.parametrize("clear", CLEARS, ids=lambda row: row.id)
def test_the_time_is_the_waits_of_the_table(clear):
    answered = asked(clear=clear.id, **TYPED)
    between = between_coats(clear).usual.hours
    sanding = tables.row("drying-times", "levelling-before-sanding").usual.hours
    low, high = ((row.coats - 1) * between[end] + sanding[end] for end, row in enumerate(answered.ends))
    # Shown to two digits, in days.
    for shown, hours in zip(answered.ends, (low, high), strict=True):
        assert shown.time.endswith(" days") and float(shown.time.split()[0]) == pytest.approx(hours / 24, rel=0.06)


@pytest.mark.parametrize("clear", CLEARS, ids=lambda row: row.id)
def test_a_window_that_closes_is_told_and_the_wait_is_within_it(clear):
    told = " ".join(view(asked(clear=clear.id), MM)["verdict"]["reasons"])
    assert ("Lay each coat within" in told) == bool(clear.recoat_until)
    if clear.recoat_until:
        assert between_coats(clear).usual.hours[1] <= clear.recoat_until.hours[0]


def test_only_sanding_removes_the_step_is_always_told():
    for film in ("clear-inkjet", "clear-laser"):
        assert "only sanding does" in " ".join(view(asked(film=film), MM)["verdict"]["reasons"])


@pytest.mark.parametrize(
    ("edge", "verdict"),
    # A pass leaves 10 µm, and a coat has 2 to 4 passes: (edge + 20) / 10 passes.
    [("10", "few"), ("80", "few"), ("90", "many"), ("380", "many"), ("400", "too-many")],
)
def test_the_verdict_follows_the_coats(edge, verdict):
    assert asked(**{**TYPED, "edge_um": edge}).verdict == verdict


def test_two_part_urethane_gets_a_refusal_and_no_figures():
    answered = asked(clear="clear-urethane-two-part")
    assert answered.verdict == "refused" and answered.coats is None and answered.ends == ()
    assert "isocyanates" in " ".join(view(answered, MM)["verdict"]["reasons"])


def test_a_panel_in_square_inches_and_clear_in_millilitres():
    """An inch is 25.4 mm, so 100 cm² are 15.5 in²."""
    assert asked(**TYPED, area_cm2="15.5000310 sq in").volume_low_ml == pytest.approx(2 / 0.6, rel=1e-6)


@pytest.mark.parametrize(
    ("name", "typed"), [("area_cm2", "0"), ("solids_percent", "0"), ("solids_percent", "110"), ("edge_um", "-3")]
)
def test_an_impossible_value_is_a_clear_problem(name, typed):
    (problem,) = ask(CALCULATOR, {**TYPED, name: typed})["problems"]
    assert problem["field"] == name and " takes a number from " in problem["text"]
