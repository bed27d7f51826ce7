"""The surface that the page uses."""

import json

import pytest

from calculators import job
from calculators.answer import alloc, answer


def last(envelope: dict, buffers=()) -> dict:
    *_, (text, _buffers) = answer(json.dumps(envelope), buffers)
    return json.loads(text)


def test_sentences_and_numbers_follow_the_unit():
    shown = last({"do": "answer", "calculator": "resolution", "units": "in", "inputs": {"width_mm": "1 in"}})["view"]
    assert shown["largest_sharp_width_mm"] == {"kind": "measure", "shown": "0.687", "unit": "in"}
    assert shown["verdict"]["reasons"][0].startswith("One pixel is 0.005 in wide in print")


def test_range_is_told_in_the_unit():
    (problem,) = last({"do": "answer", "calculator": "resolution", "units": "in", "inputs": {"width_mm": "0 in"}})["problems"]
    # 0.1 mm is 0.0039370... in, rounded inward; 5000 mm is 196.85... in.
    assert problem["text"] == "Printed width must be between 0.003938 and 196.8 in"


def test_restate_keeps_what_cannot_be_read():
    restated = last({
        "do": "restate", "calculator": "resolution", "units": "in",
        "inputs": {"width_mm": "50.8 mm", "height_mm": "soon", "edges": "soft"},
    })  # fmt: skip
    assert restated == {"outcome": "restated", "inputs": {"width_mm": "2"}}


def test_job_of_today_passes_and_one_of_tomorrow_is_refused():
    kept = {"format": job.FORMAT, "revision": 2, "calculators": {}, "shared": {}}
    assert last({"do": "migrate", "job": kept})["job"] == kept
    assert last({"do": "migrate", "job": kept | {"format": job.FORMAT + 1}})["outcome"] == "fault"


@pytest.mark.parametrize("envelope", ["", "[]", "{}", '{"do": "dance"}', '{"do": "answer", "calculator": "none"}'])
def test_what_no_page_would_send_is_a_fault_with_its_trace(envelope):
    (text, _buffers), = answer(envelope)
    reply = json.loads(text)
    assert reply["outcome"] == "fault"
    assert reply["trace"].startswith("Traceback")


def test_alloc_gives_room_to_fill():
    room = alloc(10)
    room[:] = b"0123456789"
    assert len(room) == 10
