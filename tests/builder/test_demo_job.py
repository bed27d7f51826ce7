"""The demonstration job: every marking of its two models, complete, and at the sizes of its drawings."""

from __future__ import annotations

import re

import pytest

from builder.demo import DEMO
from builder.demo_job import demo_job
from calculators.jobs.archive import read_saved, saved_bytes
from calculators.jobs.check import checked
from calculators.jobs.demo import DRAWN
from calculators.jobs.partners import as_used
from calculators.jobs.typed_inputs import width_mm

SAVED = demo_job()


def test_it_opens_as_it_was_saved():
    assert read_saved(saved_bytes(SAVED), "demo.zip") == SAVED


def test_every_drawing_of_a_left_side_or_of_both_is_a_marking():
    drawings = {path.name for path in DEMO.glob("*.svg")} - {"railcar-panel.svg"}
    assert {each.file for each in DRAWN} == {name for name in drawings if not name.endswith("-right.svg")}


def test_each_drawing_with_a_right_side_has_a_mirrored_partner():
    for each in DRAWN:
        other = (DEMO / each.file.replace("-left", "-right")).is_file() and "-left" in each.file
        assert not other or each.other == "mirrored"


def test_every_marking_is_decided_and_checks_without_a_problem():
    for marking, found in checked(SAVED.job, SAVED.measured):
        assert not found.problems, marking.id
        assert {each.stage for each in found.stages} == {"size", "artwork"}, marking.id
        assert "fail" not in {each.level for each in found.stages}, marking.id
        assert found.next == "Print it", marking.id


@pytest.mark.parametrize("each", DRAWN, ids=lambda each: each.id)
def test_a_marking_is_as_wide_as_its_drawing(each):
    of_drawing = float(re.search(r'width="([0-9.]+)mm"', (DEMO / each.file).read_text("utf-8"))[1])
    marking = as_used(SAVED.job, SAVED.job.marking(each.id))
    share = SAVED.measured[marking.files["outlines"].file.hash].share
    assert width_mm(SAVED.job, marking) == pytest.approx(of_drawing * share, abs=0.05)


def test_the_railcar_is_in_handed_pairs():
    railcar = [as_used(SAVED.job, each) for each in SAVED.job.markings]
    sides = [each for each in railcar if each.model == "railcar-12"]
    assert len(sides) == 10
    assert sum(each.partner is not None for each in sides) == 5
