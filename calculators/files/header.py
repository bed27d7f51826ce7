"""Reads the header of a picture file without decoding it.

Sizes are those of the upright picture: an EXIF rotation by a quarter swaps width and height.
Nothing here allocates by what a header claims, and every loop is bounded by the bytes at hand.

Sources: PNG (ISO/IEC 15948) 11.2.2; JPEG (ITU-T T.81) annex B; GIF89a 18; WebP container and
VP8 (RFC 6386) 9.1, VP8L 3.4 (RFC 9649); BMP BITMAPINFOHEADER; TIFF 6.0 section 2; EXIF 2.32 4.6.4
(orientation); SVG 2, 8.2. Known from memory; the tests hold every reader against Pillow.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

#: EXIF orientations that turn the picture by a quarter.
QUARTER_TURNS = (5, 6, 7, 8)
#: Maximum position of an SVG's opening tag in the file (after comments and entity declarations).
SVG_HEAD = 256 * 1024
#: How far a packed SVG is unpacked to look for pictures in it.
SVG_UNPACKED = 16 * 1024 * 1024
#: Maximum chunks or segments before a picture's data: more than any camera or program writes, and few enough to
#: refuse a file of nothing else quickly.
MOST_PIECES = 10_000

#: Exceptions of reading beyond the end; in the page, where sizes have 32 bits, an offset above 2 GB overflows.
_BEYOND = (struct.error, IndexError, OverflowError)


@dataclass(frozen=True)
class Header:
    """The header of a picture file. ``colour`` is grey, rgb, palette, cmyk or outlines.

    ``width_px`` and ``height_px`` are None for outlines. ``bits`` is per channel. ``alpha`` says
    whether the file can hold transparency. ``orientation`` is EXIF's, 1 to 8. ``holds_picture``
    says that pixels are placed inside an outline drawing. ``profiled`` says that a PNG, JPEG or WebP
    brings a colour profile along.
    """

    kind: str
    width_px: int | None
    height_px: int | None
    colour: str
    bits: int = 8
    alpha: bool = False
    orientation: int = 1
    holds_picture: bool = False
    profiled: bool = False


class NotAPicture(ValueError):
    """The bytes do not begin like a known picture; ``str()`` says what they look like."""


class CutShort(ValueError):
    """The file ends before its header does; ``kind`` is what it was."""

    def __init__(self, kind: str) -> None:
        super().__init__(kind)
        self.kind = kind


class BadHeader(ValueError):
    """The header contradicts itself; ``kind`` is what the file claims to be."""

    def __init__(self, kind: str) -> None:
        super().__init__(kind)
        self.kind = kind


def read_header(data: bytes) -> Header:
    """Return the header of the picture in ``data``.

    Raises NotAPicture, CutShort or BadHeader.

    >>> header = read_header(b"GIF89a" + bytes([3, 0, 2, 0, 0, 0, 0]))
    >>> header.kind, header.width_px, header.height_px
    ('GIF', 3, 2)
    """
    for kind, begins, reader in _READERS:
        if begins(data):
            try:
                header = reader(data)
            except _BEYOND:
                raise CutShort(kind) from None
            if header.width_px is None or header.height_px is None:
                return header
            if header.width_px <= 0 or header.height_px <= 0:
                raise BadHeader(kind)
            if header.orientation in QUARTER_TURNS:
                return replace(header, width_px=header.height_px, height_px=header.width_px)
            return header
    raise NotAPicture(_begins_like(data))


def _png(data: bytes) -> Header:
    length, name, width, height, bits, colour_type = struct.unpack_from(">I4sIIBB", data, 8)
    colours = {0: "grey", 2: "rgb", 3: "palette", 4: "grey", 6: "rgb"}
    if name != b"IHDR" or length != 13 or colour_type not in colours:
        raise BadHeader("PNG")
    alpha, orientation, profiled = colour_type in (4, 6), None, False
    at = 8 + 12 + length
    for _piece in range(MOST_PIECES):
        if at + 8 > len(data):
            break
        length, name = struct.unpack_from(">I4s", data, at)
        if name == b"IDAT":
            break
        alpha = alpha or name == b"tRNS"
        profiled = profiled or name == b"iCCP"
        if name == b"eXIf" and orientation is None:
            orientation = _exif_orientation(data[at + 8 : at + 8 + length])
        at += 12 + length
    else:
        raise BadHeader("PNG")
    return Header("PNG", width, height, colours[colour_type], bits, alpha, orientation or 1, profiled=profiled)


def _jpeg(data: bytes) -> Header:
    header, orientation, profiled = None, None, False
    try:
        for marker, body in jpeg_segments(data):
            if marker == 0xE1 and body[:6] == b"Exif\0\0" and orientation is None:
                orientation = _exif_orientation(body[6:])
            profiled = profiled or (marker == 0xE2 and body[:12] == b"ICC_PROFILE\0")
            if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):
                bits, height, width, channels = struct.unpack_from(">BHHB", body)
                colour = {1: "grey", 3: "rgb", 4: "cmyk"}.get(channels)
                if colour is None:
                    raise BadHeader("JPEG")
                header = header or Header("JPEG", width, height, colour, bits)
    except (*_BEYOND, BadHeader):  # after the frame, leave it to the decoder
        if not header:
            raise
    if not header:  # the picture's data begin, or it ends, and no frame was declared
        raise BadHeader("JPEG")
    return replace(header, orientation=orientation or 1, profiled=profiled)


def jpeg_segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield (marker, body) of the segments before the picture's data. Raises IndexError where the file ends first."""
    at = 2
    for _piece in range(MOST_PIECES):
        if data[at] != 0xFF:
            raise BadHeader("JPEG")
        marks = _NOT_FILL.search(data, at)
        if not marks:
            raise IndexError
        marker, at = data[marks.start()], marks.end()
        if 0xD0 <= marker <= 0xD8 or marker == 0x01:
            continue
        if marker in (0xD9, 0xDA):
            return
        length = data[at] << 8 | data[at + 1]
        if length < 2:
            raise BadHeader("JPEG")
        yield marker, data[at + 2 : at + length]
        at += length
    raise BadHeader("JPEG")


