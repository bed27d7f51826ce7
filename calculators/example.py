"""The picture of the worked examples: the crest of the demonstration, 200 pixels wide.

In a checkout it is read from ``content/demo``. In the wheel that the page runs, where nothing
decodes files, the builder has put it beside this module with its rows unfiltered.
"""

from __future__ import annotations

import zlib
from functools import cache
from importlib import resources
from pathlib import Path

from calculators.files.picture import Picture, read_picture
from calculators.files.png import chunks, png

NAME = "crest-200px.png"
PACKED = "_example.png"
SOURCE = Path(__file__).resolve().parent.parent / "content" / "demo" / NAME


@cache
def picture() -> Picture:
    """Return the crest with its pixels."""
    packed = resources.files("calculators") / PACKED
    if not packed.is_file():
        return read_picture(NAME, SOURCE.read_bytes(), wanted=True)
    data = packed.read_bytes()
    plain = read_picture(NAME, data)
    rows = zlib.decompress(b"".join(part for name, part in chunks(data) if name == b"IDAT"))
    length = 1 + 4 * plain.width_px
    rgba = b"".join(rows[at + 1 : at + length] for at in range(0, len(rows), length))
    return read_picture(NAME, data, pixels=(plain.width_px, plain.height_px, rgba), wanted=True)


def compiled() -> bytes:
    """Return the crest as the PNG file that the builder packs into the wheel."""
    made = read_picture(NAME, SOURCE.read_bytes(), wanted=True)
    return png(made.width_px, made.height_px, made.rgba)
