"""Runs inside Pyodide, called by pack.mjs before anything else is imported: records what calculators import.

Globals that pack.mjs sets: ``packages`` (names of the top packages in /pack/ours), ``wheels`` (paths of the libraries
that calculators need), ``late`` (names of modules that functions import when they first need them), ``libraries`` (of a
late part that brings a library: the zip of it, and those of ``late`` that import it). The last
expression is a JSON report: the modules of Python's library that are imported once every calculator has
answered, those that come only with the requests about jobs, those that a late part brings with its library, and by
module the texts that its dataclasses execute.
"""

# ruff: noqa: F821 - pack.mjs sets the globals that are named above
# mypy: disable-error-code="name-defined"
import builtins
import dataclasses
import importlib
import json
import sys
from collections.abc import Callable, Iterator

texts: dict[str, list[str]] = {}


def recorded(text: str, globals: dict[str, object], locals: dict[str, object]) -> None:
    """Record a text that a dataclass executes, and execute it."""
    texts.setdefault(str(globals["__name__"]), []).append(text)
    builtins.exec(text, globals, locals)


def survey() -> dict[str, object]:
    """Return what calculators import, and the texts that their dataclasses execute."""
    dataclasses.exec = recorded  # type: ignore[attr-defined]  # dataclasses calls the builtin by this name
    sys.path[:0] = ["/pack/ours", *wheels, *(each["sources"] for each in libraries.values())]
    answer = importlib.import_module("calculators.answer").answer
    catalogue = importlib.import_module("calculators.catalogue")
    for package in packages:
        catalogue.include(package)
    for id in catalogue.every():
        list(answer(json.dumps({"do": "answer", "calculator": id})))
    bringing = {module for each in libraries.values() for module in each["modules"]}
    for module in late:
        if module not in bringing:
            importlib.import_module(module)
    used = imported()
    importlib.import_module(importlib.import_module("calculators.job_requests").MODULE)
    ask_about_jobs(answer)
    for_jobs = [name for name in of_library(imported()) if name not in used]
    brought = {part: brought_by(each["modules"], used) for part, each in libraries.items()}
    return {"used": of_library(used), "started": used, "forJobs": for_jobs, "brought": brought, "texts": texts}


def brought_by(modules: list[str], used: list[str]) -> list[str]:
    """Return what ``modules`` import that is not in ``used``, whatever was imported meanwhile."""
    for name in set(imported()) - set(used):
        del sys.modules[name]
    for name in modules:
        importlib.import_module(name)
    return [name for name in imported() if name not in used]


def ask_about_jobs(answer: Callable[..., Iterator[tuple[str, list[bytes]]]]) -> None:
    """Ask what makes Python's library import further modules: archives, and lists in every encoding."""
    job = {"format": 3, "markings": [{"id": "a", "name": "A", "width": "10 mm"}]}
    _saved, [archive] = next(answer(json.dumps({"do": "job-save", "job": job})))
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
        list(answer(json.dumps(request), buffers))


def imported() -> list[str]:
    """Return the imported modules that are not of calculators."""
    return sorted(
        name for name in sys.modules if not name.startswith("calculators") and name.partition(".")[0] not in packages
    )


def of_library(names: list[str]) -> list[str]:
    """Return those of Python's library."""
    return [name for name in names if name.partition(".")[0] in sys.stdlib_module_names and name != "__main__"]


json.dumps(survey())
