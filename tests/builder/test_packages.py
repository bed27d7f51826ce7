"""Libraries of single calculators: wheels of what is installed, and a lock that names them."""

from __future__ import annotations

import hashlib
import importlib.metadata
import json
import zipfile
from pathlib import Path

import pytest

from builder.packages import PackageMissing, write_packages

ROOT = Path(__file__).resolve().parents[2]
PYODIDE = ROOT / "node_modules" / "pyodide"


def test_without_needed_packages_the_lock_is_empty(tmp_path):
    packages = write_packages(tmp_path, PYODIDE, {})
    core = json.loads((PYODIDE / "pyodide-lock.json").read_text("utf-8"))
    assert packages == {"lock": {"info": core["info"], "packages": {}}, "folder": "engine/packages/", "needs": {}}
    assert list(tmp_path.iterdir()) == []


def test_a_needed_library_becomes_a_wheel_named_in_the_lock(tmp_path):
    packages = write_packages(tmp_path, PYODIDE, {"one": ["iniconfig"], "two": ["iniconfig"]})
    assert list(packages["lock"]["packages"]) == ["iniconfig"]
    package = packages["lock"]["packages"]["iniconfig"]
    wheel = tmp_path / "packages" / package["file_name"]
    assert package["version"] == importlib.metadata.version("iniconfig")
    assert package["imports"] == ["iniconfig"]
    assert package["sha256"] == hashlib.sha256(wheel.read_bytes()).hexdigest()
    assert "iniconfig/__init__.py" in zipfile.ZipFile(wheel).namelist()


def test_the_same_library_makes_the_same_wheel(tmp_path):
    first, second = (write_packages(tmp_path / name, PYODIDE, {"one": ["iniconfig"]}) for name in "ab")
    assert first == second


def test_dependencies_that_are_not_named_are_dropped(tmp_path):
    # pytest requires iniconfig, pluggy and more; only the named package is included.
    lock = write_packages(tmp_path, PYODIDE, {"one": ["pytest", "iniconfig"]})["lock"]
    assert sorted(lock["packages"]) == ["iniconfig", "pytest"]
    assert lock["packages"]["pytest"]["depends"] == ["iniconfig"]


def test_a_library_that_is_not_installed_is_named(tmp_path):
    with pytest.raises(
        PackageMissing, match=r"^there-is-no-such-library: a calculator needs it, but it is not installed$"
    ):
        write_packages(tmp_path, PYODIDE, {"one": ["there-is-no-such-library"]})


def test_a_library_that_is_not_pure_python_is_refused(tmp_path):
    with pytest.raises(PackageMissing, match=r"^pyyaml: a calculator needs it, but yaml/_yaml\S+ is not Python$"):
        write_packages(tmp_path, PYODIDE, {"one": ["pyyaml"]})
