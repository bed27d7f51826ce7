"""The requests about jobs, and the stages whose parts each needs in the page besides the part for jobs.

What answers them is ``calculators.jobs.requests``, which no page loads before one of them is asked.
"""

from __future__ import annotations

from collections.abc import Mapping

#: The part of the page's Python with all about jobs, and the module that answers.
PART, MODULE = "jobs", "calculators.jobs.requests"
#: Stages by request. One with a calculator needs the stage of that too.
REQUESTS: Mapping[str, tuple[str, ...]] = {
    "job-migrate": (),
    "job-read": (),
    "job-check": ("size", "artwork"),
    "job-open": (),
    "job-save": (),
    "list-read": (),
    "list-write": (),
    "measure": ("artwork",),
    "typed-for": (),
}
