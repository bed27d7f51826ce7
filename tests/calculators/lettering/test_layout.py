"""Texts laid out by rules, measured back from their outlines, and any text at all."""

import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import unary_union

from calculators import tables
from calculators.lettering.alphabet import CHARACTERS, Style
from calculators.lettering.layout import fitted_length, laid_out, largest_fitting, length_of
from calculators.lettering.sizes import Chosen, Unfit, departures, sizes_of

from . import measured

EXACT = 0.001
RULES = [row.id for row in tables.load("rules")]


def random_texts(count):
    draw = random.Random(20)
    texts = (
        (draw.choice(RULES), "".join(draw.choice(CHARACTERS) for _ in range(draw.randint(1, 12)))) for _ in range(count)
    )
    # By rule, so that letters that were drawn are found again.
    return sorted(texts)


def test_gaps_and_lengths_of_500_random_texts_are_those_of_the_rule():
    for rule, text in random_texts(500):
        sizes = measured.sizes(rule)
        drawn = laid_out(text, sizes)
        boxes = [measured.bounds(rings) for rings in drawn.rings()]
        for before, after in pairwise(boxes):
            assert after[0] - before[2] == pytest.approx(sizes.gap, abs=EXACT), (rule, text)
        assert boxes[-1][2] - boxes[0][0] == pytest.approx(drawn.length, abs=EXACT)
        assert boxes[0][0] == pytest.approx(0, abs=EXACT)


@given(st.text(min_size=1, max_size=40), st.sampled_from(RULES))
@settings(max_examples=40, deadline=None)
def test_any_text_is_laid_out_or_refused_with_its_characters(text, rule):
    sizes = measured.sizes(rule)
    try:
        drawn = laid_out(text, sizes)
    except Unfit as unfit:
        strange = {
            sign for sign in text if not sign.isspace() and (not sign.isascii() or sign.upper() not in CHARACTERS)
        }
        sentence = unfit.problem.sentence.format(**unfit.problem.values)
        for sign in strange:
            assert sign in sentence or f"U+{ord(sign):04X}" in sentence
        assert strange or not text.strip() or len([line for line in text.splitlines() if line.strip()]) > 2
    else:
        assert "".join(each.character for each in drawn.placed) == "".join(text.upper().split())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("ÄB1", "Ä"),
        ("A\u200bB", "U+200B"),
        ("N1\x07", "U+0007"),
        ("Straße", "ß"),
        ("", "at least one character"),
        (" \n ", "at least one character"),
        ("A\nB\nC", "3 lines"),
        ("A" * 41, "41 characters"),
    ],
)
def test_what_is_not_drawn_is_named(text, words):
    with pytest.raises(Unfit) as unfit:
        laid_out(text, measured.sizes("own-measure"))
    assert words in unfit.value.problem.sentence.format(**unfit.value.problem.values)


def test_groups_are_parted_by_the_gap_between_groups():
    sizes = measured.sizes("uk-plate-2001")
    boxes = [measured.bounds(rings) for rings in laid_out("AB52   CDE", sizes).rings()]
    assert boxes[4][0] - boxes[3][2] == pytest.approx(33, abs=EXACT)


def test_slanted_letters_lean_by_the_angle_about_their_feet():
    sizes = measured.sizes("own-measure")
    upright, slanted = (laid_out("HI", sizes, slant_degrees=degrees).rings() for degrees in (0, 20))
    lean = sizes.height * 0.36397023426620234  # tan 20°, NIST Digital Library of Mathematical Functions, 4.3
    for before, after in zip(upright, slanted, strict=True):
        left, top, right, bottom = measured.bounds(before)
        assert measured.bounds(after) == pytest.approx((left, top, right + lean, bottom), abs=EXACT)
        assert measured.polygon(after).area == pytest.approx(measured.polygon(before).area)


@pytest.mark.parametrize("degrees", [-1, 31, 90])
def test_letters_slant_only_so_far(degrees):
    with pytest.raises(Unfit, match="slant"):
        laid_out("A", measured.sizes("own-measure"), slant_degrees=degrees)


