"""The whole surface that a page (or any other caller) uses: JSON text and bytes in, the same out."""

from __future__ import annotations

import json
import traceback
from collections.abc import Generator, Iterable, Mapping, Sequence
from dataclasses import replace
from importlib import import_module
from typing import Any

from calculators import catalogue, job, messages, units, view
from calculators.declare import Problem, Progress, Refused, SubmittedFile, Wanted, asked
from calculators.declare.field import Trouble, others_typed, parsed, restated
from calculators.declare.result import plain, standing_alone
from calculators.job_requests import MODULE, REQUESTS
from calculators.read import Reading, read, read_aside

Reply = tuple[str, list[bytes]]


def alloc(size: int) -> bytearray:
    """Return ``size`` bytes for a caller to fill before it asks."""
    return bytearray(size)


def answer(envelope: str, buffers: Sequence[bytes | bytearray] = ()) -> Generator[Reply, Any, None]:
    """Yield progress envelopes, then one last envelope, each with its byte buffers.

    ``envelope`` is a JSON object: {"do": "answer" | "restate" | "inspect" | "migrate", ...}, or one of
    ``job_requests``. Nothing is raised: what cannot be answered for our own fault is an envelope with outcome "fault".
    Beside "inputs", "answer" takes texts "aside": of fields that do not count now. They are only read. Result and
    problems carry what was read as "parsed"; with "read_first" so does an envelope of progress that comes before the
    work, which may take long.

    Where no decoder is at hand, an envelope with outcome "wanted" carries a picture file, and waits: send back a list
    of width, height and RGBA bytes, or None if they cannot be made.
    """
    # Keep the only reference here, so that pixels are freed as soon as they are read.
    held = list(buffers)
    del buffers
    try:
        asked_for = _loaded(envelope)
        match asked_for["do"]:
            case "answer":
                yield from _answer(asked_for, held)
            case "restate":
                yield _restate(asked_for)
            case "inspect":
                yield reply(outcome="inspected", **_inspect(asked_for, held))
            case "migrate":
                yield reply(outcome="job", job=job.migrated(asked_for["job"]))
            case other if other in REQUESTS:
                # An import by its name alone: the engine is packed with all that it imports.
                yield from import_module(MODULE).replies(asked_for, held)
            case other:
                raise ValueError(f"nothing is done for {other!r}")
    except Exception as fault:
        yield reply(outcome="fault", text=f"{type(fault).__name__}: {fault}", trace=traceback.format_exc())


def _loaded(envelope: str) -> Any:
    """Return the JSON in ``envelope``, with lone surrogates replaced: a link may hold one, but no file or reply can."""
    asked_for = json.loads(envelope)
    if "\\u" in envelope:
        whole = (
            json.dumps(asked_for, ensure_ascii=False)
            .encode("utf-16-le", "surrogatepass")
            .decode("utf-16-le", "replace")
        )
        asked_for = json.loads(whole)
    return asked_for


def _answer(asked_for: Mapping[str, Any], buffers: list[bytes | bytearray]) -> Generator[Reply, Any, None]:
    """Answer a request; ``buffers`` is cleared once it is read."""
    inputs, aside = asked_for.get("inputs", {}), asked_for.get("aside", {})
    if not isinstance(inputs, Mapping) or not isinstance(aside, Mapping):
        yield _not_an_object()
        return
    calculator = catalogue.find(asked_for["calculator"])
    display = units.DISPLAYS[asked_for.get("units", "mm")]
    reading = read(calculator.inputs, inputs, submitted_files(asked_for, buffers), display)
    buffers.clear()
    read_so: dict[str, Any] = {"fills": dict(reading.fills), "parsed": _parsed(calculator.inputs, reading, aside)}
    if reading.problems:
        yield reply(outcome="problems", problems=problems_as_json(reading.problems), **read_so)
        return
    if asked_for.get("read_first"):
        yield reply(outcome="progress", share=None, words=None, parsed=read_so["parsed"])
    try:
        outputs = yield from _outputs(calculator.steps(reading.inputs))
    except Refused as refused:
        yield reply(outcome="problems", problems=problems_as_json(refused.problems), **read_so)
        return
    rendered = view.view(outputs, replace(display, others=others_typed(calculator.inputs, inputs)))
    files, handed = _collect_files(outputs, rendered)
    result = _finite(plain(outputs))
    yield reply(handed, outcome="result", result=result, view=rendered, files=files, **read_so)


