"""The verdicts on every marking of a job, each a pure function of what was decided and of what its picture holds.

A request holds all that its verdicts come of, and has a key: while the key is that of verdicts found before, nothing
needs to be computed again. So one edit checks one row again.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from functools import cache
from hashlib import sha256
from typing import Any

from calculators import catalogue, tables
from calculators.declare import Calculator, Problem, Refused, VerdictResult, answered
from calculators.declare.result import plain as plain_results
from calculators.job_fields import TRACED_OUTLINES
from calculators.jobs import sentences
from calculators.jobs.facts import MEASURED_BY, Facts
from calculators.jobs.model import OUTLINES, OWN, TEXT, Job, Marking
from calculators.jobs.partners import as_used
from calculators.jobs.typed_inputs import scale_of, typed_for, width_mm
from calculators.read import read

#: Increase it when the same request would get another verdict.
CHECKED_BY = 1
SIZE, RESOLUTION = "scale-size", "resolution"


@dataclass(frozen=True)
class Request:
    """All that the verdicts on a marking come of. ``size`` and ``resolution`` are typed texts of these calculators.

    ``pieces`` and ``done`` are counts: how many are wanted, and how many are printed, sealed and on the model.
    """

    width_mm: float | None
    own_width: bool
    lacks_scale: bool
    wants_picture: bool
    size: tuple[tuple[str, str], ...]
    resolution: tuple[tuple[str, str], ...]
    picture: str
    pieces: int
    done: tuple[int, int, int]


@dataclass(frozen=True)
class StageVerdict:
    """What one calculator says of a marking: its verdict, the level of it (pass, watch or fail), and its words."""

    stage: str
    calculator: str
    verdict: str
    level: str
    words: str


@dataclass(frozen=True)
class Verdicts:
    """The verdicts on a marking, what kept a calculator from giving one, and what to do next.

    ``step`` is the attribute of the marking, or the calculator, in which the next thing is done; "" for the bench.
    """

    key: str
    stages: tuple[StageVerdict, ...]
    problems: tuple[Problem, ...]
    next: str
    step: str = ""


@cache
def _calculator(id: str) -> Calculator:
    """Return a calculator; to find one takes longer than to check a row."""
    return catalogue.find(id)


@cache
def checked_with() -> str:
    """Return a digest of all but the job that verdicts come of: the tables, and how they are used."""
    grounds = [CHECKED_BY, MEASURED_BY, _tables()]
    return sha256(repr(grounds).encode()).hexdigest()


def _tables() -> str:
    return sha256(repr([tables.load(each) for each in ("printers", "scales")]).encode()).hexdigest()


def request_of(job: Job, marking: Marking) -> Request:
    """Return what the verdicts on a marking come of."""
    used = as_used(job, marking)
    width, scale = width_mm(job, used), scale_of(job, used)
    size = typed_for(job, used, _calculator(SIZE))
    if width is not None:
        # On the model a scale is not needed: any will do, since the verdict is on the size there.
        size |= {"scale": size.get("scale", "1")} if scale is None else {}
        size["full_size_mm"] = f"{width * (scale or 1)!r} mm"
    calculator = _calculator(RESOLUTION)
    printed = used.files.get(TRACED_OUTLINES if used.kind == OUTLINES else "picture") or used.files.get("picture")
    # The pixels are those of the picture, whatever was typed before there was one.
    fields = {"width_px", "height_px", "width_of", "width_mm", "own_width_mm", "height_mm"}
    resolution = {name: text for name, text in typed_for(job, used, calculator).items() if name not in fields}
    rows = used.rows
    return Request(
        width_mm=width,
        own_width=used.width_of == OWN,
        lacks_scale=bool(used.width) and width is None,
        wants_picture=used.kind != TEXT,
        size=_sorted(size),
        resolution=_sorted(resolution),
        picture=printed.file.hash if printed else "",
        pieces=sum(row.copies for row in rows) if rows else used.copies,
        done=_done(marking),
    )


def _done(marking: Marking) -> tuple[int, int, int]:
    # A partner of a series has no rows of its own, and is counted as a whole.
    counted = [marking.bench, *(row.bench for row in marking.rows)]
    return (
        sum(each.printed for each in counted),
        sum(each.sealed for each in counted),
        sum(each.on_model for each in counted),
    )


def _sorted(texts: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted((name, text) for name, text in texts.items() if isinstance(text, str)))


def key_of(request: Request, facts: Facts | None) -> str:
    """Return what verdicts are known by: another request, or other facts, have another key."""
    grounds = [checked_with(), asdict(request), facts and asdict(facts)]
    return sha256(json.dumps(grounds, sort_keys=True).encode()).hexdigest()


def verdicts_of(request: Request, facts: Facts | None) -> Verdicts:
    """Return the verdicts that follow from a request, and from what its picture holds where that is measured."""
    stages: list[StageVerdict] = []
    problems: list[Problem] = []
    if request.width_mm is not None:
        found, wrong = _size(request)
        stages += found
        problems += wrong
    if request.width_mm is not None and facts and request.wants_picture:
        found, wrong = _resolution(request, facts)
        stages += found
        problems += wrong
    next, step = _next(request, facts, stages, problems)
    return Verdicts(key_of(request, facts), tuple(stages), tuple(problems), next, step)


def checked(
    job: Job, facts: Mapping[str, Facts], known: Mapping[str, Verdicts] | None = None
) -> Iterator[tuple[Marking, Verdicts]]:
    """Yield each marking with its verdicts; those ``known`` by their key are not computed again."""
    for marking in job.markings:
        request = request_of(job, marking)
        measured = facts.get(request.picture)
        found = (known or {}).get(key_of(request, measured))
        yield marking, found or verdicts_of(request, measured)


def _size(request: Request) -> tuple[list[StageVerdict], list[Problem]]:
    calculator = _calculator(SIZE)
    reading = read(calculator.inputs, dict(request.size))
    if reading.problems:
        return [], list(reading.problems)
    try:
        return [stage_verdict(calculator, calculator.answer(reading.inputs))], []
    except Refused as refused:
        return [], list(refused.problems)


def _resolution(request: Request, facts: Facts) -> tuple[list[StageVerdict], list[Problem]]:
    # What judges pictures comes with the stage of artwork.
    from calculators.artwork.judgement import SHARP, Findings, Looked, of_findings
    from calculators.pixels.detail import Detail

    calculator = _calculator(RESOLUTION)
    reading = read(calculator.inputs, dict(request.resolution))
    if reading.problems:
        return [], list(reading.problems)
    inputs: Any = reading.inputs
    if not facts.width_px:
        return [_stage_verdict(calculator, SHARP)], []
    detail = Detail(
        facts.detail_width_px,
        facts.detail_height_px,
        "smooth" if facts.enlarged else None,
        least_width_px=facts.least_width_px or None,
    )
    findings = Findings((facts.width_px, facts.height_px), detail, facts.edges, facts.jpeg_damage)
    whole_mm = (request.width_mm or 0) / (facts.share if request.own_width else 1)
    looked = Looked(inputs.viewing_distance_mm, inputs.edges, tables.row("printers", inputs.printer), inputs.line)
    return [_stage_verdict(calculator, of_findings(findings, whole_mm, None, looked)[1].verdict)], []


def stage_verdict(calculator: Any, outputs: Any) -> StageVerdict:
    """Return the verdict among the outputs of a calculator, which has one."""
    return _stage_verdict(calculator, plain_results(outputs)["verdict"])


def _stage_verdict(calculator: Any, verdict: str) -> StageVerdict:
    declared: Any = answered(calculator.outputs)["verdict"]
    level, words = declared.levels[verdict]
    return StageVerdict(calculator.stage, calculator.id, verdict, level, words)


def has_verdict(calculator: Any) -> bool:
    """Return whether a calculator gives a verdict."""
    return isinstance(answered(calculator.outputs).get("verdict"), VerdictResult)


def _next(
    request: Request, facts: Facts | None, stages: list[StageVerdict], problems: list[Problem]
) -> tuple[str, str]:
    """Return the words for the next thing to do, and the ``step``."""
    failed = {each.calculator for each in stages if each.level == "fail"}
    unread = SIZE if SIZE not in {each.calculator for each in stages} else RESOLUTION
    printed, sealed, on_model = request.done
    steps = (
        (request.lacks_scale, sentences.NEXT_MODEL, "model"),
        (request.width_mm is None, sentences.NEXT_SIZE, "width"),
        (bool(problems), sentences.NEXT_CORRECT, unread),
        (SIZE in failed, sentences.NEXT_FINE, SIZE),
        (request.wants_picture and not request.picture, sentences.NEXT_PICTURE, RESOLUTION),
        (request.wants_picture and facts is None, sentences.NEXT_MEASURE, "picture"),
        (RESOLUTION in failed, sentences.NEXT_RESOLUTION, RESOLUTION),
        (on_model >= request.pieces, sentences.DONE, ""),
        (sealed >= request.pieces, sentences.NEXT_APPLY, ""),
        (printed >= request.pieces, sentences.NEXT_SEAL, ""),
    )
    return next(((words, step) for holds, words, step in steps if holds), (sentences.NEXT_PRINT, ""))
