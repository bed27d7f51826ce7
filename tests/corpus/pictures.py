"""Sample pictures for measuring the detail estimate: where they come from, their halves, and how they are enlarged.

Nothing is stored here. Photographs and scans come with the test libraries (scikit-image and
networkx ship them inside their packages), flat art is the project's own drawings turned into
pixels, and further folders may be named. Each picture belongs to the tuning half or to the test
half by a hash of its name, so nobody chooses; the detector was tuned on the tuning half alone.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import cv2
import networkx
import numpy
import resvg_py
import skimage
from PIL import Image
from skimage.transform import resize

ROOT = Path(__file__).resolve().parents[2]
METHODS = ("nearest", "bilinear", "bicubic")
#: Three resamplers, since they differ in the kernel (cubic: -0.5, -0.75, B-spline) and in where a pixel's middle lies.
RESAMPLERS = ("pillow", "opencv", "skimage")

_PILLOW = {
    "nearest": Image.Resampling.NEAREST,
    "bilinear": Image.Resampling.BILINEAR,
    "bicubic": Image.Resampling.BICUBIC,
}
_OPENCV = {"nearest": cv2.INTER_NEAREST, "bilinear": cv2.INTER_LINEAR, "bicubic": cv2.INTER_CUBIC}
_SKIMAGE = {"nearest": 0, "bilinear": 1, "bicubic": 3}

#: Pictures in scikit-image that are no photographs; a board of squares is drawn as pixel art is.
_SKIMAGE_KINDS = {
    "logo": "flat",
    "horse": "flat",
    "text": "flat",
    "page": "flat",
    "phantom": "flat",
    "chessboard_GRAY": "pixel-art",
    "chessboard_RGB": "pixel-art",
}

#: The longest side that a source may have; larger ones are made smaller by a whole factor.
MOST_PX = 480
#: The drawings of the pages that are sources, by name, so that a new one does not move the figures.
FIGURES = (
    "film-slides-off",
    "full-size-and-model-size",
    "hard-and-soft-edges",
    "one-arcminute",
    "pixel-steps",
    "thinnest-stroke",
    "what-lies-beneath",
)
#: Halved and doubled again, a picture that keeps this much (dB) had nothing in its finest detail: a soft original.
SOFT_DB = 40.0


@dataclass(frozen=True)
class Source:
    """A picture that nobody enlarged: ``pixels`` is height x width x 4, RGBA."""

    name: str
    kind: str
    pixels: numpy.ndarray

    @property
    def half(self) -> str:
        """Return "tuning" or "test", by the name alone."""
        return "test" if hashlib.sha256(self.name.encode()).digest()[0] % 2 else "tuning"


def sources(*folders: Path, most_px: int = MOST_PX) -> list[Source]:
    """Return every source: photograph, flat, soft, pixel-art, the whole of each. Pictures in ``folders`` are added.

    Blank ones are left out.
    """
    found = [*_photographs(most_px), *_plots(most_px), *_drawings(most_px), *_pixel_art()]
    found += [each for folder in folders for each in _from_folder(folder, most_px)]
    return [_judged(each) for each in found if numpy.ptp(each.pixels[..., :3])]


def enlarged(pixels: numpy.ndarray, method: str, factor: float, resampler: str) -> numpy.ndarray:
    """Return ``pixels`` enlarged ``factor`` times, RGBA, by one of the three libraries."""
    height, width = round(pixels.shape[0] * factor), round(pixels.shape[1] * factor)
    if resampler == "pillow":
        return numpy.asarray(Image.fromarray(pixels).resize((width, height), _PILLOW[method]))
    if resampler == "opencv":
        return cv2.resize(pixels, (width, height), interpolation=_OPENCV[method])
    made = resize(pixels / 255.0, (height, width), order=_SKIMAGE[method], mode="edge", anti_aliasing=False)
    return numpy.clip(numpy.rint(made * 255), 0, 255).astype(numpy.uint8)


def as_jpeg(pixels: numpy.ndarray, quality: int) -> tuple[bytes, numpy.ndarray]:
    """Return the picture saved as JPEG, and what is read back from it."""
    file = io.BytesIO()
    Image.fromarray(pixels[..., :3]).save(file, "JPEG", quality=quality)
    return file.getvalue(), numpy.asarray(Image.open(file).convert("RGBA"))


def _photographs(most_px: int) -> Iterator[Source]:
    """Lossless ones as they are; JPEGs made smaller, three times at least, which leaves no trace of their squares."""
    folder = Path(skimage.__file__).parent / "data"
    for path in sorted([*folder.glob("*.png"), *folder.glob("*.jpg")]):
        kind = _SKIMAGE_KINDS.get(path.stem, "photograph")
        yield Source(f"skimage/{path.name}", kind, _opened(path, most_px))


def _plots(most_px: int) -> Iterator[Source]:
    folder = Path(networkx.__file__).parent / "drawing" / "tests" / "baseline"
    for path in sorted(folder.glob("*.png")):
        yield Source(f"networkx/{path.name}", "flat", _opened(path, most_px))


def _drawings(most_px: int) -> Iterator[Source]:
    """The project's own drawings and artwork, as pixels with smooth edges on a grey ground."""
    figures = (ROOT / "content" / "figures" / f"{name}.svg" for name in FIGURES)
    for path in [*sorted(ROOT.glob("content/demo/*.svg")), *figures, ROOT / "theme" / "logo.svg"]:
        without_size = re.sub(r' (width|height)="[\d.]+mm"', "", path.read_text(), count=2)
        drawn = bytes(resvg_py.svg_to_bytes(svg_string=without_size, width=most_px, background="#bbbbbb"))
        image = Image.open(io.BytesIO(drawn)).convert("RGBA")
        yield Source(f"drawn/{path.name}", "flat", numpy.asarray(image))


