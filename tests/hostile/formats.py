"""Hostile files of one format each."""

from __future__ import annotations

import gzip
import io
import struct
import zlib
from collections.abc import Iterator

from PIL import Image

from tests.hostile.made import bmp, chunk, image, png, saved
from tests.hostile.seeds import MEGABYTE, SVG, seeds


def jpegs() -> Iterator[tuple[str, bytes]]:
    base = seeds()["jpg"]
    frame = base.index(b"\xff\xc0")
    scan = base.index(b"\xff\xda")
    yield "no-frame.jpg", base[:frame] + base[scan:]
    yield "begin-and-end.jpg", b"\xff\xd8\xff\xd9"
    yield "fill.jpg", b"\xff\xd8" + b"\xff" * (8 * MEGABYTE)
    yield "restarts.jpg", b"\xff\xd8" + b"\xff\xd0" * (4 * MEGABYTE)
    yield "two-frames.jpg", base[:frame] + base[frame : frame + 19] * 2 + base[frame + 19 :]
    for kind in (0xC1, 0xC3, 0xC5, 0xC9, 0xCB, 0xCF):
        yield f"frame-{kind:x}.jpg", base[:frame] + bytes((0xFF, kind)) + base[frame + 2 :]
    for at, value in (
        (2, 0),
        (3, 1),
        (3, 255),
        (4, 12),
        (5, 0),
        (6, 0),
        (9, 0),
        (9, 2),
        (9, 255),
        (11, 0),
        (11, 0xFF),
        (12, 9),
    ):
        yield f"frame-byte-{at}-{value}.jpg", base[: frame + at] + bytes((value,)) + base[frame + at + 1 :]
    yield "no-height.jpg", base[: frame + 5] + b"\0\0" + base[frame + 7 :]
    table = base.index(b"\xff\xdb") + 5
    for place in (0, 1, 63):
        yield f"step-of-nothing-{place}.jpg", base[: table + place] + b"\0" + base[table + place + 1 :]
    yield "no-tables.jpg", base[:2] + base[frame : frame + 19] + base[scan:]
    yield "no-end.jpg", base[:-2]
    yield "scan-of-nothing.jpg", base[: scan + 14] + b"\xff\xd9"
    yield "scan-of-ones.jpg", base[: scan + 14] + b"\xff\0" * MEGABYTE
    yield "adobe-short.jpg", base[:2] + b"\xff\xee\0\7Adobe" + base[2:]
    cmyk = seeds()["cmyk.jpg"]
    yield "ycck.jpg", cmyk.replace(b"Adobe\0d\0\0\0\0\0", b"Adobe\0d\0\0\0\0\2", 1)
    yield "cmyk-without-adobe.jpg", cmyk.replace(b"Adobe", b"Abode", 1)
    yield "garbage-after-frame.jpg", base[: frame + 19] + b"nonsense" + base[frame + 19 :]


