"""A picture for calculators: its bytes, its header and, on demand, its pixels.

Pixels come from the browser in the page and from Pillow elsewhere (``decoding.py``), the one way:
8 bits a channel, sRGB, RGBA, alpha straight, top row first.

- PNG, GIF, BMP and lossless WebP: the stored values, to the bit, under partial alpha too; GIF's
  clear pixels are 0, 0, 0, 0. JPEG and lossy WebP: as the decoder rounds, within 2 levels on average.
- 16 bits: the high byte of each. Fewer than 8, or 5 and 6 in a BMP: spread over 0 to 255, rounded.
- A colour profile of PNG, JPEG or WebP is converted to sRGB, perceptually; one that cannot be
  used, or does not fit the picture's colour model, is ignored. Without a profile the values
  count as sRGB; gamma and primaries of a PNG without profile are ignored.
- CMYK without a profile: each of red, green, blue is (1 - ink) x (1 - black).
- The turn is that of the header's EXIF. Of an animation it is the first picture, on a clear ground
  where it leaves parts of the whole uncovered.
- Outlines of SVG are read, where they will do, and drawn later, all in Python.
- TIFF is decoded by Pillow only; the page says so and asks for a PNG.
- A browser without WebGL rounds colours under partial alpha; what is opaque is exact there too.
"""

from __future__ import annotations

import sys
from collections.abc import Generator
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from typing import TYPE_CHECKING

from calculators import messages
from calculators.files.decoding import NoDecoder, Undecoded, can_decode, decoded
from calculators.files.header import BadHeader, CutShort, Header, NotAPicture, read_header
from calculators.files.unread import Unread
from calculators.values import Pixels, Wanted

if TYPE_CHECKING:
    from calculators.files.outline_reader import Outlines

#: Pixels are decoded only below these limits, checked in the header first.
MOST_SIDE_PX = 20_000
MOST_PIXELS = 64_000_000


