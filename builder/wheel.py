"""The wheel that the page runs: the calculators, the tables as JSON, the example's picture and the demo job."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

from builder.listing import files_below
from calculators import example, tables
from calculators.jobs import declared, demo
from calculators.rescue import symptom_index

#: The earliest moment that a zip can hold, so that the same sources make the same wheel.
_MOMENT = "315532800"
_STAMP = "packed"
#: Calls the build backend of pyproject.toml (PEP 517) in the folder of the sources.
_BUILD = "import sys; from setuptools.build_meta import build_wheel; build_wheel(sys.argv[1])"


def build_wheel(root: Path, scratch: Path) -> Path:
    """Pack ``calculators/`` and the compiled tables into a wheel below ``scratch`` and return its path.

    Packs only if a source changed. Raises ``RuntimeError`` with the output of setuptools.
    """
    files = sorted(path for path in (root / "calculators").rglob("*") if path.is_file() and _is_packed(path))
    project = [root / name for name in ("pyproject.toml", "LICENSE")]
    digest = hashlib.sha256(example.compiled() + demo.compiled())
    rows = [f"data/{name}" for name in files_below(root / "data") if name.endswith(".yaml")]
    for name in [*(path.relative_to(root).as_posix() for path in (*project, *files)), *rows]:
        with open(f"{root}/{name}", "rb") as file:
            digest.update(f"{name}\0".encode() + file.read() + b"\0")
    packed = next(scratch.glob("*.whl"), None)
    if packed and (scratch / _STAMP).is_file() and stamp(scratch) == digest.hexdigest():
        return packed

    shutil.rmtree(scratch, ignore_errors=True)
    source = scratch / "source"
    for path in [*project, *files]:
        target = source / path.relative_to(root)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, target)
    for name, data in compiled().items():
        target = source / "calculators" / name
        target.parent.mkdir(exist_ok=True)
        target.write_bytes(data)
    # What pip runs, without pip, which takes twice as long as all else.
    made = subprocess.run(
        [sys.executable, "-P", "-c", _BUILD, str(scratch.resolve())],
        cwd=source,
        env={**os.environ, "SOURCE_DATE_EPOCH": _MOMENT},
        capture_output=True,
        text=True,
        check=False,
    )
    if made.returncode:
        raise RuntimeError(f"setuptools could not make the wheel of the calculators:\n{made.stdout}{made.stderr}")
    shutil.rmtree(source)
    (scratch / _STAMP).write_text(digest.hexdigest())
    return next(scratch.glob("*.whl"))


def compiled() -> dict[str, bytes]:
    """Return the files of the wheel that are made of the data, by their path below ``calculators``."""
    return {
        **tables.compiled(),
        declared.PACKED: declared.compiled(),
        demo.PACKED: demo.compiled(),
        example.PACKED: example.compiled(),
        symptom_index.PACKED: symptom_index.compiled(),
    }


def stamp(scratch: Path) -> str:
    """Return the digest of all that the wheel below ``scratch`` was made of: the calculators and the data."""
    return (scratch / _STAMP).read_text()


def _is_packed(path: Path) -> bool:
    return path.suffix not in (".pyc", ".pyo") and "__pycache__" not in path.parts