def pngs() -> Iterator[tuple[str, bytes]]:
    base = seeds()["png"]
    for bits, colour_type in ((3, 0), (0, 0), (255, 0), (16, 3), (1, 2), (4, 6), (8, 1), (8, 5), (8, 255)):
        head = struct.pack(">IIBBBBB", 9, 9, bits, colour_type, 0, 0, 0)
        yield f"bits-{bits}-type-{colour_type}.png", base[:8] + chunk(b"IHDR", head) + base[33:]
    for at in (10, 11, 12):
        head = bytearray(struct.pack(">IIBBBBB", 40, 30, 8, 6, 0, 0, 0))
        head[at] = 7
        yield f"method-{at}.png", base[:8] + chunk(b"IHDR", bytes(head)) + base[33:]
    yield "side-0.png", base[:8] + chunk(b"IHDR", struct.pack(">IIBBBBB", 0, 9, 8, 6, 0, 0, 0)) + base[33:]
    yield "short-head.png", base[:8] + chunk(b"IHDR", bytes(12)) + base[33:]
    yield "no-data.png", base[:33] + chunk(b"IEND")
    yield "end-alone.png", base[:8] + chunk(b"IEND")
    yield "data-first.png", base[:8] + base[33:] + base[8:33]
    yield "wrong-sums.png", base[:29] + bytes(4) + base[33:]
    yield "wrong-sum-of-data.png", base[:-16] + bytes(4) + base[-12:]
    yield "length-beyond.png", base[:33] + b"\xff\xff\xff\xffIDAT" + base[41:]
    yield "no-palette.png", png(9, 9, 8, 3)
    yield "palette-of-1000.png", png(9, 9, 8, 3, before=chunk(b"PLTE", bytes(3000)))
    yield "palette-of-part.png", png(9, 9, 8, 3, before=chunk(b"PLTE", bytes(7)))
    yield "colours-beyond-palette.png", png(9, 9, 8, 3, before=chunk(b"PLTE", bytes(6)))
    yield "clear-of-many.png", png(9, 9, 8, 3, palette=4, before=chunk(b"tRNS", bytes(5000)))
    yield "clear-twice.png", png(9, 9, 8, 6, before=chunk(b"tRNS", bytes(6)))
    yield "clear-short.png", png(9, 9, 8, 2, before=chunk(b"tRNS", b"\0"))
    yield "sixteen-bits.png", png(40, 30, 16, 6, interlaced=True)
    yield "filters-of-nonsense.png", png(9, 9, 8, 0, packed=zlib.compress((b"\x63" + bytes(9)) * 9))
    yield "rows-too-few.png", png(9, 9, 8, 0, packed=zlib.compress(bytes(30)))
    yield "not-deflated.png", png(9, 9, 8, 0, packed=bytes(range(200)))
    yield "animation-control.png", png(9, 9, 8, 0, before=chunk(b"acTL", struct.pack(">II", 0xFFFFFFFF, 0)))
    yield "animation-short.png", png(9, 9, 8, 0, before=chunk(b"acTL", b"\0") + chunk(b"fcTL", b"\0"))
    yield (
        "resolution-of-none.png",
        png(9, 9, 8, 0, before=chunk(b"pHYs", b"") + chunk(b"gAMA", b"") + chunk(b"cHRM", b"\0") + chunk(b"sRGB", b"")),
    )


def bmp_claiming(width: int, height: int) -> bytes:
    return (
        b"BM"
        + struct.pack("<IHHI", 54, 0, 0, 54)
        + struct.pack("<IiiHHIIiiII", 40, width, height, 1, 24, 0, 0, 0, 0, 0, 0)
        + bytes(9)
    )


def bmps() -> Iterator[tuple[str, bytes]]:
    yield "from-top.bmp", bmp(9, -7, 24)
    yield "width-below-0.bmp", bmp_claiming(-9, 9)
    yield "height-0.bmp", bmp_claiming(9, 0)
    yield "rle-without-end.bmp", bmp(4, 3, 8, compression=1, data=bytes((4, 9)))
    yield "rle-of-steps.bmp", bmp(4, 3, 8, compression=1, data=bytes((0, 2, 255, 255)) * 50_000)
    yield "rle-from-top.bmp", bmp(4, -3, 8, compression=1, data=bytes((4, 9, 0, 1)))
    yield "rle-zeros.bmp", bmp(3000, 3000, 8, compression=1, data=bytes((0, 0)) * 2000)
    for bits in (0, 2, 3, 64, 99, 65535):
        base = bmp(9, 7, 24)
        yield f"bits-{bits}.bmp", base[:28] + struct.pack("<H", bits) + base[30:]
    for compression in (3, 4, 5, 6, 99):
        yield f"compression-{compression}.bmp", bmp(9, 7, 24, compression=compression)
    for size in (0, 11, 39, 41, 124, 0xFFFFFFFF):
        base = bmp(9, 7, 24)
        yield f"header-{size}.bmp", base[:14] + struct.pack("<I", size) + base[18:]
    base = bmp(9, 7, 8)
    yield "colours-beyond.bmp", base[:46] + struct.pack("<I", 0xFFFFFFFF) + base[50:]
    yield "data-beyond.bmp", base[:10] + struct.pack("<I", 0xFFFFFFF0) + base[14:]
    yield "masks-overlapping.bmp", bmp(9, 7, 32, compression=3, masks=(0xFFFFFFFF, 0xFFFFFFFF, 0))
    yield "old-header.bmp", b"BM" + struct.pack("<IHHIIHHHH", 90, 0, 0, 26, 12, 3, 2, 1, 24) + bytes(24)


