"""What a job contains: read, written, described by a schema, and refused with the path of each mistake."""

from __future__ import annotations

import copy
import dataclasses

import jsonschema
import pytest
from hypothesis import given, settings

from calculators.declare import Refused
from calculators.jobs.model import MOST_MARKINGS, Marking, plain, read_job, schema
from calculators.jobs.partners import as_used, with_partner
from calculators.jobs.parts import Part
from calculators.jobs.shape import Problems
from tests.calculators.jobs.made import JOB, LISTED

VALIDATOR = jsonschema.Draft202012Validator(schema())


def changed(path: str, value: object) -> dict:
    """Return the job as JSON data with another value at a path."""
    data = copy.deepcopy(plain(JOB))
    *steps, last = path.replace("[", ".").replace("]", "").split(".")
    place = data
    for step in steps:
        place = place[int(step)] if step.isdigit() else place[step]
    place[int(last) if last.isdigit() else last] = value
    return data


def problems(data: object) -> dict[str, str]:
    with pytest.raises(Refused) as refused:
        read_job(data)
    return {each.field: each.text for each in refused.value.problems}


def test_a_job_is_read_as_it_was_written():
    assert read_job(plain(JOB)) == JOB


def test_a_written_job_meets_its_schema():
    jsonschema.Draft202012Validator.check_schema(schema())
    jsonschema.validate(plain(JOB), schema())


@settings(max_examples=60, deadline=None)
@given(LISTED)
def test_any_marking_is_read_as_it_was_written_and_meets_the_schema(marking):
    kind, problems = Part(of=Marking), Problems()
    assert kind.read(kind.plain(marking), "", problems) == marking and not problems.listed
    VALIDATOR.validate({"format": 3, "markings": [kind.plain(marking)]})


MISTAKES = [
    ("markings[0].width", 14),
    ("markings[0].copies", "two"),
    ("markings[0].copies", -1),
    ("markings[0].copies", True),
    ("markings[0].id", "No Id"),
    ("markings[0].name", ""),
    ("markings[0].colour", "red"),
    ("markings[0].film", "paper"),
    ("markings[0].partner", "crest"),
    ("markings[0].files.picture.file.hash", "../../etc/passwd"),
    ("markings[0].calculators.underlay.inputs.markings", 2),
    ("models[0].paints", {}),
    ("available.films[0]", "paper"),
    ("format", 4),
    ("name", "x" * 500),
]


@pytest.mark.parametrize(("path", "value"), MISTAKES)
def test_reader_and_schema_refuse_the_same_mistakes(path, value):
    data = changed(path, value)
    assert not jsonschema.Draft202012Validator(schema()).is_valid(data)
    found = problems(data)
    # What was typed into a calculator is refused as a whole.
    assert any(path.startswith(each) for each in found), found


def test_every_mistake_is_told_at_once_with_its_path():
    data = changed("markings[0].width", "wide")
    data["markings"][2]["rows"][1]["copies"] = 1001
    data["models"][0]["scale"] = "large"
    assert set(problems(data)) == {"markings[0].width", "markings[2].rows[1].copies", "models[0].scale"}


@pytest.mark.parametrize(
    ("path", "value", "at"),
    [
        ("markings[0].model", "launch", "markings[0].model"),
        ("markings[0].paints[1]", "Roof", "markings[0].paints[1]"),
        ("markings[1].partner.of", "gone", "markings[1].partner.of"),
        ("markings[1].partner.of", "crest-right", "markings[1].partner.of"),
        ("markings[2].id", "crest", "markings[2].id"),
    ],
)
def test_what_does_not_go_together_is_told(path, value, at):
    assert set(problems(changed(path, value))) == {at}


@pytest.mark.parametrize("name", ["Crest\u00a0left", "نام\u200cها", "Wappen №\u202f7", "<b>&amp;"])
def test_names_in_any_script_are_taken(name):
    assert read_job(changed("markings[0].name", name)).markings[0].name == name


@pytest.mark.parametrize("name", [" ", "\u202egnp.exe", "two\nlines", "\0", "\ud800"])
def test_names_that_cannot_be_shown_are_refused(name):
    assert list(problems(changed("markings[0].name", name))) == ["markings[0].name"]


def test_too_many_markings_are_refused_without_reading_them():
    data = plain(JOB) | {"markings": [{}] * 100_000}
    assert list(problems(data)) == ["markings"]
    assert str(MOST_MARKINGS) in problems(data)["markings"]


def test_a_partner_follows_until_it_is_separated():
    right = JOB.marking("crest-right")
    assert as_used(JOB, right).width == "14 mm" and as_used(JOB, right).name == "Crest, right"
    partner = dataclasses.replace(right.partner, follows=False)
    apart = JOB.with_marking(dataclasses.replace(right, width="20 mm", partner=partner))
    assert as_used(apart, apart.marking("crest-right")).width == "20 mm"


def test_a_partner_comes_right_after_its_twin():
    made = with_partner(JOB, "numbers", "same", "Numbers, right")
    assert [each.id for each in made.markings] == ["crest", "crest-right", "numbers", "numbers-right"]
    assert read_job(plain(made)) == made
