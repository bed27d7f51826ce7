"""Fluids against films, prints, seals and paints. Verdicts and waits are common practice, without a source."""

import itertools
from dataclasses import replace

import pytest

from calculators import tables
from calculators.apply.fluid_rules import NEVER, ORDER, SAFE, TEST_FIRST, Met, answer_of
from calculators.apply.which_fluid import CALCULATOR, WhichFluidInputs
from calculators.read import read
from calculators.tables import ESTIMATE, Origin
from calculators.units import MM
from calculators.view import view

FLUIDS = tables.load("fluids")
FILMS = [row for row in tables.load("substrates") if row.kind in ("clear film", "white film")]
PRINTERS = tables.load("printers")
COATS = [row for row in tables.load("coats") if row.bench != "never"]
EVERYTHING = [
    Met("x", table, row.id)
    for table, rows in (("substrates", FILMS), ("printers", PRINTERS), ("coats", COATS))
    for row in rows
]


def asked(**typed: str):
    reading = read(WhichFluidInputs, typed)
    assert not reading.problems, reading.problems
    return CALCULATOR.answer(reading.inputs)


def told(answered) -> str:
    return " ".join(view(answered, MM)["verdict"]["reasons"])


@pytest.mark.parametrize("fluid", FLUIDS, ids=lambda row: row.id)
def test_every_combination_in_the_tables_has_a_verdict_and_a_reason(fluid):
    for met in EVERYTHING:
        found = answer_of(fluid, met)
        assert found.verdict in ORDER and len(found.why) > 8 and found.why.endswith((".", ")."))


@pytest.mark.parametrize("fluid", FLUIDS, ids=lambda row: row.id)
def test_safe_is_only_what_the_table_itself_marks_safe(fluid):
    """A pair without a row, judged by its like or by nothing, is a guess of ours and never safe."""
    marked = {each.what: each.verdict for each in fluid.against}
    for met in EVERYTHING:
        if answer_of(fluid, met).verdict == SAFE:
            assert marked[f"{met.table}/{met.id}"] == SAFE
            assert fluid.source.source != ESTIMATE


def test_what_an_estimate_marks_safe_is_to_be_tested():
    fluid = next(row for row in FLUIDS if any(each.verdict == SAFE for each in row.against))
    guessed = replace(fluid, source=Origin(ESTIMATE))
    for each in fluid.against:
        table, id = each.what.split("/")
        assert answer_of(guessed, Met("x", table, id)).verdict != SAFE
        if each.verdict != SAFE:
            assert answer_of(guessed, Met("x", table, id)).verdict == each.verdict


def test_what_its_like_does_not_withstand_it_does_not_either():
    """Lacquer by airbrush has no row of lacquer thinner; lacquer from a can has: never."""
    thinner = tables.row("fluids", "lacquer-thinner")
    assert "coats/clear-lacquer-airbrush" not in {each.what for each in thinner.against}
    found = answer_of(thinner, Met("x", "coats", "clear-lacquer-airbrush"))
    assert found.verdict == NEVER and "estimate" in found.why


def test_the_verdict_of_a_fluid_is_its_harshest_on_all_that_it_meets():
    grid = itertools.product(("clear-inkjet", "clear-laser"), ("clear-lacquer", "clear-acrylic-water"), ("yes", "no"))
    for film, seal, glossed in grid:
        printer = "laser" if film == "clear-laser" else "inkjet-dye"
        answered = asked(film=film, seal=seal, glossed=glossed, gloss=seal, printer=printer, paint="paint-oil")
        for row in answered.fluids:
            pairs = [each.verdict for each in answered.pairs if each.fluid == row.fluid]
            assert len(pairs) == (4 if glossed == "yes" else 3)
            assert row.verdict == max(pairs, key=ORDER.index)


def test_the_mildest_comes_first_and_what_is_never_has_no_number():
    answered = asked()
    strengths = {row.label: ("mild", "medium", "strong").index(row.strength) for row in FLUIDS}
    numbered = [row for row in answered.fluids if row.order is not None]
    assert [row.order for row in numbered] == list(range(1, len(numbered) + 1))
    assert [strengths[row.fluid] for row in numbered] == sorted(strengths[row.fluid] for row in numbered)
    assert all((row.order is None) == (row.verdict == NEVER) for row in answered.fluids)