def tiff_of(entries: list[tuple[int, int, int, int]], order: str = "<", after: int = 0) -> bytes:
    mark = b"II*\0" if order == "<" else b"MM\0*"
    body = b"".join(
        struct.pack(f"{order}HHI", *entry[:3])
        + (
            struct.pack(f"{order}HH", entry[3], 0)
            if entry[1] == 3 and entry[2] == 1
            else struct.pack(f"{order}I", entry[3])
        )
        for entry in entries
    )
    return mark + struct.pack(f"{order}IH", 8, len(entries)) + body + struct.pack(f"{order}I", after)


def tiffs() -> Iterator[tuple[str, bytes]]:
    plain = [
        (256, 3, 1, 9),
        (257, 3, 1, 7),
        (258, 3, 1, 8),
        (259, 3, 1, 1),
        (262, 3, 1, 1),
        (273, 4, 1, 200),
        (277, 3, 1, 1),
        (278, 3, 1, 7),
        (279, 4, 1, 63),
    ]
    for order, name in (("<", "small"), (">", "big")):
        yield f"{name}-endian.tif", tiff_of(plain, order).ljust(200, b"\0") + bytes(range(63))
    yield "big.tif", b"II+\0\x08\0\0\0" + struct.pack("<QQ", 16, 1) + bytes(20)
    yield "loop.tif", tiff_of(plain, after=8).ljust(200, b"\0") + bytes(63)
    for at in (0, 2, 4, 0xFFFFFFFF):
        yield f"directory-at-{at}.tif", b"II*\0" + struct.pack("<I", at) + bytes(100)
    yield "entries-65535.tif", b"II*\0\x08\0\0\0\xff\xff" + struct.pack("<HHII", 256, 3, 1, 9) * 65535
    changes = {
        "strip-outside": (273, 4, 1, 0xFFFFFFF0),
        "strip-lengths-many": (279, 4, 0x0FFFFFFF, 8),
        "compression-99": (259, 3, 1, 99),
        "jpeg-inside": (259, 3, 1, 7),
        "samples-1000": (277, 3, 1, 1000),
        "bits-many": (258, 3, 60_000, 8),
        "bits-0": (258, 3, 1, 0),
        "rows-0": (278, 3, 1, 0),
        "colours-77": (262, 3, 1, 77),
        "width-in-circle": (256, 3, 900, 8),
        "width-0": (256, 3, 1, 0),
        "lzw": (259, 3, 1, 5),
        "fax": (259, 3, 1, 4),
        "packbits": (259, 3, 1, 32773),
        "webp-inside": (259, 3, 1, 50001),
    }
    for name, entry in changes.items():
        entries = [entry if each[0] == entry[0] else each for each in plain]
        yield f"{name}.tif", tiff_of(entries).ljust(200, b"\0") + bytes(range(63))
    yield "tiles-of-none.tif", tiff_of([*plain[:5], (322, 3, 1, 0), (323, 3, 1, 0), (324, 4, 1, 8), (325, 4, 1, 8)])
    yield "floats.tif", saved_as(Image.new("F", (9, 7), 0.5), "TIFF")
    yield "sixteen-bits.tif", saved("I;16", (9, 7), "TIFF")
    yield "inks.tif", saved("CMYK", (9, 7), "TIFF")
    yield "many-pages.tif", saved_as(image("L", (9, 7)), "TIFF", save_all=True, append_images=[image("L", (9, 7))] * 40)


