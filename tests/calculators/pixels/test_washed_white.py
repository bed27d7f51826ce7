"""White lettering as the only white of a compressed picture; letters of fonts with an open licence, drawn by resvg."""

from __future__ import annotations

import io

import numpy
import pytest
import resvg_py
from PIL import Image

from calculators.pixels.raster import Raster
from calculators.pixels.white_areas import areas
from tests.corpus.letters import outlines
from tests.steps import finished

RED, BLUE, WHITE, IVORY, PALE_BLUE = "#c4161c", "#003f87", "#ffffff", "#efe4c4", "#d2e6f5"
LINES = (("ROWANSKERRY", 52, 24), ("LIGHT RAILWAY", 84, 17), ("RAILCAR 12  TEASEL 35", 108, 12))


def lettering(ground: str, light: str, quality: int, subsampling: int) -> Raster:
    """Return three lines of letters, 12 to 24 px high, that a JPEG has been made of."""
    body = "".join(f'<path d="{outlines(text, 150, low, high)}" fill="{light}"/>' for text, low, high in LINES)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 146">'
        f'<rect width="300" height="146" fill="{ground}"/><rect x="12" y="12" width="276" height="6" fill="#f6c800"/>'
        f"{body}</svg>"
    )
    drawn = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg, width=300)))).convert("RGB")
    file = io.BytesIO()
    drawn.save(file, "JPEG", quality=quality, subsampling=subsampling)
    pixels = numpy.asarray(Image.open(file).convert("RGBA"))
    return Raster(pixels.tobytes(), pixels.shape[1], pixels.shape[0])


@pytest.mark.parametrize(
    ("ground", "quality", "subsampling"),
    [(RED, 95, 2), (RED, 85, 2), (RED, 70, 2), (BLUE, 95, 2), (BLUE, 70, 2), (BLUE, 70, 0)],
)
def test_white_letters_are_white_though_compression_tints_them(ground, quality, subsampling):
    found = finished(areas(lettering(ground, WHITE, quality, subsampling))).areas
    # 40 letters and figures, some in one piece with the next; their inner spaces are the ground's colour.
    assert len(found) >= 36
    assert {each.guess for each in found} == {"wanted"}


@pytest.mark.parametrize("light", [IVORY, PALE_BLUE])
@pytest.mark.parametrize("quality", [95, 70])
def test_letters_of_a_pale_colour_are_not_taken_for_white(light, quality):
    assert finished(areas(lettering(RED, light, quality, 2))).areas == ()
