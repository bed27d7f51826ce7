"""The marking's box in pictures whose margins are known, since Pillow made them."""

from __future__ import annotations

import io

import pytest
from PIL import Image, ImageDraw

from calculators.files.picture import read_picture
from calculators.pixels.extent import Extent, extent
from tests.noise import noise

#: Left, top, right and bottom margins, and the marking between them, in pixels.
MARGINS, MARKING = (31, 17, 44, 23), (150, 110)
SIZE = (MARGINS[0] + MARKING[0] + MARGINS[2], MARGINS[1] + MARKING[1] + MARGINS[3])
BOX = (MARGINS[0], MARGINS[1], MARGINS[0] + MARKING[0], MARGINS[1] + MARKING[1])


def badge(ground: str | tuple, mode: str = "RGB", size: tuple[int, int] = SIZE, box: tuple = BOX) -> Image.Image:
    """Return a badge on a ground: a field with a disc and letters' strokes, which fills the box to each side."""
    image = Image.new(mode, size, ground)
    draw = ImageDraw.Draw(image)
    left, top, right, bottom = box
    draw.rectangle((left, top, right - 1, bottom - 1), fill="#7a2232")
    draw.ellipse((left + 20, top + 15, left + 80, top + 75), fill="#f6c800")
    for place in range(4):
        draw.line((left + 90 + 12 * place, top + 10, left + 90 + 12 * place, bottom - 20), fill="#ffffff", width=3)
    return image


def found(image: Image.Image, form: str = "PNG", **how: int) -> Extent:
    file = io.BytesIO()
    image.save(file, form, **how)
    return extent(read_picture("badge", file.getvalue(), wanted=True))


def off(box: tuple[int, ...], wanted: tuple[int, ...] = BOX) -> int:
    return max(abs(one - other) for one, other in zip(box, wanted, strict=True))


@pytest.mark.parametrize("ground", ["#ffffff", "#f3ead6"])
def test_margins_of_a_lossless_picture_are_found_to_the_pixel(ground):
    result = found(badge(ground))
    assert (result.box, result.share, result.field) == (BOX, MARKING[0] / SIZE[0], None)


@pytest.mark.parametrize("colour", ["#1f3b4d", "#000000", "#f6c800"])
def test_a_colour_all_round_is_a_field_and_no_margin(colour):
    """A number plate and a badge on a coloured card are the same picture."""
    result = found(badge(colour))
    assert (result.share, result.field) == (1, tuple(bytes.fromhex(colour[1:])))


def test_a_field_that_fills_its_picture_is_all_marking():
    assert found(badge("#ffffff", size=MARKING, box=(0, 0, *MARKING))).share == 1


def test_margins_that_are_clear_are_found_to_the_pixel():
    assert found(badge((0, 0, 0, 0), "RGBA")).box == BOX


@pytest.mark.parametrize("chroma", [0, 2], ids=["4:4:4", "4:2:0"])
@pytest.mark.parametrize(("quality", "within"), [(95, 1), (85, 1), (70, 2), (50, 3), (30, 3)])
@pytest.mark.parametrize("ground", ["#ffffff", "#f3ead6"])
def test_margins_of_a_jpeg_are_found_within_a_few_pixels(ground, quality, within, chroma):
    assert off(found(badge(ground), "JPEG", quality=quality, subsampling=chroma).box) <= within


def test_margins_are_found_in_what_was_a_jpeg():
    file = io.BytesIO()
    badge("#ffffff").save(file, "JPEG", quality=70)
    assert off(found(Image.open(file)).box) <= 2


def test_pale_parts_belong_to_the_marking():
    image = badge("#ffffff")
    ImageDraw.Draw(image).rectangle((BOX[0] - 6, BOX[1] - 6, BOX[2] + 5, BOX[3] + 5), outline="#ffe9a0", width=3)
    assert found(image).box == (BOX[0] - 6, BOX[1] - 6, BOX[2] + 6, BOX[3] + 6)


def test_specks_in_the_margins_are_no_part_of_the_marking():
    image = badge("#ffffff")
    for place in ((3, 3), (4, 90), (200, 8), (221, 140), (221, 141)):
        image.putpixel(place, (40, 40, 40))
    assert found(image).box == BOX


def test_a_thin_line_round_the_marking_belongs_to_it():
    image = badge("#ffffff")
    ImageDraw.Draw(image).line((8, 140, 190, 140), fill="#1c2226", width=1)
    assert found(image).box == (8, BOX[1], 191, 141)


@pytest.mark.parametrize("stripes", [("#ffffff", "#d52b1e"), ("#0055a4", "#ffffff", "#ef4135"), ("#006a44", "#c1272d")])
def test_a_flag_that_fills_its_picture_has_no_margins(stripes):
    image = Image.new("RGB", (180, 120))
    for place, colour in enumerate(stripes):
        high = 120 // len(stripes)
        image.paste(colour, (0, place * high, 180, (place + 1) * high))
    assert found(image).share == 1


def test_a_field_touched_at_its_border_is_not_background():
    image = Image.new("RGB", (180, 120), "#00247d")
    image.paste("#cf142b", (0, 0, 60, 40))
    assert (found(image).share, found(image).field) == (1, None)


@pytest.mark.parametrize("colour", ["#ffffff", "#7a2232"])
def test_a_picture_of_one_colour_has_no_margins(colour):
    assert found(Image.new("RGB", (40, 30), colour)).share == 1


def test_a_wholly_clear_picture_has_no_margins():
    assert found(Image.new("RGBA", (40, 30), (0, 0, 0, 0))).share == 1


def test_a_photograph_has_no_margins():
    assert found(noise((120, 90), 90).convert("RGB")).share == 1


def test_a_large_picture_gives_the_extent_of_its_copy():
    size, box = tuple(16 * side for side in SIZE), tuple(16 * side for side in BOX)
    assert found(badge("#ffffff").resize(size, Image.Resampling.NEAREST)).share == pytest.approx(
        (box[2] - box[0]) / size[0], abs=0.002
    )