def _pixel_art() -> Iterator[Source]:
    """Small figures of square blocks, as such art is published: nobody can tell it from an enlarged picture."""
    for number in range(8):
        rng = numpy.random.default_rng(number)
        half = rng.integers(0, 5, (24, 12))
        figure = numpy.concatenate([half, half[:, ::-1]], axis=1)
        colours = rng.integers(0, 256, (5, 3))
        block = (4, 6, 8, 10)[number % 4]
        rgb = numpy.kron(colours[figure].astype(numpy.uint8), numpy.ones((block, block, 1), numpy.uint8))
        yield Source(f"pixel-art/{number}", "pixel-art", _with_alpha(rgb))


def _from_folder(folder: Path, most_px: int) -> Iterator[Source]:
    for path in sorted(each for each in folder.rglob("*") if each.suffix in {".png", ".jpg"}):
        yield Source(f"{folder.name}/{path.name}", "photograph", _opened(path, most_px))


def _opened(path: Path, most_px: int) -> numpy.ndarray:
    with Image.open(path) as opened:
        image = opened.convert("RGBA")
        least = 3 if path.suffix == ".jpg" else 1
        return numpy.asarray(image.reduce(max(least, -(-max(image.size) // most_px))))


def _with_alpha(rgb: numpy.ndarray) -> numpy.ndarray:
    return numpy.dstack([rgb, numpy.full(rgb.shape[:2], 255, numpy.uint8)])


def _judged(source: Source) -> Source:
    """A photograph without fine detail is soft: how it was made is unknown, and no estimate of ours decides."""
    if source.kind != "photograph":
        return source
    image = Image.fromarray(source.pixels).convert("L")
    size = (image.width // 2 * 2, image.height // 2 * 2)
    whole = image.crop((0, 0, *size))
    back = whole.reduce(2).resize(size, Image.Resampling.BICUBIC)
    error = numpy.mean((numpy.asarray(whole, float) - numpy.asarray(back, float)) ** 2)
    similarity_db = 10 * numpy.log10(255**2 / max(error, 1e-9))
    return Source(source.name, "soft" if similarity_db > SOFT_DB else "photograph", source.pixels)
