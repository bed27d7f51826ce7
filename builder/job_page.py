"""What the page of a job shows of each attribute, from the declarations of a job."""

from __future__ import annotations

import json
from dataclasses import MISSING, fields
from html import escape
from pathlib import Path
from typing import Any

from builder.answers import Answers
from builder.demo_job import demo_job
from calculators import units
from calculators.declare import ChoiceField, TextField
from calculators.jobs import check, lists, page_sentences, sentences
from calculators.jobs.archive import saved_bytes
from calculators.jobs.model import Available, Bench, Job, Marking, Model, Paint, Partner, SeriesRow, schema
from calculators.jobs.parts import Many, kinds_of
from calculators.jobs.shape import Count, Kind, Typed, Words, YesNo

#: Controls of these are made by the page itself: what they can be depends on the job.
_MODEL, _PAINTS = "model", "paints"


def job_page() -> dict[str, Any]:
    """Return the controls of each part of a job, and what the scripts are told."""
    return {
        "job": _controls(Job, ("name", "note")),
        "line": _controls(Marking, ("name", "width", "copies")),
        "more": _controls(
            Marking, (_MODEL, "place", "size", "width_of", "kind", "spares", "way", "film", "printer", "white")
        ),
        "bench": _controls(Bench, tuple(kinds_of(Bench)), "bench."),
        "model": _controls(Model, ("name", "scale", "seal", "clear")),
        "paint": _controls(Paint, ("area", "colour", "kind")),
        "row": [*_controls(SeriesRow, ("text", "copies")), *_controls(Bench, tuple(kinds_of(Bench)), "bench.")],
        "available": _controls(Available, ("viewing_distance",), "available."),
        # What was measured is shown; the pages that ask for it judge what is typed.
        "measured": _controls(Available, ("printer_errors",), "available."),
        "choices": [
            {"path": name, "label": kind.label, "options": _options(kind.of)}
            for name, kind in kinds_of(Available).items()
            if isinstance(kind, Many)
        ],
        "most": _most(),
        "partners": _options(kinds_of(Partner)["how"]),
        "words": page_sentences.WORDS,
        "checked_with": check.checked_with(),
    }


def _most() -> dict[str, int]:
    """Return how many entries the lists that grow on the page may have."""
    lists = {**kinds_of(Marking), **kinds_of(Model), **kinds_of(Job)}
    return {name: kind.most for name in ("models", "paints", "rows") if isinstance(kind := lists[name], Many)}


def _controls(part: type, names: tuple[str, ...], within: str = "") -> list[dict[str, Any]]:
    kinds, defaults = kinds_of(part), {each.name: each.default for each in fields(part)}
    return [_control(f"{within}{name}", kinds[name], defaults[name]) for name in names]


def _control(path: str, kind: Kind, default: Any) -> dict[str, Any]:
    return {
        "path": path,
        "label": kind.field.label if isinstance(kind, Typed) else kind.label,
        "as": "count" if isinstance(kind, Count) else "choice" if _is_choice(kind) or path == _MODEL else "text",
        "lines": _lines(kind),
        "length": isinstance(kind, Typed) and getattr(kind.field, "is_length", False),
        "default": "" if default is MISSING else default,
        "options": _options(kind) if _is_choice(kind) else {},
    }


def _lines(kind: Kind) -> int:
    """Return how many lines a box of several has at first, and 0 for a box of one."""
    if isinstance(kind, Typed):
        return kind.field.lines if isinstance(kind.field, TextField) and kind.field.lines > 1 else 0
    return int(isinstance(kind, Words) and kind.lines)


def _is_choice(kind: Kind) -> bool:
    return isinstance(kind, Typed) and isinstance(kind.field, ChoiceField)


def _options(kind: Kind) -> dict[str, str]:
    assert isinstance(kind, Typed) and isinstance(kind.field, ChoiceField)
    return dict(kind.field.labels())


def list_columns() -> str:
    """Return the columns of a list of markings as an HTML table: the heading of each, and what its cells take."""
    found = {heading: kind for part in (Marking, SeriesRow) for heading, kind in lists.columns(part).items()}
    rows = [
        f"<tr><th scope='row'>{escape(heading)}</th><td>{escape(_capital(_takes(found.get(heading))))}</td></tr>"
        for heading in lists.headings()
    ]
    head = "<tr><th>Column</th><th>What it takes</th></tr>"
    return f"<table>\n<thead>{head}</thead>\n<tbody>\n" + "\n".join(rows) + "\n</tbody>\n</table>"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _takes(kind: Kind | None) -> str:
    """Return what the cells of a column take; a column without a kind is the one of rows of a series."""
    match kind:
        case None:
            return page_sentences.ROW_OF_TAKES
        case Typed() if _is_choice(kind):
            return "; ".join(_options(kind).values())
        case Typed():
            return kind.field.accepts(units.MM)
        case Count():
            return sentences.WHOLE_NUMBER.format(low=kind.low, high=kind.high)
        case YesNo():
            return sentences.YES_OR_NO
        case Many():
            return page_sentences.AREAS_TAKE
        case Words():
            return page_sentences.WORDS_TAKE.format(most=kind.most)
    return kind.help


def write_job_files(pages: Path, answers: Answers | None = None) -> None:
    """Write what the page of a job fetches, and the schema of a job, beside it. See ``demo_job`` for ``answers``."""
    folder = pages / "job"
    folder.mkdir(exist_ok=True)
    (folder / "demo-job.zip").write_bytes(saved_bytes(demo_job(answers)))
    (folder / "job.schema.json").write_text(json.dumps(schema(), indent=1, ensure_ascii=False) + "\n", "utf-8")
