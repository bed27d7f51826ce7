"""Libraries of single calculators: the modules of what is installed."""

from __future__ import annotations

import importlib.metadata
import importlib.util
import json
from pathlib import Path

import pytest

from builder.packages import PackageMissing, empty_lock, write_modules

ROOT = Path(__file__).resolve().parents[2]
PYODIDE = ROOT / "node_modules" / "pyodide"


def test_the_lock_has_no_package():
    core = json.loads((PYODIDE / "pyodide-lock.json").read_text("utf-8"))
    assert empty_lock(PYODIDE) == {"info": core["info"], "packages": {}}


def test_the_modules_of_a_library_are_those_that_are_installed(tmp_path):
    assert write_modules(["iniconfig"], tmp_path) == ["iniconfig"]
    written = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*") if path.is_file()}
    installed = {str(file) for file in importlib.metadata.files("iniconfig") or () if file.suffix == ".py"}
    assert "iniconfig/__init__.py" in written == installed
    source = Path(importlib.util.find_spec("iniconfig").origin)
    assert (tmp_path / "iniconfig" / "__init__.py").read_bytes() == source.read_bytes()


def test_a_library_that_is_not_installed_is_named(tmp_path):
    with pytest.raises(
        PackageMissing, match=r"^there-is-no-such-library: a calculator needs it, but it is not installed$"
    ):
        write_modules(["there-is-no-such-library"], tmp_path)


def test_a_library_that_is_not_pure_python_is_refused(tmp_path):
    with pytest.raises(PackageMissing, match=r"^pyyaml: a calculator needs it, but yaml/_yaml\S+ is not Python$"):
        write_modules(["pyyaml"], tmp_path)
