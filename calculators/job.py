"""The job as pages store it on the device, format 2: everything a reader typed and chose for one marking.

``calculators.jobs`` has format 3, of many markings, which opens this one.

A job is a JSON object::

    {"format": 2, "revision": 7,
     "calculators": {"resolution": {"inputs": {"width_mm": "25.4 mm"},
                                    "files": {"picture": {"hash": "…", "name": "…", "media": "…", "size": 1}}}},
     "shared": {"width": {"text": "25.4 mm", "from": "resolution", "picture": "…"},
                "picture": {"file": {"hash": "…", "name": "…", "media": "…", "size": 1}, "at": 6,
                            "from": "resolution"}}}

``inputs`` are typed texts with their units (rows: lists of objects). ``files`` are known by the
SHA-256 of their bytes, which the store keeps beside the job. ``shared`` are the values that several calculators
ask for (a field's ``shares``), as last typed in any of them. ``at``, if known, is the revision in which a file was
added, which shows whether a picture or its outlines are newer. ``from`` is the calculator in which a value was typed
or found, and ``picture`` the hash of the picture that it describes. Traced outlines name their picture as ``of``.
``revision`` grows with each change, so that two open tabs notice each other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

#: Increase it when the structure of a job changes, and add a step to ``_STEPS``.
FORMAT = 2

#: How a job of format n becomes one of format n + 1.
_STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {
    1: lambda job: job | {"shared": {}},
}


def empty() -> dict[str, Any]:
    """Return a job in which nothing has been typed."""
    return {"format": FORMAT, "revision": 0, "calculators": {}, "shared": {}}


def migrated(stored: Mapping[str, Any]) -> dict[str, Any]:
    """Return ``stored`` in the present format.

    Raises ValueError for a job that is newer than this program, or that is no job.

    >>> migrated({"format": 1, "revision": 3, "calculators": {}})
    {'format': 2, 'revision': 3, 'calculators': {}, 'shared': {}}
    """
    made = dict(stored)
    version = made.get("format")
    if not isinstance(version, int) or not isinstance(made.get("calculators"), Mapping):
        raise ValueError("what is kept is not a job")
    if version > FORMAT:
        raise ValueError(f"the job has format {version}, this program knows up to {FORMAT}")
    while made["format"] < FORMAT:
        made = _STEPS[made["format"]](made) | {"format": made["format"] + 1}
    return made
