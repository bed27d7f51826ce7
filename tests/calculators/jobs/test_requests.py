"""A page asks about jobs in JSON and bytes, and gets a result or problems, never a fault."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import packaged
from calculators.answer import answer
from calculators.job_requests import REQUESTS
from calculators.jobs import declared as declared_calculators
from calculators.jobs import requests
from calculators.jobs.check import checked
from calculators.jobs.lists import headings
from calculators.jobs.migrate import opened
from calculators.jobs.model import plain, read_job
from calculators.jobs.pictures import measured
from tests.calculators.jobs.made import CREST, CREST_FILE, FORMAT_2, JOB, many

PLAIN = plain(JOB)
_NAMES = st.sampled_from(["format", "markings", "models", "id", "name", "calculators", "shared", "partner"])
ODD = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(),
    lambda each: st.lists(each) | st.dictionaries(_NAMES, each),
)


def ask(do: str, buffers: list[bytes] | None = None, **more: Any) -> tuple[list[dict[str, Any]], list[bytes]]:
    """Return all envelopes of an answer, and the buffers of the last."""
    replies = list(answer(json.dumps({"do": do, **more}), buffers or []))
    return [json.loads(text) for text, _buffers in replies], replies[-1][1]


def last(do: str, buffers: list[bytes] | None = None, **more: Any) -> dict[str, Any]:
    return ask(do, buffers, **more)[0][-1]


@pytest.fixture(scope="module")
def facts() -> dict[str, Any]:
    found = last("measure", [CREST], files={"picture": {"name": "crest.png", "bytes": 0}})
    assert (found["outcome"], found["hash"]) == ("measured", CREST_FILE.hash)
    return {found["hash"]: found["facts"]}


def test_every_declared_request_is_answered_by_the_module():
    assert set(requests._ANSWERS) == set(REQUESTS)


def test_an_old_job_becomes_one_of_the_present_format(facts):
    stored = json.loads((FORMAT_2 / "job.json").read_text("utf-8"))
    hash = stored["shared"]["picture"]["file"]["hash"]
    share = measured("picture.png", (FORMAT_2 / "files" / hash).read_bytes()).share
    own = last("measure", [(FORMAT_2 / "files" / hash).read_bytes()], files={"picture": {"name": "a.png", "bytes": 0}})
    got = last("job-migrate", job=stored, facts={hash: own["facts"]})
    assert got == {"outcome": "job", "job": plain(opened(stored, lambda _hash: share))}
    assert last("job-migrate", job={"format": 1, "revision": 3, "calculators": {}})["job"]["revision"] == 3


def test_reading_a_job_leaves_its_defaults_out():
    with_defaults = PLAIN | {"note": PLAIN["note"], "available": PLAIN["available"], "calculators": {}}
    assert last("job-read", job=with_defaults) == {"outcome": "job", "job": PLAIN}


def test_each_row_is_checked_as_the_command_line_does(facts):
    envelopes, _ = ask("job-check", job=PLAIN, facts=facts)
    rows = [each["row"] for each in envelopes[:-1]]
    assert envelopes[-1] == {"outcome": "checked"}
    expected = list(checked(JOB, {CREST_FILE.hash: measured("crest.png", CREST)}))
    assert [(row["id"], row["key"], row["next"]) for row in rows] == [
        (marking.id, found.key, found.next) for marking, found in expected
    ]
    assert [each["share"] for each in envelopes[:-1]] == [1 / 3, 2 / 3, 1]
    assert {each["calculator"] for each in rows[0]["stages"]} == {"scale-size", "resolution"}


def test_only_the_rows_that_are_asked_for_are_checked(facts):
    envelopes, _ = ask("job-check", job=PLAIN, facts=facts, only=["numbers"])
    assert [each["row"]["id"] for each in envelopes[:-1]] == ["numbers"]


def test_known_verdicts_are_taken_and_odd_ones_computed_again(facts):
    [row] = [each["row"] for each in ask("job-check", job=PLAIN, facts=facts, only=["crest"])[0][:-1]]
    known = {name: row[name] for name in ("stages", "problems", "next", "step")}
    marked = known | {"next": "From the store"}
    again = ask("job-check", job=PLAIN, facts=facts, only=["crest"], known={row["key"]: marked})[0][0]["row"]
    assert again["next"] == "From the store"
    for odd in (None, 7, [], {}, known | {"stages": [{"stage": 1}]}, known | {"problems": 3}):
        got = ask("job-check", job=PLAIN, facts=facts, only=["crest"], known={row["key"]: odd})[0][0]
        assert got["row"]["next"] == row["next"]


def test_each_next_thing_has_its_place(facts):
    bare = {"id": "a", "name": "A"}
    steps = {
        "width": {**bare},
        "model": {**bare, "width": "600 mm", "size": "full-size"},
        "resolution": {**bare, "width": "10 mm"},
        "picture": {**PLAIN["markings"][0], "model": "", "paints": []},
        "": {**bare, "kind": "text", "width": "20 mm"},
    }
    for step, marking in steps.items():
        [row, _end] = ask("job-check", job={"format": 3, "markings": [marking]})[0]
        assert row["row"]["step"] == step, row


@pytest.mark.parametrize("odd", [None, 7, [], {"a": 1}, {CREST_FILE.hash: {"measured_by": 10**9}}])
def test_facts_that_cannot_be_used_count_as_not_measured(odd):
    [row, end] = ask("job-check", job=PLAIN, facts=odd, only=["crest"])[0]
    assert (row["row"]["step"], end["outcome"]) == ("picture", "checked")


def test_a_saved_job_opens_with_its_files_and_facts(facts):
    files = {CREST_FILE.hash: {"name": "crest.png", "bytes": 0}}
    got, [data] = ask("job-save", [CREST], job=PLAIN, facts=facts, files=files)
    assert got == [{"outcome": "saved", "buffer": 0}]
    assert zipfile.ZipFile(io.BytesIO(data)).testzip() is None
    [opened_again], buffers = ask("job-open", [data], files={"job": {"name": "livery.zip", "bytes": 0}})
    assert (opened_again["outcome"], opened_again["job"], opened_again["facts"]) == ("job", PLAIN, facts)
    assert [(each["hash"], buffers[each["buffer"]]) for each in opened_again["files"]] == [(CREST_FILE.hash, CREST)]


def test_a_job_whose_file_is_missing_or_changed_is_not_saved():
    for files, data in (({}, []), ({CREST_FILE.hash: {"name": "crest.png", "bytes": 0}}, [CREST[:-1]])):
        got = last("job-save", data, job=PLAIN, facts={}, files=files)
        assert got["outcome"] == "problems" and "crest.png" in got["problems"][0]["text"]


def test_a_list_is_written_and_read_to_the_same_markings():
    _, [data] = ask("list-write", job=PLAIN)
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))
    assert rows[0] == headings() and len(rows) == 1 + 3 + 2
    emptied = PLAIN | {"markings": []}
    got = last("list-read", [data], job=emptied, files={"list": {"name": "list.csv", "bytes": 0}})
    assert (got["outcome"], got["problems"], got["unread"]) == ("list", [], [])
    assert [each["id"] for each in got["job"]["markings"]] == got["read"] == ["crest", "crest-right", "numbers"]


def test_what_cannot_be_read_of_a_list_is_named_and_comes_back():
    text = "Name;Width\r\nCrest;14 mm\r\nBand;fourteen\r\n"
    got = last("list-read", job={"format": 3}, text=text, name="pasted")
    assert got["read"] == ["crest"] and got["headings"] == ["Name", "Width"]
    assert [each["field"] for each in got["problems"]] == ["row 3, Width"]
    assert got["unread"] == [{"number": 3, "cells": ["Band", "fourteen"]}]


def test_columns_of_other_names_can_be_mapped():
    text = "Sign;Wide\nCrest;14 mm\n"
    refused = last("list-read", job={"format": 3}, text=text)
    assert refused["outcome"] == "problems" and refused["headings"] == ["Sign", "Wide"]
    assert refused["columns"] == headings()
    got = last("list-read", job={"format": 3}, text=text, columns={"Sign": "Name", "Wide": "Width"})
    [crest] = got["job"]["markings"]
    assert (crest["id"], crest["name"], crest["width"]) == ("crest", "Crest", "14 mm")


def test_a_calculator_starts_from_what_the_job_knows():
    got = last("typed-for", job=PLAIN, marking="crest-right", calculator="resolution")
    assert got["outcome"] == "typed"
    assert got["inputs"]["own_width_mm"] == "14 mm" and got["inputs"]["line"] == "solid"
    assert got["files"]["picture"] == {
        "hash": CREST_FILE.hash,
        "name": "crest.png",
        "media": "image/png",
        "size": len(CREST),
    }


@pytest.mark.parametrize(
    ("do", "more"),
    [
        ("typed-for", {"marking": "crest", "calculator": "none"}),
        ("typed-for", {"marking": "<b>", "calculator": "resolution"}),
        ("list-read", {}),
        ("list-read", {"text": "a\0b"}),
        ("list-read", {"text": "nothing known\n"}),
        ("list-read", {"text": ""}),
        ("measure", {}),
        ("job-open", {}),
        ("job-migrate", {"job": {"format": 2}}),
        ("job-migrate", {"job": {"format": 9}}),
    ],
)
def test_what_cannot_be_done_is_a_problem(do, more):
    got = last(do, **({"job": PLAIN} | more))
    assert got["outcome"] == "problems", got
    assert got["problems"] and all(each["text"] for each in got["problems"])


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"<html/>", b"\x89PNG\r\n\x1a\n", bytes(4096)])
def test_files_that_are_no_jobs_or_pictures_are_problems(data):
    for do, field in (("job-open", "job"), ("measure", "picture")):
        got = last(do, [data], files={field: {"name": "../<b>.zip", "bytes": 0}})
        assert got["outcome"] == "problems", (do, got)


@pytest.mark.parametrize("do", ["job-migrate", "job-read", "job-check", "job-save", "list-write"])
@given(odd=ODD)
def test_no_odd_job_is_a_fault(do, odd):
    envelopes, _ = ask(do, job=odd)
    assert envelopes[-1]["outcome"] in ("problems", "job", "checked", "saved")


def test_a_job_with_too_many_markings_is_refused_at_once():
    markings = [{"id": f"m-{at}", "name": "M"} for at in range(100_000)]
    assert last("job-read", job={"format": 3, "markings": markings})["outcome"] == "problems"


def test_one_edit_leaves_the_verdicts_on_all_other_rows_valid():
    job = many(5)
    before = [each["row"] for each in ask("job-check", job=plain(job))[0][:-1]]
    edited = plain(job)
    edited["markings"][2]["width"] = "30 mm"
    after = [each["row"] for each in ask("job-check", job=edited)[0][:-1]]
    assert [one["key"] == other["key"] for one, other in zip(before, after, strict=True)] == [
        True,
        True,
        False,
        True,
        True,
    ]


def test_packed_declarations_tell_what_the_calculators_do(monkeypatch):
    ids = ["resolution", "scale-size", "underlay", "symptom-finder", "gone"]
    before = {id: declared_calculators.declared(id) for id in ids}
    packed = declared_calculators.compiled()
    monkeypatch.setattr(packaged, "read", lambda name: packed if name == declared_calculators.PACKED else None)
    declared_calculators._packed.cache_clear()
    assert {id: declared_calculators.declared(id) for id in ids} == before
    assert before["resolution"].shares["picture"] == "picture" and before["gone"] is None
    declared_calculators._packed.cache_clear()


def test_read_jobs_are_the_jobs_of_the_declarations():
    assert read_job(last("job-read", job=PLAIN)["job"]) == JOB
