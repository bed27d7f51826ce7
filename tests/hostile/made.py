"""Well-made picture files of every kind and form, written here so that nothing binary is stored.

They are what the page's decoder and Pillow are compared over, and what hostile files are cut and
spliced from. Sources of the forms: PNG (ISO/IEC 15948) 11 and 8 (Adam7), BMP (BITMAPINFOHEADER,
BITMAPV4HEADER), GIF89a, EXIF 2.32, Adobe technical note 5116 (the JPEG marker), from memory.
"""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from collections.abc import Iterator

from PIL import Image, ImageCms

#: Adam7: first column, first row, step across, step down of each pass (PNG, 8.2).
ADAM7 = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
SAMPLES = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}


def noise(count: int, seed: str = "film") -> bytes:
    """Return ``count`` reproducible bytes in which every value occurs."""
    return hashlib.shake_256(seed.encode()).digest(count)


def chunk(name: bytes, data: bytes = b"") -> bytes:
    """Return a chunk of a PNG file."""
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def png(
    width: int,
    height: int,
    bits: int,
    colour_type: int,
    *,
    interlaced: bool = False,
    before: bytes = b"",
    palette: int = 0,
    packed: bytes | None = None,
) -> bytes:
    """Return a PNG of noise; ``before`` are further chunks before the data, ``palette`` the count of its colours.

    ``packed`` replaces the compressed rows.
    """
    if packed is None:
        packed = zlib.compress(b"".join(_rows(width, height, bits, colour_type, interlaced, palette)))
    plte = chunk(b"PLTE", noise(3 * palette, "palette")) if palette else b""
    head = struct.pack(">IIBBBBB", width, height, bits, colour_type, 0, 0, int(interlaced))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + plte + before + chunk(b"IDAT", packed) + chunk(b"IEND")


