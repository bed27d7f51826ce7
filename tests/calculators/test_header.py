"""Headers of picture files, against Pillow, which wrote and reads the same files."""

import io
import struct

import pytest
from PIL import Image, ImageOps

from calculators.files.header import BadHeader, CutShort, NotAPicture, read_header

MODES = {
    "PNG": ("1", "L", "LA", "P", "RGB", "RGBA", "I;16"),
    "JPEG": ("L", "RGB", "CMYK"),
    "GIF": ("P", "L"),
    "WebP": ("RGB", "RGBA"),
    "BMP": ("1", "L", "P", "RGB", "RGBA"),
    "TIFF": ("1", "L", "P", "RGB", "RGBA", "CMYK", "I;16"),
}
COLOURS = {
    "1": "grey",
    "L": "grey",
    "LA": "grey",
    "I;16": "grey",
    "P": "palette",
    "RGB": "rgb",
    "RGBA": "rgb",
    "CMYK": "cmyk",
}
SIZES = ((1, 1), (37, 21), (640, 480), (3, 2000))


def written(kind: str, mode: str, size: tuple[int, int], **options) -> bytes:
    file = io.BytesIO()
    Image.new(mode, size).save(file, kind, **options)
    return file.getvalue()


@pytest.mark.parametrize("size", SIZES, ids=str)
@pytest.mark.parametrize(("kind", "mode"), [(kind, mode) for kind, modes in MODES.items() for mode in modes])
def test_size_and_colour_are_those_of_pillow(kind, mode, size):
    header = read_header(written(kind, mode, size))
    assert (header.kind, header.width_px, header.height_px) == (kind, *size)
    if kind in ("PNG", "JPEG", "TIFF"):
        assert header.colour == COLOURS[mode]
    if kind in ("PNG", "TIFF", "WebP"):
        assert header.alpha == (mode in ("LA", "RGBA"))
    if mode == "I;16":
        assert header.bits == 16


@pytest.mark.parametrize("lossless", [True, False])
def test_webp_forms(lossless):
    plain = written("WebP", "RGB", (33, 44), lossless=lossless)
    extended = written("WebP", "RGBA", (33, 44), lossless=lossless, exif=b"Exif\0\0II*\0\x08\0\0\0\0\0")
    assert [read_header(each).width_px for each in (plain, extended)] == [33, 33]


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WebP", "TIFF"])
def test_exif_rotation_is_applied(kind, turn):
    exif = Image.Exif()
    exif[0x0112] = turn
    data = written(kind, "RGB", (40, 30), exif=exif)
    seen = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    header = read_header(data)
    assert (header.width_px, header.height_px) == seen.size
    assert header.orientation == turn


def test_jpeg_with_a_long_head_and_fill_bytes():
    data = written("JPEG", "RGB", (50, 60), progressive=True, icc_profile=bytes(150_000))
    assert read_header(data).height_px == 60
    filled = data[:2] + b"\xff\xff\xff" + data[3:]
    assert read_header(filled).height_px == 60


@pytest.mark.parametrize(
    "data",
    [
        b'<svg xmlns="http://www.w3.org/2000/svg"/>',
        b'<?xml version="1.0"?>\n<!-- drawn -->\n<svg:svg xmlns:svg="http://www.w3.org/2000/svg"></svg:svg>',
        '<?xml version="1.0" encoding="utf-16"?><svg />'.encode("utf-16"),
        b'\xef\xbb\xbf<!DOCTYPE svg [\n<!ENTITY a "b">\n]>\n<svg></svg>',
        b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd"><svg></svg>',
    ],
)
def test_svg_is_outlines(data):
    header = read_header(data)
    assert (header.kind, header.width_px, header.colour, header.holds_picture) == ("SVG", None, "outlines", False)


def test_svg_that_holds_a_picture():
    assert read_header(b'<svg xmlns="s"><image href="a.png"/></svg>').holds_picture


@pytest.mark.parametrize(
    ("data", "seen"),
    [
        (b"%PDF-1.7", "a PDF"),
        (b"\0\0\0\x18ftypheic", "a HEIC or AVIF picture or a film clip"),
        (b"hello there", "text"),
        (b"a page with <svg> in it", "text"),
        (b"<!-- <svg>", "text"),
        (b"\x89PNX\r\n", "something else"),
        (b"<html><body>", "a web page"),
    ],
)
def test_files_that_are_no_picture_are_reported(data, seen):
    with pytest.raises(NotAPicture, match=seen):
        read_header(data)


@pytest.mark.parametrize("kind", MODES)
def test_every_truncation_is_reported_or_read(kind):
    whole = written(kind, "RGB" if kind != "GIF" else "P", (64, 48))
    full = read_header(whole)
    for length in range(len(whole)):
        try:
            header = read_header(whole[:length])
        except (CutShort, NotAPicture, BadHeader):
            continue
        assert (header.width_px, header.height_px) == (full.width_px, full.height_px)


def test_no_width_is_a_bad_header():
    png = bytearray(written("PNG", "RGB", (5, 5)))
    png[16:20] = struct.pack(">I", 0)
    with pytest.raises(BadHeader):
        read_header(bytes(png))
