"""The drawings made by code: as many and of such kinds as the corpus is to have, each with what it promises."""

import re

import cv2
import numpy
import pytest

from tests.corpus.drawings import WANTED, agree
from tests.corpus.own_drawings import drawings
from tests.corpus.truth import BACKGROUND, HOLE, WANTED_WHITE, whites_of

DRAWINGS = {each.name: each for each in drawings()}
KINDS = ("shield", "roundel", "band", "rules", "light-lettering", "dark-lettering", "outlined", "shadowed", "gradient")


def test_there_are_forty_and_ten_have_gradients():
    assert len(DRAWINGS) == len(drawings()) == 40
    gradients = [name for name, each in DRAWINGS.items() if not each.flat]
    assert len(gradients) == 10
    assert all("url(#g)" in DRAWINGS[name].svg for name in gradients)


def test_every_kind_is_in_both_halves():
    kinds = {(re.match(r"own/(.*)-\d", each.name)[1], each.half) for each in DRAWINGS.values()}
    assert {kind for kind, _half in kinds} == set(KINDS)
    assert {kind for kind, half in kinds if half == "test"} >= {"light-lettering", "gradient"}


def test_letters_are_outlines_independent_of_fonts():
    assert not any("<text" in each.source for each in DRAWINGS.values())


@pytest.mark.parametrize("name", ["own/shield-0", "own/band-0", "own/outlined-2", "own/shadowed-0", "own/gradient-7"])
def test_both_renderers_draw_it_alike(name):
    assert agree(DRAWINGS[name])


def test_counters_are_holes_and_fills_are_wanted():
    plane = whites_of(DRAWINGS["own/outlined-2"])
    assert WANTED in DRAWINGS["own/outlined-2"].source
    assert {BACKGROUND, WANTED_WHITE, HOLE} <= set(plane.ravel().tolist())
    _count, _areas, boxes, _middles = cv2.connectedComponentsWithStats((plane == HOLE).astype(numpy.uint8))
    # DOGE 46: D, O and 6 have one each; the outline closes that of the 4.
    assert sum(size > 200 for *_box, size in boxes[1:]) == 3


def test_every_kind_of_meaning_comes_up_often_enough():
    meanings = [set(whites_of(each).ravel().tolist()) for each in DRAWINGS.values() if each.tells_whites]
    assert len(meanings) >= 20
    assert all(sum(meaning in each for each in meanings) >= 5 for meaning in (BACKGROUND, WANTED_WHITE, HOLE))
