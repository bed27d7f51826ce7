"""The page of a job shows what the declarations have, and what it fetches is what the program writes."""

from __future__ import annotations

import json

import jsonschema
import pytest

from builder.job_page import job_page, list_columns, write_job_files
from calculators.jobs.archive import read_saved
from calculators.jobs.lists import headings
from calculators.jobs.model import Job, Marking, Model, plain, read_job
from calculators.jobs.page_sentences import WORDS
from calculators.jobs.parts import kinds_of
from tests.conftest import ROOT

SCRIPTS = sorted((ROOT / "theme" / "scripts" / "job").glob("*.mjs"))


@pytest.mark.parametrize(("part", "named"), [(Job, ["job"]), (Marking, ["line", "more"]), (Model, ["model"])])
def test_every_control_has_the_label_and_choices_of_its_attribute(part, named):
    controls = [each for name in named for each in job_page()[name]]
    assert len(controls) >= 2
    for each in controls:
        kind = kinds_of(part)[each["path"]]
        field = getattr(kind, "field", None)
        assert each["label"] == (field.label if field else kind.label)
        if each["options"]:
            assert set(each["options"]) <= {*field.labels()}


def test_every_column_of_a_list_says_what_it_takes():
    table = list_columns()
    assert [f"<th scope='row'>{each}</th>" in table for each in headings()] == [True] * len(headings())
    assert "<td></td>" not in table


def test_the_demo_job_meets_the_schema_beside_it(tmp_path):
    write_job_files(tmp_path)
    data = (tmp_path / "job" / "demo-job.zip").read_bytes()
    schema = json.loads((tmp_path / "job" / "job.schema.json").read_text("utf-8"))
    saved = read_saved(data, "demo-job.zip")
    jsonschema.validate(plain(saved.job), schema)
    assert read_job(plain(saved.job)) == saved.job


def test_scripts_use_every_sentence_of_the_page():
    text = "".join(path.read_text("utf-8") for path in SCRIPTS)
    by_reason = {"unavailable", "newer", "older", "failed"}  # of NotStored in keep/database.mjs
    assert {key for key in WORDS if f'"{key}"' not in text} - by_reason == set()
