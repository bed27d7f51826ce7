"""Neighbours of a colour lie as many CIEDE2000 away as they say, by colour-science, after rounding to 8 bits."""

from __future__ import annotations

import random
import warnings

import numpy
import pytest

from calculators.colour.neighbours import BLUE, DULLER, GREEN, RED, STRONGER, YELLOW, axes_of, neighbour

with warnings.catch_warnings():
    # It looks for a plotting library that the tests do without.
    warnings.simplefilter("ignore")
    import colour as colour_science

_RANDOM = random.Random(20261129)
COLOURS = [
    *("#000000", "#ffffff", "#808080", "#7f6c5a", "#0a0a14", "#7a2232", "#efe4c4", "#1f5a3c", "#ff0000", "#0000ff"),
    *(f"#{_RANDOM.randrange(1 << 24):06x}" for _ in range(30)),
]
#: Steps of lightness, chroma and hue, one at a time.
ALONE = [(2, 0, 0), (1, 0, 0), (-1, 0, 0), (-2, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]
D65 = colour_science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]


def lab(hexadecimal: str) -> numpy.ndarray:
    levels = numpy.array([*bytes.fromhex(hexadecimal[1:])]) / 255
    return colour_science.XYZ_to_Lab(colour_science.sRGB_to_XYZ(levels), D65)


def difference(first: str, second: str) -> float:
    return float(colour_science.delta_E(lab(first), lab(second), method="CIE 2000"))


@pytest.mark.parametrize("step", [0.5, 1.5, 3.0, 6.0])
def test_a_neighbour_lies_as_many_steps_away_as_it_says(step):
    found = 0
    for start in COLOURS:
        for steps in ALONE:
            made = neighbour(start, *(each * step for each in steps), most=step)
            if made.colour is None:
                continue
            found += 1
            true = difference(start, made.colour)
            assert true == pytest.approx(step * max(map(abs, steps)), abs=0.3), (start, steps, made)
            assert made.difference == pytest.approx(true, abs=0.02), (start, steps, made)
    assert found > 200


@pytest.mark.parametrize("steps", [(1, 1, 1), (-2, 1, -1), (2, -1, 1), (-1, -1, -1)])
def test_the_stated_difference_of_several_steps_together_is_right(steps):
    for start in COLOURS:
        made = neighbour(start, *(each * 2.0 for each in steps), most=2.0)
        if made.colour:
            assert made.difference == pytest.approx(difference(start, made.colour), abs=0.02), (start, made)


def test_lightness_chroma_and_hue_go_the_way_that_they_say():
    for start in ("#7a2232", "#3a6a4c", "#3c5a80"):
        light, a, b = lab(start)
        chroma = numpy.hypot(a, b)
        lighter, stronger, turned = (
            lab(neighbour(start, *each, most=3.0).colour) for each in ((3, 0, 0), (0, 3, 0), (0, 0, 3))
        )
        assert lighter[0] > light + 2 and numpy.hypot(*lighter[1:]) == pytest.approx(chroma, abs=1.0)
        assert numpy.hypot(*stronger[1:]) > chroma + 1 and stronger[0] == pytest.approx(light, abs=0.7)
        assert numpy.hypot(*turned[1:]) == pytest.approx(chroma, abs=1.0)
        assert turned[0] == pytest.approx(light, abs=0.7)


def test_the_directions_are_named_by_what_the_eye_calls_them():
    """Hue of L*a*b*: 0 degrees red, 90 yellow, 180 green, 270 blue (CIE 15)."""
    assert axes_of("#7a2232", 3).chroma == (STRONGER, DULLER)
    assert axes_of("#7a2232", 3).hue == (YELLOW, BLUE)
    assert axes_of("#efe4c4", 3).hue == (GREEN, RED)
    assert axes_of("#1f7a3c", 3).hue == (BLUE, YELLOW)
    assert axes_of("#2244aa", 3).hue == (RED, GREEN)


def test_a_grey_has_no_hue_to_turn_and_goes_along_the_axes():
    assert axes_of("#808080", 3).chroma == (YELLOW, BLUE) and axes_of("#808080", 3).hue == (RED, GREEN)
    yellower, redder = (lab(neighbour("#808080", *each, most=3.0).colour) for each in ((0, 3, 0), (0, 0, 3)))
    assert yellower[2] > 2 and abs(yellower[1]) < 1
    assert redder[1] > 1 and abs(redder[2]) < 1


def test_the_gamut_ends_where_srgb_does():
    assert neighbour("#ffffff", 2, 0, 0, most=2.0).colour is None
    assert neighbour("#000000", -2, 0, 0, most=2.0).colour is None
    assert neighbour("#ff0000", 0, 3, 0, most=3.0).colour is None
    assert neighbour("#808080", 2, 0, 0, most=2.0).colour is not None
