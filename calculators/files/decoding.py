"""Decodes pixels with Pillow outside a browser; the same as in the page (see ``picture.py``)."""

from __future__ import annotations

import io
import warnings
from typing import TYPE_CHECKING

from calculators.files.header import Header

if TYPE_CHECKING:
    from PIL import Image

#: What Pillow calls the turn that each EXIF orientation asks for (EXIF 2.32, 4.6.4).
_TURNS = {
    2: "FLIP_LEFT_RIGHT",
    3: "ROTATE_180",
    4: "FLIP_TOP_BOTTOM",
    5: "TRANSPOSE",
    6: "ROTATE_270",
    7: "TRANSVERSE",
    8: "ROTATE_90",
}
#: Colours of a profile (ICC.1:2004-10, table 15) by the modes that it fits.
_PROFILE_COLOURS = {"RGB ": ("RGB", "RGBA"), "GRAY": ("L", "LA"), "CMYK": ("CMYK",)}


class Undecoded(ValueError):
    """The pixels cannot be made of these bytes."""


class NoDecoder(Undecoded):
    """Pillow is not here."""


def can_decode() -> bool:
    """Return whether Pillow is here."""
    try:
        import PIL  # noqa: F401 - only whether it is there counts
    except ImportError:
        return False
    return True


def decoded(data: bytes, header: Header) -> tuple[int, int, bytes]:
    """Return (width, height, RGBA) of the picture in ``data``, upright.

    Nothing larger than the header says is ever decoded. Raises Undecoded.
    """
    try:
        from PIL import Image
    except ImportError:
        raise NoDecoder from None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data), formats=[header.kind.upper()]) as opened:
                if opened.size not in ((header.width_px, header.height_px), (header.height_px, header.width_px)):
                    raise Undecoded("the decoder reads another size than the header says")
                image = _rgba(opened, header)
            if header.orientation in _TURNS:
                image = image.transpose(Image.Transpose[_TURNS[header.orientation]])
        return image.width, image.height, image.tobytes()
    except Exception as trouble:  # a decoder may raise anything on a damaged file
        raise Undecoded(str(trouble)) from trouble


def _rgba(opened: Image.Image, header: Header) -> Image.Image:
    """Return the stored picture as RGBA, its profile applied."""
    from PIL import Image

    profile, key = opened.info.get("icc_profile"), opened.info.get("transparency")
    part, raw = _first_tile(opened)
    opened.load()
    image = opened
    if image.mode.startswith("I;16") or (image.mode == "I" and header.bits == 16):
        image = _high_bytes(image, key)
    elif image.mode in ("I", "F"):
        raise Undecoded("numbers that are no brightness")
    if image.mode in ("1", "P", "PA") or "transparency" in image.info:
        image = image.convert("RGBA")
    if raw in ("BGR;15", "BGR;16"):
        image = _spread(image, raw)
    if profile:
        image = _by_profile(image, profile)
    image = image if image.mode == "RGBA" else image.convert("RGBA")
    if header.kind == "GIF":
        ground = Image.new("RGBA", image.size)
        whole = image.crop(part)
        ground.paste(whole, part[:2], whole.getchannel("A").point(lambda level: 255 if level else 0))
        image = ground
    return image


def _first_tile(opened: Image.Image) -> tuple[tuple[int, int, int, int], str]:
    """Return the position of the first tile of data, and how its pixels are stored."""
    tiles = getattr(opened, "tile", ())
    if not tiles:
        return (0, 0, *opened.size), ""
    _name, part, _offset, settings = tiles[0]
    raw = settings[0] if isinstance(settings, tuple) and settings else settings
    return part, raw if isinstance(raw, str) else ""


def _high_bytes(image: Image.Image, key: object) -> Image.Image:
    """Return the high bytes of 16 bits, clear where a pixel is ``key`` to the last bit."""
    whole = image.convert("I")
    grey = whole.point([value >> 8 for value in range(65536)], "L")
    if not isinstance(key, int):
        return grey
    made = grey.convert("LA")
    made.putalpha(whole.point([0 if value == key else 255 for value in range(65536)], "L"))
    return made


def _spread(image: Image.Image, raw: str) -> Image.Image:
    """Return 5 and 6 bits spread over 0 to 255 rounded; Pillow cuts."""
    fives, sixes = ({value * 255 // most: round(value * 255 / most) for value in range(most + 1)} for most in (31, 63))
    green = fives if raw == "BGR;15" else sixes
    return image.point([table.get(level, level) for table in (fives, green, fives) for level in range(256)])


def _by_profile(image: Image.Image, profile: bytes) -> Image.Image:
    """Return ``image`` in sRGB, or as it is where the profile cannot be used for it."""
    from PIL import ImageCms

    try:
        stated = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if image.mode not in _PROFILE_COLOURS.get(stated.profile.xcolor_space, ()):
            return image
        base = image.convert("L") if image.mode == "LA" else image
        mode = "RGBA" if image.mode == "RGBA" else "RGB"
        made = ImageCms.profileToProfile(base, stated, ImageCms.createProfile("sRGB"), outputMode=mode)
    except (OSError, ImageCms.PyCMSError):
        return image
    if made is None:
        return image
    if image.mode == "LA":
        made.putalpha(image.getchannel("A"))
    return made
