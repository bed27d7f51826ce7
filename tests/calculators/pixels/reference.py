"""The slow way to see a picture on paint, for tests: each colour by its own spectrum, mixed and compared in floats.

It shares with the fast way the light and the spectra of inks, which have tests of their own, and nothing after them.
"""

from __future__ import annotations

import warnings
from functools import cache

import numpy
from PIL import Image, ImageDraw, ImageFilter

from calculators.colour import spectra, srgb
from calculators.colour.beyond import light_of_ink
from calculators.pixels.raster import Raster

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it tells of libraries for plots, which are not needed
    import colour

WEIGHTS = numpy.array(spectra.WEIGHTS)
PAPER = numpy.array(spectra.reflectance((1.0, 1.0, 1.0)))


@cache
def _inks(rgba: bytes) -> tuple[numpy.ndarray, numpy.ndarray]:
    """Return what the ink of each colour lets through in two passes, and for each pixel the place of its colour."""
    colours, place = numpy.unique(numpy.frombuffer(rgba, "u1").reshape(-1, 4)[:, :3], axis=0, return_inverse=True)
    recovered = [spectra.reflectance(light_of_ink(tuple(map(int, each)))) for each in colours]
    return numpy.array(recovered) / PAPER, place.reshape(-1)


def seen(raster: Raster, covered: bytes | None, paint: str, power: float) -> numpy.ndarray:
    """Return height x width x 3 of linear sRGB light: ink over white of that power over a paint, by coverage.

    Red ink on maroon paint reflects light that no screen can show; each channel takes its nearest level.
    """
    pixels = numpy.frombuffer(raster.rgba, "u1").reshape(-1, 4)
    inks, place = _inks(raster.rgba)
    base = numpy.array(spectra.reflectance(srgb.light_of(paint)))
    # Kubelka and Munk without absorption, solved anew: 1 / (1 - R) grows by the power.
    ground = 1 - 1 / (1 / (1 - base) + power)
    over = (inks * ground) @ WEIGHTS.T
    share = pixels[:, 3:] / 255
    if covered is not None:
        share = share * (numpy.frombuffer(covered, "u1")[:, None] != 0)
    bare = numpy.array(srgb.light_of(paint))
    light = share * over[place] + (1 - share) * bare
    return light.clip(0, 1).reshape(raster.height, raster.width, 3)


def lab_of_light(light: numpy.ndarray) -> numpy.ndarray:
    """Return L*a*b* of linear sRGB light, by colour-science with the white of its own matrix."""
    space = colour.RGB_COLOURSPACES["sRGB"]
    return colour.XYZ_to_Lab(light @ numpy.array(srgb.TO_XYZ).T, space.whitepoint)


def differences(raster: Raster, covered: bytes | None, paint: str, power: float, fast: bytes) -> numpy.ndarray:
    """Return the CIEDE2000 difference of each pixel between the slow way and ``fast`` (RGBA bytes)."""
    slow = lab_of_light(seen(raster, covered, paint, power))
    levels = numpy.frombuffer(fast, "u1").reshape(raster.height, raster.width, 4)[:, :, :3] / 255
    light = numpy.where(levels <= 0.04045, levels / 12.92, ((levels + 0.055) / 1.055) ** 2.4)
    return colour.difference.delta_E_CIE2000(slow, lab_of_light(light))


def raster_of(image: Image.Image) -> Raster:
    made = image.convert("RGBA")
    return Raster(made.tobytes(), made.width, made.height)


def flat_art(side: int = 96) -> Image.Image:
    """Return overlapping shapes of many flat colours, drawn four times as large and
    averaged down: soft edges all over.
    """
    large = Image.new("RGBA", (4 * side, 4 * side))
    draw = ImageDraw.Draw(large)
    for step in range(60):
        x, y, r = 53 * step % (4 * side), 97 * step % (4 * side), 20 + 7 * step % 60
        fill = (41 * step % 256, 87 * step % 256, 151 * step % 256, 255)
        (draw.ellipse if step % 2 else draw.rectangle)((x - r, y - r, x + r, y + r), fill=fill)
    return large.resize((side, side), Image.Resampling.BOX)


def photograph(side: int = 40) -> Image.Image:
    """Return soft shapes of strong and weak colours with grain, as a camera has it."""
    soft = flat_art(4 * side).filter(ImageFilter.GaussianBlur(6)).convert("RGB").resize((side, side))
    levels = numpy.random.default_rng(3).normal(128, 24, (3, side, side)).clip(0, 255)
    parts = [Image.fromarray(each.astype("u1")) for each in levels]
    return Image.blend(soft, Image.merge("RGB", parts), 0.25)
