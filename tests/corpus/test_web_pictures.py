"""Sixty of the web pictures: what is reached today, so that nothing falls back unseen.

These floors are no aims. The aims stand in bounds.py, and most floors are far short of them; each is what was reached
on this sample of the tuning half when it was last looked at, rounded down to whole percents. Raise one when a change reaches more.
All pictures, and the test half, are measured by ``make corpus``.
"""

import pytest

from tests.corpus.bounds import AT_MOST, BOUNDS, in_words
from tests.corpus.drawings import agree
from tests.corpus.judging import judged
from tests.corpus.web_design import sampled
from tests.corpus.web_pictures import drawings, every_case

pytestmark = pytest.mark.slow

#: Truth is worked out once a drawing, so the sample keeps to few of them; openmoji is not there in the usual tests.
DRAWINGS, PICTURES = 18, 60
FLOORS = {}


def sample():
    names = sorted({case.drawing for case in every_case() if case.half == "tuning" and not case.drawing.startswith("openmoji/")})
    flat = [name for name in names if name in drawings() and drawings()[name].flat]
    step = len(flat) / DRAWINGS
    few = {flat[int(step * place)] for place in range(DRAWINGS)}
    return sampled([case for case in every_case() if case.drawing in few], PICTURES)


@pytest.fixture(scope="module")
def records():
    return [judged(case) for case in sample()]


def test_the_sample_has_sixty_pictures_of_the_tuning_half():
    cases = sample()
    assert len(cases) == PICTURES
    assert {case.half for case in cases} == {"tuning"}
    assert {case.renderer for case in cases} == {"cairo", "resvg"}


@pytest.mark.parametrize("name", FLOORS)
def test_no_share_falls_below_what_was_reached(name, records):
    (bound,) = (each for each in BOUNDS if each.name == name)
    share, _of = bound.reached(records)
    assert share is not None, "nothing of it is in the sample"
    if bound.kind == AT_MOST:
        assert share <= FLOORS[name], in_words(records)
    else:
        assert share >= FLOORS[name], in_words(records)


def test_every_drawing_of_the_sample_is_drawn_alike_by_both_renderers():
    assert [name for name in {case.drawing for case in sample()} if not agree(drawings()[name])] == []
