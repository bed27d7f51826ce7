"""Runs inside Pyodide, called by snapshot.mjs: brings Python into the state that the page starts from.

Globals that snapshot.mjs sets: ``include`` (names of further packages of calculators), ``engine`` (our modules that
every page has), ``used`` (the modules of Python's library that calculators use: if one were missing in the snapshot,
the page would fetch the whole library for it).
"""

# ruff: noqa: F821 - snapshot.mjs sets the globals that are named above
# mypy: disable-error-code="name-defined"
import gc
import importlib
import re
import sys

sys.path.append("/lib/ours")

for module in (*engine, *used):
    importlib.import_module(module)
catalogue = importlib.import_module("calculators.catalogue")
for package in include:
    catalogue.include(package)
# The page has no files of the engine, only its memory.
catalogue.refresh()
for module in [each for each in sys.modules.values() if type(each) is type(sys)]:
    vars(module).pop("__ready_made__", None)
re.purge()
gc.collect()
# What starts here stays, so that no collection in the page looks at it.
gc.freeze()
