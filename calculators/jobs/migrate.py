"""How stored jobs of older formats become jobs of the present one. Nothing that was typed is lost on the way.

Format 2 knows one marking, and so no names. What several calculators shared becomes the marking, its model and what
there is; what was typed into calculators stays with the marking, or with the job where it is about no marking.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from calculators import job, messages
from calculators.declare import MARKING, Problem, Refused
from calculators.job_fields import OF_MARKING, TRACED_OUTLINES
from calculators.jobs import sentences
from calculators.jobs.declared import declared
from calculators.jobs.model import (
    FORMAT,
    ON_MODEL,
    OUTLINES,
    OWN,
    PICTURE,
    WITH_MARGINS,
    Available,
    Job,
    Marking,
    Model,
    Paint,
    read_job,
    shared_attributes,
)
from calculators.jobs.parts import kinds_of
from calculators.jobs.shape import Problems, Typed
from calculators.numbers import plain as plain_number
from calculators.units import Unread, length_mm

#: Of the one marking of a job of format 2, and of its model.
FIRST, FIRST_NAME, MODEL_NAME = "marking-1", "Marking 1", "Model 1"
#: The areas of the paints that the marking of a job of format 2 lay on, by the names that fields share.
AREAS = {"paint-a": "First paint", "paint-b": "Second paint"}

#: The share of the width that the marking takes up of the picture with a hash; None if it has not been measured.
ShareOf = Callable[[str], float | None]


def opened(stored: Any, share_of: ShareOf = lambda _hash: None) -> Job:
    """Return the job in JSON data of any format up to the present one. Raises Refused."""
    if not isinstance(stored, Mapping) or not isinstance(stored.get("format"), int):
        raise Refused(Problem("", sentences.NOT_A_JOB.format(name="This"), sentences.NOT_A_JOB_HINT))
    version = stored["format"]
    if version > FORMAT:
        known = {"name": "The job", "format": version if version < 10**9 else "…", "known": FORMAT}
        raise Refused(Problem("format", sentences.NEWER.format(**known), sentences.NEWER_HINT))
    if version == FORMAT:
        return read_job(stored)
    try:
        return read_job(_from_2(job.migrated(stored), share_of))
    except (ValueError, KeyError, TypeError, AttributeError) as trouble:
        if isinstance(trouble, Refused):
            raise
        raise Refused(Problem("", sentences.NOT_A_JOB.format(name="This"), sentences.NOT_A_JOB_HINT)) from None


def _from_2(stored: Mapping[str, Any], share_of: ShareOf) -> dict[str, Any]:
    """Return a job of format 2 as JSON data of format 3."""
    shared = dict(stored["shared"])
    files = {name: _shared_file(each) for name, each in shared.items() if "file" in each}
    texts = {name: each for name, each in shared.items() if "text" in each}
    about_markings: dict[str, Any] = {}
    others: dict[str, Any] = {}
    for id, entry in stored["calculators"].items():
        (about_markings if _is_about_a_marking(id) else others)[id] = _entry(entry)
    made: dict[str, Any] = {"format": FORMAT, "revision": stored.get("revision", 0), "calculators": others}
    if not (files or texts or about_markings):
        return made
    marking: dict[str, Any] = {"id": FIRST, "name": FIRST_NAME, "files": files, "calculators": about_markings}
    model: dict[str, Any] = {"id": "model-1", "name": MODEL_NAME}
    available: dict[str, Any] = {}
    placed: set[str] = set()
    known = _agreed(stored["calculators"]) | {name: each["text"] for name, each in texts.items()}
    _size(marking, texts, files, share_of)
    for part, data in ((Marking, marking), (Model, model), (Available, available)):
        for name, attribute in shared_attributes(part).items():
            if _reads(part, attribute, known.get(name, "")):
                data[attribute] = known[name]
                placed.add(name)
    paints = [
        {"area": AREAS[name], "colour": known[name]} for name in AREAS if _reads(Paint, "colour", known.get(name, ""))
    ]
    if len(model) > 2 or paints:
        made["models"] = [{**model, "paints": paints}]
        marking |= {"model": model["id"], "paints": [each["area"] for each in paints]}
    if files:
        latest = max(files, key=lambda name: files[name]["at"])
        marking["kind"] = OUTLINES if latest == TRACED_OUTLINES else PICTURE
    placed |= {name for name in AREAS if any(each["area"] == AREAS[name] for each in paints)}
    # The widths stay as they were typed: the one that the marking now has may have been worked out of them.
    marking["values"] = {name: _shared_text(each) for name, each in texts.items() if name not in placed}
    return made | {"markings": [marking], "available": available}


def _size(marking: dict[str, Any], texts: Mapping[str, Any], files: Mapping[str, Any], share_of: ShareOf) -> None:
    """Decide the width of the marking from the two that were shared, where they are those of its picture."""
    picture = files.get("picture", {}).get("file", {}).get("hash", "")

    def typed(name: str) -> str:
        each = texts.get(name, {})
        fits = not each.get("picture") or not picture or each["picture"] == picture
        text: str = each.get("text", "")
        return text if fits and _reads(Marking, "width", text) else ""

    own, whole = typed("own-width"), typed("width")
    of_marking = texts.get("width-of", {}).get("text") == OF_MARKING
    if own and (of_marking or not whole):
        marking |= {"width": own, "width_of": OWN, "size": ON_MODEL}
    elif whole:
        share = share_of(picture) if picture else None
        try:
            converted = None if share is None else f"{plain_number(length_mm(whole) * share)} mm"
        except Unread:
            converted = None
        if share == 1:
            converted = whole
        marking |= {"width": converted or whole, "width_of": OWN if converted else WITH_MARGINS, "size": ON_MODEL}


def _reads(part: type, attribute: str, text: str) -> bool:
    """Return whether an attribute of a part takes a text; one that it does not take stays among the values."""
    kind = kinds_of(part)[attribute]
    problems = Problems()
    kind.read(text, attribute, problems)
    return bool(text) and isinstance(kind, Typed) and not problems.listed


def _agreed(entries: Mapping[str, Any]) -> dict[str, str]:
    """Return the texts on which all calculators agree, by the names that their fields share.

    What a reader left as it was is not shared in format 2; but every answer came of it.
    """
    found: dict[str, set[str]] = {}
    for id, entry in entries.items():
        calculator = declared(id)
        shares = calculator.shares if calculator else {}
        for name, text in (entry.get("inputs") or {}).items():
            if name in shares and isinstance(text, str):
                found.setdefault(shares[name], set()).add(text)
    return {name: next(iter(texts)) for name, texts in found.items() if len(texts) == 1}


def _is_about_a_marking(id: str) -> bool:
    """Return whether a calculator is about a marking; one that is gone was, as most are."""
    calculator = declared(id)
    return calculator is None or calculator.about == MARKING


def _entry(entry: Mapping[str, Any]) -> dict[str, Any]:
    files = {field: _file(each) for field, each in (entry.get("files") or {}).items()}
    return {"inputs": dict(entry.get("inputs") or {}), "files": files}


def _file(facts: Mapping[str, Any]) -> dict[str, Any]:
    """Return the facts of a file, its name fit for one line."""
    return {
        "hash": facts["hash"],
        "name": messages.display_name(facts["name"], 255),
        "media": str(facts.get("media") or ""),
        "size": facts.get("size") or 0,
        "of": facts.get("of") or "",
    }


def _shared_file(value: Mapping[str, Any]) -> dict[str, Any]:
    return {"file": _file(value["file"]), "origin": value.get("from") or "", "at": value.get("at") or 0}


def _shared_text(value: Mapping[str, Any]) -> dict[str, Any]:
    return {"text": value["text"], "origin": value.get("from") or "", "picture": value.get("picture") or ""}
