"""What a calculator starts from for one marking: what was typed into it there, and what the job knows by now."""

from __future__ import annotations

from typing import Any

from calculators.declare import MARKING, Calculator, asked
from calculators.job_fields import OF_MARKING, OF_PICTURE
from calculators.jobs.migrate import AREAS
from calculators.jobs.model import (
    FULL_SIZE,
    OWN,
    Available,
    Job,
    Marking,
    Model,
    StoredFile,
    shared_attributes,
)
from calculators.jobs.parts import kinds_of
from calculators.numbers import plain

#: The values that are worked out of the width of a marking.
WIDTHS = ("width-of", "width", "own-width")
#: What there is, by the name of the value that is the first of it unless the marking has its own.
FIRST_OF = {"printer": "printers"}


def typed_for(job: Job, marking: Marking, calculator: Calculator) -> dict[str, Any]:
    """Return the typed texts of a calculator's fields for a marking; what is not decided is left out.

    A value that the job shares replaces what was typed into the calculator before it.
    """
    entries = marking.calculators if calculator.about == MARKING else job.calculators
    texts = dict(entries[calculator.id].inputs) if calculator.id in entries else {}
    known = known_texts(job, marking)
    for name, field in asked(calculator.inputs).items():
        if field.shares in WIDTHS and marking.width:
            # The width decides all of these together.
            texts.pop(name, None)
        if field.shares in known:
            texts[name] = known[field.shares]
    for name in files_for(marking, calculator):
        for filled in asked(calculator.inputs)[name].fills:
            # It is read from the file, whatever it was before.
            texts.pop(filled, None)
    return texts


def files_for(marking: Marking, calculator: Calculator) -> dict[str, StoredFile]:
    """Return the files of a calculator's fields for a marking."""
    entry = marking.calculators.get(calculator.id)
    files = dict(entry.files) if entry else {}
    for name, field in asked(calculator.inputs).items():
        outlines = getattr(field, "outlines", "")
        found = [marking.files[each] for each in (field.shares, outlines) if each and each in marking.files]
        if found:
            files[name] = max(found, key=lambda each: each.at).file
    return files


def known_texts(job: Job, marking: Marking) -> dict[str, str]:
    """Return what the job knows of a marking, as texts by the names that fields share."""
    model = job.model_of(marking)
    texts = {name: each.text for name, each in marking.values.items() if name not in WIDTHS or not marking.width}
    for part, value in ((Available, job.available), (Model, model), (Marking, marking)):
        if value is not None:
            there = {name: getattr(value, attribute) for name, attribute in shared_attributes(part).items()}
            texts |= {name: text for name, text in there.items() if text}
    for name, attribute in FIRST_OF.items():
        for first in getattr(job.available, attribute)[:1]:
            texts.setdefault(name, first)
    colours = {paint.area: paint.colour for paint in model.paints} if model else {}
    paints = [colours[area] for area in marking.paints if colours.get(area)]
    if paints:
        # On one paint only, both fields hold it.
        texts |= {name: paints[min(place, len(paints) - 1)] for place, name in enumerate(AREAS)}
    # What was typed as full size may be the height, and stays; without it, it follows from the width.
    return _full_size(job, marking) | texts | _widths(job, marking)


def _widths(job: Job, marking: Marking) -> dict[str, str]:
    width = width_mm(job, marking)
    if width is None:
        return {}
    typed = marking.width if marking.size != FULL_SIZE else f"{plain(width)} mm"
    full = {"full-size": marking.width} if marking.size == FULL_SIZE else {}
    if marking.width_of == OWN:
        return {"width-of": OF_MARKING, "own-width": typed, **full}
    return {"width-of": OF_PICTURE, "width": typed, **full}


def _full_size(job: Job, marking: Marking) -> dict[str, str]:
    width, scale = width_mm(job, marking), scale_of(job, marking)
    if width is None or scale is None or marking.width_of != OWN:
        return {}
    return {"full-size": f"{plain(width * scale)} mm"}


def width_mm(job: Job, marking: Marking) -> float | None:
    """Return the width on the model in mm, of what ``width_of`` says; None where it is not decided."""
    width: float | None = _value(Marking, "width", marking.width)
    if width is None or marking.size != FULL_SIZE:
        return width
    scale = scale_of(job, marking)
    return width / scale if scale else None


def scale_of(job: Job, marking: Marking) -> float | None:
    """Return the scale of the model that a marking goes onto; None where it is not decided."""
    model = job.model_of(marking)
    scale: float | None = _value(Model, "scale", model.scale) if model else None
    return scale


def _value(part: type, attribute: str, text: str) -> Any:
    kind: Any = kinds_of(part)[attribute]
    return kind.value(text)
