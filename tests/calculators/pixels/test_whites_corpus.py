"""The first guess of white areas, against what was written down by hand in tests/corpus/white_pictures.py."""

from functools import cache
from statistics import mean

import pytest

from calculators.pixels.white_areas import areas
from tests.calculators.pixels.test_flat_colours import finished, raster
from tests.corpus.white_pictures import WhitePicture, pictures

PICTURES = {each.name: each for each in pictures()}
#: Named by the issue: these must be right whichever half they are in.
NAMED = ("ring", "white-o-on-colour", "white-crest-on-white", "white-outline-round-colour")


@cache
def judged(name: str) -> tuple[bool, ...]:
    """Return whether the guess of each area of a picture is right."""
    picture: WhitePicture = PICTURES[name]
    pixels = raster(picture.draw())
    told = finished(areas(pixels))
    truth = {}
    for meant in picture.meant:
        place = int(meant.y * pixels.height) * pixels.width + int(meant.x * pixels.width)
        (number,) = (each.number for each in told.areas if any(start <= place < stop for start, stop in each.area.runs))
        assert number not in truth, (name, meant)
        truth[number] = meant.meaning
    if picture.rest:
        truth = dict.fromkeys((each.number for each in told.areas), picture.rest[0]) | truth
    assert {each.number for each in told.areas} == set(truth), name
    return tuple(each.guess == truth[each.number] for each in told.areas)


@pytest.mark.parametrize("half", ["tuning", "test"])
def test_nine_of_ten_guesses_are_right(half):
    rights = [judged(name) for name, picture in PICTURES.items() if picture.half == half]
    assert len(rights) >= 15
    assert mean(right for each in rights for right in each) >= 0.9
    # So that a board of many squares does not outweigh the rest.
    assert mean(mean(each) for each in rights) >= 0.9


@pytest.mark.parametrize("name", NAMED)
def test_what_is_named_is_right(name):
    assert all(judged(name))
