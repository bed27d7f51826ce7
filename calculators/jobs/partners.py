"""The twin of a marking, which follows it. The page separates the two: theme/scripts/keep/markings.mjs."""

from __future__ import annotations

from dataclasses import replace

from calculators.jobs.model import Bench, Job, Marking, Partner, new_id

#: What a partner has for itself while it follows.
OWN_PARTS = ("id", "name", "place", "partner", "bench")


def as_used(job: Job, marking: Marking) -> Marking:
    """Return a marking with everything that it takes on from the one that it follows."""
    if not (marking.partner and marking.partner.follows):
        return marking
    twin = job.marking(marking.partner.of)
    # What was done of a series is counted with its rows: that of the twin is not done on this side.
    rows = tuple(replace(row, bench=Bench()) for row in twin.rows)
    return replace(twin, rows=rows, **{name: getattr(marking, name) for name in OWN_PARTS})


def with_partner(job: Job, id: str, how: str, name: str) -> Job:
    """Return the job with a partner of the marking ``id``, called ``name``, that follows it. Raises KeyError."""
    twin = job.marking(id)
    if twin.partner:
        raise KeyError(id)
    made = new_id(name, {each.id for each in job.markings})
    partner = Marking(id=made, name=name, partner=Partner(of=id, how=how), bench=Bench())
    place = job.markings.index(twin) + 1
    return replace(job, markings=(*job.markings[:place], partner, *job.markings[place:]))
