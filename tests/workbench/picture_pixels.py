"""A picture's pixels: their number and SHA-256, so that a test can check that they are exact."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from calculators.declare import NEITHER, Calculator, measure, picture, words
from calculators.files.picture import Picture


@dataclass(frozen=True, kw_only=True)
class PicturePixelsInputs:
    picture: Picture | None = picture("Picture", pixels=True, without="nothing is read.")


@dataclass(frozen=True, kw_only=True)
class PicturePixelsOutputs:
    width_px: int | None = measure("Width", unit="px", decimals=0)
    height_px: int | None = measure("Height", unit="px", decimals=0)
    rgba_sha256: str | None = words("SHA-256 of the pixels")
    least_alpha: int | None = measure("Least alpha", decimals=0)


def picture_pixels(inputs: PicturePixelsInputs) -> PicturePixelsOutputs:
    """Return the size of the picture in pixels, the SHA-256 of its RGBA bytes and its least alpha (0 to 255)."""
    picture = inputs.picture
    if picture is None:
        return PicturePixelsOutputs(width_px=None, height_px=None, rgba_sha256=None, least_alpha=None)
    return PicturePixelsOutputs(
        width_px=picture.width_px,
        height_px=picture.height_px,
        rgba_sha256=hashlib.sha256(picture.rgba).hexdigest(),
        least_alpha=min(picture.rgba[3::4]),
    )


PICTURE_PIXELS = Calculator(
    id="picture-pixels",
    title="Which pixels?",
    summary="Reads the pixels of a picture.",
    stage="artwork",
    about=NEITHER,
    inputs=PicturePixelsInputs,
    outputs=PicturePixelsOutputs,
    compute=picture_pixels,
)
