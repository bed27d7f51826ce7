"""The ways to get white beneath: worked cases as practice would choose, and the sense of the weights."""

from dataclasses import dataclass, replace
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import messages, tables
from calculators.underlay.case import TERMS, Case, Part
from calculators.underlay.ways import ranked

WHITE, IVORY, MAROON, NAVY, GREEN = "#ffffff", "#efe4c4", "#7a2232", "#22304f", "#24443a"
GOLD, RED, YELLOW, BLACK, PALE, OFF_WHITE = "#b08d3c", "#b82a2a", "#e9b824", "#000000", "#efdcae", "#f4f4f0"


@dataclass(frozen=True)
class Worked:
    """A marking, the ways among which practice takes its own, and why it does: all of it common practice."""

    name: str
    chosen: set[str]
    why: str
    case: Case


def marking(paint, *parts, second=None, **more):
    return Case(parts=parts, base_a=paint, base_b=second or paint, **more)


def wanted_white(share=1.0):
    return Part(WHITE, share, is_white=True)


WORKED = [
    Worked(
        "white letters on dark blue",
        {"white-film-body-colour"},
        "Nobody cuts letters of half a millimetre out of white film. The body colour is printed around them, and "
        "the bare film"
        " is the letter; its edge goes to a panel line.",
        marking(NAVY, wanted_white(), outline_mm=0.5, inside_mm=0.5),
    ),
    Worked(
        "black letters on pale paint",
        {"bare-on-clear"},
        "Black lets nothing through, so nothing beneath it matters: clear film is thin, and there is nothing to "
        "register.",
        marking(IVORY, Part(BLACK, 1.0), outline_mm=0.4, inside_mm=0.4),
    ),
    Worked(
        "light crest over the border of two paints",
        {"stencil-and-clear", "backing-piece"},
        "The border shows through film of either kind. White of its own beneath the whole disc hides it, and a "
        "disc is easy to"
        " cut; white paint hides more than a piece of film and stands lower.",
        marking(
            IVORY,
            Part(IVORY, 0.4),
            Part("#c99a1c", 0.2),
            Part("#2f6b45", 0.2),
            Part(RED, 0.2),
            second=MAROON,
            outline_mm=10,
            inside_mm=0.3,
        ),
    ),
    Worked(
        "large red number on a plain glossy white side",
        {"stencil-only"},
        "On a large plain gloss surface every edge of film is seen. A simple shape in one colour is masked and "
        "sprayed.",
        marking(OFF_WHITE, Part(RED, 1.0), outline_mm=6, inside_mm=6, surface="plain-gloss"),
    ),
    Worked(
        "large white number on a plain glossy dark side",
        {"stencil-only"},
        "The same, and white paint is whiter than any film.",
        marking(GREEN, wanted_white(), outline_mm=6, inside_mm=6, surface="plain-gloss"),
    ),
    Worked(
        "tiny notices, black words on white plates",
        {"white-film-cut"},
        "The plates are little rectangles, cut from white film with a straight edge; the words are printed on them.",
        marking(MAROON, wanted_white(0.8), Part(BLACK, 0.2), outline_mm=3, inside_mm=0.2),
    ),
    Worked(
        "gold numerals that must glint",
        {"stencil-only"},
        "No home printer has metallic colours. Gold paint through a stencil is gold.",
        marking(MAROON, Part(GOLD, 1.0), outline_mm=0.9, inside_mm=0.9, metallic=True),
    ),
    Worked(
        "small gold numerals as a flat colour on maroon",
        {"white-service"},
        "Parts of 0.4 mm can neither be cut nor stencilled beneath; white and colour have to come from one printer.",
        marking(MAROON, Part(GOLD, 1.0), outline_mm=0.4, inside_mm=0.4),
    ),
    Worked(
        "dark green on cream",
        {"bare-on-clear"},
        "One dark colour on one pale one: the shift is small, and nobody sees it without the artwork beside it.",
        marking(PALE, Part(GREEN, 1.0), outline_mm=1, inside_mm=1),
    ),
    Worked(
        "a poster in many colours on a dark green side",
        {"white-film-cut"},
        "A rectangle with a picture on it is printed on white film and cut along its straight edges.",
        marking(
            GREEN,
            *(
                Part(each, 0.1)
                for each in (
                    "#102030",
                    "#d0c0a0",
                    "#808890",
                    "#406030",
                    "#a04030",
                    "#e0e0e8",
                    "#605040",
                    "#90a0b0",
                    "#203010",
                    "#c08060",
                )
            ),
            outline_mm=20,
            inside_mm=0.2,
        ),
    ),
    Worked(
        "red and black crest on white paint",
        {"bare-on-clear"},
        "White paint is the white beneath.",
        marking(OFF_WHITE, Part(RED, 0.8), Part(BLACK, 0.2), outline_mm=5, inside_mm=0.3),
    ),
    Worked(
        "small white letters, and a printer with white at hand",
        {"white-printer"},
        "Who has such a printer uses it: one film, nothing to register, and it holds fine parts.",
        marking(NAVY, wanted_white(), outline_mm=0.3, inside_mm=0.3, own_printer=True),
    ),
    Worked(
        "bold yellow and black warning band across two paints",
        {"stencil-and-clear", "stencil-only"},
        "A plain shape: the white is sprayed through two strips of tape, or the colours are too.",
        marking(IVORY, Part(YELLOW, 0.5), Part(BLACK, 0.5), second=MAROON, outline_mm=8, inside_mm=3),
    ),
    Worked(
        "black letters across the border of two paints",
        {"bare-on-clear"},
        "Black hides the border by itself.",
        marking(IVORY, Part(BLACK, 1.0), second=MAROON, outline_mm=0.5, inside_mm=0.5),
    ),
    Worked(
        "white draught figures on a black hull, by someone who cannot spray",
        {"white-film-body-colour"},
        "Black is the easiest body colour to match, and the figures are too small to cut.",
        marking("#1d1d1f", wanted_white(), outline_mm=0.3, inside_mm=0.3, sprays=False),
    ),
]


