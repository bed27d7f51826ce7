"""A picture inside a PDF: its own data unchanged if PDF can read them, else its pixels.

JPEG goes in as it came (DCTDecode), CMYK too; PNG without alpha and interlace goes in with its own
compressed rows (FlateDecode, predictor 15), of 1 to 16 bits, grey, RGB or palette. A profile in
the file goes along as ICCBased; without one colours are taken as sRGB. Everything else, and what
was cut short, goes in from the decoded pixels, 8 bits, sRGB, which by then are converted and
upright. Transparency is a soft mask of 8 bits.

Sources, from memory: ISO 32000-1:2008 7.4.4.4 (predictors), 7.4.8 (DCTDecode), 8.6.5.5 (ICCBased),
8.6.6.3 (Indexed), 8.9.5 (images), 11.6.5.3 (soft masks); PNG, ISO/IEC 15948:2004; ICC.1:2004-10
annex B.4 (profiles in JPEG).
"""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass

from calculators.files.icc import channels
from calculators.files.picture import MOST_PIXELS, Picture
from calculators.files.png import chunks
from calculators.shapes.transforms import IDENTITY, Matrix

#: The placement of the stored data in a unit square with y up, by EXIF orientation
#: (EXIF 2.32, 4.6.4 A): the turn is done by the placement, the data stay as they are.
TURNS: dict[int, Matrix] = {
    1: IDENTITY,
    2: ((-1, 0, 1), (0, 1, 0), (0, 0, 1)),
    3: ((-1, 0, 1), (0, -1, 1), (0, 0, 1)),
    4: ((1, 0, 0), (0, -1, 1), (0, 0, 1)),
    5: ((0, -1, 1), (-1, 0, 1), (0, 0, 1)),
    6: ((0, 1, 0), (-1, 0, 1), (0, 0, 1)),
    7: ((0, 1, 0), (1, 0, 0), (0, 0, 1)),
    8: ((0, -1, 1), (1, 0, 0), (0, 0, 1)),
}
#: The largest profile that is embedded.
MOST_PROFILE = 4 * 1024 * 1024
#: Bits of a sample by colour type (grey, RGB, palette): what PNG allows, and PDF reads.
BITS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8)}
#: Maximum unpacked bytes: no picture within the decoding limits has more.
MOST_UNPACKED = 8 * MOST_PIXELS
#: Bytes packed or unpacked at a time.
PIECE = 1024 * 1024
#: Compression level for pixels: higher levels take several times as long on a photograph to save 1 %.
PACKING = 6


class NotPlaced(ValueError):
    """The picture can only be embedded by its decoded pixels, which are missing."""


@dataclass(frozen=True)
class Embedded:
    """A picture ready for a PDF: the data of its stream, what its dictionary says, and the turn of its placement.

    ``alpha`` are the packed bytes of a soft mask of the same size, or None; ``profile`` is an ICC profile, or None for
    sRGB. A mask of one bit has no ``colours``.
    """

    data: bytes
    says: dict[str, object]
    colours: str
    turn: Matrix = IDENTITY
    alpha: bytes | None = None
    profile: bytes | None = None
    palette: bytes | None = None


def embedded(picture: Picture) -> Embedded:
    """Return ``picture`` as a PDF can hold it. Raises NotPlaced where its pixels are needed and missing."""
    header = picture.header
    if header.kind == "JPEG" and header.bits == 8 and (made := _jpeg(picture)):
        return made
    if header.kind == "PNG" and (made := _png(picture)):
        return made
    return _from_pixels(picture)


def _jpeg(picture: Picture) -> Embedded | None:
    """Return the JPEG as it is, or None where it was cut short."""
    header = picture.header
    profile, adobe, whole = _jpeg_marks(picture.data)
    if not whole:
        return None
    colours, count = {"grey": ("/DeviceGray", 1), "rgb": ("/DeviceRGB", 3), "cmyk": ("/DeviceCMYK", 4)}[header.colour]
    says = _size(picture) | {"Filter": "/DCTDecode", "BitsPerComponent": 8}
    if header.colour == "cmyk" and adobe:
        # Files with an Adobe marker store CMYK as its complement.
        says["Decode"] = "[1 0 1 0 1 0 1 0]"
    return Embedded(picture.data, says, colours, TURNS[header.orientation], profile=_fitting(profile, count))


