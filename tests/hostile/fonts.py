"""Font files that lie, loop or explode; each name says what is wrong."""

from __future__ import annotations

import io
import struct
from collections.abc import Callable, Iterator

import brotli
from fontTools.cffLib import SubrsIndex
from fontTools.misc.psCharStrings import T2CharString
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._g_l_y_f import ARGS_ARE_XY_VALUES, Glyph, GlyphComponent

from tests.calculators.lettering.fonts import made
from tests.hostile.seeds import MEGABYTE, packed_bomb


def fonts() -> Iterator[tuple[str, bytes]]:
    yield "bars.ttf", made.truetype()
    yield "bars.otf", made.cff()
    yield from _containers()
    yield from _loops()
    yield from _charstrings()
    yield from _tables()
    yield from _other_kinds()


def _other_kinds() -> Iterator[tuple[str, bytes]]:
    yield "collection.ttc", b"ttcf\0\1\0\0\0\0\0\2" + bytes(500)
    yield "old-kind.pfb", b"\x80\x01" + b"%!PS-AdobeFont-1.0: Bars" + bytes(300)
    yield "without-outlines.ttf", _without("glyf", "loca")
    yield "without-characters.ttf", _without("cmap")
    yield "only-a-name.ttf", b"\0\1\0\0" + bytes(8)
    yield "zeros-behind.otf", b"OTTO" + bytes(MEGABYTE)


def _containers() -> Iterator[tuple[str, bytes]]:
    base = made.truetype()
    yield "tables-65535.ttf", base[:4] + b"\xff\xff" + base[6:]
    yield "tables-99.ttf", base[:4] + b"\0\x63" + base[6:]
    for name, place, value in (("offset-beyond", 8, 0xFFFFFFF0), ("length-beyond", 12, 0xFFFFFFF0), ("offset-0", 8, 0)):
        for table in range(3):
            at = 12 + 16 * table + place
            yield f"{name}-{table}.ttf", base[:at] + struct.pack(">I", value) + base[at + 4 :]
    woff = made.truetype("woff")
    many = packed_bomb(b"\0", 150)
    for name, size in (("vast", 0xFFFFFFFF), ("large", 20 * MEGABYTE), ("small", 900)):
        entry = woff[44:48] + struct.pack(">III", len(woff), len(many), size) + woff[60:64]
        yield f"table-unpacks-{name}.woff", woff[:44] + entry + woff[64:] + many
    meta = struct.pack(">III", len(woff), len(many), 150 * MEGABYTE)
    yield "metadata-bomb.woff", woff[:24] + meta + woff[36:] + many
    woff2 = made.truetype("woff2")
    count = struct.unpack_from(">H", woff2, 12)[0]
    head = woff2[:48]
    bomb = brotli.compress(bytes(100 * MEGABYTE), quality=5)
    entries = b"\x0a" + b"\x80\x80\x40"
    small = head[:12] + struct.pack(">HHII", 1, 0, 100, len(bomb)) + head[24:]
    yield "stream-bomb.woff2", small + entries[:1] + b"\x40" + bomb
    yield "stream-of-nonsense.woff2", woff2[:-80] + bytes(range(80))
    yield "lengths-vast.woff2", head + b"\x3fTEST\x8f\xff\xff\xff\x7f" * count
    yield "tables-65535.woff2", woff2[:12] + b"\xff\xff" + woff2[14:]


def _without(*tags: str) -> bytes:
    font = made.opened(made.truetype())
    for tag in tags:
        del font[tag]
    file = io.BytesIO()
    font.save(file)
    return file.getvalue()


def _composite(*names: str) -> Glyph:
    glyph = Glyph()
    glyph.numberOfContours = -1
    glyph.components = []
    for name in names:
        part = GlyphComponent()
        part.glyphName, part.flags, part.x, part.y = name, ARGS_ARE_XY_VALUES, 10, 10
        glyph.components.append(part)
    glyph.xMin = glyph.yMin = glyph.xMax = glyph.yMax = 0
    return glyph


def _with_glyphs(change: Callable[[TTFont], None]) -> bytes:
    font = made.opened(made.truetype())
    change(font)
    font["maxp"].recalc = lambda _font: None  # it would go round the loops too
    file = io.BytesIO()
    font.save(file, reorderTables=None)
    return file.getvalue()


