"""A job that a page has saved opens later with nothing lost: tests/jobs/README.md."""

from __future__ import annotations

import json
import zipfile
from hashlib import sha256

from calculators.jobs.archive import Saved, read_saved
from calculators.jobs.check import checked
from calculators.jobs.facts import Facts
from calculators.jobs.pictures import measured
from tests.conftest import ROOT
from tests.jobs.typed import TYPED

PATH = ROOT / "tests" / "jobs" / "format-3" / "job.zip"


def facts(saved: Saved) -> dict[str, Facts]:
    """What is known of each file. What an earlier version measured is measured again, as a page does."""
    files = [each.file for marking in saved.job.markings for each in marking.files.values()]
    return {each.hash: measured(each.name, saved.files[each.hash]) for each in files} | saved.measured


def test_a_saved_job_has_all_that_was_typed_and_every_file():
    saved = read_saved(PATH.read_bytes(), PATH.name)
    [marking] = saved.job.markings
    for path, texts, picture in TYPED:
        entry = marking.calculators[path.rpartition("/")[2]]
        assert {name: entry.inputs[name] for name in texts} == texts
        if picture:
            assert entry.files["picture"].name == picture
            # Drawings of the demonstration may have changed since.
            hash = entry.files["picture"].hash
            assert sha256(saved.files[hash]).hexdigest() == hash
    with zipfile.ZipFile(PATH) as archive:
        assert marking.files["outlines"].file.hash in json.loads(archive.read("measured.json"))["pictures"]


def test_each_stage_of_a_saved_job_has_its_verdict():
    saved = read_saved(PATH.read_bytes(), PATH.name)
    [(_marking, verdicts)] = checked(saved.job, facts(saved))
    assert [each.stage for each in verdicts.stages] == ["size", "artwork"]
    assert verdicts.problems == ()
