"""Generated picture files that lie, are truncated, loop or explode; each name says what is wrong."""

from __future__ import annotations

import gzip
import io
import struct
import zlib
from collections.abc import Iterator
from functools import cache

from PIL import Image

from tests.hostile.made import bmp, chunk, gif, image, jpeg, png, saved, smooth

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
    }


def webp(mode: str, **options) -> bytes:
    file = io.BytesIO()
    smooth(mode, (61, 47)).save(file, "WEBP", **options)
    return file.getvalue()


RLE8 = bmp(4, 3, 8, compression=1, data=bytes((4, 9, 0, 0, 0, 4, 1, 2, 3, 4, 0, 0, 2, 7, 2, 8, 0, 0, 0, 1)))


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
        _jpegs,
        _pngs,
        _bmps,
        _tiffs,
        _svgs,
        _webps,
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
    yield "vast.bmp", _bmp_claiming(30_000, 30_000)
    yield "vast-down.bmp", _bmp_claiming(30_000, -0x80000000)
    yield "vast.jpg", _jpeg_claiming(65535, 65535)
    yield "vast.webp", b"RIFF\x1e\0\0\0WEBPVP8X\x0a\0\0\0\x10\0\0\0\xff\xff\xff\xff\xff\xff"
    yield "vast.tif", _tiff([(256, 4, 1, 30_000), (257, 4, 1, 30_000), (258, 3, 1, 8), (273, 4, 1, 8), (279, 4, 1, 10)])
    # Within the limits, but without the claimed data.
    yield "hollow.png", png(8000, 8000, 8, 6, packed=zlib.compress(b""))
    yield "hollow-interlaced.png", png(8000, 8000, 16, 6, interlaced=True, packed=zlib.compress(bytes(64)))
    yield "hollow.gif", b"GIF89a" + struct.pack("<HH", 8000, 8000) + gif()[10:13] + b";"
    yield "hollow.bmp", _bmp_claiming(8000, 8000)
    yield "hollow.jpg", _jpeg_claiming(8000, 8000)
    yield (
        "hollow.tif",
        _tiff(
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
    many = zlib.compress(bytes(200 * MEGABYTE), 9)
    yield "bomb-ztxt.png", png(9, 9, 8, 6, before=chunk(b"zTXt", b"Comment\0\0" + many))
    yield "bomb-itxt.png", png(9, 9, 8, 6, before=chunk(b"iTXt", b"Comment\0\1\0\0\0" + many))
    yield "bomb-iccp.png", png(9, 9, 8, 2, before=chunk(b"iCCP", b"profile\0\0" + many))
    yield (
        "bomb-ztxt-many.png",
        png(9, 9, 8, 6, before=chunk(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(900_000))) * 200),
    )
    yield "bomb-idat.png", png(9, 9, 8, 6, packed=many)
    yield "bomb-svg.svgz", gzip.compress(b"<svg>" + bytes(200 * MEGABYTE), mtime=0)
    yield "bomb-before-svg.svgz", gzip.compress(b" " * (200 * MEGABYTE) + SVG, mtime=0)
    yield "bomb-gzip-in-gzip.svgz", gzip.compress(gzip.compress(b" " * (50 * MEGABYTE) + SVG, mtime=0), mtime=0)
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
    yield "bomb.tif", _tiff(entries).ljust(400, b"\0") + many
    yield "blank-64-megapixels.png", png(8000, 8000, 1, 0, packed=zlib.compress(bytes(1001 * 8000), 9))
    yield "blank.webp", _saved(Image.new("RGB", (8000, 8000)), "WEBP", lossless=True)


def _animated() -> Iterator[tuple[str, bytes]]:
    frames = [image("RGB", (16, 12)).point(lambda value, by=by: value ^ by) for by in range(60)]
    for form in ("GIF", "PNG", "WEBP"):
        yield f"animated.{form.lower()}", _saved(frames[0], form, save_all=True, append_images=frames[1:], duration=40)
    yield (
        "later-frame-vast.gif",
        gif()[:-1] + b"\x2c" + struct.pack("<HHHHB", 0, 0, 65535, 65535, 0) + b"\x02\x02\x4c\x01\0;",
    )
    yield "frame-beyond-screen.gif", gif(8, 6)[:6] + struct.pack("<HH", 2, 2) + gif(8, 6)[10:]
    yield "screen-of-none.gif", b"GIF89a" + bytes(4) + gif()[10:]
    yield "endless-blocks.gif", gif()[:-1] + b"\x21\xfe" + (b"\xff" + bytes(255)) * 4000
    yield "many-comments.gif", gif()[: 13 + 768] + b"\x21\xfe\x01 \0" * 100_000 + gif()[13 + 768 :]
    for form in ("PNG", "JPEG", "GIF", "WEBP", "BMP", "TIFF"):
        yield f"one-pixel.{form.lower()}", _saved(Image.new("RGB", (1, 1)), form)


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
        yield f"exif-{name}.webp", _extended_webp(b"EXIF" + struct.pack("<I", len(exif)) + exif + bytes(len(exif) % 2))
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
    yield "many-chunks.webp", _extended_webp(b"TEST\0\0\0\0" * 200_000)
    yield "profile-of-nonsense.jpg", jpeg("RGB", icc_profile=bytes(range(256)) * 40)
    yield "profile-of-nonsense.png", png(9, 7, 8, 2, before=chunk(b"iCCP", b"p\0\0" + zlib.compress(bytes(5000))))
    yield "profile-unpacked.png", png(9, 7, 8, 2, before=chunk(b"iCCP", b"p\0\0nonsense"))
    yield "profile-of-none.png", png(9, 7, 8, 2, before=chunk(b"iCCP", b""))


def _jpegs() -> Iterator[tuple[str, bytes]]:
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
    yield "no-tables.jpg", base[:2] + base[frame : frame + 19] + base[scan:]
    yield "no-end.jpg", base[:-2]
    yield "scan-of-nothing.jpg", base[: scan + 14] + b"\xff\xd9"
    yield "scan-of-ones.jpg", base[: scan + 14] + b"\xff\0" * MEGABYTE
    yield "adobe-short.jpg", base[:2] + b"\xff\xee\0\7Adobe" + base[2:]
    cmyk = seeds()["cmyk.jpg"]
    yield "ycck.jpg", cmyk.replace(b"Adobe\0d\0\0\0\0\0", b"Adobe\0d\0\0\0\0\2", 1)
    yield "cmyk-without-adobe.jpg", cmyk.replace(b"Adobe", b"Abode", 1)
    yield "garbage-after-frame.jpg", base[: frame + 19] + b"nonsense" + base[frame + 19 :]


def _pngs() -> Iterator[tuple[str, bytes]]:
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


def _bmp_claiming(width: int, height: int) -> bytes:
    return (
        b"BM"
        + struct.pack("<IHHI", 54, 0, 0, 54)
        + struct.pack("<IiiHHIIiiII", 40, width, height, 1, 24, 0, 0, 0, 0, 0, 0)
        + bytes(9)
    )


def _bmps() -> Iterator[tuple[str, bytes]]:
    yield "from-top.bmp", bmp(9, -7, 24)
    yield "width-below-0.bmp", _bmp_claiming(-9, 9)
    yield "height-0.bmp", _bmp_claiming(9, 0)
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


def _tiff(entries: list[tuple[int, int, int, int]], order: str = "<", after: int = 0) -> bytes:
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


def _tiffs() -> Iterator[tuple[str, bytes]]:
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
        yield f"{name}-endian.tif", _tiff(plain, order).ljust(200, b"\0") + bytes(range(63))
    yield "big.tif", b"II+\0\x08\0\0\0" + struct.pack("<QQ", 16, 1) + bytes(20)
    yield "loop.tif", _tiff(plain, after=8).ljust(200, b"\0") + bytes(63)
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
        yield f"{name}.tif", _tiff(entries).ljust(200, b"\0") + bytes(range(63))
    yield "tiles-of-none.tif", _tiff([*plain[:5], (322, 3, 1, 0), (323, 3, 1, 0), (324, 4, 1, 8), (325, 4, 1, 8)])
    yield "floats.tif", _saved(Image.new("F", (9, 7), 0.5), "TIFF")
    yield "sixteen-bits.tif", saved("I;16", (9, 7), "TIFF")
    yield "inks.tif", saved("CMYK", (9, 7), "TIFF")
    yield "many-pages.tif", _saved(image("L", (9, 7)), "TIFF", save_all=True, append_images=[image("L", (9, 7))] * 40)


def _svgs() -> Iterator[tuple[str, bytes]]:
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
    for name, paths in _outlines():
        yield name, f'<svg width="9mm" height="9mm" viewBox="0 0 9 9">{paths}</svg>'.encode()
    yield "packed-nonsense.svgz", b"\x1f\x8b\x08" + bytes(range(100))
    yield "packed-text.svgz", gzip.compress(b"no drawing", mtime=0)
    yield "packed-cut.svgz", gzip.compress(SVG * 50, mtime=0)[:80]
    yield "packed-twice.svgz", gzip.compress(SVG, mtime=0) * 2000


def _outlines() -> Iterator[tuple[str, str]]:
    """Filled paths that are costly or impossible to draw."""
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


def _extended_webp(chunks: bytes) -> bytes:
    plain = saved("RGB", (9, 7), "WEBP", lossless=True)
    body = b"WEBPVP8X" + struct.pack("<IB3x", 10, 8) + b"\x08\0\0\x06\0\0" + chunks + plain[12:]
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _webps() -> Iterator[tuple[str, bytes]]:
    for name in (b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM"):
        yield f"alone-{name.decode().strip()}.webp", b"RIFF\xff\xff\xff\xffWEBP" + name + bytes(40)
    base = seeds()["webp"]
    yield "size-lies.webp", base[:4] + b"\1\0\0\0" + base[8:]
    yield "chunk-size-lies.webp", base[:16] + b"\xff\xff\xff\x7f" + base[20:]
    yield "lossless-of-nothing.webp", base[:25] + bytes(len(base) - 25)
    yield (
        "screen-larger-than-picture.webp",
        _extended_webp(b"").replace(b"\x08\0\0\x06\0\0", b"\xff\x1f\0\xff\x1f\0", 1),
    )


def _jpeg_claiming(width: int, height: int) -> bytes:
    base = seeds()["jpg"]
    frame = base.index(b"\xff\xc0")
    return base[: frame + 5] + struct.pack(">HH", height, width) + base[frame + 9 :]


def _saved(made: Image.Image, form: str, **options) -> bytes:
    file = io.BytesIO()
    made.save(file, form, **options)
    return file.getvalue()