def _outputs(steps: Generator[Any, Any, None]) -> Generator[Reply, Any, Any]:
    """Yield what the caller hears of the work, send on what it sends back, and return the outputs."""
    outputs = sent = None
    while True:
        try:
            step = steps.send(sent)
        except StopIteration:
            return outputs
        sent = None
        if isinstance(step, Progress):
            yield reply(outcome="progress", share=step.share, words=step.words)
        elif isinstance(step, Wanted):
            header = {"orientation": step.orientation, "profiled": step.profiled}
            sent = yield reply([step.data], outcome="wanted", name=step.name, media=step.media, header=header)
        else:
            outputs = step


def _parsed(inputs: type, reading: Reading, aside: Mapping[str, Any]) -> dict[str, Any]:
    """Return the parsed values, including those of texts ``aside``, for which the reading holds only defaults."""
    counting = {name: value for name, value in reading.values.items() if name not in aside}
    return parsed(inputs, counting | read_aside(inputs, aside))


def _collect_files(outputs: Any, rendered: dict[str, Any]) -> tuple[list[dict[str, Any]], list[bytes]]:
    """Return the list of files to save and all buffers, files first; record the index of each in ``rendered``."""
    files: list[dict[str, Any]] = []
    buffers: list[bytes] = []
    results = standing_alone(type(outputs))
    for name, result in results.items():
        if file := result.saved(getattr(outputs, name)):
            rendered[name]["buffer"] = len(buffers)
            files.append({"result": name, "name": file.name, "media": file.media, "buffer": len(buffers)})
            buffers.append(file.data)
    for name, result in results.items():
        result.hand_over(getattr(outputs, name), rendered[name], buffers)
    return files, buffers


def problems_as_json(problems: Iterable[Problem]) -> list[dict[str, str]]:
    """Return problems as JSON-able data."""
    return [{"field": each.field, "text": each.text, "hint": each.hint} for each in problems]


def submitted_files(asked_for: Mapping[str, Any], buffers: Sequence[bytes | bytearray]) -> dict[str, SubmittedFile]:
    """Return the files of a request by field, with names that are safe in sentences, titles and file names."""
    files = {}
    for path, file in asked_for.get("files", {}).items():
        decoded = file.get("pixels")
        pixels = (decoded["width"], decoded["height"], buffers[decoded["buffer"]]) if decoded else None
        files[path] = SubmittedFile(messages.display_name(file["name"]), bytes(buffers[file["bytes"]]), pixels)
    return files


def _restate(asked_for: Mapping[str, Any]) -> Reply:
    """Reply with the readable typed lengths as texts in another unit."""
    inputs = asked_for.get("inputs", {})
    if not isinstance(inputs, Mapping):
        return _not_an_object()
    calculator, display = catalogue.find(asked_for["calculator"]), units.DISPLAYS[asked_for["units"]]
    return reply(outcome="restated", inputs=restated(calculator.inputs, inputs, display))


def _not_an_object() -> Reply:
    """Reply that the inputs are not an object of names and texts."""
    return reply(outcome="problems", problems=problems_as_json([Problem("", messages.NOT_JSON, "")]))


def _inspect(asked_for: Mapping[str, Any], buffers: Sequence[bytes | bytearray]) -> dict[str, Any]:
    """Return the facts in headers of pictures before decoding: problems, orientations and profiles."""
    inputs = catalogue.find(asked_for["calculator"]).inputs
    problems, headers = [], {}
    for path, file in submitted_files(asked_for, buffers).items():
        try:
            headers[path] = _field_at(inputs, path).inspected(file)
        except Trouble as trouble:
            problems.append({"field": path, "text": trouble.text, "hint": trouble.hint})
    return {"problems": problems, "headers": headers}


def _field_at(inputs: type, path: str) -> Any:
    """Return the declared field at a path such as ``rows[3].picture``."""
    first, _, rest = path.partition(".")
    field: Any = asked(inputs)[first.partition("[")[0]]
    return _field_at(field.row, rest) if rest else field


def _finite(result: Any) -> Any:
    """Return ``result``. Raises ValueError if a number in it is not finite, which JSON cannot hold."""
    json.dumps(result, allow_nan=False)
    return result


def reply(buffers: Sequence[bytes] = (), **envelope: Any) -> Reply:
    """Return an envelope with its buffers."""
    return json.dumps(envelope, ensure_ascii=False), list(buffers)
