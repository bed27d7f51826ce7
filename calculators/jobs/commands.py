"""The command line for jobs: new, add, list, check. Results and exit codes are those of ``run``."""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import sys
from collections.abc import Iterator
from dataclasses import asdict, replace
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from calculators import catalogue, messages
from calculators.answer import problems_as_json
from calculators.declare import MARKING, Problem, Progress, Refused
from calculators.jobs import lists, sentences
from calculators.jobs.archive import MEGABYTE, MOST_BYTES, MOST_JSON, Saved, parsed_json, read_saved, saved_bytes
from calculators.jobs.check import Verdicts, checked, has_verdict, stage_verdict
from calculators.jobs.facts import Facts
from calculators.jobs.migrate import opened
from calculators.jobs.model import Job, Marking, Model, SharedFile, StoredFile, files_of, new_id, plain, read_job
from calculators.jobs.partners import as_used, with_partner
from calculators.jobs.pictures import measured
from calculators.jobs.typed_inputs import files_for, typed_for
from calculators.read import read

RESULT = 0
#: Names of the attributes that ``add`` takes as texts, as their columns have them.
ADDED = ("place", "kind", "width", "size", "way", "film", "printer", "white")


def add_parser(commands: Any) -> None:
    """Add ``job`` and its commands to those of the command line."""
    job = commands.add_parser("job", help="make and check a job of many markings")
    of_job = job.add_subparsers(dest="job_command", required=True)
    new = of_job.add_parser("new", help="make an empty job, or one from a stored job of any format")
    new.add_argument("--name", default="", help="the name of the job")
    new.add_argument("--from", dest="stored", type=Path, metavar="JOB.json", help="a stored job, its files beside it")
    add = of_job.add_parser("add", help="add markings: one, a partner of one, or those of a list")
    add.add_argument("--name", default="", help="the name of the marking")
    for name in ADDED:
        add.add_argument(f"--{name}", default="", help="as in the column of a list")
    add.add_argument("--model", default="", help="the id of a model; a new one has a name and a scale: NAME=1:72")
    add.add_argument("--copies", type=int, default=1)
    add.add_argument("--spares", type=int, default=0)
    add.add_argument("--picture", type=Path, metavar="PATH", help="its picture")
    add.add_argument("--partner-of", default="", metavar="ID", help="the marking that it follows")
    add.add_argument("--how", default="same", help="same, mirrored or mirrored-but-text")
    add.add_argument("--csv", type=Path, metavar="PATH", help="a list of markings")
    add.add_argument(
        "--map", action="append", default=[], metavar="THEIRS=OURS", help="the column of ours for one of the list"
    )
    listing = of_job.add_parser("list", help="list the markings")
    listing.add_argument("--csv", action="store_true", help="as a list that a spreadsheet opens")
    check = of_job.add_parser("check", help="check size and resolution of every marking")
    check.add_argument("--stages", action="store_true", help="also run each calculator that a marking has inputs for")
    for each in (new, add, listing, check):
        each.add_argument("file", type=Path, metavar="FILE")
        each.add_argument("--json", action="store_true", help="as JSON")


def run(parsed: argparse.Namespace) -> int:
    """Run one command and return its exit code. Raises Refused."""
    does = {"new": _new, "add": _add, "list": _list, "check": _check}
    return does[parsed.job_command](parsed)


def _new(parsed: argparse.Namespace) -> int:
    if parsed.file.exists():
        text = sentences.FILE_IS_THERE.format(path=messages.display_name(str(parsed.file), 200))
        raise Refused(Problem("", text, sentences.FILE_IS_THERE_HINT))
    saved = _stored(parsed.stored) if parsed.stored else Saved(Job(), {}, {})
    if parsed.name:
        saved = replace(saved, job=replace(saved.job, name=parsed.name))
    return _save(parsed, saved)