def _png(picture: Picture) -> Embedded | None:
    """Return the PNG by its own compressed rows, or None where PDF cannot read those."""
    rows, profile, palette, keyed = [], None, None, False
    bits, colour_type, interlaced = 0, 0, 0
    for name, data in chunks(picture.data):
        if name == b"IHDR" and len(data) == 13:
            bits, colour_type, interlaced = data[8], data[9], data[12]
        elif name == b"PLTE":
            palette = data[: len(data) // 3 * 3]
        elif name == b"tRNS":
            keyed = True
        elif name == b"iCCP":
            profile = _unpacked_profile(data)
        elif name == b"IDAT":
            rows.append(data)
        elif name == b"IEND":
            break
    turned = picture.header.orientation != 1
    if interlaced or bits not in BITS.get(colour_type, ()) or not rows or (keyed and (turned or picture.rgba is None)):
        return None
    if colour_type == 3 and not palette:
        return None
    count = 3 if colour_type == 2 else 1
    width, height = _stored(picture)
    if not _is_whole(rows, height * (1 + (width * count * bits + 7) // 8)):
        return None
    parameters = f"<</Predictor 15 /Colors {count} /BitsPerComponent {bits} /Columns {width}>>"
    says = _size(picture) | {"Filter": "/FlateDecode", "DecodeParms": parameters, "BitsPerComponent": bits}
    return Embedded(
        b"".join(rows),
        says,
        "/DeviceGray" if colour_type == 0 else "/DeviceRGB",
        TURNS[picture.header.orientation],
        alpha=zlib.compress(picture.pixels[3::4], PACKING) if keyed else None,
        profile=_fitting(profile, 1 if colour_type == 0 else 3),
        palette=palette if colour_type == 3 else None,
    )


def _from_pixels(picture: Picture) -> Embedded:
    if picture.rgba is None:
        raise NotPlaced(picture.name)
    return embedded_pixels(picture.rgba, *picture.size_px)


def embedded_pixels(rgba: bytes, width: int, height: int) -> Embedded:
    """Return sRGB pixels (height x width x 4 bytes, alpha straight) as a PDF can hold them."""
    red, green, blue, alpha = (rgba[channel::4] for channel in range(4))
    if red == green == blue:
        samples, colours = red, "/DeviceGray"
    else:
        woven = bytearray(3 * len(red))
        woven[0::3], woven[1::3], woven[2::3] = red, green, blue
        samples, colours = bytes(woven), "/DeviceRGB"
    says: dict[str, object] = {
        "Width": width,
        "Height": height,
        "Filter": "/FlateDecode",
        "BitsPerComponent": 8,
    }
    opaque = alpha.count(255) == len(alpha)
    return Embedded(
        zlib.compress(samples, PACKING), says, colours, alpha=None if opaque else zlib.compress(alpha, PACKING)
    )


def mask_of(width: int, height: int, rows: bytes) -> Embedded:
    """Return a mask of one bit a pixel, painted where a bit is 1: ``rows`` from the top, each in whole bytes.

    Raises ValueError for another number of bytes.
    """
    if len(rows) != height * ((width + 7) // 8):
        raise ValueError(f"{len(rows)} bytes are no mask of {width} x {height}")
    says: dict[str, object] = {
        "Width": width,
        "Height": height,
        "ImageMask": "true",
        "BitsPerComponent": 1,
        "Decode": "[1 0]",
        "Filter": "/FlateDecode",
    }
    return Embedded(zlib.compress(rows, PACKING), says, "")


def _stored(picture: Picture) -> tuple[int, int]:
    """Return the size of the data as stored, before the EXIF turn."""
    width, height = picture.size_px
    return (height, width) if picture.header.orientation >= 5 else (width, height)


def _size(picture: Picture) -> dict[str, object]:
    width, height = _stored(picture)
    return {"Width": width, "Height": height}


def _fitting(profile: bytes | None, count: int) -> bytes | None:
    """Return the profile if it fits the number of channels."""
    return profile if profile is not None and channels(profile) == count else None


def _is_whole(rows: list[bytes], length: int) -> bool:
    """Tell whether compressed ``rows`` unpack to ``length`` bytes, in bounded time and memory."""
    if length > MOST_UNPACKED:
        return False
    unpacking, packed, found = zlib.decompressobj(), memoryview(b"".join(rows)), 0
    try:
        for at in range(0, len(packed), PIECE):
            rest = bytes(packed[at : at + PIECE])
            while rest and found <= length:
                found += len(unpacking.decompress(rest, PIECE))
                rest = unpacking.unconsumed_tail
    except zlib.error:
        return False
    return unpacking.eof and found == length


def _unpacked_profile(data: bytes) -> bytes | None:
    """Return the profile in an iCCP chunk: name, 0, method 0, deflated."""
    packed = data.partition(b"\0")[2]
    if packed[:1] != b"\0":
        return None
    try:
        return zlib.decompressobj().decompress(packed[1:], MOST_PROFILE)
    except zlib.error:
        return None


def _jpeg_marks(data: bytes) -> tuple[bytes | None, bool, bool]:
    """Return the profile in a JPEG (from its APP2 parts), whether it has an Adobe marker, and whether it has an end."""
    parts, adobe, at = {}, False, 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker, (length,) = data[at + 1], struct.unpack_from(">H", data, at + 2)
        if marker == 0xFF:  # fill
            at += 1
            continue
        if marker in (0xD9, 0xDA):
            break
        body = data[at + 4 : at + 2 + length]
        if marker == 0xE2 and body[:12] == b"ICC_PROFILE\0" and len(body) > 14:
            parts[body[12]] = body[14:]
        adobe = adobe or (marker == 0xEE and body[:5] == b"Adobe")
        at += 2 + length
    return b"".join(parts[place] for place in sorted(parts)) or None, adobe, data.find(b"\xff\xd9", at) >= 0
