"""Stands in for Pyodide's loader of packages until one is loaded: the loader imports what unpacks archives of all kinds."""

import sys

# A snapshot expects that this is held.
from pyodide_js import loadedPackages


class _Place:
    """What Pyodide takes for a Path: all that it asks of it is its text."""

    def __init__(self, text):
        self._text = text

    def __str__(self):
        return self._text


SITE_PACKAGES = _Place(f"/lib/python{sys.version_info.major}.{sys.version_info.minor}/site-packages")
DSO_DIR = _Place("/usr/lib")


def init_loaded_packages():
    """Take up the packages that were there from the start: there are none."""


def __getattr__(name):
    """Return something of Pyodide's own loader, which then is imported."""
    from pyodide import _whole_package_loader

    return getattr(_whole_package_loader, name)
