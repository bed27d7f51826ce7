"""Run inside Pyodide by snapshot.mjs: bring Python into the state that the page starts from.

Given globals: ``include`` (names of further packages of calculators), ``engine`` (our modules that every page
has; each calculator is imported when it is asked), ``used`` (the modules of Python's library that calculators
use: one that is missing here would have the whole library fetched).
"""

# ruff: noqa: F821 - snapshot.mjs gives the globals that are named above
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
# In the page, the files of the engine are not there: it is in memory already.
catalogue.refresh()
for module in [each for each in sys.modules.values() if type(each) is type(sys)]:
    vars(module).pop("__ready_made__", None)
re.purge()
gc.collect()
