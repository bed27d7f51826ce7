"""The whole job, as a field."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.declare.field import declared
from calculators.declare.file import FileField

__all__ = ["WholeJobField", "whole_job"]

NO_JOB = "There is no job on this device yet"
UNNAMED = "Job without a name"
ONE, MANY = "1 marking", "{count} markings"


@dataclass(frozen=True, kw_only=True)
class WholeJobField(FileField):
    """A job with its files, as a ``NamedFile``: on the command line a saved job, in the page the current one.

    The page hands it over as ``calculators/jobs/whole.py`` reads it, whenever the job has changed.
    """

    most_bytes: int = 512 * 1024 * 1024
    kind = "whole_job"
    takes = "a saved job"

    def details(self) -> dict[str, Any]:
        """Return the words that the page shows of the job."""
        return {**super().details(), "words": {"none": NO_JOB, "unnamed": UNNAMED, "one": ONE, "many": MANY}}


def whole_job(label: str, *, help: str = "", without: str = "") -> Any:
    """Declare the whole job, which may be left out and is then None."""
    return declared(WholeJobField(label=label, help=help, accept=".zip", optional=True, without=without), None)
