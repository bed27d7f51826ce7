"""Run inside Pyodide by snapshot.mjs: bring Python into the state that the page starts from.

Given globals: ``include`` (names of further packages of calculators), ``used`` (the modules of Python's
library that calculators use: one that is missing here would have the whole library fetched).
"""

import gc
import importlib
import re
import sys

sys.path.append("/lib/calculators.zip")

from calculators import answer, catalogue  # noqa: E402, F401  (what every request needs; each calculator is imported when it is asked)

for module in used:
    importlib.import_module(module)
for package in include:
    catalogue.include(package)
re.purge()
gc.collect()
