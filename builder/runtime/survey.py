"""Runs inside Pyodide, called by pack.mjs before anything else is imported: records what calculators import.

Globals that pack.mjs sets: ``packages`` (names of the top packages in /pack/ours whose calculators are looked at),
``before`` (modules of Python's library that other calculators use already), ``late`` (names of modules that functions
import when they first need them), ``libraries`` (of a late part that brings a library: the zip of it, and those of
``late`` that import it). The last
expression is a JSON report: the modules that are imported with all calculators, without ours and with them, by
module the texts that dataclasses of ``packages`` execute, and the names of all of Python's library. Then
pack.mjs calls ``ask``.
"""

# ruff: noqa: F821 - pack.mjs sets the globals that are named above
# mypy: disable-error-code="name-defined"
import builtins
import dataclasses
import importlib
import json
import sys
import types
from collections.abc import Iterator, Sequence
from typing import Any

OURS = "/pack/ours"
texts: dict[str, list[str]] = {}


def recorded(text: str, globals: dict[str, object], locals: dict[str, object]) -> None:
    """Record a text that a dataclass executes, and execute it."""
    module = str(globals["__name__"])
    if module.partition(".")[0] in packages:
        texts.setdefault(module, []).append(text)
    builtins.exec(text, globals, locals)


def survey() -> dict[str, object]:
    """Import all calculators, and return what that imports, and the texts that their dataclasses execute."""
    dataclasses.exec = recorded  # type: ignore[attr-defined]  # dataclasses calls the builtin by this name
    sys.path[:0] = [OURS, *(each["sources"] for each in libraries.values())]
    for name in before:
        importlib.import_module(name)
    importlib.import_module("calculators.answer")
    catalogue = importlib.import_module("calculators.catalogue")
    for package in packages:
        catalogue.include(package)
    catalogue.every()
    bringing = {module for each in libraries.values() for module in each["modules"]}
    for module in late:
        if module not in bringing:
            importlib.import_module(module)
    library = sorted(sys.stdlib_module_names)
    return {"imported": imported(), "every": sorted(sys.modules), "texts": texts, "library": library}


def ask(what: str) -> str:
    """Return as JSON what else is imported when something is asked, and the files of ours that are used meanwhile.

    ``what`` is "calculator" with an id, "jobs", or "library" with a late part that brings one. Each call finds
    Python's memory as ``survey`` left it, so no answer depends on another.
    """
    before = set(imported())
    texts.clear()
    used = watched()
    kind, _, name = what.partition(" ")
    if kind == "calculator":
        list(answered({"do": "answer", "calculator": name}))
    elif kind == "jobs":
        importlib.import_module(importlib.import_module("calculators.job_requests").MODULE)
        ask_about_jobs()
    else:
        for module in libraries[name]["modules"]:
            importlib.import_module(module)
    return json.dumps({"imported": sorted(set(imported()) - before), "texts": texts, "used": sorted(used)})


def answered(request: dict[str, object], buffers: Sequence[bytes] = ()) -> Iterator[tuple[str, list[bytes]]]:
    """Yield what calculators answer."""
    yield from importlib.import_module("calculators.answer").answer(json.dumps(request), list(buffers))


def watched() -> set[str]:
    """Return a set that grows by the files of ours that are opened, and by those whose functions run."""
    used: set[str] = set()
    # It came with 3.12. Types are checked for 3.11, but this runs in the page's Python, which is newer.
    monitoring: Any = vars(sys)["monitoring"]

    def found(path: object) -> None:
        if str(path).startswith(f"{OURS}/"):
            used.add(str(path).removeprefix(f"{OURS}/"))

    def started(code: types.CodeType, _at: int) -> object:
        found(code.co_filename)
        return monitoring.DISABLE

    sys.addaudithook(lambda event, arguments: found(arguments[0]) if event == "open" else None)
    monitoring.use_tool_id(monitoring.PROFILER_ID, "survey")
    monitoring.register_callback(monitoring.PROFILER_ID, monitoring.events.PY_START, started)
    monitoring.set_events(monitoring.PROFILER_ID, monitoring.events.PY_START)
    return used


def ask_about_jobs() -> None:
    """Ask what makes Python's library import further modules: archives, and lists in every encoding."""
    job = {"format": 3, "markings": [{"id": "a", "name": "A", "width": "10 mm"}]}
    _saved, [archive] = next(answered({"do": "job-save", "job": job}))
    asked: list[tuple[dict[str, object], list[bytes]]] = [
        ({"do": "job-open", "files": {"job": {"name": "a.zip", "bytes": 0}}}, [archive]),
        ({"do": "job-migrate", "job": {"format": 1, "calculators": {}}}, []),
        ({"do": "job-check", "job": job}, []),
        ({"do": "list-write", "job": job}, []),
    ]
    for encoding in ("utf-8-sig", "utf-16", "cp1252"):
        file = {"name": "a.csv", "bytes": 0}
        asked.append(({"do": "list-read", "job": job, "files": {"list": file}}, ["Name\n\xe9".encode(encoding)]))
    for request, buffers in asked:
        list(answered(request, buffers))


def imported() -> list[str]:
    """Return the imported modules that are not of calculators."""
    return sorted(
        name for name in sys.modules if not name.startswith("calculators") and name.partition(".")[0] not in packages
    )


json.dumps(survey())
