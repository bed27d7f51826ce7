"""A job with its files, as a calculator about the whole job gets it.

On the command line it is a saved job (``archive.py``). A page hands over what it has, so that nothing is packed only to
be unpacked: a line of JSON, {"job": …, "facts": …, "files": [[hash, bytes], …]}, and then the files, one after another.
A file that the device has no more is missing there.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calculators.declare import Problem, Refused
from calculators.jobs import sentences
from calculators.jobs.facts import Facts, facts_of_store
from calculators.jobs.model import Job, plain, read_job


@dataclass(frozen=True)
class Whole:
    """A job with the bytes of its files and what has been measured of its pictures, both by hash."""

    job: Job
    files: Mapping[str, bytes]
    facts: Mapping[str, Facts] = field(default_factory=dict)


def read_whole(data: bytes, name: str) -> Whole:
    """Return the job in a saved job called ``name``, or in what a page hands over. Raises Refused."""
    if data.startswith(b"PK"):
        # No page needs the library for archives here.
        from calculators.jobs.archive import read_saved

        saved = read_saved(data, name)
        return Whole(saved.job, saved.files, saved.measured)
    end = data.find(b"\n")
    try:
        head: Any = json.loads(data[: max(end, 0)])
        lengths = [(str(hash), int(length)) for hash, length in head["files"]]
    except (ValueError, KeyError, TypeError):
        raise Refused(Problem("", sentences.NOT_A_JOB.format(name=name), sentences.NOT_A_JOB_HINT)) from None
    files, at = {}, end + 1
    for hash, length in lengths:
        files[hash] = data[at : at + length]
        at += length
    return Whole(read_job(head.get("job")), files, facts_of_store(head.get("facts")))


def whole_bytes(whole: Whole) -> bytes:
    """Return a job as a page hands it over."""
    head = {"job": plain(whole.job), "files": [[hash, len(data)] for hash, data in whole.files.items()]}
    return json.dumps(head).encode() + b"\n" + b"".join(whole.files.values())
