"""Run inside Pyodide by pack.mjs, before anything else is imported there: see what calculators import.

Globals given by pack.mjs: ``packages`` (names of the top packages in /pack/ours), ``wheels`` (paths of the libraries
that calculators need). The last expression is a JSON report: the modules of Python's library that are there once every
calculator has answered, and the stage of each module that holds a calculator.
"""

# ruff: noqa: F821 - pack.mjs gives the globals that are named above
# mypy: disable-error-code="name-defined"
import importlib
import json
import sys


def survey() -> dict[str, object]:
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
    return {"used": theirs, "started": used, "modules": catalogue.modules()}


json.dumps(survey())
