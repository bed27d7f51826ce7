"""Texts in a font: height, spaces, arcs, wanted lengths, and what is refused by name."""

from dataclasses import replace
from functools import cache
from math import hypot
from unicodedata import category, normalize

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.lettering import ARCH, BOWL, SANS, SLAB
from calculators.lettering.effects import layers
from calculators.lettering.fonts import scripts
from calculators.lettering.fonts.font import CAPITALS, FIGURES, Font
from calculators.lettering.fonts.served import served
from calculators.lettering.fonts.setting import Refusal, Setting, fitted_to, set_in_font, stretched_to, stroke_of
from calculators.lettering.sizes import Unfit
from calculators.shapes.extents import bounds

from .. import measured
from . import made

USUAL = Setting(height=100.0, reference=CAPITALS)


@cache
def bars():
    return Font("bars", made.truetype())


@cache
def sans():
    return Font("sans", served(SANS))


def boxes(drawn):
    return [measured.bounds(rings) for rings in drawn.rings() if rings]


def test_height_is_that_of_capitals_or_of_figures():
    # The H of the font is 700 units high, its 1 is 680.
    assert boxes(set_in_font("H1", bars(), USUAL))[0][3] == pytest.approx(100)
    by_figures = boxes(set_in_font("H1", bars(), replace(USUAL, reference=FIGURES)))
    assert [box[3] - box[1] for box in by_figures] == pytest.approx([100 * 700 / 680, 100])


def test_letters_stand_where_advances_kerning_and_spaces_put_them():
    # Advances are 600 units, that of the blank too. All begin 80 units after their place, so the first is the origin.
    drawn = set_in_font("II I", bars(), replace(USUAL, letter_space=3.0, word_space=10.0))
    step = 600 / 7 + 3
    assert [box[0] for box in boxes(drawn)] == pytest.approx([0, step, 3 * step + 10])
    assert drawn.length == pytest.approx(3 * step + 10 + 100 / 7)


def test_kerning_can_be_left_out():
    kerned, plain = (set_in_font("AVAVA", sans(), replace(USUAL, kerned=kerned)).length for kerned in (True, False))
    pairs = [sans().kerning(*pair, "latn") for pair in ("AV", "VA")]
    assert min(pairs) < 0 and plain - kerned == pytest.approx(-2 * sum(pairs) * 100 / 700)


def test_a_slant_moves_the_top_and_no_foot():
    slanted = boxes(set_in_font("I", bars(), replace(USUAL, slant_degrees=20.0)))[0]
    # tan 20° is 0.36397.
    assert slanted == pytest.approx((0, 0, 100 / 7 + 36.397, 100), abs=1e-3)


@pytest.mark.parametrize(("line", "sense"), [(ARCH, 1), (BOWL, -1)])
def test_letters_on_an_arc_stand_upright_on_their_circle(line, sense):
    radius = 400.0
    # The bar of a hyphen lies 300 to 380 units above the baseline.
    drawn = set_in_font("-----", bars(), replace(USUAL, line=line, radius=radius))
    points = [complex(*point) for rings in drawn.rings() for ring in rings for point in measured.points(ring)]
    middle = drawn.length / 2
    heights = [at.imag for at in points]
    foot = radius + sense * 300 / 7
    top = radius + sense * 380 / 7
    half = 110 / 7
    # Corners of a bar lie a little farther out than its middle: hypot(foot, half), (top, half).
    outermost = hypot(max(foot, top), half)
    centre = complex(middle, (min(heights) + max(foot, top)) if sense > 0 else (max(heights) - max(foot, top)))
    distances = sorted(abs(at - centre) for at in points)
    assert distances[0] == pytest.approx(hypot(min(foot, top), half), abs=1e-6)
    assert distances[-1] == pytest.approx(outermost, abs=1e-6)
    assert boxes(drawn)[0][0] == pytest.approx(0)


def test_an_arc_that_is_too_tight_names_its_least_radius():
    with pytest.raises(Unfit) as tight:
        set_in_font("HOXIHO", bars(), replace(USUAL, line=ARCH, radius=20.0))
    least = tight.value.problem.values["least_mm"]
    assert set_in_font("HOXIHO", bars(), replace(USUAL, line=ARCH, radius=least)).length > 0
    with pytest.raises(Unfit):
        set_in_font("H\nO", bars(), replace(USUAL, line=ARCH, radius=500.0))


