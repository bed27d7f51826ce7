"""A well-made file of each kind, from which hostile ones are made."""

from __future__ import annotations

import gzip
import io
from functools import cache

from tests.calculators.lettering.fonts.made import cff, truetype
from tests.hostile.made import bmp, chunk, gif, jpeg, png, saved, smooth

MEGABYTE = 1 << 20


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle cx="4" cy="4" r="3"/></svg>'


@cache
def seeds() -> dict[str, bytes]:
    """Return a well-made file of each kind, by its extension."""
    tiff = saved("RGB", (40, 30), "TIFF", compression="tiff_adobe_deflate")
    return {
        "png": png(40, 30, 8, 6),
        "jpg": jpeg("RGB"),
        "gif": gif(frames=2),
        "webp": saved("RGBA", (40, 30), "WEBP", lossless=True),
        "vp8.webp": webp("RGB", quality=80),
        "bmp": bmp(20, 15, 24),
        "tif": tiff,
        "svg": SVG,
        "svgz": gzip.compress(SVG, mtime=0),
        "palette.png": png(31, 9, 8, 3, palette=200, before=chunk(b"tRNS", bytes(range(180)))),
        "progressive.jpg": jpeg("RGB", progressive=True),
        "cmyk.jpg": jpeg("CMYK"),
        "rle.bmp": RLE8,
        "ttf": truetype(),
        "cff.woff": cff("woff"),
    }


def webp(mode: str, **options) -> bytes:
    file = io.BytesIO()
    smooth(mode, (61, 47)).save(file, "WEBP", **options)
    return file.getvalue()


RLE8 = bmp(4, 3, 8, compression=1, data=bytes((4, 9, 0, 0, 0, 4, 1, 2, 3, 4, 0, 0, 2, 7, 2, 8, 0, 0, 0, 1)))