@pytest.mark.parametrize("length", [390.0, 438.0, 520.0, 700.0])
def test_a_text_is_condensed_or_expanded_to_a_length_with_its_strokes_as_they_are(length):
    sizes = measured.sizes("uk-plate-2001")
    fitted = fitted_length("AB52 CD1", sizes, length)
    drawn = laid_out("AB52 CD1", fitted)
    assert drawn.length == pytest.approx(length, abs=EXACT)
    assert (fitted.stroke, fitted.height) == (sizes.stroke, sizes.height)
    first = drawn.rings()[0]
    assert measured.thicknesses(first, 5).min() == pytest.approx(14, abs=EXACT)
    # The rule gives another width, and says so.
    rule = tables.row("rules", "uk-plate-2001")
    assert [each.values["size"] for each in departures(rule, fitted)] == [
        "width of a character",
        "gap between characters",
    ]


@pytest.mark.parametrize("length", [1.0, 300.0, 5000.0])
def test_a_length_that_cannot_be_had_is_refused_with_those_that_can(length):
    with pytest.raises(Unfit) as unfit:
        fitted_length("AB52 CDE", measured.sizes("uk-plate-2001"), length)
    values = unfit.value.problem.values
    shortest, longest = values["shortest_mm"], values["longest_mm"]
    assert not shortest <= length <= longest
    for end in (shortest, longest):
        sizes = fitted_length("AB52 CDE", measured.sizes("uk-plate-2001"), end)
        assert length_of("AB52 CDE", sizes) == pytest.approx(end)


def test_the_largest_marks_that_fit_a_small_surface():
    # 14 CFR 45.29(f), read: as large as practicable. N12345 is 52/12 of its height long.
    sizes = measured.sizes("us-aircraft-fixed-wing")
    small = largest_fitting("N12345", sizes, 520.0, 400.0)
    assert small.height == pytest.approx(120.0)
    assert laid_out("N12345", small).length == pytest.approx(520.0)
    assert largest_fitting("N12345", sizes, 5000.0, 400.0) == sizes
    assert largest_fitting("N12345", sizes, 5000.0, 100.0).height == pytest.approx(100.0)


def test_letters_do_not_overlap():
    drawn = laid_out("RLR 12 & CO./7-8", measured.sizes("own-measure"))
    letters = [measured.polygon(rings) for rings in drawn.rings()]
    assert unary_union(letters).area == pytest.approx(sum(each.area for each in letters))


@pytest.mark.parametrize(
    ("chosen", "words"),
    [
        ({"height": 100.0, "width": 40.0, "stroke": 15.0}, "close letters"),
        ({"height": 100.0, "stroke": 21.0}, "close letters"),
        ({}, "leaves the height open"),
    ],
)
def test_sizes_that_close_letters_are_refused(chosen, words):
    with pytest.raises(Unfit) as unfit:
        sizes_of(tables.row("rules", "own-measure"), Chosen(**chosen))
    assert words in unfit.value.problem.sentence.format(**unfit.value.problem.values)


def test_breaks_that_cut_through_the_sides_are_refused():
    with pytest.raises(Unfit, match="Breaks"):
        laid_out("A", measured.sizes("uk-plate-2001"), Style(stencil=12.0))


@pytest.mark.parametrize(
    ("rule", "chosen", "sizes"),
    [
        ("us-aircraft-fixed-wing", {"height": 200.0}, ["height"]),
        ("us-aircraft-fixed-wing", {"height": 400.0, "gap": 100.0}, []),
        ("us-aircraft-fixed-wing", {"gap": 40.0}, ["gap between characters"]),
        ("us-aircraft-fixed-wing", {"wide": 320.0}, ["width of the wide characters"]),
        ("uk-plate-2001", {"gap": 12.0, "stroke": 13.0}, ["width of the strokes", "gap between characters"]),
        ("draught-figures-metric", {"height": 103.0}, []),
        ("own-measure", {"height": 9.0, "gap": 3.0}, []),
    ],
)
def test_departures_from_a_rule_are_named(rule, chosen, sizes):
    row = tables.row("rules", rule)
    assert [each.values["size"] for each in departures(row, sizes_of(row, Chosen(**chosen)))] == sizes
