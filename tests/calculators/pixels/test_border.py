"""An outline along the border of a tight crop belongs to the marking. Truth: how the shields are drawn here."""

import io

import cairosvg
import numpy
import pytest
from PIL import Image

from calculators.pixels.cleaning import flooded
from calculators.pixels.flat_colours import flat_colours
from calculators.pixels.tracing import SEVERAL, traced
from calculators.pixels.white_areas import areas
from calculators.pixels.white_guess import BACKGROUND
from tests.calculators.pixels.test_flat_colours import finished, raster

#: A shield with a straight top and sides, cropped to its outline; the corners below lie outside it.
SHIELD = """<svg xmlns="http://www.w3.org/2000/svg" width="240" height="300" viewBox="0 0 240 300">{ground}
<path d="M2 2H238V170C238 240 180 280 120 297C60 280 2 240 2 170Z" fill="#00a2bd" stroke="#101010" stroke-width="4"/>
<path d="M4 170H236V175C230 240 180 276 120 293C60 276 10 240 4 175Z" fill="#a33c0a"/>
<path d="M105 30H135V240H105Z" fill="#f2d43c"/></svg>"""
#: A sign with a narrow white margin on three sides, bled on the fourth: the margin is the background.
SIGN = """<svg xmlns="http://www.w3.org/2000/svg" width="200" height="120"><rect width="200" height="120" fill="#fff"/>
<rect x="3" y="3" width="194" height="117" fill="#c60b1e"/><path d="M40 40H160V80H40Z" fill="#fff"/></svg>"""


def drawn(svg: str, quality: int | None = None) -> Image.Image:
    image = Image.open(io.BytesIO(cairosvg.svg2png(bytestring=svg.encode()))).convert("RGBA")
    if quality is None:
        return image
    file = io.BytesIO()
    image.convert("RGB").save(file, "JPEG", quality=quality)
    return Image.open(file).convert("RGBA")


def cleared(image: Image.Image) -> numpy.ndarray:
    pixels = raster(image)
    background = finished(flooded(pixels, finished(flat_colours(pixels)), 6, enclosed=False))
    if background is None:
        return numpy.zeros((image.height, image.width), bool)
    return numpy.frombuffer(background.plane, numpy.uint8).reshape(image.height, image.width) == 1


@pytest.mark.parametrize("quality", [None, 85])
def test_an_outline_along_the_border_is_not_the_background(quality):
    image = drawn(SHIELD.format(ground='<rect width="240" height="300" fill="#fff"/>'), quality)
    gone = cleared(image)
    outside = numpy.asarray(drawn(SHIELD.format(ground="")))[..., 3]
    assert not gone[outside == 255].any()
    assert gone[outside == 0].mean() > 0.95


def test_around_clear_corners_an_outline_stays_too():
    assert not cleared(drawn(SHIELD.format(ground=""))).any()


@pytest.mark.parametrize("ground", ["", '<rect width="240" height="300" fill="#fff"/>'])
def test_a_traced_shield_keeps_the_outline_along_its_border(ground):
    pixels = raster(drawn(SHIELD.format(ground=ground)))
    found = finished(traced(pixels, by=SEVERAL, count=None, keep_ground=False, tolerance=0.2, angle=0.5, smallest=1.0))
    outline = [region for region in found.regions if max(region.rgb) < 40]
    # From the drawing: some 940 px of outline, 4 px wide.
    assert len(outline) == 1 and 3000 < outline[0].area < 4200
    assert found.ground == ((255, 255, 255) if ground else None)


def test_a_narrow_margin_round_a_bled_sign_is_the_background():
    gone = cleared(drawn(SIGN))
    assert gone[:2].all() and gone[:, :2].all() and gone[:, -2:].all()
    assert not gone[10:, 10:-10].any()


@pytest.mark.parametrize("quality", [None, 85])
def test_white_in_the_corners_of_an_outlined_shield_is_background(quality):
    image = drawn(SHIELD.format(ground='<rect width="240" height="300" fill="#fff"/>'), quality)
    guesses = [each.guess for each in finished(areas(raster(image))).areas]
    # The two corners meet below the tip of the shield.
    assert guesses == [BACKGROUND]