def test_a_wanted_length_is_reached_and_room_is_kept():
    wanted = stretched_to("AVOCET 12", sans(), replace(USUAL, letter_space=4.0), 500.0)
    drawn = set_in_font("AVOCET 12", sans(), wanted)
    assert drawn.length == pytest.approx(500) and boxes(drawn)[-1][2] == pytest.approx(500)
    assert drawn.letter_height == 100
    fitted = set_in_font("AVOCET 12", sans(), fitted_to("AVOCET 12", sans(), USUAL, 200.0))
    assert fitted.length == pytest.approx(200) and fitted.letter_height < 100
    assert fitted_to("AVOCET 12", sans(), USUAL, 9e9) == USUAL
    with pytest.raises(Unfit):
        stretched_to("AVOCET", sans(), USUAL, 5.0)


def test_strokes_are_measured_on_the_h():
    # The stems of the H are 100 units wide, its bar is 80 units high.
    assert stroke_of(["X"], bars(), USUAL) == (pytest.approx(80 / 7), True)
    assert stroke_of(["X"], bars(), replace(USUAL, stretch=0.5)) == (pytest.approx(50 / 7), True)


def test_letters_that_touch_are_one_region():
    drawn = set_in_font("XX", bars(), replace(USUAL, letter_space=-20.0))
    (letters,) = layers(drawn, 1.0, "#000000")
    assert len(letters.rings) == 1 and measured.polygon(letters.rings).is_valid
    start, end = bounds(letters.rings)
    # Each X is 600 units wide and 20 mm of it lie over the other one.
    assert end.real - start.real == pytest.approx(2 * 600 / 7 - 20)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("שלום", "Hebrew is not set: its letters run from right to left"),
        ("سلام", "Arabic is not set: its letters join with each other"),
        ("नमस्ते", "Devanagari is not set"),
        ("ไทย", "Thai is not set"),
        ("𑄇", "A script of South or Southeast Asia is not set"),
        ("क + ש", "Devanagari is not set: its letters change their order and form beside others. Hebrew is not"),
        ("Ш漢", "The font lacks these characters: Ш, 漢"),
        ("A\u0331", "Marks that are set over or under a letter are not placed: "),
        ("a\u200db", "The font lacks these characters: U+200D"),
    ],
)
def test_scripts_and_characters_that_are_not_set_are_refused_by_name(text, words):
    with pytest.raises(Refusal) as refused:
        set_in_font(text, sans(), USUAL)
    assert words in refused.value.text and refused.value.hint


def test_a_letter_and_its_mark_are_one_character_where_the_font_has_it():
    assert set_in_font("E\u0301", sans(), USUAL).length == set_in_font("É", sans(), USUAL).length


@settings(max_examples=150, deadline=None)
@given(st.text(min_size=1, max_size=40))
def test_any_text_is_set_or_refused_with_its_characters(text):
    signs = {each for each in normalize("NFC", text) if not each.isspace()}
    lacking = {each for each in signs if not sans().glyph(each) or category(each) in ("Cc", "Cf")}
    try:
        drawn = set_in_font(text, sans(), USUAL)
    except (Refusal, Unfit):
        assert lacking or not text.split() or len(text.splitlines()) > 2 or any(map(category_is_mark, text))
    else:
        assert not lacking and drawn.length > 0
        assert not scripts.refused_scripts(text)


def category_is_mark(character):
    return category(character)[0] == "M"


def test_two_lines_are_centred_on_each_other():
    drawn = set_in_font("Light Railway\nNo. 12", Font("slab", served(SLAB)), USUAL)
    first = [box for box in boxes(drawn) if box[3] < 130]
    second = [box for box in boxes(drawn) if box[1] > 130]
    middles = [(min(box[0] for box in row) + max(box[2] for box in row)) / 2 for row in (first, second)]
    # Side bearings of the first and the last letter differ.
    assert middles[0] == pytest.approx(middles[1], abs=4)
