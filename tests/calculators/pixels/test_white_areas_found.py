"""White areas: found, marked, and handed on one byte a pixel."""

import numpy
import pytest
from PIL import Image, ImageDraw

from calculators.pixels.white_areas import BARE, PRINTED, WHITE, BadMark, areas, meaning, read_marks
from tests.calculators.pixels.test_flat_colours import finished, raster


def badge() -> Image.Image:
    """White ground, a maroon square from 10 to 50, a white one from 20 to 40 in it,
    and in that a gold one from 28 to 32.
    """
    image = Image.new("RGB", (60, 60), "#ffffff")
    pen = ImageDraw.Draw(image)
    pen.rectangle((10, 10, 49, 49), "#7a2232")
    pen.rectangle((20, 20, 39, 39), "#ffffff")
    pen.rectangle((28, 28, 31, 31), "#c8993a")
    return image


def test_areas_are_numbered_from_the_top_with_their_sizes():
    found = finished(areas(raster(badge())))
    assert [(each.number, each.size_px, each.guess, each.meant) for each in found.areas] == [
        (1, 3600 - 1600, "background", "background"),
        (2, 400 - 16, "wanted", "wanted"),
    ]


@pytest.mark.parametrize(
    ("marks", "inner", "outer"),
    [
        ("", WHITE, BARE),
        ("2 hole", BARE, BARE),
        ("1 wanted; 2 H", BARE, WHITE),
        ("2 background", BARE, BARE),
    ],
)
def test_meaning_follows_the_marks(marks, inner, outer):
    wanted = numpy.full((60, 60), outer, numpy.uint8)
    wanted[10:50, 10:50] = PRINTED
    wanted[20:40, 20:40] = inner
    wanted[28:32, 28:32] = PRINTED
    assert meaning(raster(badge()), marks) == wanted.tobytes()


@pytest.mark.parametrize(
    ("marks", "number"),
    [("7 hole", 7), ("0 hole", 0), ("hole", None), ("2 blue", None), ("2", None), ("2 2 hole", None)],
)
def test_an_unmatched_mark_is_reported(marks, number):
    with pytest.raises(BadMark) as found:
        meaning(raster(badge()), marks)
    assert found.value.number == number


def test_marks_allow_abbreviations_and_any_separator():
    assert read_marks(" 3 hole, 5:WANTED;7=b\n9 w") == {3: "hole", 5: "wanted", 7: "background", 9: "wanted"}
    assert read_marks("  ") == {}
