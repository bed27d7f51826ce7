"""Long work waits for the pixels of a picture where no decoder is at hand."""

from __future__ import annotations

import io
import json
import zipfile
from hashlib import sha256

import pytest
from PIL import Image

from calculators.answer import answer
from calculators.files import picture as pictures

RGBA = bytes(range(4 * 3 * 2))


@pytest.fixture
def request_of_a_job(monkeypatch, with_workbench):
    """A question about a job with one PNG, of a caller that has no decoder."""
    monkeypatch.setattr(pictures, "can_decode", lambda: False)
    file = io.BytesIO()
    Image.frombytes("RGBA", (3, 2), RGBA).save(file, "PNG")
    hash = sha256(file.getvalue()).hexdigest()
    stored = {"file": {"hash": hash, "name": "a.png", "media": "image/png", "size": len(file.getvalue())}, "at": 1}
    job = {"format": 3, "name": "Job", "markings": [{"id": "a", "name": "A", "files": {"picture": stored}}]}
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        archive.writestr("job.json", json.dumps(job))
        archive.writestr(f"files/{hash}", file.getvalue())
    request = {"do": "answer", "calculator": "job-pictures", "files": {"job": {"name": "job.zip", "bytes": 0}}}
    return json.dumps(request), [made.getvalue()], file.getvalue()


def _until_wanted(request, buffers):
    steps = answer(request, buffers)
    for text, handed in steps:
        if json.loads(text)["outcome"] == "wanted":
            return steps, json.loads(text), handed
    raise AssertionError("nothing was wanted")


def test_pixels_that_are_sent_are_those_of_the_picture(request_of_a_job):
    request, buffers, file = request_of_a_job
    steps, wanted, handed = _until_wanted(request, buffers)
    assert wanted["media"] == "image/png" and wanted["header"] == {"orientation": 1, "profiled": False}
    assert handed == [file]
    text, _ = steps.send([3, 2, bytearray(RGBA)])
    assert json.loads(text)["result"]["rgba_sha256"] == sha256(RGBA).hexdigest()


@pytest.mark.parametrize("sent", [[2, 3, bytearray(RGBA)], [3, 2, bytearray(5)]])
def test_pixels_of_another_size_are_refused(request_of_a_job, sent):
    request, buffers, _file = request_of_a_job
    steps, *_ = _until_wanted(request, buffers)
    text, _ = steps.send(sent)
    assert json.loads(text)["outcome"] == "problems"
