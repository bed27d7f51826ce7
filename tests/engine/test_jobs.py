"""Requests about jobs are answered in the real engine as natively, with the part for jobs and what each names."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from calculators.answer import answer
from calculators.job_requests import REQUESTS
from calculators.jobs.archive import Saved, saved_bytes
from calculators.jobs.model import plain
from calculators.jobs.pictures import measured
from tests.calculators.jobs.made import CREST, CREST_FILE, FORMAT_2, JOB
from tests.engine.conftest import run_node

PLAIN = plain(JOB)
STORED = json.loads((FORMAT_2 / "job.json").read_text("utf-8"))


@pytest.fixture
def files(tmp_path) -> dict[str, dict[str, Any]]:
    (tmp_path / "crest.png").write_bytes(CREST)
    decoded = Image.open(io.BytesIO(CREST)).convert("RGBA")
    (tmp_path / "rgba").write_bytes(decoded.tobytes())
    saved = Saved(JOB, {CREST_FILE.hash: CREST}, {CREST_FILE.hash: measured("crest.png", CREST)})
    (tmp_path / "livery.zip").write_bytes(saved_bytes(saved))
    (tmp_path / "list.csv").write_bytes("Name;Width\nÉcu;14 mm\nBand;ten\n".encode("cp1252"))
    return {
        "list": {"name": "list.csv", "path": str(tmp_path / "list.csv")},
        "picture": {
            "name": "crest.png",
            "path": str(tmp_path / "crest.png"),
            "pixels": {"width": decoded.width, "height": decoded.height, "path": str(tmp_path / "rgba")},
        },
        "job": {"name": "livery.zip", "path": str(tmp_path / "livery.zip")},
    }


def _ask(engine, tmp_path, requests: list[dict[str, Any]], *, plain: bool = False) -> dict[str, Any]:
    folder, config = engine
    task = {"site": str(folder), "config": config, "plain": plain, "requests": requests}
    return run_node("ask.mjs", task, tmp_path)


def _parts(engine, addresses: list[str]) -> set[str]:
    known = {path for paths in engine[1]["parts"].values() for path in paths}
    return {path for path in known if any(each.endswith(path) for each in addresses)}


def _natively(request: dict[str, Any]) -> dict[str, Any]:
    files, buffers = {}, []
    for name, file in request.get("files", {}).items():
        files[name] = {"name": file["name"], "bytes": len(buffers)}
        buffers.append(Path(file["path"]).read_bytes())
    *_steps, (text, _buffers) = answer(json.dumps({**request, "files": files}), buffers)
    return json.loads(text)


def _requests(files) -> dict[str, dict[str, Any]]:
    """Return a request of each kind that is answered with a result."""
    hash = CREST_FILE.hash
    of = {
        "job-migrate": {"job": STORED},
        "job-read": {"job": PLAIN},
        "job-check": {"job": PLAIN},
        "job-open": {"files": {"job": files["job"]}},
        "job-save": {"job": PLAIN, "files": {hash: files["picture"]}},
        "list-read": {"job": {"format": 3}, "files": {"list": files["list"]}},
        "list-write": {"job": PLAIN},
        "measure": {"files": {"picture": files["picture"]}},
        "typed-for": {"job": PLAIN, "marking": "crest-right", "calculator": "resolution"},
    }
    assert of.keys() == REQUESTS.keys()
    return {do: {"do": do, **more} for do, more in of.items()}


@pytest.mark.parametrize("plain", [False, True], ids=["snapshot", "plain"])
def test_each_request_is_answered_as_natively_without_waiting(own_engine, tmp_path, files, plain):
    requests = [*_requests(files).values()]
    report = _ask(own_engine, tmp_path, requests, plain=plain)
    for request, got in zip(requests, report["answers"], strict=True):
        assert got == _natively(request), request["do"]
        assert got["outcome"] not in ("fault", "problems"), got
    # Python would wait for a part that a request does not name, and for its library.
    assert report["waitedFor"] == []


@pytest.mark.parametrize("do", ["job-migrate", "job-open", "list-read", "list-write"])
def test_what_needs_no_calculator_loads_the_part_for_jobs_alone(own_engine, tmp_path, files, do):
    report = _ask(own_engine, tmp_path, [_requests(files)[do]])
    assert report["waitedFor"] == []
    assert _parts(own_engine, report["fetched"]) == set(own_engine[1]["parts"]["jobs"])


@pytest.mark.parametrize("do", ["job-check", "measure"])
def test_checks_and_measures_load_the_stages_that_they_name(own_engine, tmp_path, files, do):
    report = _ask(own_engine, tmp_path, [_requests(files)[do]])
    named = {path for stage in ("jobs", *REQUESTS[do]) for path in own_engine[1]["parts"][stage]}
    assert (report["waitedFor"], _parts(own_engine, report["fetched"])) == ([], named)
    assert len(named) >= 3


def test_the_part_for_jobs_weighs_less_than_the_artwork_s(own_engine):
    # It brings zipfile and csv with all that they import of Python's library.
    [own] = own_engine[1]["parts"]["jobs"]
    [artwork] = [path for path in own_engine[1]["parts"]["artwork"] if path.startswith("engine/artwork.")]
    assert 10_000 < own_engine[1]["sizes"][own] < own_engine[1]["sizes"][artwork]
