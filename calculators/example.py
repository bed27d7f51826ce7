"""The picture of the worked examples: the crest of the demonstration, 200 pixels wide.

In a checkout it is read from ``content/demo``. In the wheel that the page runs, where nothing
decodes files, the builder has put it beside this module with its rows unfiltered.
"""

from __future__ import annotations

import zlib
from functools import cache

from calculators import packaged
from calculators.files.picture import Picture, read_picture
from calculators.files.png import chunks, png

NAME = "crest-200px.png"
PACKED = "_example.png"
SOURCE = f"../content/demo/{NAME}"


@cache
def picture() -> Picture:
    """Return the crest with its pixels."""
    data = packaged.read(PACKED)
    if data is None:
        return read_picture(NAME, _source(), wanted=True)
    width, height = read_picture(NAME, data).size_px
    rows = zlib.decompress(b"".join(part for name, part in chunks(data) if name == b"IDAT"))
    length = 1 + 4 * width
    rgba = b"".join(rows[at + 1 : at + length] for at in range(0, len(rows), length))
    return read_picture(NAME, data, pixels=(width, height, rgba), wanted=True)


def compiled() -> bytes:
    """Return the crest as the PNG file that the builder packs into the wheel."""
    made = read_picture(NAME, _source(), wanted=True)
    return png(*made.size_px, made.pixels)


def _source() -> bytes:
    data = packaged.read(SOURCE)
    if data is None:
        raise FileNotFoundError(SOURCE)
    return data