def _rows(width: int, height: int, bits: int, colour_type: int, interlaced: bool, palette: int) -> Iterator[bytes]:
    per_pixel = SAMPLES[colour_type]
    most = palette or 1 << bits
    values = [value % most for value in noise(width * height * per_pixel * 2)]
    for left, top, across, down in ADAM7 if interlaced else ((0, 0, 1, 1),):
        for y in range(top, height, down):
            columns = range(left, width, across)
            if not columns:
                continue
            yield b"\0"
            row = []
            for x in columns:
                at = (y * width + x) * per_pixel
                row += values[at : at + per_pixel]
            if bits == 16:  # both bytes differ, to distinguish rounding from truncation
                yield b"".join(bytes((value & 255, 255 - value & 255)) for value in row)
                continue
            text = "".join(format(value, f"0{bits}b") for value in row)
            text += "0" * (-len(text) % 8)
            yield int(text, 2).to_bytes(len(text) // 8, "big")


def saved(mode: str, size: tuple[int, int], form: str, **options) -> bytes:
    """Return noise of ``mode`` as a file that Pillow wrote."""
    file = io.BytesIO()
    image(mode, size).save(file, form, **options)
    return file.getvalue()


def image(mode: str, size: tuple[int, int]) -> Image.Image:
    """Return noise as an image of Pillow; smooth colours for JPEG are in ``smooth``."""
    width, height = size
    bands = {"1": 1, "P": 1, "I;16": 2}.get(mode, len(mode))
    count = (width + 7) // 8 * height if mode == "1" else width * height * bands
    made = Image.frombytes(mode, size, noise(count, mode))
    if mode == "P":
        made.putpalette(noise(768, "palette"))
    return made


def smooth(mode: str, size: tuple[int, int]) -> Image.Image:
    """Return colours that change slowly, as in a photograph."""
    small = Image.frombytes("RGB", (6, 5), noise(90, "smooth"))
    return small.resize(size, Image.Resampling.BICUBIC).convert(mode)


def jpeg(mode: str, size: tuple[int, int] = (61, 47), **options) -> bytes:
    """Return a JPEG of slowly changing colours."""
    file = io.BytesIO()
    smooth(mode, size).save(file, "JPEG", **{"quality": 92, **options})
    return file.getvalue()


def turned(turn: int) -> Image.Exif:
    """Return EXIF with an orientation of 1 to 8."""
    exif = Image.Exif()
    exif[0x0112] = turn
    return exif


def bmp(
    width: int,
    height: int,
    bits: int,
    *,
    compression: int = 0,
    data: bytes | None = None,
    masks: tuple[int, ...] = (),
    header: int = 40,
) -> bytes:
    """Return a BMP of noise; negative ``height`` means from the top, ``masks`` those of BI_BITFIELDS."""
    palette = noise(4 << bits, "palette") if bits <= 8 else b""
    if data is None:
        data = noise((width * bits + 31) // 32 * 4 * abs(height))
    head = struct.pack("<IiiHHIIiiII", header, width, height, 1, bits, compression, len(data), 2835, 2835, 0, 0)
    more = b"".join(struct.pack("<I", mask) for mask in masks)
    more += bytes(header - 40 - len(more)) if header > 40 else b""
    offset = 14 + len(head) + len(more) + len(palette)
    return b"BM" + struct.pack("<IHHI", offset + len(data), 0, 0, offset) + head + more + palette + data


def profile(name: str) -> bytes:
    """Return an ICC profile: sRGB, one with red and green exchanged, one of wider
    colours, or a grey one of gamma 1.8.
    """
    if name == "grey":
        return _grey_profile()
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    if name == "swapped":
        return srgb.replace(b"rXYZ", b"tXYZ", 1).replace(b"gXYZ", b"rXYZ", 1).replace(b"tXYZ", b"gXYZ", 1)
    if name == "wide":
        # Primaries of Display P3, brought to D50 (SMPTE EG 432-1; from memory).
        columns = {
            b"rXYZ": (0.51512, 0.24120, -0.00105),
            b"gXYZ": (0.29198, 0.69225, 0.04189),
            b"bXYZ": (0.15710, 0.06657, 0.78407),
        }
        for tag, column in columns.items():
            at = struct.unpack_from(">I", srgb, srgb.index(tag) + 4)[0] + 8
            srgb = srgb[:at] + struct.pack(">3i", *(round(part * 65536) for part in column)) + srgb[at + 12 :]
    return srgb


def _grey_profile() -> bytes:
    """Return a profile with a white point and one tone curve (ICC.1:2004-10, 8.3.2)."""
    white = struct.pack(">4s4x3i", b"XYZ ", 63190, 65536, 54061)
    curve = struct.pack(">4s4xIH2x", b"curv", 1, round(1.8 * 256))
    tags = struct.pack(">I4sII4sII", 2, b"wtpt", 156, len(white), b"kTRC", 156 + len(white), len(curve))
    head = struct.pack(
        ">I4xI4s4s4s12x4s", 128 + len(tags) + len(white + curve), 0x02400000, b"mntr", b"GRAY", b"XYZ ", b"acsp"
    )
    return head.ljust(68, b"\0") + struct.pack(">3i", 63190, 65536, 54061).ljust(60, b"\0") + tags + white + curve


def gif(width: int = 23, height: int = 17, frames: int = 1, **options) -> bytes:
    """Return a GIF of one frame or more."""
    file = io.BytesIO()
    more = [image("P", (width, height)).point(lambda value, by=by: (value + by) % 256) for by in range(1, frames)]
    extra = {"save_all": True, "append_images": more, "duration": 100} if more else {}
    image("P", (width, height)).save(file, "GIF", **extra, **options)
    return file.getvalue()


#: Lossless files whose pixels in the page must equal Pillow's exactly: (name, media, bytes).
def lossless() -> Iterator[tuple[str, str, bytes]]:
    """Yield (name, media type, file) of lossless pictures that need no conversion except to 8 bits RGBA."""
    for colour_type, depths in ((0, (1, 2, 4, 8)), (2, (8,)), (3, (1, 2, 4, 8)), (4, (8,)), (6, (8,))):
        for bits in depths:
            for interlaced in (False, True):
                palette = 1 << bits if colour_type == 3 else 0
                name = f"png-type{colour_type}-{bits}bit{'-interlaced' if interlaced else ''}"
                yield f"{name}.png", "image/png", png(13, 17, bits, colour_type, interlaced=interlaced, palette=palette)
    yield (
        "png-palette-clear.png",
        "image/png",
        png(31, 9, 8, 3, palette=200, before=chunk(b"tRNS", noise(180, "clear"))),
    )
    yield "png-palette-clear-2bit.png", "image/png", png(31, 9, 2, 3, palette=4, before=chunk(b"tRNS", b"\0\x40\xff"))
    yield "png-grey-keyed.png", "image/png", png(31, 19, 8, 0, before=chunk(b"tRNS", b"\0" + noise(1)))
    yield "png-grey-keyed-1bit.png", "image/png", png(31, 19, 1, 0, before=chunk(b"tRNS", b"\0\1"))
    yield (
        "png-rgb-keyed.png",
        "image/png",
        png(31, 19, 8, 2, before=chunk(b"tRNS", b"".join(bytes((0, each)) for each in noise(3)))),
    )
    yield "png-gamma.png", "image/png", png(21, 9, 8, 6, before=chunk(b"gAMA", struct.pack(">I", 100000)))
    yield (
        "png-srgb.png",
        "image/png",
        png(21, 9, 8, 2, before=chunk(b"sRGB", b"\0") + chunk(b"gAMA", struct.pack(">I", 45455))),
    )
    for size in ((1, 1), (1, 7), (7, 1), (300, 201)):
        yield f"png-{size[0]}x{size[1]}.png", "image/png", png(*size, 8, 6)
    yield from _lossless_turned()
    yield from _lossless_gifs_and_bmps()


def _lossless_turned() -> Iterator[tuple[str, str, bytes]]:
    for turn in range(1, 9):
        yield f"png-turn{turn}.png", "image/png", saved("RGBA", (14, 9), "PNG", exif=turned(turn))
        yield (
            f"webp-turn{turn}.webp",
            "image/webp",
            saved("RGBA", (14, 9), "WEBP", lossless=True, exact=True, exif=turned(turn)),
        )
    yield "webp-rgb.webp", "image/webp", saved("RGB", (33, 21), "WEBP", lossless=True)
    yield "webp-rgba.webp", "image/webp", saved("RGBA", (33, 21), "WEBP", lossless=True, exact=True)
    for form, options in (("PNG", {}), ("WEBP", {"lossless": True, "exact": True})):
        more = [image("RGBA", (33, 21)).transpose(Image.Transpose.ROTATE_180)]
        yield (
            f"{form.lower()}-animated",
            f"image/{form.lower()}",
            saved("RGBA", (33, 21), form, save_all=True, append_images=more, duration=90, **options),
        )


def _lossless_gifs_and_bmps() -> Iterator[tuple[str, str, bytes]]:
    yield "gif.gif", "image/gif", gif()
    yield "gif-interlaced.gif", "image/gif", gif(interlace=1)
    yield "gif-clear.gif", "image/gif", gif(transparency=7)
    yield "gif-animated.gif", "image/gif", gif(frames=3, disposal=2)
    yield "gif-1x1.gif", "image/gif", gif(1, 1)
    yield "gif-part.gif", "image/gif", gif_part()
    for bits in (1, 4, 8, 16, 24, 32):
        yield f"bmp-{bits}bit.bmp", "image/bmp", bmp(13, 11, bits)
        yield f"bmp-{bits}bit-from-top.bmp", "image/bmp", bmp(13, -11, bits)
    yield "bmp-565.bmp", "image/bmp", bmp(13, 11, 16, compression=3, masks=(0xF800, 0x7E0, 0x1F))
    yield "bmp-fields.bmp", "image/bmp", bmp(13, 11, 32, compression=3, masks=(0xFF0000, 0xFF00, 0xFF))
    yield (
        "bmp-alpha.bmp",
        "image/bmp",
        bmp(13, 11, 32, compression=3, masks=(0xFF0000, 0xFF00, 0xFF, 0xFF000000), header=108),
    )
    yield (
        "bmp-rle8.bmp",
        "image/bmp",
        bmp(4, 3, 8, compression=1, data=bytes((4, 9, 0, 0, 0, 4, 1, 2, 3, 4, 0, 0, 2, 7, 2, 8, 0, 0, 0, 1))),
    )
    yield (
        "bmp-rle4.bmp",
        "image/bmp",
        bmp(4, 2, 4, compression=2, data=bytes((4, 0x12, 0, 0, 0, 4, 0x34, 0x56, 0, 0, 0, 1))),
    )


def gif_part() -> bytes:
    """Return a GIF whose one frame covers a part of its screen: the rest is clear."""
    whole = gif(8, 6)
    at = whole.index(b"\x2c", 13 + 3 * (2 << (whole[10] & 7)))
    return whole[:6] + struct.pack("<HH", 12, 9) + whole[10:at] + b"\x2c" + struct.pack("<HH", 3, 2) + whole[at + 5 :]


def lossy() -> Iterator[tuple[str, str, bytes]]:
    """Yield (name, media type, file) of pictures whose decoders may differ by a little."""
    yield "jpeg.jpg", "image/jpeg", jpeg("RGB")
    yield "jpeg-444.jpg", "image/jpeg", jpeg("RGB", subsampling=0)
    yield "jpeg-grey.jpg", "image/jpeg", jpeg("L")
    yield "jpeg-progressive.jpg", "image/jpeg", jpeg("RGB", progressive=True)
    yield "jpeg-1x1.jpg", "image/jpeg", jpeg("RGB", (1, 1))
    for turn in range(1, 9):
        yield f"jpeg-turn{turn}.jpg", "image/jpeg", jpeg("RGB", (40, 24), exif=turned(turn))
    file = io.BytesIO()
    smooth("RGB", (61, 47)).save(file, "WEBP", quality=90)
    yield "webp-lossy.webp", "image/webp", file.getvalue()


def converted() -> Iterator[tuple[str, str, bytes]]:
    """Yield (name, media type, file) of pictures that are converted on the way to 8 bits of sRGB."""
    for colour_type in (0, 2, 4, 6):
        yield f"png-type{colour_type}-16bit.png", "image/png", png(13, 17, 16, colour_type)
    yield "png-grey-keyed-16bit.png", "image/png", png(31, 19, 16, 0, before=chunk(b"tRNS", bytes((9, 246))))
    for name in ("sRGB", "swapped", "wide"):
        packed = b"profile\0\0" + zlib.compress(profile(name))
        yield f"png-profile-{name}.png", "image/png", png(13, 17, 8, 6, before=chunk(b"iCCP", packed))
        yield f"jpeg-profile-{name}.jpg", "image/jpeg", jpeg("RGB", icc_profile=profile(name))
    yield "jpeg-cmyk.jpg", "image/jpeg", jpeg("CMYK")
    grey = chunk(b"iCCP", b"grey\0\0" + zlib.compress(profile("grey")))
    for colour_type in (0, 4):
        yield f"png-profile-grey-type{colour_type}.png", "image/png", png(13, 17, 8, colour_type, before=grey)
    yield "jpeg-profile-grey.jpg", "image/jpeg", jpeg("L", icc_profile=profile("grey"))
    yield "jpeg-profile-grey-on-colours.jpg", "image/jpeg", jpeg("RGB", icc_profile=profile("grey"))