def _loops() -> Iterator[tuple[str, bytes]]:
    def itself(font: TTFont) -> None:
        font["glyf"]["H"] = _composite("H")

    def each_other(font: TTFont) -> None:
        font["glyf"]["H"] = _composite("O", "X")
        font["glyf"]["O"] = _composite("I", "H")

    def wide(font: TTFont) -> None:
        font["glyf"]["H"] = _composite(*["O"] * 60_000)

    for change in (itself, each_other, wide):
        yield f"parts-{change.__name__.replace('_', '-')}.ttf", _with_glyphs(change)
    points = 20_000
    glyph = (
        struct.pack(">hhhhh", 1, 0, 0, 100, 100)
        + struct.pack(">HH", points - 1, 0)
        + b"\x37" * points
        + bytes(range(1, 101)) * (points // 50)
    )
    yield "points-20000.ttf", _raw_glyph(glyph)
    ends = struct.pack(">65535H", *range(65535))
    yield "contours-beyond.ttf", _raw_glyph(struct.pack(">hhhhh", 32767, 0, 0, 9, 9) + ends)
    tangle = 1500
    steps = b"".join(struct.pack(">h", (-1) ** at * (20000 - 13 * at)) for at in range(tangle))
    glyph = struct.pack(">hhhhh", 1, 0, 0, 9, 9) + struct.pack(">HH", tangle - 1, 0) + b"\x01" * tangle + steps * 2
    yield "tangle.ttf", _raw_glyph(glyph)


def _raw_glyph(data: bytes) -> bytes:
    """Return the TrueType font with these bytes as its H."""
    font = made.opened(made.truetype())
    place = font.getGlyphID("H")
    size = len(data) + -len(data) % 4
    loca = struct.pack(f">{len(font.getGlyphOrder()) + 1}I", *[0] * (place + 1), *[size] * (8 - place))
    font["head"].indexToLocFormat = 1
    tables = {"glyf": data.ljust(size, b"\0"), "loca": loca}
    return _with_tables(font, **tables)


def _with_tables(font: TTFont, **tables: bytes) -> bytes:
    """Return a font with the bytes of some tables replaced."""
    for tag, content in tables.items():
        table = newTable("DUMY")
        table.data = content
        font[tag] = table
    file = io.BytesIO()
    font.save(file)
    return file.getvalue()


def _charstrings() -> Iterator[tuple[str, bytes]]:
    """Subroutines that call themselves, or each twice the next: the bias of so few is 107."""

    def with_subroutines(programs: list[list[object]]) -> bytes:
        font = made.opened(made.cff())
        top = font["CFF "].cff.topDictIndex[0]
        subroutines = top.Private.Subrs = SubrsIndex()
        for program in programs:
            subroutines.append(T2CharString(program=program, private=top.Private))
        top.CharStrings["H"].program = [0, -107, "callsubr", "endchar"]
        top.CharStrings["H"].bytecode = None
        return made.saved(font)

    yield "subroutine-calls-itself.otf", with_subroutines([[-107, "callsubr", "return"]])
    doubled = [[at - 106, "callsubr", at - 106, "callsubr", "return"] for at in range(9)]
    yield "subroutines-doubled.otf", with_subroutines([*doubled, [1, 1, "rmoveto", "return"]])
    wide = [[*[at - 106, "callsubr"] * 60, "return"] for at in range(8)]
    yield "subroutines-sixtyfold.otf", with_subroutines([*wide, [1, 1, "rmoveto", "return"]])
    font = made.opened(made.cff())
    table = font.reader["CFF "]
    for at in (4, 6, 8, 12, 20, 40):
        yield (
            f"counts-{at}.otf",
            _with_tables(made.opened(made.cff()), **{"CFF ": table[:at] + b"\xff\xff" + table[at + 2 :]}),
        )
    yield "cff-of-nothing.otf", _with_tables(made.opened(made.cff()), **{"CFF ": b"\1\0\4\4" + bytes(60)})


def _tables() -> Iterator[tuple[str, bytes]]:
    base = made.truetype()

    def changed(**tables: bytes) -> bytes:
        return _with_tables(made.opened(base), **tables)

    groups = struct.pack(">HHIIIIII", 12, 0, 28, 0, 1, 0, 0x10FFFF, 0)
    yield "all-characters.ttf", changed(cmap=struct.pack(">HHHHI", 0, 1, 3, 10, 12) + groups)
    groups = struct.pack(">HHIII", 12, 0, 28, 0, 0xFFFFFFFF)
    yield "groups-beyond.ttf", changed(cmap=struct.pack(">HHHHI", 0, 1, 3, 10, 12) + groups)
    yield "characters-elsewhere.ttf", changed(cmap=struct.pack(">HHHHI", 0, 1, 3, 1, 0xFFFFFFF0))
    yield "subtables-65535.ttf", changed(cmap=b"\0\0\xff\xff" + struct.pack(">HHI", 3, 1, 4) * 100)
    head = made.opened(base).reader["head"]
    for units in (0, 1, 65535):
        yield f"units-{units}.ttf", changed(head=head[:18] + struct.pack(">H", units) + head[20:])
    maxp = made.opened(base).reader["maxp"]
    yield "glyphs-65535.ttf", changed(maxp=maxp[:4] + b"\xff\xff" + maxp[6:])
    yield "glyphs-0.ttf", changed(maxp=maxp[:4] + b"\0\0" + maxp[6:])
    yield "advances-of-none.ttf", changed(hmtx=b"")
    # Kerning is left out where it cannot be read, and the text is set without.
    for name, table in (
        ("nonsense", b"\0\1\0\0" + b"\xff" * 60),
        ("scripts-65535", struct.pack(">HHHHH", 1, 0, 10, 12, 14) + b"\xff" * MEGABYTE),
        ("in-itself", struct.pack(">HHHHH", 1, 0, 0, 0, 0) * 200),
    ):
        yield f"kerning-{name}.ttf", changed(GPOS=table)
        yield f"old-kerning-{name}.ttf", changed(kern=table)
