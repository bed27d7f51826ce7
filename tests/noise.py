"""Noise for pictures, the same in every run.

Pillow's own goes on from whatever was drawn before it, so that a test may find white where it looks for grain.
"""

from __future__ import annotations

import numpy
from PIL import Image


def noise(size: tuple[int, int], sigma: float) -> Image.Image:
    """Return a grey picture of ``size`` (width, height) in pixels: levels around 128 with a standard deviation of
    ``sigma``, clipped.
    """
    width, height = size
    levels = 128 + sigma * numpy.random.default_rng(1).standard_normal((height, width))
    return Image.fromarray(numpy.clip(levels, 0, 255).astype(numpy.uint8))
