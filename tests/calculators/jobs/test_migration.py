"""A job that a page stored in format 2 opens as a job with one marking, and nothing typed is lost."""

from __future__ import annotations

import io
import json
from hashlib import sha256
from typing import Any

import pytest
from PIL import Image, ImageDraw

from calculators import catalogue
from calculators.answer import answer
from calculators.declare import Refused, asked
from calculators.jobs.check import checked
from calculators.jobs.migrate import opened
from calculators.jobs.model import FORMAT, Job, files_of, plain, read_job
from calculators.jobs.pictures import measured
from calculators.jobs.typed_inputs import files_for, typed_for
from tests.calculators.jobs.made import FORMAT_2

STORED: dict[str, Any] = json.loads((FORMAT_2 / "job.json").read_text("utf-8"))
FILES = {path.name: path.read_bytes() for path in (FORMAT_2 / "files").iterdir()}


@pytest.fixture(scope="module")
def job() -> Job:
    facts = {STORED["shared"]["picture"]["file"]["hash"]: None}
    facts = {hash: measured("picture.png", FILES[hash]) for hash in facts}
    return opened(STORED, lambda hash: facts[hash].share)


def test_the_stored_job_is_what_a_page_of_format_2_left():
    assert STORED["format"] == 2
    assert len(STORED["calculators"]) == 6
    assert {sha256(data).hexdigest() for data in FILES.values()} == set(FILES)
    assert {"picture", "outlines"} <= set(STORED["shared"])


def test_it_becomes_one_marking_on_one_model(job):
    [marking], [model] = job.markings, job.models
    assert (marking.name, marking.model, marking.kind) == ("Marking 1", model.id, "outlines")
    assert (model.scale, [paint.colour for paint in model.paints]) == ("1:43.5", ["#efe4c4", "#6b1f30"])
    assert job.available.viewing_distance == "25 cm"
    assert read_job(plain(job)) == job


def test_nothing_that_was_typed_is_lost(job):
    [marking] = job.markings
    assert {id: dict(entry.inputs) for id, entry in marking.calculators.items()} == {
        id: entry["inputs"] for id, entry in STORED["calculators"].items()
    }
    text = json.dumps(plain(job), ensure_ascii=False)
    for name, value in STORED["shared"].items():
        assert json.dumps(value["text"] if "text" in value else value["file"]["hash"]) in text, name


def test_every_file_is_kept_with_its_name(job):
    named = {
        facts["hash"]: facts["name"] for entry in STORED["calculators"].values() for facts in entry["files"].values()
    }
    named |= {value["file"]["hash"]: value["file"]["name"] for value in STORED["shared"].values() if "file" in value}
    assert {hash: file.name for hash, file in files_of(job).items()} == named
    outlines, picture = (job.markings[0].files[each].file for each in ("outlines", "picture"))
    assert outlines.of == picture.hash


@pytest.mark.parametrize("id", STORED["calculators"])
def test_each_calculator_starts_from_what_it_had(job, id):
    calculator = catalogue.find(id)
    texts = typed_for(job, job.markings[0], calculator)
    fields = asked(calculator.inputs)
    worked_out = {name for name, field in fields.items() if field.shares in ("width-of", "own-width", "width")}
    worked_out |= {filled for field in fields.values() for filled in field.fills}
    for name, text in STORED["calculators"][id]["inputs"].items():
        shared = STORED["shared"].get(fields[name].shares, {}).get("text", text)
        if name not in worked_out:
            assert texts[name] == shared, name
    had = STORED["calculators"][id]["files"]
    assert set(files_for(job.markings[0], calculator)) >= set(had)


def verdict(id: str, inputs: dict, hash: str) -> str:
    envelope = {"do": "answer", "calculator": id, "inputs": inputs, "files": {"picture": {"name": "a.png", "bytes": 0}}}
    *_, (text, _buffers) = answer(json.dumps(envelope), [bytearray(FILES[hash])])
    return json.loads(text)["result"]["verdict"]


