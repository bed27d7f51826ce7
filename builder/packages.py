"""Libraries that single calculators need: wheels served from the site, and the lock that names them.

A wheel is made of what is installed beside the builder, so that its version is the one in our own
lock files and building fetches nothing.
"""

from __future__ import annotations

import hashlib
import importlib.metadata
import json
import re
import unicodedata
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from pyodide_lock import PyodideLockSpec
from pyodide_lock.utils import add_wheels_to_spec

from builder.mistakes import Unable

#: A character by its name, as in a text of Python's.
_NAMED = re.compile(rb"\\N\{([A-Z0-9 -]+)\}")


class PackageMissing(Unable):
    """A calculator needs a library that is not installed, or that is not pure Python."""


def empty_lock(pyodide: Path) -> dict[str, Any]:
    """Return the lock of Pyodide's own core in folder ``pyodide``, with no package in it."""
    core = json.loads((pyodide / "pyodide-lock.json").read_text("utf-8"))
    return {"info": core["info"], "packages": {}}


def write_packages(out: Path, pyodide: Path, needs: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """Write the wheels in ``needs`` (calculator id to names) below ``out/packages`` and return the worker's settings.

    Dependencies of a library are not followed: a calculator declares every library that its page loads.
    Raises ``PackageMissing``.
    """
    lock = empty_lock(pyodide)
    names = sorted({name for each in needs.values() for name in each})
    if names:
        folder = out / "packages"
        folder.mkdir(parents=True, exist_ok=True)
        wheels = [write_wheel(name, folder) for name in names]
        spec = add_wheels_to_spec(PyodideLockSpec.from_dict(lock), wheels, ignore_missing_dependencies=True)
        for package in spec.packages.values():
            package.depends = [each for each in package.depends if each in spec.packages]
        lock = spec.to_dict()
    return {"lock": lock, "folder": "engine/packages/", "needs": dict(needs)}


def write_wheel(name: str, folder: Path) -> Path:
    """Pack the installed distribution ``name`` into a wheel in ``folder``; its path holds a digest of the contents.

    Raises ``PackageMissing``.
    """
    try:
        installed = importlib.metadata.distribution(name)
    except importlib.metadata.PackageNotFoundError:
        raise PackageMissing(f"{name}: a calculator needs it, but it is not installed") from None
    content: dict[str, bytes] = {}
    for file in installed.files or ():
        if file.suffix in (".so", ".pyd", ".dylib"):
            raise PackageMissing(f"{name}: a calculator needs it, but {file} is not Python")
        if ".." not in file.parts and not file.is_absolute() and file.suffix != ".pyc" and file.name != "RECORD":
            content[file.as_posix()] = _without_names(file.suffix, Path(str(file.locate())).read_bytes())
    digest = hashlib.sha256()
    for path in sorted(content):
        digest.update(path.encode() + b"\0" + content[path] + b"\0")
    # A build tag must begin with a digit.
    build = f"0{digest.hexdigest()[:12]}"
    stem = name.replace("-", "_").replace(".", "_").lower()
    wheel = folder / f"{stem}-{installed.version}-{build}-py3-none-any.whl"
    record = next(path for path in content if path.endswith("METADATA")).rpartition("/")[0] + "/RECORD"
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for path in sorted(content):
            archive.writestr(zipfile.ZipInfo(path), content[path], zipfile.ZIP_DEFLATED)
        lines = [f"{path},," for path in [*sorted(content), record]]
        archive.writestr(zipfile.ZipInfo(record), "\n".join(lines) + "\n", zipfile.ZIP_DEFLATED)
    return wheel


def write_sources(name: str, path: Path) -> Path:
    """Write the Python modules of the installed distribution ``name`` into a zip at ``path``, and return that.

    What is compiled is left out, and has to be there as Python too. Raises ``PackageMissing``.
    """
    try:
        installed = importlib.metadata.distribution(name)
    except importlib.metadata.PackageNotFoundError:
        raise PackageMissing(f"{name}: a calculator needs it, but it is not installed") from None
    files = [file for file in installed.files or () if file.suffix == ".py" and ".." not in file.parts]
    with zipfile.ZipFile(path, "w") as archive:
        for file in sorted(files):
            content = _without_names(file.suffix, Path(str(file.locate())).read_bytes())
            archive.writestr(zipfile.ZipInfo(file.as_posix()), content)
    return path


def _without_names(suffix: str, content: bytes) -> bytes:
    """Return a file with character names replaced by numbers, since the page's Python has no names (trim.mjs)."""
    if suffix != ".py":
        return content
    return _NAMED.sub(lambda found: b"\\U%08x" % ord(unicodedata.lookup(found[1].decode())), content)
