"""Libraries that single calculators need, which come in the parts of those.

They are taken from what is installed beside the builder, so that their versions are those in our own
lock files and building fetches nothing.
"""

from __future__ import annotations

import importlib.metadata
import json
import re
import unicodedata
import zipfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from builder.mistakes import Unable

#: A character by its name, as in a text of Python's.
_NAMED = re.compile(rb"\\N\{([A-Z0-9 -]+)\}")


class PackageMissing(Unable):
    """A calculator needs a library that is not installed, or that is not pure Python."""


def empty_lock(pyodide: Path) -> dict[str, Any]:
    """Return the lock of Pyodide's own core in folder ``pyodide``, with no package in it."""
    core = json.loads((pyodide / "pyodide-lock.json").read_text("utf-8"))
    return {"info": core["info"], "packages": {}}


def write_modules(names: Iterable[str], folder: Path) -> list[str]:
    """Write the Python modules of the installed distributions ``names`` below ``folder`` and return their packages.

    Dependencies of a library are not followed: a calculator declares every library that it needs.
    Raises ``PackageMissing``.
    """
    packages = set()
    for name in names:
        for path, content in _modules(name).items():
            written = folder / path
            written.parent.mkdir(parents=True, exist_ok=True)
            written.write_bytes(content)
            packages.add(path.partition("/")[0])
    return sorted(packages)


def write_sources(name: str, path: Path) -> Path:
    """Write the Python modules of the installed distribution ``name`` into a zip at ``path``, and return that.

    What is compiled has to be there as Python too. Raises ``PackageMissing``.
    """
    with zipfile.ZipFile(path, "w") as archive:
        for module, content in _modules(name, compiled_too=True).items():
            archive.writestr(zipfile.ZipInfo(module), content)
    return path


def _modules(name: str, *, compiled_too: bool = False) -> dict[str, bytes]:
    """Return the Python modules of the installed distribution ``name`` by path."""
    try:
        installed = importlib.metadata.distribution(name)
    except importlib.metadata.PackageNotFoundError:
        raise PackageMissing(f"{name}: a calculator needs it, but it is not installed") from None
    files = [file for file in installed.files or () if ".." not in file.parts and not file.is_absolute()]
    for file in files:
        if file.suffix in (".so", ".pyd", ".dylib") and not compiled_too:
            raise PackageMissing(f"{name}: a calculator needs it, but {file} is not Python")
    return {
        file.as_posix(): _without_names(Path(str(file.locate())).read_bytes())
        for file in sorted(files)
        if file.suffix == ".py"
    }


def _without_names(content: bytes) -> bytes:
    """Return a module with character names replaced by numbers, since the page's Python has no names (trim.mjs)."""
    return _NAMED.sub(lambda found: b"\\U%08x" % ord(unicodedata.lookup(found[1].decode())), content)
