"""A picture as a calculator gets it: its bytes, what its header says and, on demand, its pixels."""

from __future__ import annotations

import io
from dataclasses import dataclass

from calculators import messages
from calculators.files.header import BadHeader, CutShort, Header, NotAPicture, read_header

#: Pixels are decoded only below these limits, which are looked up in the header first.
MOST_SIDE_PX = 20_000
MOST_PIXELS = 64_000_000


@dataclass(frozen=True)
class Picture:
    """A picture file. ``rgba`` holds height x width x 4 bytes, top row first, sRGB, alpha straight."""

    name: str
    data: bytes
    header: Header
    rgba: bytes | None = None

    @property
    def width_px(self) -> int | None:
        return self.header.width_px

    @property
    def height_px(self) -> int | None:
        return self.header.height_px


class PictureTrouble(ValueError):
    """Why a picture cannot be used, in words for the reader."""

    def __init__(self, text: str, hint: str) -> None:
        super().__init__(text)
        self.text, self.hint = text, hint


def read_picture(
    name: str, data: bytes, *, pixels: tuple[int, int, bytes] | None = None, wanted: bool = False
) -> Picture:
    """Return the picture in ``data``, with its pixels where they are ``wanted``.

    ``pixels`` are (width, height, RGBA) where somebody decoded them already (the page does);
    otherwise Pillow decodes them. Raises PictureTrouble.
    """
    header = checked_header(name, data, wanted=wanted)
    if not wanted:
        return Picture(name, data, header)
    width, height, rgba = pixels or _decoded(name, data)
    if (width, height) != (header.width_px, header.height_px) or len(rgba) != 4 * width * height:
        raise PictureTrouble(
            messages.PIXELS_NOT_DECODED.format(name=name), messages.PIXELS_NOT_DECODED_HINT
        )
    return Picture(name, data, header, bytes(rgba))


def checked_header(name: str, data: bytes, *, wanted: bool) -> Header:
    """Return the header of the picture in ``data``, small enough to decode where pixels are ``wanted``.

    Raises PictureTrouble.
    """
    try:
        header = read_header(data)
    except NotAPicture as trouble:
        raise PictureTrouble(
            messages.NOT_A_PICTURE.format(name=name), messages.PICTURE_KINDS.format(seen=trouble)
        ) from None
    except CutShort as trouble:
        raise PictureTrouble(
            messages.CUT_SHORT.format(name=name, kind=trouble.kind), messages.CUT_SHORT_HINT
        ) from None
    except BadHeader as trouble:
        raise PictureTrouble(
            messages.BAD_HEADER.format(name=name, kind=trouble.kind), messages.BAD_HEADER_HINT
        ) from None
    if not wanted:
        return header
    if header.width_px is None or header.height_px is None:
        raise PictureTrouble(
            messages.OUTLINES_HAVE_NO_PIXELS.format(name=name), messages.OUTLINES_HAVE_NO_PIXELS_HINT
        )
    if max(header.width_px, header.height_px) > MOST_SIDE_PX or header.width_px * header.height_px > MOST_PIXELS:
        raise PictureTrouble(
            messages.TOO_MANY_PIXELS.format(name=name, width_px=header.width_px, height_px=header.height_px),
            messages.TOO_MANY_PIXELS_HINT.format(most_px=MOST_SIDE_PX, megapixels=MOST_PIXELS // 1_000_000),
        )
    return header


def _decoded(name: str, data: bytes) -> tuple[int, int, bytes]:
    """Return (width, height, RGBA) by Pillow, which a checkout has and the page has not."""
    try:
        from PIL import Image, ImageOps

        with Image.open(io.BytesIO(data)) as opened:
            image = ImageOps.exif_transpose(opened).convert("RGBA")
        return image.width, image.height, image.tobytes()
    except Exception as trouble:  # a decoder may raise anything on a damaged file
        raise PictureTrouble(
            messages.PIXELS_NOT_DECODED.format(name=name), messages.PIXELS_NOT_DECODED_HINT
        ) from trouble
