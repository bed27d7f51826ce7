"""Generated picture files that lie, are truncated, loop or explode; each name says what is wrong."""

from __future__ import annotations

import gzip
import struct
import zlib
from collections.abc import Iterator

from PIL import Image

from tests.hostile.fonts import fonts
from tests.hostile.formats import (
    bmp_claiming,
    bmps,
    extended_webp,
    jpeg_claiming,
    jpegs,
    pngs,
    saved_as,
    svgs,
    tiff_of,
    tiffs,
    webps,
)
from tests.hostile.jobs import jobs
from tests.hostile.made import chunk, gif, image, jpeg, png
from tests.hostile.marking_lists import marking_lists
from tests.hostile.seeds import MEGABYTE, SVG, packed_bomb, seeds


def corpus() -> Iterator[tuple[str, bytes]]:
    """Yield (file name, bytes) of every hostile file. No two have the same name."""
    for part in (
        _cut,
        _misnamed,
        _not_pictures,
        _vast,
        _bombs,
        _animated,
        _metadata,
        jpegs,
        pngs,
        bmps,
        tiffs,
        svgs,
        webps,
        jobs,
        marking_lists,
        fonts,
    ):
        yield from part()


def _cut() -> Iterator[tuple[str, bytes]]:
    yield "empty.png", b""
    for byte in b"\x00\x89\xff\x47\x42\x49\x4d\x52\x3c\x1f\x25":
        yield f"one-byte-{byte:02x}.png", bytes((byte,))
    for kind, data in seeds().items():
        places = {*range(2, 60, 3), *(len(data) * part // 12 for part in range(1, 12)), len(data) - 1}
        for place in sorted(each for each in places if each < len(data)):
            yield f"cut-at-{place}.{kind}", data[:place]


def _misnamed() -> Iterator[tuple[str, bytes]]:
    kinds = list(seeds())
    for kind, other in zip(kinds, kinds[1:] + kinds[:1], strict=True):
        yield f"really-{kind}.{other}", seeds()[kind]
    yield "no-extension", seeds()["png"]
    yield "gif-and-script.gif", b"GIF89a/*" + gif()[8:] + b"*/=1;alert(1)"
    yield "png-and-zip.png", seeds()["png"] + b"PK\x03\x04" + bytes(200)
    yield "jpeg-and-pdf.jpg", jpeg("RGB", comment=b"%PDF-1.7\n1 0 obj")
    yield "pdf-and-jpeg.pdf", b"%PDF-1.7\n" + jpeg("RGB")
    yield "svg-in-png.png", png(3, 3, 8, 2, before=chunk(b"tEXt", b"Comment\0" + SVG))
    yield "bm-and-svg.bmp", b"BM" + SVG
    yield "a" * 250 + ".png", b"no picture"
    yield "{name} %s <b>\u202egnp.exe\n.png", b"no picture"


def _not_pictures() -> Iterator[tuple[str, bytes]]:
    yield "page.png", b"<!DOCTYPE html><html><body><svg></svg></body></html>"
    yield "photograph.heic", struct.pack(">I4s4sI", 24, b"ftyp", b"heic", 0) + b"mif1heic" + bytes(500)
    yield "photograph.avif", struct.pack(">I4s4sI", 24, b"ftyp", b"avif", 0) + b"mif1avif" + bytes(500)
    yield "sheet.pdf", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj<<>>endobj"
    yield "layers.png", b"8BPS\0\1" + bytes(100)
    yield "folder.png", b"PK\x03\x04" + bytes(100)
    yield "icon.png", b"\0\0\1\0\1\0" + bytes(60)
    yield "text.png", "Ölfarbe ".encode() * 2000
    yield "zeros.png", bytes(MEGABYTE)
    yield "blanks.svg", b" " * (8 * MEGABYTE)
    yield "spoilt.png", seeds()["png"].replace(b"\r\n\x1a\n", b"\n\x1a\n", 1)


def _vast() -> Iterator[tuple[str, bytes]]:
    for side in (30_000, 0x7FFFFFFF, 0xFFFFFFFF):
        yield f"vast-{side}.png", png(side, side, 8, 6, packed=zlib.compress(b""))
    yield "vast.gif", b"GIF89a" + struct.pack("<HH", 65535, 65535) + gif()[10:]
    yield "vast.bmp", bmp_claiming(30_000, 30_000)
    yield "vast-down.bmp", bmp_claiming(30_000, -0x80000000)
    yield "vast.jpg", jpeg_claiming(65535, 65535)
    yield "vast.webp", b"RIFF\x1e\0\0\0WEBPVP8X\x0a\0\0\0\x10\0\0\0\xff\xff\xff\xff\xff\xff"
    yield (
        "vast.tif",
        tiff_of([(256, 4, 1, 30_000), (257, 4, 1, 30_000), (258, 3, 1, 8), (273, 4, 1, 8), (279, 4, 1, 10)]),
    )
    # Within the limits, and nothing behind the claim.
    yield "hollow.png", png(8000, 8000, 8, 6, packed=zlib.compress(b""))
    yield "hollow-interlaced.png", png(8000, 8000, 16, 6, interlaced=True, packed=zlib.compress(bytes(64)))
    yield "hollow.gif", b"GIF89a" + struct.pack("<HH", 8000, 8000) + gif()[10:13] + b";"
    yield "hollow.bmp", bmp_claiming(8000, 8000)
    yield "hollow.jpg", jpeg_claiming(8000, 8000)
    yield (
        "hollow.tif",
        tiff_of(
            [
                (256, 4, 1, 8000),
                (257, 4, 1, 8000),
                (258, 3, 1, 8),
                (262, 3, 1, 1),
                (273, 4, 1, 8),
                (278, 4, 1, 8000),
                (279, 4, 1, 64_000_000),
            ]
        ),
    )
    yield "strip.png", png(64_000_000, 1, 1, 0, packed=zlib.compress(bytes(8_000_001)))


def _bombs() -> Iterator[tuple[str, bytes]]:
    many = packed_bomb(b"\0", 200)
    yield "bomb-ztxt.png", png(9, 9, 8, 6, before=chunk(b"zTXt", b"Comment\0\0" + many))
    yield "bomb-itxt.png", png(9, 9, 8, 6, before=chunk(b"iTXt", b"Comment\0\1\0\0\0" + many))
    yield "bomb-iccp.png", png(9, 9, 8, 2, before=chunk(b"iCCP", b"profile\0\0" + many))
    yield (
        "bomb-ztxt-many.png",
        png(9, 9, 8, 6, before=chunk(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(900_000))) * 200),
    )
    yield "bomb-idat.png", png(9, 9, 8, 6, packed=many)
    yield "bomb-svg.svgz", packed_bomb(b"\0", 200, before=b"<svg>", zipped=True)
    yield "bomb-before-svg.svgz", packed_bomb(b" ", 200, after=SVG, zipped=True)
    yield "bomb-gzip-in-gzip.svgz", gzip.compress(packed_bomb(b" ", 50, after=SVG, zipped=True), mtime=0)
    entries = [
        (256, 4, 1, 9),
        (257, 4, 1, 9),
        (258, 3, 1, 8),
        (259, 3, 1, 8),
        (262, 3, 1, 1),
        (273, 4, 1, 400),
        (278, 4, 1, 9),
        (279, 4, 1, len(many)),
    ]
    yield "bomb.tif", tiff_of(entries).ljust(400, b"\0") + many
    yield "blank-64-megapixels.png", png(8000, 8000, 1, 0, packed=zlib.compress(bytes(1001 * 8000), 9))
    yield "blank.webp", saved_as(Image.new("RGB", (8000, 8000)), "WEBP", lossless=True)


def _animated() -> Iterator[tuple[str, bytes]]:
    frames = [image("RGB", (16, 12)).point(lambda value, by=by: value ^ by) for by in range(60)]
    for form in ("GIF", "PNG", "WEBP"):
        yield (
            f"animated.{form.lower()}",
            saved_as(frames[0], form, save_all=True, append_images=frames[1:], duration=40),
        )
    yield (
        "later-frame-vast.gif",
        gif()[:-1] + b"\x2c" + struct.pack("<HHHHB", 0, 0, 65535, 65535, 0) + b"\x02\x02\x4c\x01\0;",
    )
    yield "frame-beyond-screen.gif", gif(8, 6)[:6] + struct.pack("<HH", 2, 2) + gif(8, 6)[10:]
    yield "screen-of-none.gif", b"GIF89a" + bytes(4) + gif()[10:]
    yield "endless-blocks.gif", gif()[:-1] + b"\x21\xfe" + (b"\xff" + bytes(255)) * 4000
    yield "many-comments.gif", gif()[: 13 + 768] + b"\x21\xfe\x01 \0" * 100_000 + gif()[13 + 768 :]
    for form in ("PNG", "JPEG", "GIF", "WEBP", "BMP", "TIFF"):
        yield f"one-pixel.{form.lower()}", saved_as(Image.new("RGB", (1, 1)), form)


def _exifs() -> Iterator[tuple[str, bytes]]:
    def block(entries: bytes, count: int, after: bytes = b"") -> bytes:
        return b"II*\0\x08\0\0\0" + struct.pack("<H", count) + entries + after

    turn = struct.pack("<HHII", 0x112, 3, 1, 6)
    yield "empty", b""
    yield "begun", b"II*"
    yield "elsewhere", b"II*\0\xff\xff\xff\xff"
    yield "in-itself", b"II*\0\0\0\0\0"
    yield "many-entries", block(turn, 65535)
    yield "value-outside", block(struct.pack("<HHII", 0x112, 3, 9, 0xFFFFFFF0), 1)
    yield "value-in-itself", block(struct.pack("<HHII", 0x112, 3, 9, 8), 1, bytes(4))
    yield "turn-99", block(struct.pack("<HHII", 0x112, 3, 1, 99), 1, bytes(4))
    yield "circle", block(turn, 1, struct.pack("<I", 8))
    yield "circle-below", block(struct.pack("<HHII", 0x8769, 4, 1, 8), 1, struct.pack("<I", 8))
    yield (
        "interop-circle",
        block(struct.pack("<HHII", 0x8769, 4, 1, 8) + struct.pack("<HHII", 0xA005, 4, 1, 8), 2, bytes(4)),
    )
    yield (
        "resolution-by-zero",
        block(struct.pack("<HHIIII", 0x11A, 5, 1, 26, 1, 0)[:12], 1, bytes(4) + struct.pack("<II", 1, 0)),
    )
    yield "vast-count", block(struct.pack("<HHII", 0x9286, 7, 0xFFFFFFFF, 8), 1, bytes(4))
    yield "large", block(turn, 1, bytes(60_000))


def _metadata() -> Iterator[tuple[str, bytes]]:
    base, head = seeds()["jpg"], 2
    for name, exif in _exifs():
        app1 = b"\xff\xe1" + struct.pack(">H", len(exif) + 8) + b"Exif\0\0" + exif
        yield f"exif-{name}.jpg", base[:head] + app1 + base[head:]
        yield f"exif-{name}.png", png(9, 7, 8, 2, before=chunk(b"eXIf", exif))
        yield f"exif-{name}.webp", extended_webp(b"EXIF" + struct.pack("<I", len(exif)) + exif + bytes(len(exif) % 2))
        yield f"exif-{name}.tif", exif
    full = b"II*\0\x08\0\0\0" + struct.pack("<H", 5000) + struct.pack("<HHII", 0x112, 3, 1, 6) * 5000
    app1 = b"\xff\xe1" + struct.pack(">H", len(full) + 8) + b"Exif\0\0" + full
    yield "exif-300-times.jpg", base[:head] + app1 * 300 + base[head:]
    yield "exif-300-times.png", png(9, 7, 8, 2, before=chunk(b"eXIf", full) * 300)
    yield "exif-8-megabytes.png", png(9, 7, 8, 2, before=chunk(b"eXIf", full.ljust(8 * MEGABYTE, b"\0")))
    yield "many-chunks.png", png(9, 7, 8, 2, before=chunk(b"teSt") * 200_000)
    yield "many-texts.png", png(9, 7, 8, 2, before=chunk(b"tEXt", b"a\0b") * 9000)
    yield "many-segments.jpg", base[:head] + b"\xff\xe5\0\2" * 200_000 + base[head:]
    yield "many-comments.jpg", base[:head] + (b"\xff\xfe\xff\xff" + bytes(65533)) * 60 + base[head:]
    yield "many-chunks.webp", extended_webp(b"TEST\0\0\0\0" * 200_000)
    yield "profile-of-nonsense.jpg", jpeg("RGB", icc_profile=bytes(range(256)) * 40)
    yield "profile-of-nonsense.png", png(9, 7, 8, 2, before=chunk(b"iCCP", b"p\0\0" + zlib.compress(bytes(5000))))
    yield "profile-unpacked.png", png(9, 7, 8, 2, before=chunk(b"iCCP", b"p\0\0nonsense"))
    yield "profile-of-none.png", png(9, 7, 8, 2, before=chunk(b"iCCP", b""))