def svgs() -> Iterator[tuple[str, bytes]]:
    laughs = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
    yield "laughs.svg", f'<!DOCTYPE svg [<!ENTITY a0 "ha">{laughs}]><svg>&a9;</svg>'.encode()
    yield "outside.svg", b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg><text>&x;</text></svg>'
    yield "scripted.svg", b'<svg onload="alert(1)"><script>alert(2)</script></svg>'
    yield (
        "references.svg",
        b'<svg><image href="http://127.0.0.1:9/x.png"/><use href="http://127.0.0.1:9/y.svg#a"/></svg>',
    )
    yield "huge-attribute.svg", b'<svg d="' + b"M0 0" * (2 * MEGABYTE) + b'"/>'
    yield "deep.svg", b"<svg>" + b"<g>" * 300_000
    yield "sizes-of-nonsense.svg", b'<svg width="1e999" height="-5" viewBox="nan 0 0"></svg>'
    yield "declarations.svg", b"<?a?>" * 50_000 + SVG
    yield "definitions.svg", b"<!a>" * 60_000 + SVG
    yield "brackets.svg", b"<!DOCTYPE svg [" + b"] " * 100_000
    yield "comment-without-end.svg", b"<!--" * 60_000
    yield "begun.svg", b"<svg"
    yield "far-in.svg", b"<!--" + b" " * MEGABYTE + b"-->" + SVG
    yield "utf-16.svg", '<?xml version="1.0" encoding="utf-16"?><svg/>'.encode("utf-16")
    yield "utf-16-odd.svg", "<svg/>".encode("utf-16") + b"\xd8"
    yield "zero-inside.svg", b"<svg>\0</svg>"
    for name, paths in outlines():
        yield name, f'<svg width="9mm" height="9mm" viewBox="0 0 9 9">{paths}</svg>'.encode()
    yield "ten-million-points.svg", b'<svg viewBox="0 0 9 9"><path d="M0 0' + b"h1" * 10_000_000 + b'"/></svg>'
    for name, body in drawings():
        yield name, f'<svg width="9mm" height="9mm" viewBox="0 0 9 9">{body}</svg>'.encode()
    yield "packed-nonsense.svgz", b"\x1f\x8b\x08" + bytes(range(100))
    yield "packed-text.svgz", gzip.compress(b"no drawing", mtime=0)
    yield "packed-cut.svgz", gzip.compress(SVG * 50, mtime=0)[:80]
    yield "packed-twice.svgz", gzip.compress(SVG, mtime=0) * 2000


def outlines() -> Iterator[tuple[str, str]]:
    """Filled paths that are much to draw, or nothing that can be."""
    triangles = "".join(f'<path d="M{n % 90 / 10} {n // 90 / 30}l.05 .1l.05-.1z"/>' for n in range(10_000))
    yield "zigzag.svg", f'<path d="M0 0{"L9 9L0 .1" * 90_000}z"/>'
    yield "as-long-as-may-be.svg", f'<path d="M0 0{"L9 8.9L0 .1" * 140}z"/>'
    yield "small-triangles.svg", triangles
    yield "sheets-on-sheets.svg", '<path d="M.003.003h8.99v8.99h-8.99z"/>' * 98
    yield "one-curve-many-times.svg", f'<path d="M0 0{"C0 9 9 9 9 0C9 9 0 9 0 0" * 60}z"/>'
    yield "far-away.svg", '<path d="M90000 90000L99999 90000L99999 99999Z"/>'
    yield "numbers-of-nonsense.svg", '<path d="M1e999 nan L-1e-999 .Z"/>'
    yield "digits-without-end.svg", f'<path d="M{"1" * MEGABYTE} 0Z"/>'
    yield "letters-without-numbers.svg", f'<path d="{"M" * MEGABYTE}"/>'
    yield "attributes-without-end.svg", f"<path {'id=&quot;a&quot; ' * 100_000}{'class ' * 100_000}/>"
    yield "quotes-without-end.svg", "<path d='" + 'M0 0"' * 300_000
    yield "many-attributes.svg", "<path " + "".join(f'data-{n}="" ' for n in range(100_000)) + "/>"


