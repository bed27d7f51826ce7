"""What calculators that look at the same picture say of two flat colours that are near each other."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from tests.calculators.artwork import test_clean_picture as cleaning
from tests.calculators.artwork.test_picture_check import saved
from tests.calculators.artwork.test_trace import answer, reasons_text
from tests.calculators.pixels.test_near_colours import NEAR, PANEL, YELLOW, on_disc
from tests.calculators.underlay import test_cut_file as cutting

CHANGED = f"{NEAR} in the picture became {YELLOW}"


def as_jpeg(image: Image.Image) -> Image.Image:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=70, subsampling=2)
    return Image.open(file).convert("RGB")


def test_outlines_without_a_near_colour_are_not_good():
    outputs = answer(on_disc(PANEL), width_mm=30)
    assert outputs.verdict == "lost"
    assert CHANGED in reasons_text(outputs) and "Losses marked: 1" in outputs.outlines.alt


@pytest.mark.parametrize("image", [on_disc(), as_jpeg(on_disc(PANEL))], ids=["one colour", "jpeg"])
def test_outlines_of_one_colour_or_a_compressed_picture_stay_good(image):
    assert answer(image, width_mm=30).verdict == "traced"


def test_cleaning_with_a_lower_tolerance_and_another_colour_keeps_both():
    """What the outlines' reason asks for."""
    before, _picture = cleaning.asked(on_disc(PANEL))
    assert before["result"]["verdict"] == "lost"
    assert any(CHANGED in each for each in before["result"]["reasons"])
    lower, _picture = cleaning.asked(on_disc(PANEL), colour_tolerance="3")
    numbers = {row["colour"]: row["number"] for row in lower["result"]["colours"]}
    assert set(numbers) == {YELLOW, NEAR} and lower["result"]["verdict"] == "clean"
    change = {"which": numbers[NEAR], "does": "becomes", "becomes": "#003f87"}
    _reply, picture = cleaning.asked(on_disc(PANEL), [change], colour_tolerance="3")
    outputs = answer(picture, width_mm=30)
    assert outputs.verdict == "traced" and {each.colour for each in outputs.colours} == {YELLOW, "#003f87"}


def test_a_near_colour_beyond_the_typed_number_comes_back_as_advised():
    few, _picture = cleaning.asked(on_disc(PANEL), colours="2")
    assert few["result"]["verdict"] == "lost"
    assert "Lower the colour tolerance and ask for more colours" in " ".join(few["result"]["reasons"])
    as_advised, _picture = cleaning.asked(on_disc(PANEL), colours="3", colour_tolerance="3")
    assert as_advised["result"]["verdict"] == "clean"
    assert {row["colour"] for row in as_advised["result"]["colours"]} == {YELLOW, NEAR}


def test_a_raised_tolerance_makes_near_colours_one():
    reply, _picture = cleaning.asked(on_disc(PANEL), colour_tolerance="8")
    assert reply["result"]["verdict"] == "clean"
    assert any(f"{NEAR} became {YELLOW}" in each for each in reply["result"]["reasons"])


@pytest.mark.parametrize(("shapes", "verdict"), [([PANEL], "with-care"), ([], "cleanly")])
def test_lines_to_cut_agree_with_the_outlines(shapes, verdict):
    asked = {"width_mm": "30", "white_marks": "", "piece": "outline"}
    assert cutting.asked(saved(on_disc(*shapes), "PNG"), "disc.png", **asked)["result"]["verdict"] == verdict
