"""The fonts that the site serves. Their licences: builder/licence_texts/parts.yaml."""

from __future__ import annotations

from calculators import packaged
from calculators.lettering import CONDENSED, SANS, SLAB

#: Each file as its package on npm has it, unchanged.
FILES = {
    SANS: "barlow-latin-600-normal.woff",
    SLAB: "rokkitt-latin-600-normal.woff",
    CONDENSED: "barlow-condensed-latin-600-normal.woff",
}


def served(font: str) -> bytes:
    """Return the file of a font by its key in ``FILES``."""
    found = packaged.read(f"lettering/fonts/{FILES[font]}")
    assert found is not None, FILES[font]
    return found
