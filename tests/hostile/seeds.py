"""A well-made file of each kind, from which hostile ones are made."""

from __future__ import annotations

import gzip
import io
import struct
import zlib
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


def packed_bomb(byte: bytes, megabytes: int, *, before: bytes = b"", after: bytes = b"", zipped: bool = False) -> bytes:
    """Return zlib data, or gzip data if ``zipped``, of so many megabytes of one byte between two texts.

    Each megabyte is the same block of deflate, packed by itself (RFC 1951), so only one has to be packed.
    """
    whole = before + byte * (megabytes * MEGABYTE) + after
    stream = b"".join(
        (_block(before), _block(byte * MEGABYTE) * megabytes, _block(after), b"\x03\x00")  # and an empty last block
    )
    if zipped:
        head = gzip.compress(b"", mtime=0)[:10]
        return head + stream + struct.pack("<II", zlib.crc32(whole), len(whole))
    return b"\x78\xda" + stream + struct.pack(">I", zlib.adler32(whole))


def _block(data: bytes) -> bytes:
    packer = zlib.compressobj(9, wbits=-zlib.MAX_WBITS)
    return packer.compress(data) + packer.flush(zlib.Z_FULL_FLUSH) if data else b""


def webp(mode: str, **options) -> bytes:
    file = io.BytesIO()
    smooth(mode, (61, 47)).save(file, "WEBP", **options)
    return file.getvalue()


RLE8 = bmp(4, 3, 8, compression=1, data=bytes((4, 9, 0, 0, 0, 4, 1, 2, 3, 4, 0, 0, 2, 7, 2, 8, 0, 0, 0, 1)))
