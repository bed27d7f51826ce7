"""Stands in for Pyodide's loader of packages, which imports what unpacks archives of all
kinds: theme/worker/parts.mjs places our libraries.
"""

import sys

from pyodide_js import loadedPackages  # noqa: F401 - a snapshot expects that this is held


class _Place:
    """What Pyodide takes for a Path: all that it asks of it is its text."""

    def __init__(self, text: str) -> None:
        self._text = text

    def __str__(self) -> str:
        return self._text


SITE_PACKAGES = _Place(f"/lib/python{sys.version_info.major}.{sys.version_info.minor}/site-packages")
DSO_DIR = _Place("/usr/lib")


def init_loaded_packages() -> None:
    """Take up the packages that were there from the start: there are none."""
