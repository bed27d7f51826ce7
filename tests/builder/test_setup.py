"""Set-up: complete locks that name no host, and finding a Python."""

import json
import re
import subprocess
from pathlib import Path

import pytest

from builder.plain_lock import plain

ROOT = Path(__file__).resolve().parents[2]
LOCKS = sorted(ROOT.glob("requirements-*.txt"))


def run(step, path, **environment):
    return subprocess.run(
        ["/bin/sh", str(ROOT / "builder" / "setup.sh"), step],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={"PATH": str(path), "HOME": str(path), "SYSTEM_PYTHON": "", **environment},
        check=False,
    )


def command(folder, name, script):
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(f"#!/bin/sh\n{script}\n")
    (folder / name).chmod(0o755)
    return folder / name


@pytest.mark.parametrize("lock", LOCKS, ids=lambda path: path.name)
def test_every_requirement_is_pinned_with_a_hash_and_no_address(lock):
    text = lock.read_text("utf-8")
    requirements = re.split(r"\n(?=[a-z0-9])", text.strip())
    assert len(requirements) > 1
    for each in requirements:
        assert re.match(r"[a-z0-9._-]+(\[[a-z0-9,._-]+\])?==[^\s;]+", each), each
        assert "--hash=sha256:" in each, each
    assert "://" not in text


@pytest.mark.parametrize("lock", ["package-lock.json", "tests/corpus/long_run/package-lock.json"])
def test_npm_locks_name_no_host_and_every_hash(lock):
    text = (ROOT / lock).read_text("utf-8")
    assert "://" not in text and plain(text) == text
    packages = json.loads(text)["packages"]
    assert [name for name, each in packages.items() if "resolved" in each] == []
    assert [name for name, each in packages.items() if name and "integrity" not in each] == []


def test_npm_packages_have_exact_versions():
    asked = json.loads((ROOT / "package.json").read_text("utf-8"))
    versions = {**asked["dependencies"], **asked["devDependencies"]}
    assert len(versions) >= 6
    assert [name for name, version in versions.items() if not re.fullmatch(r"\d+\.\d+\.\d+", version)] == []


def test_a_broken_python_is_skipped(tmp_path):
    # As a version manager's shim does for a version that is installed but not selected.
    command(tmp_path, "python3.13", "exit 127")
    good = command(tmp_path, "python3.12", "exit 0")
    found = run("python", tmp_path)
    assert (found.stdout.strip(), found.returncode) == (str(good), 0)


def test_the_python_of_the_system_comes_first(tmp_path):
    command(tmp_path, "python3.13", "exit 0")
    system = command(tmp_path / "system", "python3", "exit 0")
    found = run("python", tmp_path, SYSTEM_PYTHON=str(system))
    assert (found.stdout.strip(), found.returncode) == (str(system), 0)
    command(tmp_path / "system", "python3", "exit 1")
    found = run("python", tmp_path, SYSTEM_PYTHON=str(system))
    assert (found.stdout.strip(), found.returncode) == (str(tmp_path / "python3.13"), 0)


def test_a_python_of_pyenv_is_found_where_path_has_none(tmp_path):
    command(tmp_path / "bin", "python3", "exit 1")
    command(tmp_path / "pyenv" / "versions" / "3.9.1" / "bin", "python3", "exit 1")
    good = command(tmp_path / "pyenv" / "versions" / "3.13.0" / "bin", "python3", "exit 0")
    found = run("python", tmp_path / "bin", PYENV_ROOT=str(tmp_path / "pyenv"))
    assert (found.stdout.strip(), found.returncode) == (str(good), 0)


def test_a_missing_python_is_reported_clearly(tmp_path):
    command(tmp_path, "python3", "exit 1")
    found = run("python", tmp_path)
    assert found.returncode == 1 and found.stdout == ""
    assert found.stderr.startswith("No Python of 3.11 or newer with the venv module was found")
    assert "make setup PYTHON=" in found.stderr


def test_a_failed_browser_install_is_reported_without_failing(tmp_path):
    command(tmp_path, "id", "echo 1000")
    found = run("browsers", tmp_path)
    assert found.returncode == 0
    assert "chromium" in found.stdout and "sudo apt-get install" in found.stdout


def test_an_installed_browser_is_not_reinstalled(tmp_path):
    script = (ROOT / "builder" / "setup.sh").read_text("utf-8")
    wanted = re.search(r"browser_packages='\n(.*?)'", script, re.DOTALL)[1].split()[1::2]
    assert "chromium" in wanted
    for name in wanted:
        command(tmp_path, name, "exit 0")
    command(tmp_path, "id", "echo 0")
    command(tmp_path, "apt-get", "echo apt-get must not run; exit 1")
    found = run("browsers", tmp_path)
    assert (found.stdout, found.returncode) == ("", 0)
