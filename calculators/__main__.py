"""The command line: list the calculators, show one, run one.

    decalwright list [--json]
    decalwright show ID [--json]
    decalwright run ID --input FILE.json|- [--file FIELD=PATH ...] [--out DIR] [--units mm|in]
    decalwright job new|add|list|check FILE [--json]

The wheel installs ``decalwright``; in a checkout it is ``python -m calculators``. Pictures need the extra
``decalwright[pictures]``. Exit codes: 0 a result, 1 a fault of ours, 2 problems that the caller can put right, 141 the
reader of the output closed the pipe.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from calculators import catalogue, messages
from calculators.answer import answer, problems_as_json
from calculators.declare import Refused
from calculators.jobs import commands as jobs
from calculators.view import describe

RESULT, FAULT, PROBLEMS = 0, 1, 2
#: Paths may be longer than file names in messages, since their folders identify the file.
MOST_OF_PATH = 200
#: The exit code of shells for a program ended by a closed pipe: 128 plus the number of the signal.
CLOSED_PIPE = 141


class _Refused(Exception):
    """A request that cannot be sent; carries its problem."""

    def __init__(self, field: str, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.problem = {"field": field, "text": text, "hint": hint}


def command() -> int:
    """Run the command line of this process and return its exit code."""
    return until_closed(main)


def until_closed(run: Callable[[], int]) -> int:
    """Return the result of ``run``, or ``CLOSED_PIPE`` if the reader of its output, such as ``head``, closed the
    pipe.
    """
    try:
        code = run()
        sys.stdout.flush()
    except BrokenPipeError:
        # Otherwise Python flushes again at exit and prints an error.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLOSED_PIPE
    return code


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code."""
    called = Path(sys.argv[0]).name
    prog = "python -m calculators" if called == "__main__.py" else called
    parser = argparse.ArgumentParser(prog=prog, description="Run a calculator of the bench book.")
    commands = parser.add_subparsers(dest="command", required=True)
    listing = commands.add_parser("list", help="list the calculators")
    listing.add_argument("--json", action="store_true", help="as JSON")
    show = commands.add_parser("show", help="show what a calculator asks and answers")
    show.add_argument("id")
    show.add_argument("--json", action="store_true", help="as JSON")
    run = commands.add_parser("run", help="run a calculator")
    run.add_argument("id")
    run.add_argument("--input", metavar="FILE", help="a JSON object of typed texts; - reads standard input")
    run.add_argument("--file", action="append", default=[], metavar="FIELD=PATH", help="a file for a field")
    run.add_argument("--out", type=Path, metavar="DIR", help="where to write the files that are made")
    run.add_argument("--units", choices=("mm", "in"), default="mm", help="the unit that sentences name lengths in")
    jobs.add_parser(commands)
    parsed = parser.parse_args(arguments)
    try:
        if parsed.command == "job":
            return _job(parsed)
        if parsed.command == "list":
            return _list(parsed.json)
        if parsed.command == "show":
            return _show(parsed.id, parsed.json)
        return _run(parsed)
    except _Refused as refused:
        _print({"outcome": "problems", "problems": [refused.problem]})
        return PROBLEMS
    except Refused as refused:
        _print({"outcome": "problems", "problems": problems_as_json(refused.problems)})
        return PROBLEMS


def _job(parsed: argparse.Namespace) -> int:
    """Run a command on a job; a fault is told as ``run`` tells it. Raises Refused."""
    try:
        return jobs.run(parsed)
    except (Refused, BrokenPipeError):
        raise
    except Exception as fault:
        traceback.print_exc()
        _print({"outcome": "fault", "text": f"{type(fault).__name__}: {fault}"})
        return FAULT


def _list(as_json: bool) -> int:
    described = [describe(calculator) for calculator in catalogue.every().values()]
    if as_json:
        _print([{name: each[name] for name in ("id", "title", "summary", "stage")} for each in described])
    else:
        for each in described:
            print(f"{each['id']:<16} {each['stage']:<9} {each['title']}")
    return RESULT


def _show(id: str, as_json: bool) -> int:
    description = describe(_calculator(id))
    if as_json:
        _print(description)
        return RESULT
    print(f"{description['title']}\n{description['summary']}\n\nAsks")
    for field in description["fields"]:
        print(f"  {field['name']:<24} {field['label']}{_bounds(field)}")
    print("\nAnswers")
    for result in description["results"]:
        print(f"  {result['name']:<34} {result['label']}{' (' + result['unit'] + ')' if result['unit'] else ''}")
    return RESULT