def _stored(path: Path) -> Saved:
    """Return the job in a JSON file, with its files in the folder ``files`` beside it."""
    data = parsed_json(_bytes(path), path.name)
    folder = path.parent / "files"
    facts: dict[str, Facts] = {}

    def share_of(hash: str) -> float | None:
        if hash not in facts:
            with contextlib.suppress(Refused):  # what cannot be measured keeps the width as it was typed
                facts[hash] = measured(hash, _bytes(folder / hash))
        return facts[hash].share if hash in facts else None

    job = opened(data, share_of)
    files = {hash: _bytes(folder / hash) for hash in files_of(job)}
    wrong = [hash for hash, data in files.items() if sha256(data).hexdigest() != hash]
    if wrong:
        raise Refused(Problem(wrong[0], sentences.WRONG_HASH.format(name=path.name, entry=wrong[0])))
    return Saved(job, files, facts)


def _add(parsed: argparse.Namespace) -> int:
    saved = _opened(parsed.file)
    job, files, facts = saved.job, dict(saved.files), dict(saved.measured)
    if parsed.csv:
        mapped = dict(each.partition("=")[::2] for each in parsed.map)
        found = lists.read_for(job, _bytes(parsed.csv), parsed.csv.name, mapped=mapped)
        if found.problems:
            raise Refused(*found.problems)
        job = lists.merged(job, found.markings)
    elif parsed.partner_of:
        try:
            job = with_partner(job, parsed.partner_of, parsed.how, parsed.name or parsed.partner_of)
        except KeyError:
            text = sentences.NO_SUCH_PARTNER.format(id=messages.quoted(parsed.partner_of))
            raise Refused(Problem("partner.of", text)) from None
    else:
        job, model = _with_model(job, parsed.model)
        marking = Marking(
            id=new_id(parsed.name, {each.id for each in job.markings}),
            name=parsed.name,
            model=model,
            copies=parsed.copies,
            spares=parsed.spares,
            **{name: getattr(parsed, name) for name in ADDED if getattr(parsed, name)},
        )
        if parsed.picture:
            data = _bytes(parsed.picture)
            hash = sha256(data).hexdigest()
            facts[hash] = measured(parsed.picture.name, data)
            files[hash] = data
            file = StoredFile(hash=hash, name=messages.display_name(parsed.picture.name, 255), size=len(data))
            marking = replace(marking, kind=marking.kind or "picture", files={"picture": SharedFile(file=file, at=1)})
        job = job.with_marking(marking)
    # Read again, so that there is one place that judges what a job may hold.
    job = read_job(plain(replace(job, revision=job.revision + 1)))
    return _save(parsed, Saved(job, files, facts))


def _with_model(job: Job, text: str) -> tuple[Job, str]:
    """Return the job with the model that ``text`` names, and its id."""
    name, equals, scale = text.partition("=")
    if not equals:
        return job, text
    model = Model(id=new_id(name, {each.id for each in job.models}), name=name, scale=scale)
    return replace(job, models=(*job.models, model)), model.id


def _list(parsed: argparse.Namespace) -> int:
    job = _opened(parsed.file).job
    used = tuple(as_used(job, each) for each in job.markings)
    if parsed.csv:
        sys.stdout.write(lists.written(job.markings))
    elif parsed.json:
        _print({"outcome": "result", "result": plain(job)})
    else:
        for each in used:
            print(f"{each.id:<24} {each.width or '–':<12} {each.copies:>4}  {messages.legible(each.name)}")
    return RESULT


def _check(parsed: argparse.Namespace) -> int:
    saved = _opened(parsed.file)
    saved, new = _measured(saved)
    rows = list(checked(saved.job, saved.measured))
    further = {marking.id: list(_of_stages(saved, marking)) for marking, _found in rows} if parsed.stages else {}
    if new:
        _write(parsed.file, saved_bytes(saved))
    if parsed.json:
        result = [_row(marking, found, further.get(marking.id, [])) for marking, found in rows]
        _print({"outcome": "result", "result": {"markings": result}})
        return RESULT
    for marking, found in rows:
        shown = [each.words for each in found.stages] + [each["words"] for each in further.get(marking.id, [])]
        print(f"{marking.id:<24} {found.next:<40} {'; '.join(shown)}")
    return RESULT