def drawings() -> Iterator[tuple[str, str]]:
    """What drawing programs write, in amounts that nobody draws."""
    one = '<path d="M1 1h1v1z"/>'
    doubled = "".join(f'<g id="a{n + 1}"><use href="#a{n}"/><use href="#a{n}"/></g>' for n in range(25))
    scribble = "".join(f"M0 {n / 400}L9 {9 - n / 400}" for n in range(3600))
    curls = "".join(f"M{n % 60 / 7} {n // 60 / 7}q1 .1 .1 1t.3-.7" for n in range(3600))
    yield "uses-without-end.svg", f'<g id="a"><use href="#b"/></g><g id="b">{one}<use href="#a"/></g>'
    yield "uses-doubled.svg", f'<g id="a0">{one}</g>{doubled}'
    yield "nested-groups.svg", "<g>" * 10_000 + one + "</g>" * 10_000
    yield "nested-drawings.svg", "<svg>" * 100 + one + "</svg>" * 100
    yield "transforms-without-end.svg", f'<g transform="{"scale(3)" * 100_000}">{one}</g>'
    yield "far-transforms.svg", f'<g transform="translate(1e300) scale(1e300)">{one}</g><path d="M1e300 1e300z"/>'
    yield "numbers-that-are-none.svg", '<rect width="nan" height="inf"/><g transform="rotate(nan)"/>'
    yield "lines-across-each-other.svg", f'<path fill="none" stroke="#000" stroke-width=".01" d="{scribble}"/>'
    yield "curls.svg", f'<path fill="none" stroke="#000" stroke-width=".01" stroke-linejoin="round" d="{curls}"/>'
    yield "many-strokes.svg", '<path stroke="#000" d="M1 1L7 8"/>' * 8000
    yield "dashes-without-end.svg", '<path stroke="#000" stroke-dasharray="1e-7" d="M1 1L7 8"/>'
    yield "no-dash.svg", '<path stroke="#000" stroke-dasharray="0 0" d="M1 1L7 8"/>'
    yield "wide-stroke.svg", '<path stroke="#000" stroke-width="1e7" stroke-linejoin="round" d="M1 1L7 8L2 3z"/>'
    yield "nothing-enclosed.svg", '<path d="M1 1L7 8z"/><path d="M2 2"/><path d="M3 3z"/><rect height="3"/>'
    yield (
        "many-clips.svg",
        f'<clipPath id="c">{one * 3000}</clipPath>' + '<path clip-path="url(#c)" d="M0 0h9v9z"/>' * 90,
    )
    yield (
        "clips-in-clips.svg",
        "".join(f'<clipPath id="c{n}" clip-path="url(#c{n + 1})">{one}</clipPath>' for n in range(3000))
        + '<g clip-path="url(#c0)"/>',
    )
    yield "many-rules.svg", f"<style>{'.a,.b{fill:red}' * 20_000}</style>{one * 20_000}"
    yield "style-without-end.svg", f"<style>{'{' * 300_000}</style>{one}"
    yield "many-references.svg", f'<path id="{"&amp;" * 200_000}" d="M1 1h1v1z"/>'


def extended_webp(chunks: bytes) -> bytes:
    plain = saved("RGB", (9, 7), "WEBP", lossless=True)
    body = b"WEBPVP8X" + struct.pack("<IB3x", 10, 8) + b"\x08\0\0\x06\0\0" + chunks + plain[12:]
    return b"RIFF" + struct.pack("<I", len(body)) + body


def webps() -> Iterator[tuple[str, bytes]]:
    for name in (b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM"):
        yield f"alone-{name.decode().strip()}.webp", b"RIFF\xff\xff\xff\xffWEBP" + name + bytes(40)
    base = seeds()["webp"]
    yield "size-lies.webp", base[:4] + b"\1\0\0\0" + base[8:]
    yield "chunk-size-lies.webp", base[:16] + b"\xff\xff\xff\x7f" + base[20:]
    yield "lossless-of-nothing.webp", base[:25] + bytes(len(base) - 25)
    yield (
        "screen-larger-than-picture.webp",
        extended_webp(b"").replace(b"\x08\0\0\x06\0\0", b"\xff\x1f\0\xff\x1f\0", 1),
    )


def jpeg_claiming(width: int, height: int) -> bytes:
    base = seeds()["jpg"]
    frame = base.index(b"\xff\xc0")
    return base[: frame + 5] + struct.pack(">HH", height, width) + base[frame + 9 :]


def saved_as(made: Image.Image, form: str, **options) -> bytes:
    file = io.BytesIO()
    made.save(file, form, **options)
    return file.getvalue()