def test_laser_film_under_lacquer_has_a_safe_softener():
    """The table marks weak alcohol safe on laser film, cured lacquer and cured lacquer paint."""
    answered = asked(film="clear-laser", printer="laser", paint="paint-lacquer")
    assert answered.verdict == "safe" and answered.first == "Softening fluid, alcohol in water"


def test_bare_acrylic_paint_forbids_alcohol_and_a_gloss_coat_only_weakens_that():
    bare = asked(film="clear-laser", printer="laser", glossed="no")
    glossed = asked(film="clear-laser", printer="laser")
    of = {row.fluid: row.verdict for row in bare.fluids}, {row.fluid: row.verdict for row in glossed.fluids}
    assert [each["Softening fluid, alcohol in water"] for each in of] == [NEVER, TEST_FIRST]


def test_an_unsealed_inkjet_print_is_sealed_first():
    answered = asked(sealed="no", printer="inkjet-dye")
    assert answered.verdict == "unsealed" and answered.first is None
    assert all(row.verdict == NEVER for row in answered.fluids)


@pytest.mark.parametrize(("film", "printer"), [("clear-inkjet", "laser"), ("clear-laser", "inkjet-dye")])
def test_a_film_in_the_wrong_printer_is_refused(film, printer):
    answered = asked(film=film, printer=printer)
    assert answered.verdict == "wrong-film"
    assert tables.row("substrates", film).why_never in told(answered)


def test_two_part_urethane_is_refused_with_the_reason():
    for name in ("gloss", "clear"):
        answered = asked(**{name: "clear-urethane-two-part"})
        assert answered.verdict == "refused" and answered.fluids == ()
        assert "isocyanates" in told(answered)


@pytest.mark.parametrize(
    ("clear", "thinner", "verdict"),
    # Common practice: white spirit lifts oil varnish and leaves cured acrylic, lacquer thinner takes off everything.
    [
        ("clear-oil", "White spirit, for cleaning and washes", NEVER),
        ("clear-acrylic-water", "White spirit, for cleaning and washes", SAFE),
        ("clear-acrylic-water", "Lacquer thinner", NEVER),
        ("clear-lacquer", "Lacquer thinner", NEVER),
        ("final-matt-water", "White spirit, for cleaning and washes", TEST_FIRST),
    ],
)
def test_thinners_of_weathering_are_judged_on_the_protecting_clear(clear, thinner, verdict):
    (row,) = (each for each in asked(clear=clear).thinners if each.thinner == thinner)
    assert row.verdict == verdict and row.why and row.carries


# -- The waits that the answer shows: common practice, no source


def step(answered, name: str):
    (row,) = (each for each in answered.steps if each.step == name)
    return row


@pytest.mark.parametrize("film", ["clear-inkjet", "white-inkjet"])
def test_ink_dries_at_least_twenty_to_thirty_minutes_and_by_a_finger(film):
    row = step(asked(film=film), "Ink, before the seal")
    assert "at least 20 to 30\N{NO-BREAK SPACE}min" in row.wait and "finger" in row.ends.lower()


def test_the_seal_dries_overnight_before_water():
    assert "usually 12 to 24\N{NO-BREAK SPACE}h" in step(asked(), "Seal, before water").wait


def test_a_marking_stays_under_a_minute_in_water():
    assert "at most 60\N{NO-BREAK SPACE}s" in step(asked(), "In the water").wait


def test_softener_settles_three_to_four_hours():
    assert "usually 3 to 4\N{NO-BREAK SPACE}h" in step(asked(), "After softening fluid").wait


def test_a_mist_comes_first_over_inkjet():
    row = step(asked(printer="inkjet-dye"), "The seal itself")
    assert row.wait == "mist first" and "mist" in row.ends


def test_every_answer_defers_to_the_data_sheet_and_the_test_piece():
    for film, printer in (
        ("clear-inkjet", "inkjet-dye"),
        ("clear-laser", "laser"),
        ("clear-thermal", "thermal-ribbon-white"),
    ):
        words = told(asked(film=film, printer=printer))
        assert "data sheet" in words and "test piece" in words
