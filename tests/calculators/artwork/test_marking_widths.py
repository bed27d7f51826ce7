"""Whichever width the reader gives, of the picture or of the marking in it, the answer is the same."""

from __future__ import annotations

import io
import json
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from calculators.answer import answer
from calculators.messages import FIELD_COUNTS
from tests.calculators.pixels.test_extent import MARKING, SIZE, badge

CALCULATORS = ("resolution", "picture-check", "white-areas", "trace", "underlay")
EVERY_CALCULATOR = pytest.mark.parametrize("calculator", CALCULATORS)
SHARE = MARKING[0] / SIZE[0]
OUTLINES = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
    b'<path fill="#7a2232" d="M10 5H34V25H10Z"/><path fill="#f6c800" d="M14 9H20V15H14Z"/></svg>'
)


@cache
def file_of(ground: str = "#ffffff", form: str = "PNG", *, bare: bool = False) -> tuple[str, bytes]:
    image = badge(ground, size=MARKING, box=(0, 0, *MARKING)) if bare else badge(ground)
    file = io.BytesIO()
    image.save(file, form, **({"quality": 85} if form == "JPEG" else {}))
    return f"badge.{form.lower()}", file.getvalue()


def asked(calculator: str, file: tuple[str, bytes] | None, **typed: str) -> dict:
    files = {"picture": {"name": file[0], "bytes": 0}} if file else {}
    request = {"do": "answer", "calculator": calculator, "inputs": typed, "files": files}
    *_, (text, _) = answer(json.dumps(request), [file[1]] if file else [])
    return json.loads(text)


def result_of(calculator: str, file: tuple[str, bytes] | None, **typed: str) -> dict:
    reply = asked(calculator, file, **typed)
    assert reply["outcome"] == "result", reply
    return reply["result"]


def alike(one, other) -> bool:
    """Return whether two results are the same but for the last bits of their numbers."""
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, rel=1e-9)
    return one == other


@EVERY_CALCULATOR
@pytest.mark.parametrize("form", ["PNG", "JPEG"])
def test_the_marking_s_own_width_is_beside_the_printed_one(calculator, form):
    result = result_of(calculator, file_of(form=form), width_mm="30")
    printed = {"picture-check": "printed_width_mm", "trace": "width_mm"}.get(calculator, "picture_width_mm")
    assert result[printed] == 30
    assert result["own_width_mm"] == pytest.approx(30 * SHARE, abs=30 / SIZE[0] if form == "JPEG" else 1e-9)


@settings(max_examples=25, deadline=None)
@given(
    calculator=st.sampled_from(CALCULATORS[:3]),
    own_mm=st.decimals("1", "180", places=2),
    how=st.sampled_from([("#ffffff", "PNG"), ("#f3ead6", "PNG"), ("#ffffff", "JPEG")]),
)
def test_own_and_printed_width_give_the_same_answer(calculator, own_mm, how):
    holds_for(calculator, file_of(*how), own_mm)


@pytest.mark.parametrize("calculator", ["trace", "underlay"])
@pytest.mark.parametrize("own_mm", ["6.5", "41"])
def test_own_width_works_in_long_calculations_too(calculator, own_mm):
    holds_for(calculator, file_of(), own_mm)


@pytest.mark.parametrize("calculator", ["white-areas", "underlay"])
def test_outlines_have_an_own_width_too(calculator):
    """They are 24 mm wide in a drawing of 40 mm; what is drawn to be looked at is right to a pixel."""
    result = result_of(calculator, ("badge.svg", OUTLINES), width_mm="40")
    assert result["own_width_mm"] == pytest.approx(24, abs=0.05)
    holds_for(calculator, ("badge.svg", OUTLINES), "12")


def holds_for(calculator: str, file: tuple[str, bytes], own_mm) -> None:
    own = result_of(calculator, file, width_of="marking", own_width_mm=str(own_mm))
    assert own["own_width_mm"] == pytest.approx(float(own_mm), rel=1e-12)
    printed = own[{"picture-check": "printed_width_mm", "trace": "width_mm"}.get(calculator, "picture_width_mm")]
    assert alike(own, result_of(calculator, file, width_of="picture", width_mm=repr(printed)))


@EVERY_CALCULATOR
def test_a_picture_without_margins_has_one_width(calculator):
    of_picture = result_of(calculator, file_of(bare=True), width_mm="20")
    assert of_picture["own_width_mm"] is None and of_picture.get("picture_width_mm") is None
    of_marking = result_of(calculator, file_of(bare=True), width_of="marking", own_width_mm="20")
    assert alike(of_picture | {"reasons": []}, of_marking | {"reasons": []})


@EVERY_CALCULATOR
def test_a_possible_background_colour_is_named_if_relevant(calculator):
    printed, own = (
        result_of(calculator, file_of("#1f3b4d"), **how)
        for how in ({"width_mm": "30"}, {"width_of": "marking", "own_width_mm": "30"})
    )
    assert own["reasons"] != printed["reasons"]
    assert [each for each in own["reasons"] if each not in printed["reasons"]] == [
        FIELD_COUNTS.format(colour="#1f3b4d")
    ]
    assert alike(own | {"reasons": []}, printed | {"reasons": []})


@EVERY_CALCULATOR
def test_margins_making_the_picture_too_wide_are_refused(calculator):
    most = "5000" if calculator == "resolution" else "400"
    reply = asked(calculator, file_of(), width_of="marking", own_width_mm=most)
    assert reply["outcome"] == "problems"
    assert [problem["field"] for problem in reply["problems"]] == ["own_width_mm"]


def test_typed_pixels_have_no_margins_and_say_so():
    own, printed = (
        result_of("resolution", None, width_px="300", height_px="200", **how)
        for how in (
            {"width_of": "marking", "own_width_mm": "20"},
            {"width_mm": "20"},
        )
    )
    assert own["largest_sharp_width_mm"] == printed["largest_sharp_width_mm"]
    assert len(own["reasons"]) == len(printed["reasons"]) + 1


def test_cropping_turns_the_own_width_into_printed_width():
    reply = asked("clean-picture", file_of())
    assert any("no margins" in reason for reason in reply["result"]["reasons"])
    assert not any(
        "no margins" in reason for reason in asked("clean-picture", file_of(), crop="no")["result"]["reasons"]
    )
    assert not any(
        "no margins" in reason
        for reason in asked("clean-picture", file_of(bare=True), background="keep")["result"]["reasons"]
    )


def test_the_badge_fills_its_box():
    """What the other tests take for true: the marking reaches each side of its box, and nothing lies outside."""
    image = badge("#ffffff")
    ground = Image.new("RGB", SIZE, "#ffffff")
    assert image != ground and image.convert("L").point(lambda level: 255 * (level < 255)).getbbox() == (
        31,
        17,
        181,
        127,
    )
