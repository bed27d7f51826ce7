"""The first guess of white areas, against what was written down by hand in tests/corpus/white_pictures.py."""

from functools import cache
from statistics import mean

import pytest

from calculators.pixels.white_areas import BARE, WHITE, areas, meaning
from tests.calculators.pixels.test_flat_colours import finished, raster
from tests.corpus.white_drawing import WhitePicture
from tests.corpus.white_lettering import HOLE, WANTED, as_jpeg, letterings, right_by_area
from tests.corpus.white_pictures import pictures

PICTURES = {each.name: each for each in pictures()}
#: These must be right whichever half they are in.
NAMED = ("ring", "white-o-on-colour", "white-crest-on-white", "white-outline-round-colour")


@cache
def judged(name: str) -> tuple[bool, ...]:
    """Return whether the guess of each area of a picture is right."""
    picture: WhitePicture = PICTURES[name]
    pixels = raster(picture.draw())
    found = finished(areas(pixels))
    truth = {}
    for meant in picture.meant:
        place = int(meant.y * pixels.height) * pixels.width + int(meant.x * pixels.width)
        (number,) = (
            each.number for each in found.areas if any(start <= place < stop for start, stop in each.area.runs)
        )
        assert number not in truth, (name, meant)
        truth[number] = meant.meaning
    if picture.rest:
        truth = dict.fromkeys((each.number for each in found.areas), picture.rest[0]) | truth
    assert {each.number for each in found.areas} == set(truth), name
    return tuple(each.guess == truth[each.number] for each in found.areas)


@pytest.mark.parametrize("half", ["tuning", "test"])
def test_nine_of_ten_guesses_are_right(half):
    rights = [judged(name) for name, picture in PICTURES.items() if picture.half == half]
    assert len(rights) >= 15
    assert mean(right for each in rights for right in each) >= 0.9
    # So that a board of many squares does not outweigh the rest.
    assert mean(mean(each) for each in rights) >= 0.9


def share_right(width: int, quality: int | None, half: str, only: int | None = None) -> float:
    """Return how much of the enclosed white of lettering is guessed right, by area; ``only`` of one meaning."""
    right = whole = 0
    for each in letterings():
        if each.half == half:
            image, truth = each.drawn(width)
            found = meaning(raster(as_jpeg(image, quality) if quality else image))
            values = {HOLE: BARE, WANTED: WHITE}
            some, all_of_it = right_by_area(truth, found, {only: values[only]} if only else values)
            right, whole = right + some, whole + all_of_it
    return right / whole


@pytest.mark.parametrize(("width", "quality", "least"), [(300, None, 0.95), (180, 70, 0.85)])
def test_white_of_lettering_is_right_by_area_with_its_counters(width, quality, least):
    assert share_right(width, quality, "test") >= least


def test_counters_alone_are_right_by_area_too():
    assert share_right(300, None, "test", HOLE) >= 0.95


@pytest.mark.parametrize("name", NAMED)
def test_named_meanings_are_right(name):
    assert all(judged(name))