def _gif(data: bytes) -> Header:
    width, height, _flags = struct.unpack_from("<HHB", data, 6)
    control = data.find(b"\x21\xf9\x04", 13)
    alpha = control >= 0 and control + 3 < len(data) and bool(data[control + 3] & 1)
    return Header("GIF", width, height, "palette", 8, alpha)


def _webp(data: bytes) -> Header:
    name = bytes(data[12:16])
    if name == b"VP8 ":
        if data[23:26] != b"\x9d\x01\x2a":
            if len(data) < 26:
                raise CutShort("WebP")
            raise BadHeader("WebP")
        width, height = struct.unpack_from("<HH", data, 26)
        return Header("WebP", width & 0x3FFF, height & 0x3FFF, "rgb")
    if name == b"VP8L":
        signature, packed = struct.unpack_from("<BI", data, 20)
        if signature != 0x2F:
            raise BadHeader("WebP")
        return Header("WebP", (packed & 0x3FFF) + 1, (packed >> 14 & 0x3FFF) + 1, "rgb", 8, bool(packed >> 28 & 1))
    if name == b"VP8X":
        flags, *sides = struct.unpack_from("<B3x3B3B", data, 20)
        width, height = (1 + int.from_bytes(bytes(side), "little") for side in (sides[:3], sides[3:]))
        orientation, at = 1, 30
        for _piece in range(MOST_PIECES if flags & 8 else 0):
            if at + 8 > len(data):
                break
            chunk, length = struct.unpack_from("<4sI", data, at)
            if chunk == b"EXIF":
                orientation = _exif_orientation(data[at + 8 : at + 8 + length].removeprefix(b"Exif\0\0"))
                break
            at += 8 + length + length % 2
        return Header("WebP", width, height, "rgb", 8, bool(flags & 16), orientation, profiled=bool(flags & 32))
    if len(data) < 16:
        raise CutShort("WebP")
    raise BadHeader("WebP")


def _bmp(data: bytes) -> Header:
    (size,) = struct.unpack_from("<I", data, 14)
    if size == 12:
        width, height, _planes, depth = struct.unpack_from("<HHHH", data, 18)
    elif size >= 40:
        width, height, _planes, depth = struct.unpack_from("<iiHH", data, 18)
    else:
        raise BadHeader("BMP")
    mask = struct.unpack_from("<I", data, 66)[0] if size >= 56 and depth == 32 and len(data) >= 70 else 0
    return Header("BMP", width, abs(height), "palette" if depth <= 8 else "rgb", 8, bool(mask))


def _tiff(data: bytes) -> Header:
    tags = _tiff_tags(data)
    width, height = tags.get(256), tags.get(257)
    if width is None or height is None:
        raise BadHeader("TIFF")
    colour = {0: "grey", 1: "grey", 3: "palette", 5: "cmyk"}.get(tags.get(262, 1), "rgb")
    orientation = tags.get(274, 1)
    return Header(
        "TIFF",
        width,
        height,
        colour,
        tags.get(258, 1),
        tags.get(338, 0) in (1, 2),
        orientation if 1 <= orientation <= 8 else 1,
    )


def _tiff_tags(data: bytes) -> dict[int, int]:
    """Return the first value of each short or long tag of the first directory."""
    order = "<" if data[:2] == b"II" else ">"
    _magic, at = struct.unpack_from(f"{order}HI", data, 2)
    (count,) = struct.unpack_from(f"{order}H", data, at)
    tags = {}
    for place in range(count):
        entry = at + 2 + 12 * place
        tag, kind, values = struct.unpack_from(f"{order}HHI", data, entry)
        if kind not in (3, 4) or not values:
            continue
        form, fits = (f"{order}H", 2) if kind == 3 else (f"{order}I", 1)
        where = entry + 8 if values <= fits else struct.unpack_from(f"{order}I", data, entry + 8)[0]
        (tags[tag],) = struct.unpack_from(form, data, where)
    return tags


