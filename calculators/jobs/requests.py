"""Answers the requests about jobs: JSON and bytes in, the same out. ``calculators.answer`` calls it.

Jobs travel as plain JSON of format 3; files and what they hold by hash. Whatever is wrong with what came in is an
envelope of problems. Facts are as the page stores them: {hash: {"measured_by": …, …}}.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict
from hashlib import sha256
from typing import Any

from calculators import catalogue, messages
from calculators.answer import Reply, problems_as_json, reply, submitted_files
from calculators.declare import Problem, Refused, SubmittedFile
from calculators.jobs import lists, sentences
from calculators.jobs.archive import Saved, read_saved, saved_bytes
from calculators.jobs.check import StageVerdict, Verdicts, key_of, request_of, verdicts_of
from calculators.jobs.facts import facts_for_store, facts_of_store
from calculators.jobs.migrate import opened
from calculators.jobs.model import Job, Marking, files_of, plain, read_job
from calculators.jobs.partners import as_used
from calculators.jobs.parts import Part
from calculators.jobs.pictures import measured
from calculators.jobs.typed_inputs import files_for, typed_for

Buffers = list[bytes | bytearray]


def replies(asked_for: Mapping[str, Any], buffers: Buffers) -> Iterator[Reply]:
    """Yield envelopes of progress, then the last one: a result by its outcome, or "problems"."""
    try:
        yield from _ANSWERS[asked_for["do"]](asked_for, buffers)
    except Refused as refused:
        yield reply(outcome="problems", problems=problems_as_json(refused.problems))


def _migrate(asked_for: Mapping[str, Any], _buffers: Buffers) -> Iterator[Reply]:
    """{job, facts}: the job, from any format."""
    facts = facts_of_store(asked_for.get("facts"))
    job = opened(asked_for.get("job"), lambda hash: facts[hash].share if hash in facts else None)
    yield _job(job)


def _read(asked_for: Mapping[str, Any], _buffers: Buffers) -> Iterator[Reply]:
    """{job}: the same job, its defaults left out, if it is one."""
    yield _job(_job_in(asked_for))


def _check(asked_for: Mapping[str, Any], _buffers: Buffers) -> Iterator[Reply]:
    """{job, facts, known, only}: a row for each marking in envelopes of progress, then "checked".

    Verdicts ``known`` by their key are not computed again. ``only`` lists ids; without it all are checked.
    """
    job, facts, known = _job_in(asked_for), facts_of_store(asked_for.get("facts")), asked_for.get("known")
    only = asked_for.get("only")
    wanted = [each for each in job.markings if not isinstance(only, list) or each.id in only]
    for place, marking in enumerate(wanted):
        request = request_of(job, marking)
        found = facts.get(request.picture)
        key = key_of(request, found)
        verdicts = _known(known, key) or verdicts_of(request, found)
        row = {"id": marking.id, **asdict(verdicts), "problems": problems_as_json(verdicts.problems)}
        yield reply(outcome="progress", share=(place + 1) / len(wanted), words=None, row=row)
    yield reply(outcome="checked")


def _known(known: Any, key: str) -> Verdicts | None:
    """Return the verdicts that a page has stored under a key; None where it has none that can be used."""
    stored = known.get(key) if isinstance(known, Mapping) else None
    if not isinstance(stored, Mapping):
        return None
    try:
        return Verdicts(
            key,
            tuple(StageVerdict(**each) for each in stored["stages"]),
            tuple(Problem(**each) for each in stored["problems"]),
            str(stored["next"]),
            str(stored["step"]),
        )
    except (KeyError, TypeError):
        return None


def _measure(asked_for: Mapping[str, Any], buffers: Buffers) -> Iterator[Reply]:
    """{files: {picture}}: what the picture holds."""
    file = _submitted("picture", asked_for, buffers)
    if file is None:
        raise Refused(Problem("picture", sentences.NEXT_PICTURE, ""))
    found = measured(file.name, file.data, file.pixels)
    hash = sha256(file.data).hexdigest()
    yield reply(outcome="measured", hash=hash, facts=facts_for_store({hash: found})[hash])


def _open(asked_for: Mapping[str, Any], buffers: Buffers) -> Iterator[Reply]:
    """{files: {job}}: the job in an archive, its files in buffers."""
    file = _submitted("job", asked_for, buffers)
    if file is None:
        raise Refused(Problem("", sentences.NOT_A_JOB.format(name="This"), sentences.NOT_A_JOB_HINT))
    saved = read_saved(file.data, file.name)
    files = [{"hash": hash, "buffer": place} for place, hash in enumerate(saved.files)]
    facts = facts_for_store(saved.measured)
    yield reply([*saved.files.values()], outcome="job", job=plain(saved.job), files=files, facts=facts)


def _save(asked_for: Mapping[str, Any], buffers: Buffers) -> Iterator[Reply]:
    """{job, facts, files by hash}: the archive in a buffer."""
    job = _job_in(asked_for)
    files = {hash: file.data for hash, file in submitted_files(asked_for, buffers).items()}
    names = {hash: file.name for hash, file in files_of(job).items()}
    changed = [hash for hash, data in files.items() if hash in names and sha256(data).hexdigest() != hash]
    if changed:
        where = {"name": messages.display_name(job.name), "entry": messages.display_name(names[changed[0]])}
        raise Refused(Problem(changed[0], sentences.WRONG_HASH.format(**where)))
    data = saved_bytes(Saved(job, files, facts_of_store(asked_for.get("facts"))))
    yield reply([data], outcome="saved", buffer=0)


def _read_list(asked_for: Mapping[str, Any], buffers: Buffers) -> Iterator[Reply]:
    """{job, text or files: {list}, name, columns}: the job with what could be read, and what could not."""
    job, file = _job_in(asked_for), _submitted("list", asked_for, buffers)
    data = file.data if file else asked_for.get("text")
    if not isinstance(data, (str, bytes)):
        raise Refused(Problem("", sentences.NOT_A_LIST.format(name="This"), sentences.A_LIST_HINT))
    columns = asked_for.get("columns")
    mapped = {str(theirs): str(ours) for theirs, ours in columns.items()} if isinstance(columns, Mapping) else {}
    about: dict[str, Any] = {"columns": lists.headings(), "headings": lists.first_row(data)}
    try:
        found = lists.read_for(job, data, file.name if file else str(asked_for.get("name", "")), mapped=mapped)
        together = read_job(plain(lists.merged(job, found.markings)))
    except Refused as refused:
        # The names of the columns can then be chosen.
        yield reply(outcome="problems", problems=problems_as_json(refused.problems), **about)
        return
    yield reply(
        outcome="list",
        job=plain(together),
        read=[each.id for each in found.markings],
        problems=problems_as_json(found.problems),
        unread=[asdict(each) for each in found.unread],
        **about,
    )


def _write_list(asked_for: Mapping[str, Any], _buffers: Buffers) -> Iterator[Reply]:
    """{job}: its markings as CSV, with the mark by which spreadsheets know UTF-8."""
    yield reply([lists.written(_job_in(asked_for).markings).encode("utf-8-sig")], outcome="saved", buffer=0)


def _typed_for(asked_for: Mapping[str, Any], _buffers: Buffers) -> Iterator[Reply]:
    """{job, marking, calculator}: what the calculator starts from, texts and files by field."""
    job = _job_in(asked_for)
    used = as_used(job, _marking(job, asked_for))
    try:
        calculator = catalogue.find(str(asked_for.get("calculator")))
    except KeyError:
        id = messages.quoted(str(asked_for.get("calculator")))
        raise Refused(Problem("calculator", sentences.NO_CALCULATOR.format(id=id))) from None
    files = {name: Part(of=type(file)).plain(file) for name, file in files_for(used, calculator).items()}
    yield reply(outcome="typed", inputs=typed_for(job, used, calculator), files=files)


def _job_in(asked_for: Mapping[str, Any]) -> Job:
    return read_job(asked_for.get("job"))


def _marking(job: Job, asked_for: Mapping[str, Any]) -> Marking:
    id = asked_for.get("marking")
    try:
        return job.marking(str(id))
    except KeyError:
        raise Refused(Problem("marking", sentences.NO_MARKING.format(id=messages.quoted(str(id))))) from None


def _submitted(field: str, asked_for: Mapping[str, Any], buffers: Buffers) -> SubmittedFile | None:
    found = submitted_files(asked_for, buffers).get(field)
    buffers.clear()
    return found


def _job(job: Job) -> Reply:
    return reply(outcome="job", job=plain(job))


_ANSWERS: Mapping[str, Callable[[Mapping[str, Any], Buffers], Iterator[Reply]]] = {
    "job-migrate": _migrate,
    "job-read": _read,
    "job-check": _check,
    "job-open": _open,
    "job-save": _save,
    "list-read": _read_list,
    "list-write": _write_list,
    "measure": _measure,
    "typed-for": _typed_for,
}
