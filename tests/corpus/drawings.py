"""A drawing of the corpus of web pictures: its SVG, its half, and how two renderers draw it."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy
import resvg_py
from PIL import Image

CAIRO, RESVG = "cairo", "resvg"
RENDERERS = (CAIRO, RESVG)
#: The marks in an own drawing's SVG for wanted white, and for white that is only the ground.
WANTED, GROUND = "@wanted", "@ground"
#: Two renderers agree where no more than this share of the pixels, each the mean of
#: 4 x 4, differs by more levels than this.
AGREE_SHARE, AGREE_LEVELS = 0.002, 24
_AGREE_PX, _TIMES = 240, 4


@dataclass(frozen=True)
class Drawing:
    """``svg`` has a viewBox and no size. ``kind``: package, icon or own; ``flat``: in a few flat colours, no gradient.

    ``lettering`` is the colour of its thin light lettering on a dark ground, "" where it
    has none; ``on_nothing``: it has no ground.
    """

    name: str
    kind: str
    licence: str
    source: str
    flat: bool = True
    lettering: str = ""
    on_nothing: bool = False

    @property
    def half(self) -> str:
        """Return "tuning" or "test", by the name alone."""
        return half_of(self.name)

    @property
    def svg(self) -> str:
        """Return the SVG for drawing."""
        return self.source.replace(WANTED, "#ffffff").replace(GROUND, "#ffffff")

    @property
    def tells_whites(self) -> bool:
        """Return whether its SVG says what its white means."""
        return WANTED in self.source or GROUND in self.source

    @cached_property
    def ratio(self) -> float:
        """Return its height over its width, by its viewBox."""
        numbers = re.search(r'viewBox="([^"]+)"', self.source)[1]
        _left, _top, width, height = (float(each) for each in re.split(r"[\s,]+", numbers.strip()))
        return height / width

    def size(self, longer_px: int) -> tuple[int, int]:
        """Return width and height in pixels, for the longer side."""
        if self.ratio <= 1:
            return longer_px, max(1, round(longer_px * self.ratio))
        return max(1, round(longer_px / self.ratio)), longer_px


def half_of(name: str) -> str:
    """Return "tuning" or "test", by a hash of a drawing's name."""
    return "test" if hashlib.sha256(name.encode()).digest()[0] % 2 else "tuning"


def rendered(svg: str, width: int, height: int, renderer: str, *, clear: bool = False) -> numpy.ndarray:
    """Return height x width x 4 pixels, RGBA, on white unless it may be ``clear``."""
    # Whole pixels never quite match the drawing's proportions, and the two renderers round differently.
    sized = svg.replace("<svg ", f'<svg width="{width}" height="{height}" preserveAspectRatio="none" ', 1)
    if renderer == CAIRO:
        # Only here: it looks for libcairo2, and tests are skipped where there is none (conftest.py).
        import cairosvg

        data = cairosvg.svg2png(bytestring=sized.encode())
    else:
        data = bytes(resvg_py.svg_to_bytes(svg_string=sized, skip_system_fonts=True))
    # Large drawings are unpacked here by the hundred, and OpenCV does that in half of Pillow's time.
    pixels = cv2.cvtColor(cv2.imdecode(numpy.frombuffer(data, "u1"), cv2.IMREAD_UNCHANGED), cv2.COLOR_BGRA2RGBA)
    assert pixels.shape == (height, width, 4), (pixels.shape, width, height)
    if clear or pixels[..., 3].min() == 255:
        return pixels
    return numpy.asarray(Image.alpha_composite(Image.new("RGBA", (width, height), "#ffffff"), Image.fromarray(pixels)))


def agree(drawing: Drawing) -> bool:
    """Return whether both renderers draw the same; cairosvg draws some masks wrongly."""
    width, height = (each * _TIMES for each in drawing.size(_AGREE_PX))
    first, second = (
        numpy.asarray(Image.fromarray(rendered(drawing.svg, width, height, each)[..., :3]).reduce(_TIMES), int)
        for each in RENDERERS
    )
    off = numpy.abs(first - second).max(axis=2) > AGREE_LEVELS
    return bool(off.mean() <= AGREE_SHARE)
