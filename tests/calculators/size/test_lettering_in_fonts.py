"""The calculator for lettering with fonts: sizes at scale, what is refused beside which field, and its files."""

import sys
from types import ModuleType

import pytest

from calculators import units
from calculators.declare import NamedFile, Refused
from calculators.declare.sentences import sentence
from calculators.lettering import fonts
from calculators.lettering.fonts.served import FILES
from calculators.size.lettering import CALCULATOR, LetteringInputs
from tests.calculators.lettering.fonts import made

OWN = NamedFile("bars.ttf", "", made.truetype())


def asked(**inputs):
    return CALCULATOR.answer(LetteringInputs(**inputs))


def own(**inputs):
    return asked(**{"text": "HOX-1", "letters": "own-font", "font_file": OWN, "font_height_mm": 350.0} | inputs)


def sentences_of(outputs):
    return [sentence(each, units.MM) for each in outputs.reasons]


def test_letters_of_an_own_font_have_its_proportions_at_scale():
    # Of 700 units, capitals are 350 mm and 350 / 43.5 on the model. The bar of the H is 80 units, its stem 100.
    outputs = own()
    assert outputs.height_mm == pytest.approx(350 / 43.5)
    assert outputs.stroke_mm == pytest.approx(40 / 43.5)
    assert {each.character: each.full_mm for each in outputs.letters} == pytest.approx(
        {"H": 220, "O": 250, "X": 300, "-": 110, "1": 50}
    )
    # Five advances of 600 units, less 80 before the H, and 400 behind the 1 that ends at 200.
    assert outputs.length_mm == pytest.approx((5 * 600 - 80 - 400) / 2 / 43.5)
    assert outputs.verdict == "font-prints"


@pytest.mark.parametrize("letters", FILES)
def test_fonts_of_the_site_write_mixed_case_with_all_effects(letters):
    outputs = asked(
        text="Teasel 12",
        letters=letters,
        outline_mm=0.2,
        second_outline_mm=0.25,
        shadow_right_mm=0.3,
        slant_degrees=12.0,
        length_mm=1500.0,
    )
    assert outputs.length_mm == pytest.approx(1500 / 43.5)
    assert outputs.svg.data.count(b"<path") == 4 and outputs.pdf.data.startswith(b"%PDF")
    assert outputs.verdict.startswith("font-")


def test_an_arc_has_its_radius_among_the_sizes():
    outputs = asked(text="ROWANSKERRY", letters="slab", baseline="arch", radius_mm=1500.0)
    assert [each.full_mm for each in outputs.sizes if "arc" in each.what] == [1500]
    assert outputs.height_mm > 200 / 43.5


@pytest.mark.parametrize(
    ("inputs", "verdict", "words"),
    [
        ({"length_mm": 1.0}, "not-drawn", "In this font the text can be"),
        ({"baseline": "arch", "radius_mm": 10.0}, "not-drawn", "too tight"),
        ({"font_height_mm": 20.0, "scale": 144.0}, "too-fine-to-print", "mm"),
        ({"font_file": None}, "no-font", "There is no font file yet"),
    ],
)
def test_verdicts_say_what_decides_them(inputs, verdict, words):
    outputs = own(**inputs)
    assert outputs.verdict == verdict
    assert words in sentences_of(outputs)[0]


@pytest.mark.parametrize(
    ("inputs", "field", "words"),
    [
        ({"text": "HÄX"}, "text", "Ä"),
        ({"text": "שלום"}, "text", "Hebrew"),
        ({"text": "H" * 41}, "text", "41 characters"),
        ({"font_file": NamedFile("a.ttf", "", b"no font")}, "font_file", "a.ttf is not a font file"),
        (
            {"text": "HO", "height_of": "figures", "font_file": NamedFile("a.ttf", "", made.without("one"))},
            "font_file",
            "1, 4, 7",
        ),
    ],
)
def test_what_is_wrong_stands_beside_its_field(inputs, field, words):
    with pytest.raises(Refused) as refused:
        own(**inputs)
    assert [(each.field, words in each.text) for each in refused.value.problems] == [(field, True)]


def test_without_the_library_a_font_says_how_to_get_it(monkeypatch):
    for name in [each for each in sys.modules if each.startswith(("fontTools", "calculators.lettering.fonts."))]:
        monkeypatch.delitem(sys.modules, name)
    for name in [name for name, each in vars(fonts).items() if isinstance(each, ModuleType)]:
        monkeypatch.delattr(fonts, name)
    monkeypatch.setitem(sys.modules, "fontTools", None)
    with pytest.raises(Refused) as refused:
        own()
    assert refused.value.problems[0].field == "letters" and "decalwright[fonts]" in refused.value.problems[0].hint


def test_counters_are_holes_in_the_file():
    rings = own(text="O").svg.data.split(b' d="')[1].split(b'"')[0].decode()
    assert rings.count("M") == 2


def test_a_series_in_a_font_has_the_sizes_of_its_longest_text():
    outputs = own(draw="series", series="HO, HOX x 2, X", length_mm=400.0)
    assert [(each.text, each.copies) for each in outputs.texts] == [("HO", 1), ("HOX", 2), ("X", 1)]
    # HOX ends 600 units behind its third place of 600, and begins 80 behind its first.
    assert [each.full_mm for each in outputs.texts][1] == pytest.approx(400)
    assert outputs.texts[2].full_mm == pytest.approx(400 * 600 / (3 * 600 - 80))
    assert outputs.height_mm == pytest.approx(350 / 43.5)


def test_a_text_of_a_series_that_the_font_lacks_is_a_problem_of_the_series():
    with pytest.raises(Refused) as refused:
        own(draw="series", series="HO, HÄ")
    assert [(each.field, "Ä" in each.text) for each in refused.value.problems] == [("series", True)]
