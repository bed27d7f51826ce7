"""The wheel that the page runs: the calculators and the tables, the latter as JSON."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from calculators import tables

#: The earliest moment that a zip can hold, so that the same sources make the same wheel.
_MOMENT = "315532800"


def build_wheel(root: Path, scratch: Path) -> Path:
    """Pack ``calculators/`` and the compiled tables into a wheel below ``scratch`` and return its path.

    Nothing is packed again while nothing has changed. Raises ``RuntimeError`` with pip's own words.
    """
    compiled = tables.compiled()
    files = sorted(path for path in (root / "calculators").rglob("*") if path.is_file() and _is_packed(path))
    project = [root / name for name in ("pyproject.toml", "LICENSE")]
    digest = hashlib.sha256(compiled.encode())
    for path in [*project, *files]:
        digest.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    stamp = scratch / "packed"
    packed = next(scratch.glob("*.whl"), None)
    if packed and stamp.is_file() and stamp.read_text() == digest.hexdigest():
        return packed

    shutil.rmtree(scratch, ignore_errors=True)
    source = scratch / "source"
    for path in [*project, *files]:
        target = source / path.relative_to(root)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, target)
    (source / "calculators" / tables.COMPILED).write_text(compiled, "utf-8")
    made = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-index", "--no-build-isolation",
         "--wheel-dir", str(scratch), str(source)],
        env={**os.environ, "SOURCE_DATE_EPOCH": _MOMENT}, capture_output=True, text=True,
    )  # fmt: skip
    if made.returncode:
        raise RuntimeError(f"pip could not make the wheel of the calculators:\n{made.stdout}{made.stderr}")
    shutil.rmtree(source)
    stamp.write_text(digest.hexdigest())
    return next(scratch.glob("*.whl"))


def _is_packed(path: Path) -> bool:
    return path.suffix not in (".pyc", ".pyo") and "__pycache__" not in path.parts
