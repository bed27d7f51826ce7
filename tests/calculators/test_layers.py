"""Which package may import which: the contracts in pyproject.toml, enforced by import-linter."""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def linted(root: Path) -> subprocess.CompletedProcess[str]:
    """Return the output of import-linter for the packages below ``root``."""
    command = [
        sys.executable,
        "-c",
        "from importlinter.cli import lint_imports_command; lint_imports_command()",
        "--no-cache",
    ]
    return subprocess.run(command, cwd=root, capture_output=True, text=True, check=False)


def test_packages_import_only_those_below_them():
    found = linted(ROOT)
    assert found.returncode == 0, found.stdout + found.stderr


def test_an_import_against_the_order_is_found(tmp_path):
    for package in ("calculators", "builder"):
        shutil.copytree(ROOT / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    with (tmp_path / "calculators" / "shapes" / "transforms.py").open("a") as module:
        module.write("from calculators import messages\nfrom calculators.artwork import trace\n")
    found = linted(tmp_path)
    assert found.returncode == 1
    assert "calculators.shapes is not allowed to import calculators.artwork" in " ".join(found.stdout.split())