def test_the_verdict_on_the_picture_is_that_of_its_calculator(job):
    entry = STORED["calculators"]["resolution"]
    hash = entry["files"]["picture"]["hash"]
    # The page does not ask with what the picture fills in.
    asked_with = {name: text for name, text in entry["inputs"].items() if name not in ("width_px", "height_px")}
    wanted = verdict("resolution", asked_with, hash)
    [marking] = job.markings
    only = job.with_marking(type(marking)(**{**vars(marking), "kind": "picture"}))
    [(_marking, found)] = checked(only, {hash: measured("a.png", FILES[hash])})
    assert {each.calculator: each.verdict for each in found.stages}["resolution"] == wanted


def framed() -> bytes:
    """A picture of 400 pixels of which the marking takes up 200, on nothing."""
    image = Image.new("RGBA", (400, 400))
    ImageDraw.Draw(image).rectangle((100, 100, 299, 299), fill="#7a2232")
    made = io.BytesIO()
    image.save(made, "PNG")
    return made.getvalue()


def of_format_2(shared: dict) -> dict:
    return {"format": 2, "revision": 1, "calculators": {}, "shared": shared}


def with_picture(**texts: dict) -> tuple[dict, Any]:
    data = framed()
    hash = sha256(data).hexdigest()
    facts = measured("framed.png", data)
    shared = {"picture": {"file": {"hash": hash, "name": "framed.png", "media": "image/png", "size": 9}, "at": 1}}
    for name, value in texts.items():
        shared[name.replace("_", "-")] = value | {"picture": hash if value.get("picture") else ""}
    return of_format_2(shared), lambda asked: facts.share if asked == hash else None


def test_a_width_with_margins_becomes_that_of_the_marking():
    stored, share_of = with_picture(width={"text": "1 in", "picture": True})
    [marking] = opened(stored, share_of).markings
    assert (marking.width, marking.width_of) == ("12.7 mm", "own")
    assert marking.values["width"].text == "1 in"


def test_without_a_measured_picture_the_width_stays_that_of_the_whole():
    stored, _share_of = with_picture(width={"text": "1 in", "picture": True})
    [marking] = opened(stored).markings
    assert (marking.width, marking.width_of) == ("1 in", "with-margins")


def test_the_marking_s_own_width_is_taken_as_typed():
    stored, share_of = with_picture(width={"text": "1 in"}, own_width={"text": "0.5 in"}, width_of={"text": "marking"})
    [marking] = opened(stored, share_of).markings
    assert (marking.width, marking.width_of) == ("0.5 in", "own")


def test_a_width_of_an_earlier_picture_is_kept_but_not_used():
    stored = of_format_2({"picture": {"file": {"hash": "a" * 64, "name": "b.png"}, "at": 2}})
    stored["shared"]["width"] = {"text": "30 mm", "picture": "b" * 64}
    [marking] = opened(stored).markings
    assert marking.width == "" and marking.values["width"].text == "30 mm"


def test_a_text_that_nothing_takes_any_more_is_kept():
    stored = of_format_2({"film": {"text": "a film of old"}, "something-gone": {"text": "12"}})
    [marking] = opened(stored).markings
    assert marking.film == "" and {name: each.text for name, each in marking.values.items()} == {
        "film": "a film of old",
        "something-gone": "12",
    }


def test_an_empty_job_has_no_marking():
    assert opened(of_format_2({})).markings == ()
    assert opened({"format": 1, "revision": 3, "calculators": {}}).revision == 3


@pytest.mark.parametrize(
    "stored", [None, [], {}, {"format": "2"}, {"format": 2}, {"format": FORMAT + 1}, {"format": 2, "calculators": 5}]
)
def test_what_is_no_job_or_newer_is_refused(stored):
    with pytest.raises(Refused):
        opened(stored)