def _row(marking: Marking, found: Verdicts, further: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "id": marking.id,
        "name": marking.name,
        "key": found.key,
        "stages": [*(asdict(each) for each in found.stages), *further],
        "problems": problems_as_json(found.problems),
        "next": found.next,
    }


def _measured(saved: Saved) -> tuple[Saved, bool]:
    """Return the job with every picture measured, and whether any had not been."""
    facts = dict(saved.measured)
    pictures = {each.file.hash: each.file for marking in saved.job.markings for each in marking.files.values()}
    missing = [file for hash, file in pictures.items() if hash not in facts]
    for place, file in enumerate(missing):
        print(f"{messages.LOOKING_AT_PIXELS} {place / len(missing):.0%}", file=sys.stderr)
        with contextlib.suppress(Refused):  # the check then says that it wants measuring
            facts[file.hash] = measured(file.name, saved.files[file.hash])
    return replace(saved, measured=facts), len(facts) > len(saved.measured)


def _of_stages(saved: Saved, marking: Marking) -> Iterator[dict[str, Any]]:
    """Yield what each calculator says of a marking that has inputs for it, beyond those that are always asked."""
    used = as_used(saved.job, marking)
    for id in used.calculators:
        try:
            calculator = catalogue.find(id)
        except KeyError:
            continue
        if calculator.about != MARKING or not has_verdict(calculator):
            continue
        if any(find_spec(library) is None for library in calculator.needs):
            continue
        yield _answered(saved, used, calculator)


def _answered(saved: Saved, marking: Marking, calculator: Any) -> dict[str, Any]:
    from calculators.declare import SubmittedFile

    files = {
        field: SubmittedFile(messages.display_name(file.name), saved.files[file.hash])
        for field, file in files_for(marking, calculator).items()
    }
    reading = read(calculator.inputs, typed_for(saved.job, marking, calculator), files)
    about = {"stage": calculator.stage, "calculator": calculator.id}
    if reading.problems:
        return {**about, "words": reading.problems[0].text, "problems": problems_as_json(reading.problems)}
    outputs = None
    try:
        for step in calculator.steps(reading.inputs):
            if isinstance(step, Progress):
                print(f"{calculator.id}: {step.words}", file=sys.stderr)
            else:
                outputs = step
    except Refused as refused:
        return {**about, "words": refused.problems[0].text, "problems": problems_as_json(refused.problems)}
    return asdict(stage_verdict(calculator, outputs))


def _opened(path: Path) -> Saved:
    return read_saved(_bytes(path), path.name)


def _bytes(path: Path) -> bytes:
    """Return the bytes of a file that is no larger than a job may be. Raises Refused."""
    shown = messages.display_name(str(path), 200)
    try:
        if path.stat().st_size > MOST_BYTES:
            hint = sentences.TOO_BIG_HINT.format(most=MOST_BYTES // MEGABYTE, most_json=MOST_JSON // MEGABYTE)
            raise Refused(Problem("", sentences.TOO_BIG.format(name=shown), hint))
        return path.read_bytes()
    except OSError as trouble:
        raise Refused(Problem("", messages.NO_FILE_THERE.format(path=shown, why=trouble.strerror))) from None


def _save(parsed: argparse.Namespace, saved: Saved) -> int:
    # Nothing is written that could not be opened again.
    data = saved_bytes(replace(saved, job=read_job(plain(saved.job))))
    _write(parsed.file, data)
    if parsed.json:
        markings = [each.id for each in saved.job.markings]
        _print({"outcome": "result", "result": {"path": str(parsed.file), "markings": markings}})
    else:
        print(parsed.file)
    return RESULT


def _write(path: Path, data: bytes) -> None:
    """Write a file as a whole or not at all, so that a job is never lost in the middle. Raises Refused."""
    beside = path.with_name(f"{path.name}.part")
    try:
        beside.write_bytes(data)
        os.replace(beside, path)
    except OSError as trouble:
        shown = messages.display_name(str(path), 200)
        raise Refused(Problem("", sentences.NOT_WRITTEN.format(path=shown, why=trouble.strerror))) from None


def _print(data: Any) -> None:
    print(json.dumps(data, ensure_ascii=False, indent=2))
