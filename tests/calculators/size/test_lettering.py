"""The calculator for lettering: published sizes at scale, its files, and what it has against a text."""

import io
import re

import pikepdf
import pytest

from calculators import units
from calculators.declare import Refused
from calculators.declare.sentences import sentence
from calculators.size.lettering import CALCULATOR, LetteringInputs


def asked(**inputs):
    return CALCULATOR.answer(LetteringInputs(**inputs))


def sentences_of(outputs):
    return [sentence(each, units.MM) for each in outputs.reasons]


def test_us_marks_at_1_to_72():
    # 14 CFR 45.29, computed from its text: 12 in are 4.2333 mm, strokes 0.7056 mm, and N12345 is 1320.8 mm long.
    outputs = asked(text="N12345", rule="us-aircraft-fixed-wing", scale=72.0)
    found = (outputs.height_mm, outputs.stroke_mm, outputs.length_mm)
    assert found == pytest.approx((4.2333, 0.7056, 1320.8 / 72), abs=6e-5)
    assert outputs.verdict == "prints"
    assert [each.full_mm for each in outputs.letters if each.character == "1"] == pytest.approx([50.8])


def test_files_are_as_large_as_the_lettering():
    outputs = asked(text="AB52 CDE", rule="uk-plate-2001", scale=24.0)
    # SI 2001/561, read in copies: 438 mm long, 79 mm high.
    width, height = (
        float(each) for each in re.search(rb'width="([\d.]+)mm" height="([\d.]+)mm"', outputs.svg.data).groups()
    )
    assert (width, height) == pytest.approx((438 / 24, 79 / 24), abs=1e-6)
    with pikepdf.open(io.BytesIO(outputs.pdf.data)) as pdf:
        box = [float(each) for each in pdf.pages[0].MediaBox]
    assert box[2:] == pytest.approx([438 / 24 / 25.4 * 72, 79 / 24 / 25.4 * 72], abs=1e-3)
    assert "438" not in sentences_of(outputs)[0] and any(
        "prescribes a typeface" in each for each in sentences_of(outputs)
    )


def test_outlines_and_a_shadow_make_the_marking_larger():
    plain, drawn = (
        asked(text="12", rule="own-measure", height_mm=300.0, **more)
        for more in ({}, {"outline_mm": 0.2, "second_outline_mm": 0.1, "shadow_right_mm": 0.5})
    )
    assert drawn.own_width_mm == pytest.approx(plain.own_width_mm + 2 * 0.3 + 0.5, abs=1e-3)
    assert drawn.svg.data.count(b"<path") == 4
    assert drawn.length_mm == plain.length_mm


@pytest.mark.parametrize(
    ("inputs", "verdict", "words"),
    [
        ({"text": "33 84 4796 100-7", "rule": "uic-number"}, "forbidden", "The digit that fits is 8"),
        ({"text": "N12345", "rule": "us-aircraft-fixed-wing", "gap_mm": 40.0}, "departs", "at least 50.8 mm"),
        ({"text": "AB52 CDE", "rule": "uk-plate-2001", "slant_degrees": 10.0}, "departs", "a slant of at most 0°"),
        (
            {"text": "N12345", "rule": "us-aircraft-fixed-wing", "room_mm": 520.0},
            "departs",
            "the largest that fits: 120 mm",
        ),
        ({"text": "AB52 CDE", "rule": "uk-plate-2001", "room_mm": 219.0}, "departs", "the rule allows no less"),
        ({"text": "AB52 CDE", "rule": "uk-plate-2001", "length_mm": 10.0}, "not-drawn", "not 10 mm"),
        ({"text": "12", "rule": "own-measure"}, "not-drawn", "leaves the height open"),
        ({"text": "12", "rule": "own-measure", "height_mm": 60.0, "scale": 144.0}, "too-fine-to-print", "0.0694 mm"),
    ],
)
def test_verdicts_say_first_what_decides_them(inputs, verdict, words):
    outputs = asked(**inputs)
    assert outputs.verdict == verdict
    assert words in sentences_of(outputs)[0]


def test_a_text_that_is_not_drawn_is_a_problem_of_its_field():
    with pytest.raises(Refused) as refused:
        asked(text="Ä1")
    assert [(each.field, "Ä" in each.text) for each in refused.value.problems] == [("text", True)]


def test_every_rule_reminds_of_a_photograph():
    outputs = asked()
    assert outputs.reasons[-1].is_advice and "photograph" in outputs.reasons[-1].sentence
