"""`python -m builder check` in an old Python says which version it needs, without a trace."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FIRST = ROOT / "builder" / "__init__.py"


def test_the_entry_modules_parse_in_any_python_3():
    for minor in range(4, 13):
        ast.parse(FIRST.read_text("utf-8"), feature_version=(3, minor))
    assert "from __future__" not in FIRST.read_text("utf-8")


def test_an_older_python_gets_one_sentence(monkeypatch):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(SystemExit, match=r"needs Python 3\.11 or newer, and this is 3\.9\. `make check`"):
        exec(compile(FIRST.read_text("utf-8"), str(FIRST), "exec"), {})


def test_a_python_without_the_packages_ends_with_one_sentence():
    # Isolated and without site-packages, like a fresh Python.
    start = (
        "import sys; sys.path.insert(0, sys.argv.pop(1)); import runpy; runpy.run_module('builder', "
        "run_name='__main__', alter_sys=True)"
    )
    ran = subprocess.run(
        [sys.executable, "-I", "-S", "-c", start, str(ROOT), "check"], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 1 and ran.stdout == ""
    assert (
        ran.stderr
        == "This Python has no package 'yaml'. `make check` sets up one that has: .venv/bin/python -m builder\n"
    )
