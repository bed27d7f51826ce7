"""Importing a module only declares things: whoever asks a calculator waits for every import of it."""

from __future__ import annotations

import json
import subprocess
import sys

from tests.conftest import ROOT

#: Before 3.12 the line of a comprehension counts each time.
MOST_LINES = 4_000 if sys.version_info >= (3, 12) else 4_500

#: Imports all modules, and prints how many lines of each file ran meanwhile: those of loops and of functions each time.
COUNT = """
import collections, importlib, json, pkgutil, sys
import calculators
every = pkgutil.walk_packages(calculators.__path__, "calculators.")
names = [each.name for each in every if not each.name.endswith("__main__")]
lines = collections.Counter()
def trace(frame, event, arg):
    if "/calculators/" in frame.f_code.co_filename:
        lines[frame.f_code.co_filename] += 1
        return trace
sys.settrace(trace)
for name in names:
    importlib.import_module(name)
sys.settrace(None)
print(json.dumps(lines))
"""


def test_no_module_works_anything_out_while_it_is_imported():
    made = subprocess.run([sys.executable, "-c", COUNT], cwd=ROOT, capture_output=True, text=True, check=True)
    lines = json.loads(made.stdout)
    assert len(lines) > 120
    assert {path: count for path, count in lines.items() if count > MOST_LINES} == {}
