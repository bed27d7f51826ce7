"""A job as one file: the same bytes every time, the same job again, and a clear sentence for anything else."""

from __future__ import annotations

import dataclasses
import io
import json
import zipfile

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.declare import Refused
from calculators.jobs.archive import Saved, read_saved, saved_bytes
from calculators.jobs.check import checked
from calculators.jobs.facts import MEASURED_BY, facts_as_json, read_facts
from calculators.jobs.model import schema
from calculators.jobs.pictures import measured
from tests.calculators.jobs.made import CREST, CREST_FILE, JOB
from tests.hostile.jobs import FILE, WHOLE, packed, with_job
from tests.hostile.readers import job

FACTS = {CREST_FILE.hash: measured("crest.png", CREST)}
SAVED = Saved(JOB, {CREST_FILE.hash: CREST}, FACTS)


def test_a_saved_job_opens_with_every_input_file_and_verdict():
    found = read_saved(saved_bytes(SAVED), "job.zip")
    assert found == SAVED
    assert list(checked(found.job, found.measured)) == list(checked(JOB, FACTS))


def test_the_same_job_has_the_same_bytes():
    backwards = dataclasses.replace(JOB.markings[0], values=dict(reversed(JOB.markings[0].values.items())))
    assert saved_bytes(Saved(JOB.with_marking(backwards), dict(SAVED.files), dict(FACTS))) == saved_bytes(SAVED)
    assert saved_bytes(read_saved(saved_bytes(SAVED), "job.zip")) == saved_bytes(SAVED)


def test_any_unpacker_finds_the_documented_layout():
    with zipfile.ZipFile(io.BytesIO(saved_bytes(SAVED))) as archive:
        assert archive.namelist() == ["job.json", "measured.json", FILE]
        assert archive.testzip() is None
        assert archive.read(FILE) == CREST
        jsonschema.validate(json.loads(archive.read("job.json")), schema())
        assert {each.date_time for each in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}


def test_a_file_that_is_not_used_is_not_saved():
    more = dataclasses.replace(SAVED, files={**SAVED.files, "0" * 64: b"old"})
    assert saved_bytes(more) == saved_bytes(SAVED)


def test_a_job_whose_file_is_missing_is_not_saved():
    with pytest.raises(Refused):
        saved_bytes(Saved(JOB, {}, {}))


def test_facts_measured_by_another_version_are_measured_again():
    data = facts_as_json(FACTS)
    assert read_facts(data) == FACTS
    assert read_facts(data | {"measured_by": MEASURED_BY + 1}) == {}


def test_a_newer_job_is_refused_with_both_formats():
    with pytest.raises(Refused) as refused:
        read_saved(with_job({"format": 7}), "later.zip")
    assert "later.zip" in refused.value.problems[0].text and "format 7" in refused.value.problems[0].text


def test_every_entry_must_have_the_bytes_of_its_hash():
    with pytest.raises(Refused) as refused:
        read_saved(with_job({}, (FILE, CREST + b"\0")), "job.zip")
    assert [each.field for each in refused.value.problems] == [FILE]


@pytest.mark.parametrize("name", ["../evil", "/etc/passwd", "files/../job.json", "files\\evil"])
def test_entries_with_other_names_are_refused(name):
    data = packed([("job.json", b'{"format": 3}'), (name, b"x")])
    with pytest.raises(Refused) as refused:
        read_saved(data, "job.zip")
    assert name in refused.value.problems[0].text


@settings(max_examples=200, deadline=None)
@given(st.integers(0, len(WHOLE) - 1), st.binary(min_size=1, max_size=4), st.booleans())
def test_a_changed_or_cut_file_is_read_the_same_or_refused(at, put, cuts):
    data = WHOLE[:at] if cuts else WHOLE[:at] + put + WHOLE[at + len(put) :]
    refusal = job("job.zip", data)
    assert refusal is None or "job.zip" in refusal
    # A changed date or flag of an entry tells nothing of the job.
    assert refusal or read_saved(data, "job.zip").files == SAVED.files
