"""The pictures of the design as files, each with the same picture as it would be had no JPEG come in."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy
from PIL import Image, ImageFilter

from tests.corpus import own_drawings, package_drawings
from tests.corpus.drawings import Drawing, rendered
from tests.corpus.pictures import sources
from tests.corpus.web_design import AGAIN_QUALITY, JPEG, Case, cases

_KERNELS = {
    "nearest": Image.Resampling.NEAREST,
    "bilinear": Image.Resampling.BILINEAR,
    "bicubic": Image.Resampling.BICUBIC,
    "lanczos": Image.Resampling.LANCZOS,
}
#: Pillow's names for how many pixels share their chroma.
_CHROMAS = {"4:4:4": 0, "4:2:0": 2}
#: Pixel art is left out of the originals: nothing tells it from an enlarged picture.
_ORIGINAL_KINDS = ("photograph", "flat", "soft")
ORIGINALS_PX = 300


@dataclass(frozen=True)
class WebPicture:
    """A file, the pixels read back from it, and those of the picture without loss, height x width x 4."""

    data: bytes
    pixels: numpy.ndarray
    lossless: numpy.ndarray


@cache
def drawings() -> Mapping[str, Drawing]:
    """Return every drawing that is installed, by name."""
    return {each.name: each for each in [*own_drawings.drawings(), *package_drawings.drawings()]}


@cache
def originals() -> Mapping[str, numpy.ndarray]:
    """Return pictures that nobody enlarged and nobody here drew for this, by name."""
    return {each.name: each.pixels for each in sources(most_px=ORIGINALS_PX) if each.kind in _ORIGINAL_KINDS}


def every_case() -> list[Case]:
    """Return the whole design."""
    return cases(list(drawings().values()), list(originals()))


def made(case: Case) -> WebPicture:
    """Return the picture of a case."""
    image = _drawn(case)
    kernel = _KERNELS.get(case.kernel)
    size = tuple(max(1, round(side * case.factor)) for side in image.size)
    lossless = image.resize(size, kernel) if kernel is not None else image
    if not case.quality:
        return _saved(lossless, lossless)
    if case.factor < 1:
        return _saved(_opened(_jpeg(image, case.quality, case.chroma)).resize(size, kernel), lossless)
    data = _jpeg(lossless, case.quality, case.chroma)
    if case.again:
        data = _jpeg(_opened(data), AGAIN_QUALITY, case.chroma)
    if case.file == JPEG:
        return WebPicture(data, numpy.asarray(_opened(data)), numpy.asarray(lossless))
    return _saved(_opened(data), lossless)


def _drawn(case: Case) -> Image.Image:
    if case.drawing in originals():
        image = Image.fromarray(originals()[case.drawing])
        return image.filter(ImageFilter.GaussianBlur(case.blur)) if case.blur else image
    drawing = drawings()[case.drawing]
    return Image.fromarray(rendered(drawing.svg, *drawing.size(case.size_px), case.renderer, clear=case.clear))


def _jpeg(image: Image.Image, quality: int, chroma: str) -> bytes:
    file = io.BytesIO()
    image.convert("RGB").save(file, "JPEG", quality=quality, subsampling=_CHROMAS[chroma])
    return file.getvalue()


def _opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data)).convert("RGBA")


def _saved(image: Image.Image, lossless: Image.Image) -> WebPicture:
    file = io.BytesIO()
    opaque = image.getextrema()[3][0] == 255
    (image.convert("RGB") if opaque else image).save(file, "PNG")
    return WebPicture(file.getvalue(), numpy.asarray(image), numpy.asarray(lossless))
