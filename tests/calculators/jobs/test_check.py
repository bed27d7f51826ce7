"""Checks of many markings: the verdicts of the calculators, found once and only again for what changed."""

from __future__ import annotations

import dataclasses
import json
import time

import pytest

from calculators.answer import answer
from calculators.jobs import check
from calculators.jobs.check import checked, key_of, request_of, verdicts_of
from calculators.jobs.model import Bench
from calculators.jobs.pictures import measured
from tests.calculators.jobs.made import CREST, CREST_FILE, JOB, many


@pytest.fixture(scope="module")
def facts():
    return {CREST_FILE.hash: measured("crest.png", CREST)}


@pytest.mark.parametrize("width", ["3 mm", "14 mm", "40 mm", "90 mm"])
@pytest.mark.parametrize("printer", ["inkjet-pigment", "laser"])
def test_verdicts_are_those_of_the_calculators(facts, width, printer):
    job = JOB.with_marking(dataclasses.replace(JOB.marking("crest"), width=width, printer=printer))
    _marking, found = next(checked(job, facts))
    told = {each.calculator: each.verdict for each in found.stages}
    inputs = {
        "width_of": "marking",
        "own_width_mm": width,
        "printer": printer,
        "viewing_distance_mm": "30 cm",
        "line": "solid",
    }
    envelope = {"do": "answer", "calculator": "resolution", "inputs": inputs}
    envelope["files"] = {"picture": {"name": "crest.png", "bytes": 0}}
    *_, (text, _buffers) = answer(json.dumps(envelope), [bytearray(CREST)])
    assert told["resolution"] == json.loads(text)["result"]["verdict"]
    size = {"full_size_mm": width, "scale": "1:1", "printer": printer, "viewing_distance_mm": "30 cm"}
    *_, (text, _buffers) = answer(json.dumps({"do": "answer", "calculator": "scale-size", "inputs": size}))
    assert told["scale-size"] == json.loads(text)["result"]["verdict"]


def test_one_edit_checks_one_row_again(facts, monkeypatch):
    job = many(300)
    known = {found.key: found for _marking, found in checked(job, facts)}
    assert len(known) == 300
    asked = []
    monkeypatch.setattr(check, "verdicts_of", lambda *of: asked.append(of) or verdicts_of(*of))
    edited = job.with_marking(dataclasses.replace(job.marking("m-7"), width="99 mm"))
    found = dict(zip((each.id for each in job.markings), checked(edited, facts, known), strict=True))
    assert [request.width_mm for request, _facts in asked] == [99.0]
    assert found["m-8"][1].key in known and found["m-7"][1].key not in known


def test_a_changed_value_of_the_model_or_the_job_makes_its_markings_stale(facts):
    keys = [found.key for _marking, found in checked(JOB, facts)]
    nearer = dataclasses.replace(JOB, available=dataclasses.replace(JOB.available, viewing_distance="20 cm"))
    assert all(found.key != key for (_marking, found), key in zip(checked(nearer, facts), keys, strict=True))
    renamed = JOB.with_marking(dataclasses.replace(JOB.marking("crest"), name="Other"))
    assert [found.key for _marking, found in checked(renamed, facts)] == keys


def test_a_marking_without_its_picture_measured_says_so():
    request = request_of(JOB, JOB.marking("crest"))
    assert verdicts_of(request, None).next == "Measure its picture"
    assert key_of(request, None) != key_of(request, measured("crest.png", CREST))


@pytest.mark.parametrize(
    ("changes", "next"),
    [
        ({"width": ""}, "Give it a width"),
        ({"size": "full-size", "model": "", "paints": ()}, "Put it on a model with a scale"),
        ({"files": {}}, "Choose its picture"),
        ({"width": "0.05 in", "width_of": "own"}, "Print it"),
        ({"width": "200 mm"}, "Use a picture with more detail, or print it smaller"),
        ({"bench": Bench(printed=1)}, "Seal it"),
        ({"bench": Bench(printed=1, sealed=1)}, "Apply it"),
        ({"bench": Bench(printed=1, sealed=1, on_model=1)}, "Done"),
    ],
)
def test_the_next_thing_to_do_follows_from_the_marking(facts, changes, next):
    job = JOB.with_marking(dataclasses.replace(JOB.marking("crest"), **changes))
    found = {marking.id: found for marking, found in checked(job, facts)}
    assert found["crest"].next == next


def test_three_hundred_rows_are_checked_within_a_second(facts):
    job = many(300)
    list(checked(job, facts))
    started = time.process_time()
    assert len(list(checked(job, facts))) == 300
    took_s = time.process_time() - started
    started = time.process_time()
    sum(number * number for number in range(1_000_000))
    # A machine that is slower than usual gets proportionally more (a million squares take 0.06 s on a usual one).
    assert took_s <= 1.0 * max(1.0, (time.process_time() - started) / 0.06)