def _exif_orientation(block: bytes) -> int:
    """Return the orientation in an EXIF block, 1 where there is none or it cannot be read."""
    if block[:4] not in (b"II*\0", b"MM\0*"):
        return 1
    try:
        orientation = _tiff_tags(block).get(274, 1)
    except _BEYOND:
        return 1
    return orientation if 1 <= orientation <= 8 else 1


def _svg(data: bytes) -> Header:
    return Header("SVG", None, None, "outlines", alpha=True, holds_picture=_places_picture(data))


def _is_svg(data: bytes) -> bool:
    """Return whether the first element, after declarations and comments, is svg."""
    text = _svg_head(data)
    at = len(text) - len(text.lstrip("\ufeff"))
    while before := _BEFORE_SVG.match(text, at):
        at = before.end()
    return bool(_SVG.match(text, at))


def _svg_head(data: bytes) -> str:
    """Return the text at the beginning of an SVG file, unpacked where it is gzipped, or nothing where it is no text."""
    head = bytes(data[:SVG_HEAD])
    if head[:2] == b"\x1f\x8b":
        try:
            head = zlib.decompressobj(wbits=31).decompress(head, SVG_HEAD)
        except zlib.error:
            return ""
    if head[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return head.decode("utf-16", "replace")
    return "" if b"\0" in head[:1024] else head.decode("utf-8", "replace")


def _places_picture(data: bytes) -> bool:
    """Return whether an SVG file contains an image element; a gzipped file is searched piece by piece."""
    if data[:2] != b"\x1f\x8b":
        # The names of UTF-16 are those of ASCII without the zeros between.
        plain = data.replace(b"\0", b"") if data[:2] in (b"\xff\xfe", b"\xfe\xff") else data
        return bool(_IMAGE.search(plain))
    unpacking, packed, unpacked, tail = zlib.decompressobj(wbits=31), bytes(data), 0, b""
    while packed and unpacked < SVG_UNPACKED and not unpacking.eof:
        try:
            piece = unpacking.decompress(packed, SVG_HEAD)
        except zlib.error:
            return False
        if _IMAGE.search(tail + piece):
            return True
        packed, unpacked, tail = unpacking.unconsumed_tail, unpacked + len(piece), piece[-100:]
    return False


#: What is no fill byte before a JPEG's marker.
_NOT_FILL = re.compile(rb"[^\xff]")
#: Parts before an SVG's first element: a declaration, a comment, a document type with an internal subset.
_BEFORE_SVG = re.compile(r"\s*(?:<\?.*?\?>|<!--.*?-->|<!(?!--)[^\[>]*(?:\[.*?\]\s*)?>)", re.DOTALL)
_SVG = re.compile(r"\s*<(?:\w+:)?svg[\s>/]")
_IMAGE = re.compile(rb"<(?:\w+:)?image\b")
_READERS: tuple[tuple[str, Callable[[bytes], bool], Callable[[bytes], Header]], ...] = (
    ("PNG", lambda data: data[:8] == b"\x89PNG\r\n\x1a\n", _png),
    ("JPEG", lambda data: data[:3] == b"\xff\xd8\xff", _jpeg),
    ("GIF", lambda data: data[:6] in (b"GIF87a", b"GIF89a"), _gif),
    ("WebP", lambda data: data[:4] == b"RIFF" and data[8:12] == b"WEBP", _webp),
    ("BMP", lambda data: data[:2] == b"BM", _bmp),
    ("TIFF", lambda data: data[:4] in (b"II*\0", b"MM\0*"), _tiff),
    ("SVG", _is_svg, _svg),
)


def _begins_like(data: bytes) -> str:
    """Return in a word or two what ``data`` looks like, for the hint."""
    if data[4:8] == b"ftyp":
        return "a HEIC or AVIF picture or a film clip"
    known = (
        (b"%PDF", "a PDF"),
        (b"%!PS", "PostScript"),
        (b"8BPS", "a layered picture"),
        (b"PK\x03\x04", "a packed folder"),
        (b"<!DOCTYPE html", "a web page"),
        (b"<html", "a web page"),
        (b"\0\0\x01\0", "an icon"),
        (b"\x1f\x8b", "a compressed file"),
        (b"\x89PNG", "a damaged PNG"),
        (b"II+\0", "a TIFF of the large kind"),
        (b"MM\0+", "a TIFF of the large kind"),
    )
    for begins, name in known:
        if data[: len(begins)] == begins:
            return name
    return "text" if all(32 <= byte < 127 or byte in (9, 10, 13) for byte in data[:64]) else "something else"
