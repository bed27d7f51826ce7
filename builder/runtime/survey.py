"""Runs inside Pyodide, called by pack.mjs before anything else is imported: records what calculators import.

Globals that pack.mjs sets: ``packages`` (names of the top packages in /pack/ours), ``wheels`` (paths of the libraries
that calculators need). The last expression is a JSON report: the modules of Python's library that are imported once
every calculator has answered, the stage of each module that has a calculator, and by module the texts that its
dataclasses execute.
"""

# ruff: noqa: F821 - pack.mjs sets the globals that are named above
# mypy: disable-error-code="name-defined"
import builtins
import dataclasses
import importlib
import json
import sys

texts: dict[str, list[str]] = {}


def recorded(text: str, globals: dict[str, object], locals: dict[str, object]) -> None:
    """Record a text that a dataclass executes, and execute it."""
    texts.setdefault(str(globals["__name__"]), []).append(text)
    builtins.exec(text, globals, locals)


def survey() -> dict[str, object]:
    """Return what calculators import, and the texts that their dataclasses execute."""
    dataclasses.exec = recorded  # type: ignore[attr-defined]  # dataclasses calls the builtin by this name
    sys.path[:0] = ["/pack/ours", *wheels]
    answer = importlib.import_module("calculators.answer").answer
    catalogue = importlib.import_module("calculators.catalogue")
    for package in packages:
        catalogue.include(package)
    for id in catalogue.every():
        list(answer(json.dumps({"do": "answer", "calculator": id})))
    used = sorted(
        name for name in sys.modules if not name.startswith("calculators") and name.partition(".")[0] not in packages
    )
    theirs = [name for name in used if name.partition(".")[0] in sys.stdlib_module_names and name != "__main__"]
    return {"used": theirs, "started": used, "modules": catalogue.modules(), "texts": texts}


json.dumps(survey())