@dataclass(frozen=True)
class Picture:
    """A picture file. ``rgba`` holds height x width x 4 bytes, top row first, sRGB, alpha straight.

    One of ``outlines`` has no pixels until it is drawn (``outline_pixels.py``).
    """

    name: str
    data: bytes
    header: Header
    rgba: bytes | None = None
    outlines: Outlines | None = None

    @cached_property
    def digest(self) -> str:
        """The digest of the file, which identifies its pixels."""
        return sha256(self.data).hexdigest()

    @property
    def width_px(self) -> int | None:
        return self.header.width_px

    @property
    def height_px(self) -> int | None:
        return self.header.height_px

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height. Raises ValueError for outlines, which have none before they are drawn."""
        if self.width_px is None or self.height_px is None:
            raise ValueError(f"{self.name} has outlines and no pixels")
        return self.width_px, self.height_px

    @property
    def pixels(self) -> bytes:
        """``rgba`` of a picture that was read with its pixels. Raises ValueError for another."""
        if self.rgba is None:
            raise ValueError(f"{self.name} was read without its pixels")
        return self.rgba

    def height_mm(self, width_mm: float) -> float:
        """Return how high it is where it is ``width_mm`` wide. Raises ValueError for outlines."""
        width, height = self.size_px
        return width_mm * height / width


class PictureTrouble(ValueError):
    """A picture that cannot be used; the text tells the reader why."""

    def __init__(self, text: str, hint: str) -> None:
        super().__init__(text)
        self.text, self.hint = text, hint


def read_picture(
    name: str,
    data: bytes,
    *,
    pixels: Pixels | None = None,
    wanted: bool = False,
    or_outlines: bool = False,
    any_outlines: bool = False,
) -> Picture:
    """Return the picture in ``data``, with its pixels where they are ``wanted``, or its outlines where they will do.

    With ``any_outlines`` an SVG's outlines are accepted without reading them.

    ``pixels`` are (width, height, RGBA) if already decoded, as in the page; otherwise Pillow decodes them. Raises
    PictureTrouble.
    """
    header = checked_header(name, data, wanted=wanted, or_outlines=or_outlines or any_outlines)
    if not wanted or (any_outlines and header.kind == "SVG"):
        return Picture(name, data, header)
    if header.kind == "SVG":
        # Every page has this module, but the reader of drawings is a part that comes with the first SVG file.
        from calculators.files.outline_reader import read_outlines

        try:
            return Picture(name, data, header, outlines=read_outlines(data))
        except Unread as trouble:
            raise PictureTrouble(trouble.message(name), trouble.hint) from None
    try:
        width, height, rgba = pixels or decoded(data, header)
        if (width, height) != (header.width_px, header.height_px) or len(rgba) != 4 * width * height:
            raise Undecoded("the size is not that of the header")
    except NoDecoder:
        if header.kind == "TIFF":
            text, hint = messages.NO_DECODER, messages.NO_DECODER_HINT
        elif sys.platform == "emscripten":  # the browser decodes and failed
            text, hint = messages.PIXELS_NOT_DECODED, messages.PIXELS_NOT_DECODED_HINT
        else:
            text, hint = messages.PIXELS_NOT_DECODED, messages.INSTALL_PICTURES
        raise PictureTrouble(text.format(name=name, kind=header.kind), hint) from None
    except Undecoded as trouble:
        raise PictureTrouble(
            messages.PIXELS_NOT_DECODED.format(name=name), messages.PIXELS_NOT_DECODED_HINT
        ) from trouble
    return Picture(name, data, header, bytes(rgba))


def decoded_picture(name: str, data: bytes) -> Generator[Wanted, Pixels | None, Picture]:
    """Return the picture in ``data`` with its pixels, or with its outlines, as ``read_picture`` does.

    It is for pictures that no field holds. Where no decoder is at hand it waits for one that is sent its ``Wanted``, so
    that no more than one picture's pixels are on their way. Raises PictureTrouble.
    """
    header = checked_header(name, data, wanted=True, or_outlines=True)
    pixels = None
    if header.kind != "SVG" and not can_decode():
        pixels = yield Wanted(name, f"image/{header.kind.lower()}", data, header.orientation, header.profiled)
    return read_picture(name, data, pixels=pixels, wanted=True, or_outlines=True)


def checked_header(name: str, data: bytes, *, wanted: bool, or_outlines: bool = False) -> Header:
    """Return the header of the picture in ``data``, small enough to decode where
    pixels are ``wanted``, or outlines will do.

    Raises PictureTrouble.
    """
    try:
        header = read_header(data)
    except NotAPicture as trouble:
        raise PictureTrouble(
            messages.NOT_A_PICTURE.format(name=name), messages.PICTURE_KINDS.format(seen=trouble)
        ) from None
    except CutShort as trouble:
        raise PictureTrouble(messages.CUT_SHORT.format(name=name, kind=trouble.kind), messages.CUT_SHORT_HINT) from None
    except BadHeader as trouble:
        raise PictureTrouble(
            messages.BAD_HEADER.format(name=name, kind=trouble.kind), messages.BAD_HEADER_HINT
        ) from None
    if not wanted or (or_outlines and header.kind == "SVG"):
        return header
    if header.width_px is None or header.height_px is None:
        raise PictureTrouble(messages.OUTLINES_HAVE_NO_PIXELS.format(name=name), messages.OUTLINES_HAVE_NO_PIXELS_HINT)
    if max(header.width_px, header.height_px) > MOST_SIDE_PX or header.width_px * header.height_px > MOST_PIXELS:
        raise PictureTrouble(
            messages.TOO_MANY_PIXELS.format(name=name, width_px=header.width_px, height_px=header.height_px),
            messages.TOO_MANY_PIXELS_HINT.format(most_px=MOST_SIDE_PX, megapixels=MOST_PIXELS // 1_000_000),
        )
    return header
