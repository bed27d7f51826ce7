"""What the page is told of a job: where the values lie that calculators share, and what each calculator is about."""

from __future__ import annotations

from typing import Any

from calculators import catalogue
from calculators.declare import MARKING
from calculators.job_fields import OF_MARKING, OF_PICTURE, TRACED_OUTLINES
from calculators.jobs.migrate import AREAS, FIRST, FIRST_NAME, MODEL_NAME
from calculators.jobs.model import (
    FORMAT,
    MOST_MARKINGS,
    ON_MODEL,
    OUTLINES,
    OWN,
    PICTURE,
    WITH_MARGINS,
    Available,
    Marking,
    Model,
    Partner,
    shared_attributes,
)
from calculators.jobs.partners import OWN_PARTS
from calculators.jobs.parts import kinds_of
from calculators.jobs.typed_inputs import FIRST_OF, WIDTHS


def job_places() -> dict[str, Any]:
    """Return, as JSON data for theme/scripts/keep/, what the declarations of a job and of calculators say."""
    how: Any = kinds_of(Partner)["how"]
    name_of_choice, whole, own = WIDTHS
    return {
        "format": FORMAT,
        "most": MOST_MARKINGS,
        # By the part of the job: the names that fields share, and the attribute that holds each.
        "attributes": {
            "marking": shared_attributes(Marking),
            "model": shared_attributes(Model),
            "available": shared_attributes(Available),
        },
        "first_of": FIRST_OF,
        "areas": AREAS,
        "widths": {
            "choice": name_of_choice,
            "size": ON_MODEL,
            "of": {OF_PICTURE: {"name": whole, "as": WITH_MARGINS}, OF_MARKING: {"name": own, "as": OWN}},
        },
        # By the name of a shared file: what it makes of a marking.
        "kinds": {"picture": PICTURE, TRACED_OUTLINES: OUTLINES},
        # What a partner has for itself while it follows, and what it can be.
        "own": list(OWN_PARTS),
        "partners": how.field.labels(),
        "first": {"id": FIRST, "name": FIRST_NAME, "model": MODEL_NAME},
        "aside": [id for id, each in catalogue.every().items() if each.about != MARKING],
    }
