"""The calculator for lettering: published sizes at scale, its files, and what it has against a text."""

import io
import json
import re
from functools import cache

import pikepdf
import pytest

from calculators import units
from calculators.declare import Refused
from calculators.declare.sentences import sentence
from calculators.jobs.model import SharedText
from calculators.jobs.parts import kinds_of
from calculators.lettering.drawing import MOST_WORK
from calculators.lettering.series import MOST_ROWS
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
    (problem,) = refused.value.problems
    # The page ends what is wrong with a full stop, and the hint follows.
    assert (problem.field, problem.text) == ("text", "These characters are not drawn: Ä")
    assert problem.hint.startswith("The alphabet has A to Z") and problem.hint.endswith("the blank.")


def test_every_rule_reminds_of_a_photograph():
    outputs = asked()
    assert outputs.reasons[-1].is_advice and "photograph" in outputs.reasons[-1].sentence


@cache
def a_series():
    return asked(
        draw="series",
        series="33 84 4796 100 to 33 84 4796 102, 33 84 4796 100-7 x 3",
        rule="uic-number",
        height_mm=200.0,
        outline_mm=0.2,
    )


def test_a_series_has_every_row_with_its_check_digit_and_copies():
    # UIC 438, from memory: 33 84 4796 100-8.
    found = [(each.text, each.copies) for each in a_series().texts]
    assert found[0] == ("33 84 4796 100-8", 1) and found[3] == ("33 84 4796 100-7", 3)
    assert a_series().texts[0].against == "Nothing" and "fits is 8" in a_series().texts[3].against
    assert a_series().verdict == "forbidden" and "1 of 4 texts" in sentences_of(a_series())[0]
    assert a_series().length_mm == max(each.model_mm for each in a_series().texts)


def test_files_of_a_series_hold_every_copy_of_every_row():
    # A path for each colour of each text, with as many outer rings and holes as its copies have.
    paths = re.findall(rb'd="([^"]*)"', a_series().svg.data)
    assert len(paths) == 2 * 4
    single = asked(text="33 84 4796 100-7", rule="uic-number", height_mm=200.0, outline_mm=0.2)
    rings = [each.count(b"M") for each in re.findall(rb'd="([^"]*)"', single.svg.data)]
    assert [each.count(b"M") for each in paths[-2:]] == [3 * count for count in rings]
    width, height = (
        float(each) for each in re.search(rb'width="([\d.]+)mm" height="([\d.]+)mm"', a_series().svg.data).groups()
    )
    # Four rows, and two copies more that do not fit on a sheet of 190 mm beside the first one.
    pieces_beside = int((190 + 2) // (single.own_width_mm + 2))
    rows = 3 + -(-3 // pieces_beside)
    assert height == pytest.approx(rows * (200 / 43.5 + 0.4) + (rows - 1) * 2, abs=1e-3)
    assert width <= 190
    with pikepdf.open(io.BytesIO(a_series().pdf.data)) as pdf:
        assert float(pdf.pages[0].MediaBox[3]) == pytest.approx(height / 25.4 * 72, abs=1e-3)


def test_a_series_can_be_kept_as_rows():
    lead = a_series().next_steps[0]
    assert lead.page == "job/" and "4 texts" in lead.words
    assert json.loads(lead.sets["rows"]) == [[each.text, each.copies] for each in a_series().texts]
    assert not asked().next_steps


def test_the_longest_series_still_fits_into_a_value_of_the_job():
    # The least for a text is a character; each has quotes, brackets, commas and up to three digits of copies.
    most = MOST_WORK + MOST_ROWS * len('["",500],') + 2
    assert most <= kinds_of(SharedText)["text"].most


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("19 to 12", "runs backwards"),
        ("12, é", "é"),
        ("12 x 501", "500 pieces"),
        ("ROWANSKERRY 100 to 299", "1600 characters"),
    ],
)
def test_a_series_that_is_not_drawn_says_why_beside_its_field(typed, words):
    with pytest.raises(Refused) as refused:
        asked(draw="series", series=typed)
    (problem,) = refused.value.problems
    assert problem.field == "series" and words in problem.text and not problem.text.endswith(".")


def test_an_outline_too_narrow_to_draw_is_refused_with_the_least():
    outputs = asked(draw="series", series="1 to 200", outline_mm=0.0001)
    assert outputs.verdict == "not-drawn" and "at least 0.01 mm" in sentences_of(outputs)[0]