@pytest.mark.parametrize("worked", WORKED, ids=lambda each: each.name)
def test_the_way_of_practice_is_among_the_first_two(worked):
    first_two = [each.way.id for each in ranked(worked.case)[:2] if not each.out]
    assert worked.chosen & set(first_two), first_two


PRACTICE = [*yaml.safe_load((Path(__file__).parent / "practice.yaml").read_text("utf-8"))]


def case_of(each):
    """A marking as it is written down in practice.yaml."""
    over = {"first": (True, False), "second": (False, True)}
    parts = [
        Part(colour, share, next((over[word] for word in words if word in over), (True, True)), "white" in words)
        for colour, share, *words in each["parts"]
    ]
    return marking(each["paints"][0], *parts, second=each["paints"][-1], **each["case"])


@pytest.mark.parametrize("each", PRACTICE, ids=lambda each: each["name"])
def test_the_first_two_ways_are_those_that_practice_takes(each):
    first_two = [way.way.id for way in ranked(case_of(each))[:2] if not way.out]
    assert first_two and set(first_two) <= set(each["practice"]), first_two
    assert set(each["best"]) <= set(first_two), first_two


def test_every_way_comes_once_and_says_what_rules_it_out():
    for worked in WORKED:
        judged = ranked(worked.case)
        assert sorted(each.way.id for each in judged) == sorted(row.id for row in tables.load("ways"))
        assert [bool(each.out) for each in judged] == sorted(bool(each.out) for each in judged)


def ruled_out(case, way):
    return next(bool(each.out) for each in ranked(case) if each.way.id == way)


@pytest.mark.parametrize(
    ("way", "case", "cure"),
    [
        ("white-film-body-colour", marking(MAROON, Part(RED, 1.0)), {"parts": (wanted_white(),)}),
        ("white-film-body-colour", marking(NAVY, wanted_white(), second=MAROON), {"base_b": NAVY}),
        ("white-printer", marking(IVORY, wanted_white()), {"own_printer": True, "base_a": NAVY, "base_b": NAVY}),
        ("stencil-and-clear", marking(NAVY, wanted_white(), sprays=False), {"sprays": True}),
        ("stencil-only", marking(NAVY, wanted_white(), inside_mm=0.5), {"inside_mm": 1.0}),
        ("backing-piece", marking(NAVY, wanted_white(), outline_mm=0.5), {"outline_mm": 1.0}),
        (
            "stencil-only",
            marking(IVORY, *(Part(each, 0.25) for each in (RED, BLACK, GREEN, NAVY)), inside_mm=2),
            {"parts": (Part(RED, 0.5), Part(BLACK, 0.5))},
        ),
        ("bare-on-clear", marking(NAVY, Part(YELLOW, 1.0)), {"base_a": OFF_WHITE, "base_b": OFF_WHITE}),
        ("white-film-cut", marking(IVORY, Part(RED, 1.0), metallic=True), {"metallic": False}),
    ],
)
def test_a_way_returns_once_its_reason_is_gone(way, case, cure):
    assert ruled_out(case, way)
    assert not ruled_out(replace(case, **cure), way)


