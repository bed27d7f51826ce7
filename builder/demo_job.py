"""The demonstration job, of the railcar and the launch, as one file: ``python -m builder.demo_job FILE``.

Its markings are the outlines in content/demo/, with the small raster of the crest. What their pictures hold is measured
here, so that the job opens with every verdict.
"""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

from builder.answers import Answers
from calculators.jobs import demo
from calculators.jobs.archive import Saved, saved_bytes
from calculators.jobs.facts import Facts
from calculators.jobs.model import files_of
from calculators.jobs.pictures import measured


@cache
def demo_job(answers: Answers | None = None) -> Saved:
    """Return the demonstration job with its files and what they hold, which may be among stored ``answers``."""
    whole = demo.demo_job()
    names = {hash: file.name for hash, file in files_of(whole.job).items()}
    facts = {hash: _measured(names[hash], data, answers) for hash, data in whole.files.items()}
    return Saved(whole.job, whole.files, facts)


def _measured(name: str, data: bytes, answers: Answers | None) -> Facts:
    def work_out() -> Facts:
        return measured(name, data)

    made: Facts = answers.of_file("measured", name, data, work_out) if answers else work_out()
    return made


if __name__ == "__main__":
    Path(sys.argv[1]).write_bytes(saved_bytes(demo_job()))