def _bounds(field: dict[str, Any]) -> str:
    parts = [field["range"]["mm"]] if "range" in field else []
    parts += [f"one of {', '.join(option['value'] for option in field['options'])}"] if "options" in field else []
    if isinstance(field["default"], dict):
        parts.append(f"default {field['default']['mm']}")
    elif field["optional"]:
        parts.append("may be left out")
    return f" ({'; '.join(parts)})" if parts else ""


def _run(parsed: argparse.Namespace) -> int:
    calculator = _calculator(parsed.id)
    for library in getattr(calculator, "needs", ()):
        if find_spec(library) is None:
            raise _Refused(
                "", messages.NEEDS_A_LIBRARY.format(title=calculator.title, name=library), messages.INSTALL_PICTURES
            )
    names, buffers = _files(parsed.file)
    envelope = {
        "do": "answer",
        "calculator": calculator.id,
        "inputs": _inputs(parsed.input),
        "files": {field: {"name": name, "bytes": place} for place, (field, name) in enumerate(names.items())},
        "units": parsed.units,
    }
    for text, brought in answer(json.dumps(envelope), buffers):
        reply, made = json.loads(text), brought
        if reply["outcome"] == "progress":
            share = "" if reply["share"] is None else f" {reply['share']:.0%}"
            print(f"{reply['words']}{share}", file=sys.stderr)
    if reply["outcome"] == "problems":
        _print({"outcome": "problems", "problems": reply["problems"]})
        return PROBLEMS
    if reply["outcome"] == "fault":
        print(reply["trace"], file=sys.stderr)
        _print({"outcome": "fault", "text": reply["text"]})
        return FAULT
    files = [
        {"result": file["result"], "name": file["name"], "media": file["media"], "size": len(made[file["buffer"]])}
        | _write(parsed.out, file["name"], made[file["buffer"]])
        for file in reply["files"]
    ]
    for name, rendered in reply["view"].items():
        if parsed.out and rendered["kind"] == "figure" and rendered.get("svg"):
            figure = rendered["svg"].encode()
            files.append(
                {"result": name, "name": f"{name}.svg", "media": "image/svg+xml", "size": len(figure)}
                | _write(parsed.out, f"{name}.svg", figure)
            )
    _print({"outcome": "result", "result": reply["result"], "files": files})
    return RESULT


def _calculator(id: str) -> Any:
    try:
        return catalogue.find(id)
    except KeyError:
        names = ", ".join(catalogue.every())
        raise _Refused(
            "", messages.NO_CALCULATOR.format(name=id), messages.CALCULATORS_ARE.format(names=names)
        ) from None


def _inputs(path: str | None) -> dict[str, Any]:
    if path is None:
        return {}
    try:
        text = sys.stdin.read() if path == "-" else Path(path).read_text("utf-8")
        typed = json.loads(text)
    except OSError as trouble:
        raise _Refused("", _read_error_message(path, trouble)) from None
    except (ValueError, RecursionError) as trouble:  # no UTF-8, or no JSON, or lists in lists without end
        raise _Refused("", messages.NOT_JSON, str(trouble)) from None
    if not isinstance(typed, dict):
        raise _Refused("", messages.NOT_JSON)
    return typed


def _files(pairs: Sequence[str]) -> tuple[dict[str, str], list[bytes]]:
    names, buffers = {}, []
    for pair in pairs:
        field, equals, path = pair.partition("=")
        if not equals:
            raise _Refused("", messages.FIELD_EQUALS_PATH.format(typed=messages.quoted(pair)))
        try:
            buffers.append(Path(path).read_bytes())
        except OSError as trouble:
            raise _Refused(field, _read_error_message(path, trouble)) from None
        names[field] = Path(path).name
    return names, buffers


def _read_error_message(path: str, trouble: OSError) -> str:
    return messages.NO_FILE_THERE.format(path=messages.display_name(path, MOST_OF_PATH), why=trouble.strerror)


def _write(out: Path | None, name: str, data: bytes) -> dict[str, str]:
    if out is None:
        return {}
    out.mkdir(parents=True, exist_ok=True)
    target = out / Path(name).name
    target.write_bytes(data)
    return {"path": str(target)}


def _print(data: Any) -> None:
    print(json.dumps(data, ensure_ascii=False, indent=2))


if __name__ == "__main__":
    sys.exit(command())