COLOURS = st.sampled_from([WHITE, IVORY, MAROON, NAVY, GREEN, GOLD, RED, YELLOW, BLACK, PALE])
PARTS = st.lists(
    st.builds(
        Part,
        COLOURS,
        st.sampled_from([0.1, 0.5, 1.0]),
        st.sampled_from([(True, True), (True, False), (False, True)]),
        st.booleans(),
    ),
    min_size=1,
    max_size=4,
)
PRICES = st.dictionaries(
    st.sampled_from(["clear", "white", "paint", "stencil", "service", "white_print"]), st.floats(0, 200)
)
CASES = st.builds(
    Case,
    parts=PARTS.map(tuple),
    base_a=COLOURS,
    base_b=COLOURS,
    outline_mm=st.floats(0.2, 20),
    inside_mm=st.floats(0.2, 20),
    surface=st.sampled_from(["plain-gloss", "usual", "broken"]),
    metallic=st.booleans(),
    own_printer=st.booleans(),
    sprays=st.booleans(),
    prices=PRICES,
    weights=st.fixed_dictionaries({term: st.integers(0, 10) for term in TERMS}),
)


@settings(max_examples=60, deadline=None)
@given(case=CASES, term=st.sampled_from(list(TERMS)), more=st.integers(1, 10))
def test_more_weight_never_helps_a_worse_way(case, term, more):
    before = [each for each in ranked(case) if not each.out]
    heavier = replace(case, weights={**case.weights, term: case.weights[term] + more})
    after = {each.way.id: place for place, each in enumerate(ranked(heavier))}
    for place, ahead in enumerate(before):
        for behind in before[place + 1 :]:
            if ahead.terms[term] <= behind.terms[term]:
                assert after[ahead.way.id] < after[behind.way.id]


@settings(max_examples=60, deadline=None)
@given(case=CASES, price=st.floats(1, 100))
def test_a_dearer_service_never_moves_up(case, price):
    def place(each):
        return next(at for at, way in enumerate(ranked(each)) if way.way.id == "white-service")

    cheap = replace(case, prices={**case.prices, "service": price})
    dear = replace(case, prices={**case.prices, "service": 2 * price})
    assert place(dear) >= place(cheap)


@settings(max_examples=60, deadline=None)
@given(case=CASES)
def test_all_terms_lie_on_one_scale(case):
    for each in ranked(case):
        assert set(each.terms) == set(TERMS)
        assert all(0 <= term <= 1 for term in each.terms.values())
        assert each.edge_um[0] <= each.edge_um[1] and each.wait_h[0] <= each.wait_h[1]


@settings(max_examples=60, deadline=None)
@given(case=CASES)
def test_some_way_is_always_left(case):
    first = ranked(case)[0]
    assert not first.out
    # Where it does not do all that is asked, no other way does either.
    assert not first.short or all(each.out for each in ranked(case)[1:])


@pytest.mark.parametrize("narrow", [0.06, 0.1, 0.3])
def test_parts_too_narrow_for_every_way_rule_none_out(narrow):
    judged = ranked(marking(NAVY, wanted_white(), outline_mm=narrow, inside_mm=narrow))
    left = [each for each in judged if not each.out]
    assert left and not any(each.short for each in left)
    assert (left[0].thickened is not None) == (narrow < 0.15)


def test_metal_without_spraying_leaves_the_nearest_way_with_its_want():
    first = ranked(marking(MAROON, Part(GOLD, 1.0), metallic=True, sprays=False))[0]
    assert [each.sentence.sentence for each in first.short] == [messages.WAY_NO_SPRAY]


@pytest.mark.parametrize(
    ("case", "sentence"),
    [
        (marking(OFF_WHITE, wanted_white(), second=RED, painted=True), messages.WAY_PAINTED),
        (marking(NAVY, wanted_white()), messages.WAY_NO_WHITE_PAINT),
        (marking(OFF_WHITE, Part(RED, 1.0, (True, False)), second=RED), messages.WAY_ON_WHITE),
    ],
)
def test_the_models_own_white_says_why_it_cannot_be_kept(case, sentence):
    masked = next(each for each in ranked(case) if each.way.id == "model-white-masked")
    assert sentence in [each.sentence.sentence for each in masked.out]


def test_the_models_own_white_takes_film_only_for_colours():
    def masked(*parts):
        return next(
            each for each in ranked(marking(OFF_WHITE, *parts, second=RED)) if each.way.id == "model-white-masked"
        )

    over_red = (False, True)
    white = masked(Part(WHITE, 1.0, over_red, is_white=True))
    coloured = masked(Part(WHITE, 0.5, over_red, is_white=True), Part(NAVY, 0.5, over_red))
    film = tables.row("ways", "bare-on-clear").edge
    assert coloured.edge_um == (white.edge_um[0] + film.low, white.edge_um[1] + film.high)
    assert (white.pieces, coloured.pieces) == (0, 1)
