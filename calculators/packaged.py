"""Data files beside the calculators, in a checkout, in a wheel and in the page.

Uses os.path, since pathlib and its imports would add to every page's start.
"""

from __future__ import annotations

import os.path

_PACKAGE = os.path.dirname(__file__)


def read(name: str) -> bytes | None:
    """Return the bytes of the file at ``name``, a path below ``calculators/``, or None where there is none."""
    path = os.path.join(_PACKAGE, name)
    if not os.path.isfile(path):
        return None
    with open(path, "rb") as file:
        return file.read()
