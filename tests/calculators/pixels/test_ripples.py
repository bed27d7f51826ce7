"""Ripples of JPEG in flat artwork: how each picture was made is the truth. Pillow saves, reduces and blurs."""

from __future__ import annotations

from functools import cache

import pytest
from PIL import Image, ImageFilter

from calculators.pixels.raster import Raster
from calculators.pixels.ripples import has_ripples
from tests.calculators.pixels.test_detail_web import decoded
from tests.corpus.drawings import RESVG, rendered
from tests.corpus.own_drawings import drawings
from tests.corpus.pictures import sources


@cache
def drawn() -> list[Image.Image]:
    """Return the flat drawings of the tuning half, on white."""
    flat = [each for each in drawings() if each.flat and each.half == "tuning"]
    assert len(flat) >= 12
    return [Image.fromarray(rendered(each.svg, *each.size(500), RESVG)).convert("RGB") for each in flat]


def share_found(images: list[Image.Image]) -> float:
    rasters = (Raster(image.convert("RGBA").tobytes(), *image.size) for image in images)
    return sum(map(has_ripples, rasters)) / len(images)


def smaller(image: Image.Image, kernel: str) -> Image.Image:
    return image.resize([round(0.6 * side) for side in image.size], Image.Resampling[kernel])


def test_three_in_four_drawings_that_were_a_jpeg_have_ripples():
    assert share_found([decoded(image, 85) for image in drawn()]) >= 0.75


@pytest.mark.parametrize("kernel", ["BILINEAR", "LANCZOS"])
def test_a_third_of_them_have_ripples_still_when_made_smaller(kernel):
    """No more than that: what is made smaller is smoothed. Nothing else tells them at all."""
    assert share_found([smaller(decoded(image, 85), kernel) for image in drawn()]) >= 0.33


@pytest.mark.parametrize("kernel", ["BILINEAR", "BICUBIC", "LANCZOS"])
def test_artwork_made_smaller_without_jpeg_has_no_ripples(kernel):
    assert share_found([smaller(image, kernel) for image in drawn()]) <= 0.05


def test_sharp_and_soft_artwork_has_no_ripples():
    assert share_found(drawn()) == 0
    assert share_found([image.filter(ImageFilter.GaussianBlur(1.5)) for image in drawn()]) <= 0.05


def test_a_photograph_is_no_artwork_and_tells_nothing():
    found = [each for each in sources(most_px=300) if each.kind == "photograph" and each.half == "tuning"]
    assert len(found) >= 8
    photographs = [Image.fromarray(each.pixels) for each in found]
    assert share_found(photographs) <= 0.05
