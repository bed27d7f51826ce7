"""The look of a colour: names, common practice, and the limit at the reported layers."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import catalogue, tables
from calculators.colour import srgb
from calculators.colour.beyond import NEAR_0, NEAR_255
from calculators.colour.difference import delta_e
from calculators.colour.seen import Marking
from calculators.colour.white_layers import scattering_power
from calculators.read import read
from calculators.underlay.judging import ACCEPTED_DELTA_E, MOST_LAYERS
from calculators.underlay.seen_colour import SeenColourInputs, seen_colour

COLOURS = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)
WHITES = [row.id for row in tables.load("materials") if row.kind == "white"]
IVORY, MAROON = "#efe4c4", "#7a2232"
#: Half of observers notice it: R. D. Paravina et al. (2015), on teeth.
NOTICED = 0.8


def seen(**typed):
    return seen_colour(SeenColourInputs(**typed))


def test_inputs_have_the_agreed_names():
    names = {"artwork_colour", "film", "white_material", "white_layers", "base_a", "base_b"}
    assert names <= set(SeenColourInputs.__dataclass_fields__)
    assert catalogue.find("seen-colour").stage == "underlay"
    assert [row.id for row in tables.load("materials") if row.kind == "film"] == ["clear", "white"]


# -- Common practice, no published source -----------------------------------------------------------


@pytest.mark.parametrize("paint", [row.id for row in tables.load("paint-colours")])
def test_white_on_clear_vanishes(paint):
    colour = tables.row("paint-colours", paint).colour
    answer = seen(artwork_colour="#ffffff", film="clear", white_layers=0, base_a=colour, base_b=colour)
    assert answer.verdict == "fails"
    assert answer.seen_a == colour
    assert all(end.contrast_a < 10 for end in answer.at_both_ends)


@pytest.mark.parametrize("colour", ["#f2d24b", "#e9b824", "#a6b995", "#d58f9b"])
@pytest.mark.parametrize("paint", [IVORY, "#efdcae"])
def test_a_light_colour_over_pale_paint_passes_shifted(colour, paint):
    answer = seen(artwork_colour=colour, film="clear", white_layers=0, base_a=paint, base_b=paint)
    assert answer.verdict == "shifts"
    assert answer.shift_a > ACCEPTED_DELTA_E
    assert answer.border_delta_e == 0


@pytest.mark.parametrize("colour", ["#f2d24b", "#efe4c4", "#a6b995", "#d58f9b", "#9dbfd0"])
@pytest.mark.parametrize("paint", [MAROON, "#22304f", "#24443a", "#1d1d1f"])
def test_a_light_colour_over_dark_paint_is_hardly_legible(colour, paint):
    answer = seen(artwork_colour=colour, film="clear", white_layers=0, base_a=paint, base_b=paint)
    assert answer.verdict == "fails"
    assert answer.contrast_a < seen(artwork_colour=colour, film="white", base_a=paint, base_b=paint).contrast_a


@pytest.mark.parametrize("colour", ["#e9b824", "#efe4c4", "#9dbfd0", "#b82a2a"])
def test_over_a_strong_border_the_border_shows(colour):
    answer = seen(artwork_colour=colour, film="clear", white_layers=0, base_a=IVORY, base_b=MAROON)
    assert answer.verdict == "fails"
    assert answer.border_delta_e > 5 * ACCEPTED_DELTA_E
    assert all(end.verdict == "fails" for end in answer.at_both_ends)


def test_black_on_clear_needs_nothing():
    answer = seen(artwork_colour="#000000", film="clear", white_layers=0, base_a=IVORY, base_b=MAROON)
    assert answer.verdict == "passes"
    assert answer.layers_needed == 0


def test_white_film_alone_may_not_hide_a_border():
    answer = seen(film="white", white_layers=0, base_a=IVORY, base_b=MAROON)
    assert answer.verdict == "fails"
    assert answer.border_delta_e > ACCEPTED_DELTA_E
    low, high = answer.at_both_ends
    assert high.border_delta_e < low.border_delta_e


@pytest.mark.parametrize("film", ["clear", "white"])
@pytest.mark.parametrize("white", ["white-paint-spray", "white-paint-brush"])
def test_white_paint_beneath_does(film, white):
    needed = seen(film=film, white_material=white, base_a=IVORY, base_b=MAROON).layers_needed
    assert 1 <= needed <= 5
    answer = seen(film=film, white_material=white, white_layers=needed, base_a=IVORY, base_b=MAROON)
    assert answer.border_delta_e <= ACCEPTED_DELTA_E
    assert answer.verdict in ("passes", "shifts")


# -- The limit, and both ends -----------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(
    art=COLOURS,
    a=COLOURS,
    b=COLOURS,
    film=st.sampled_from(["clear", "white"]),
    white=st.sampled_from(WHITES),
    limit=st.floats(0.5, 5),
)
def test_the_limit_holds_from_the_needed_layers_on(art, a, b, film, white, limit):
    answer = seen(artwork_colour=art, base_a=a, base_b=b, film=film, white_material=white, border_limit=limit)
    film_power = scattering_power(tables.row("materials", film).contrast_ratio.low)
    white_power = scattering_power(tables.row("materials", white).contrast_ratio.low)
    marking = Marking(art, a, b)

    def border(count):
        return marking.over_white(film_power + count * white_power).border

    needed = answer.layers_needed
    if needed is None:
        assert max(border(count) for count in range(MOST_LAYERS, 25)) > limit
    else:
        assert 0 <= needed <= MOST_LAYERS
        assert all(border(count) <= limit + 1e-9 for count in range(needed, 120))
        assert needed == 0 or border(needed - 1) > limit


@settings(max_examples=25, deadline=None)
@given(art=COLOURS, base=COLOURS, white=st.sampled_from(WHITES), layers=st.integers(0, MOST_LAYERS))
def test_one_paint_has_no_border(art, base, white, layers):
    answer = seen(artwork_colour=art, base_a=base, base_b=base, white_material=white, white_layers=layers)
    assert answer.border_delta_e == 0
    assert answer.layers_needed == 0
    assert (answer.seen_a, answer.shift_a, answer.contrast_a) == (answer.seen_b, answer.shift_b, answer.contrast_b)


@settings(max_examples=25, deadline=None)
@given(art=COLOURS)
def test_over_white_paint_on_clear_the_artwork_is_itself(art):
    """Beside the end of red, where an ink counts in part as beyond the screen, as far as half of observers see."""
    answer = seen(artwork_colour=art, base_a="#ffffff", base_b="#ffffff")
    if int(art[1:3], 16) in {0, *range(NEAR_0, 256 - NEAR_255), 255}:
        assert answer.seen_a == art
    assert delta_e(*(srgb.lab_of(srgb.light_of(each)) for each in (answer.seen_a, art))) <= NOTICED
    assert answer.shift_a == pytest.approx(0, abs=1e-9)


def test_none_are_enough_where_the_white_hides_too_little():
    answer = seen(
        artwork_colour="#ffffff", white_material="white-toner", base_a="#ffffff", base_b="#000000", border_limit=0.5
    )
    assert answer.layers_needed is None
    assert any("12 layers" in each.values.get("layers", "") for each in answer.reasons)


def test_it_says_when_the_two_ends_disagree():
    answer = seen(film="white", white_layers=1, base_a=IVORY, base_b=MAROON)
    low, high = answer.at_both_ends
    assert answer.verdict == low.verdict != high.verdict
    assert "the verdict changes" in answer.reasons[-1].sentence
    agreed = seen(base_a=IVORY, base_b=MAROON)
    assert len({each.verdict for each in agreed.at_both_ends}) == 1
    assert not any("the verdict changes" in each.sentence for each in agreed.reasons)


@pytest.mark.parametrize("layers", [0, 1, 6, 7, 12])
@pytest.mark.parametrize("film", ["clear", "white"])
def test_the_drawings_stand_alone(film, layers):
    from xml.etree import ElementTree

    answer = seen(film=film, white_layers=layers)
    for drawing in (answer.swatches, answer.section, answer.chart):
        root = ElementTree.fromstring(drawing.svg)
        sizes = [float(each.get("font-size")) for each in root.iter() if each.get("font-size")]
        assert sizes and min(sizes) >= 15
        assert drawing.alt and not any("style" in each.attrib for each in root.iter())
    assert answer.seen_a in answer.swatches.svg and answer.seen_b in answer.swatches.alt


# -- Colours by name --------------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["Maroon", "maroon", " dark  red ", "#7A2232", "7a2232"])
def test_a_paint_may_be_named(typed):
    assert read(SeenColourInputs, {"base_a": typed}).inputs.base_a == MAROON


def test_a_name_that_is_nearly_one_is_asked_back():
    (problem,) = read(SeenColourInputs, {"base_a": "maron"}).problems
    assert problem.field == "base_a"
    assert "“maron”" in problem.hint and "“Maroon”" in problem.hint


def test_an_invalid_colour_is_reported():
    (problem,) = read(SeenColourInputs, {"base_a": "#12"}).problems
    assert problem.text == "Paint takes a colour such as #7a2232, or a name such as White"
    assert "or a name from the list" in problem.hint


def test_a_film_is_no_white_beneath():
    (problem,) = read(SeenColourInputs, {"white_material": "white"}).problems
    assert problem.field == "white_material"


# -- The tables -------------------------------------------------------------------------------------


def test_every_paint_colour_is_one_and_has_its_own_names():
    rows = tables.load("paint-colours")
    assert all(re.fullmatch("#[0-9a-f]{6}", row.colour) for row in rows)
    names = [name.casefold() for row in rows for name in {row.id, row.label.casefold(), *row.aliases}]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("material", tables.load("materials"), ids=lambda row: row.id)
def test_every_material_is_an_estimate_and_says_how_to_measure(material):
    assert material.contrast_ratio.source == tables.ESTIMATE
    assert "black" in material.measure and "white card" in material.measure
    assert 0 <= material.contrast_ratio.low < material.contrast_ratio.high < 1


@pytest.mark.parametrize(
    ("material", "kind"), [("white", "white film"), ("backing-film", "backing film"), ("clear", "clear film")]
)
def test_materials_agree_with_the_films_of_the_other_table(material, kind):
    films = [row.contrast_ratio for row in tables.load("substrates") if row.kind == kind]
    ours = tables.row("materials", material).contrast_ratio
    assert (ours.low, ours.high) == (min(each.low for each in films), max(each.high for each in films))


@pytest.mark.parametrize(
    ("colour", "is_estimate"), [("#00a0c8", True), ("#ffe000", True), ("#e9b824", False), ("#000000", False)]
)
def test_out_of_gamut_inks_are_marked_as_estimates(colour, is_estimate):
    answer = seen(artwork_colour=colour, base_a=MAROON, base_b=MAROON)
    assert is_estimate == any("is an estimate" in each.sentence for each in answer.reasons)
