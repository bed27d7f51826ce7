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


SERRATED = "".join(f"L90 {24 * at + 12}L50 {24 * at + 24}" for at in range(5))
#: Flags by their proportions (from memory): (width, height, shapes). Each has a colour with most of the border.
FLAGS = {
    "three stripes": (180, 120, '<path fill="#c8102e" d="M0 0H180V120H0Z"/><path fill="#fff" d="M0 40H180V80H0Z"/>'),
    "two stripes": (160, 100, '<path fill="#fff" d="M0 0H160V50H0Z"/><path fill="#dc143c" d="M0 50H160V100H0Z"/>'),
    "an off-centre cross": (
        185,
        140,
        '<path fill="#c8102e" d="M0 0H185V140H0Z"/><path fill="#fff" d="M60 0H80V140H60ZM0 60H185V80H0Z"/>',
    ),
    "a serrated side": (
        200,
        120,
        f'<path fill="#ce1126" d="M0 0H200V120H0Z"/><path fill="#fff" d="M0 0H50{SERRATED}V120H0Z"/>',
    ),
}
#: Closely cropped markings on paper, which is the background although they touch the border.
TOUCHING = {
    "a disc": (120, 120, '<circle fill="#c8102e" cx="60" cy="60" r="60"/>'),
    "letters": (300, 60, '<path fill="#101010" d="' + "".join(f"M{30 * at} 0h8v60h-8z" for at in range(9)) + '"/>'),
    "a lozenge": (160, 100, '<path fill="#003f87" d="M0 50L80 0L160 50L80 100Z"/>'),
}


def in_picture(width: int, height: int, shapes: str) -> Image.Image:
    paper = f'<path fill="#fff" d="M0 0H{width}V{height}H0Z"/>'
    return drawn(f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}">{paper}{shapes}</svg>')


def ground_of(image: Image.Image) -> tuple[int, int, int] | None:
    found = finished(
        traced(raster(image), by=SEVERAL, count=None, keep_ground=False, tolerance=0.2, angle=0.5, smallest=1.0)
    )
    return found.ground


@pytest.mark.parametrize("flag", FLAGS)
def test_a_stripe_that_reaches_the_border_is_no_background(flag):
    image = in_picture(*FLAGS[flag])
    assert not cleared(image).any()
    assert ground_of(image) is None


@pytest.mark.parametrize("flag", FLAGS)
def test_its_colour_is_still_removed_everywhere_if_asked(flag):
    pixels = raster(in_picture(*FLAGS[flag]))
    assert finished(flooded(pixels, finished(flat_colours(pixels)), 6, enclosed=True)) is not None


@pytest.mark.parametrize("marking", TOUCHING)
def test_paper_round_a_closely_cropped_marking_is_background(marking):
    image = in_picture(*TOUCHING[marking])
    white = numpy.asarray(image)[..., 0] == 255
    assert cleared(image)[white].mean() > 0.99
    assert ground_of(image) == (255, 255, 255)
