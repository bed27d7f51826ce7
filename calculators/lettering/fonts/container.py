"""The tables of a font file, unpacked: TTF and OTF as they are, WOFF and WOFF2 within bounds.

Nothing larger than a file says of itself is ever unpacked, and nothing beyond ``MOST_UNPACKED``.
Sources: OpenType 1.9.1 (font file), WOFF File Format 1.0 and 2.0 (W3C Recommendations), from memory; read with
fontTools.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Mapping
from io import BytesIO
from types import SimpleNamespace
from typing import Any

from fontTools.ttLib import TTFont
from fontTools.ttLib.sfnt import SFNTReader
from fontTools.ttLib.woff2 import WOFF2DirectoryEntry, WOFF2Reader

from calculators.lettering.fonts import sentences
from calculators.lettering.fonts.brotli_decoder import NoDecoder, unbrotli

#: Bytes of a file, and of all its tables together. Fonts for Latin letters have less than 2 MB, those for Chinese 20.
MOST_BYTES = MOST_UNPACKED = 24 << 20
MOST_TABLES = 100
#: Tables that are used, and those that every font must have.
USED = ("head", "hhea", "hmtx", "maxp", "loca", "glyf", "CFF ", "CFF2", "cmap", "GPOS", "kern")
NEEDED = ("head", "hhea", "hmtx", "maxp", "cmap")
_WOFF2_HEADER = 48


class Unreadable(ValueError):
    """A font that is not read; text and hint are for the reader."""

    def __init__(self, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.text, self.hint = text, hint


def tables_of(name: str, data: bytes) -> dict[str, bytes]:
    """Return the tables in ``USED`` that a font file called ``name`` has, by tag. Raises Unreadable."""
    _check_kind(name, data)
    try:
        found = _woff2(name, data) if data[:4] == b"wOF2" else _sfnt(name, data)
    except Unreadable:
        raise
    except NoDecoder:
        raise Unreadable(sentences.NO_BROTLI.format(name=name), sentences.INSTALL_BROTLI) from None
    except Exception as trouble:  # a damaged file may raise anything
        raise damaged(name) from trouble
    if lacking := [tag for tag in NEEDED if tag not in found]:
        raise Unreadable(sentences.LACKS_TABLES.format(name=name, tables=", ".join(lacking)), sentences.TRY_ANOTHER)
    return found


def damaged(name: str) -> Unreadable:
    """Return that a file is damaged."""
    return Unreadable(sentences.DAMAGED.format(name=name), sentences.TRY_ANOTHER)


def opened(tables: Mapping[str, bytes]) -> Any:
    """Return the fontTools font of unpacked tables; glyphs are named by their numbers."""
    file = BytesIO(_as_sfnt(tables))
    font = TTFont(file, lazy=True, recalcBBoxes=False, recalcTimestamp=False)
    count = font["maxp"].numGlyphs
    font.setGlyphOrder([f"g{number}" for number in range(count)])
    return font


def _check_kind(name: str, data: bytes) -> None:
    if len(data) > MOST_BYTES:
        size, most = len(data) >> 20, MOST_BYTES >> 20
        raise Unreadable(sentences.TOO_LARGE.format(name=name, size=size, most=most), sentences.TRY_ANOTHER)
    begin = data[:4]
    if begin == b"ttcf":
        raise Unreadable(sentences.COLLECTION.format(name=name), sentences.SAVE_ONE)
    if begin[:2] in (b"%!", b"\x80\x01"):
        raise Unreadable(sentences.OLD_KIND.format(name=name), sentences.CONVERT)
    if begin not in (b"\0\1\0\0", b"true", b"OTTO", b"wOFF", b"wOF2"):
        raise Unreadable(sentences.NOT_A_FONT.format(name=name), sentences.FONT_KINDS)


def _sfnt(name: str, data: bytes) -> dict[str, bytes]:
    packed = data[:4] == b"wOFF"
    if packed:
        # Metadata would be unpacked without a bound, and nobody asks for them.
        data = data[:24] + bytes(20) + data[44:]
    (count,) = struct.unpack_from(">H", data, 12 if packed else 4)
    if count > MOST_TABLES:
        raise damaged(name)
    entries = {str(tag): entry for tag, entry in SFNTReader(BytesIO(data)).tables.items() if str(tag) in USED}
    _check_size(name, sum(entry.origLength if packed else entry.length for entry in entries.values()))
    found = {}
    for tag, entry in entries.items():
        content = data[entry.offset : entry.offset + entry.length]
        if len(content) < entry.length:
            raise damaged(name)
        if packed and entry.length != entry.origLength:
            content = zlib.decompressobj().decompress(content, entry.origLength + 1)
            if len(content) != entry.origLength:
                raise damaged(name)
        found[tag] = content
    return found


def _check_size(name: str, size: int) -> None:
    if size > MOST_UNPACKED:
        text = sentences.UNPACKS_TOO_LARGE.format(name=name, most=MOST_UNPACKED >> 20)
        raise Unreadable(text, sentences.TRY_ANOTHER)


class _Unpacked(WOFF2Reader):  # type: ignore[misc]  # fontTools has no types
    """A WOFF2 file whose stream is unpacked already: fontTools would unpack it without a bound."""

    def __init__(self, entries: Mapping[str, Any], stream: bytes) -> None:
        self.tables = entries
        self.transformBuffer = BytesIO(stream)
        transformed = {tag for tag, entry in entries.items() if entry.transformed}
        self.flavorData = SimpleNamespace(transformedTables=transformed)
        self.ttFont = TTFont(recalcBBoxes=False, recalcTimestamp=False)


def _woff2(name: str, data: bytes) -> dict[str, bytes]:
    if data[4:8] == b"ttcf":
        raise Unreadable(sentences.COLLECTION.format(name=name), sentences.SAVE_ONE)
    count, packed_size = struct.unpack_from(">H", data, 12)[0], struct.unpack_from(">I", data, 20)[0]
    if count > MOST_TABLES:
        raise damaged(name)
    rest = data[_WOFF2_HEADER:]
    entries: dict[str, Any] = {}
    size = 0
    for _ in range(count):
        entry = WOFF2DirectoryEntry()
        rest = entry.fromString(rest)
        entry.offset = size
        size += entry.length
        entries[entry.tag] = entry
    _check_size(name, max(size, sum(entry.origLength for entry in entries.values())))
    stream = unbrotli(rest[:packed_size], size)
    if len(stream) != size:
        raise damaged(name)
    reader = _Unpacked(entries, stream)
    return {str(tag): bytes(reader[tag]) for tag in entries if str(tag) in USED}


def _as_sfnt(tables: Mapping[str, bytes]) -> bytes:
    """Return tables as a plain font file, which fontTools reads table by table."""
    kind = b"OTTO" if "CFF " in tables else b"\0\1\0\0"
    head = kind + struct.pack(">HHHH", len(tables), 0, 0, 0)
    offset = len(head) + 16 * len(tables)
    content = []
    for tag, table in tables.items():
        head += tag.encode("latin1") + struct.pack(">III", 0, offset, len(table))
        content += [table, bytes(-len(table) % 4)]
        offset += len(table) + -len(table) % 4
    return b"".join([head, *content])
