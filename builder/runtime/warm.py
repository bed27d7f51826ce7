"""Run inside Pyodide by snapshot.mjs: bring Python into the state that the page starts from.

Given global: ``include`` (names of further packages of calculators).
"""

import gc
import re

from calculators import answer, catalogue

for package in include:
    catalogue.include(package)
catalogue.every()
answer.warm()
re.purge()
gc.collect()
