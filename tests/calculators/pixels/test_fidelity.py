"""What flat colours lose of a picture: drawings by code with a known truth,
lossless and through Pillow's JPEG at 4:2:0.
"""

from __future__ import annotations

import io
from functools import cache

import numpy
import pytest
from PIL import Image, ImageDraw

from calculators.pixels.fidelity import losses
from calculators.pixels.flat_colours import NONE
from calculators.pixels.raster import Raster

TIMES = 8
#: Letters as strokes in a square of 6 by 10; open and closed ones, slanted and upright.
LETTERS = {
    "E": [[(6, 0), (0, 0), (0, 10), (6, 10)], [(0, 5), (5, 5)]],
    "N": [[(0, 10), (0, 0), (6, 10), (6, 0)]],
    "O": [[(0, 0), (6, 0), (6, 10), (0, 10), (0, 0)]],
    "V": [[(0, 0), (3, 10), (6, 0)]],
    "4": [[(4, 10), (4, 0), (0, 7), (6, 7)]],
}
WORD = "ENOV4"
GROUND, BAND = "#b01020", "#10305f"


@cache
def lettering(
    size: int, stroke: float, light: str, without: str = ""
) -> tuple[Image.Image, numpy.ndarray, dict[str, tuple[int, int, int, int]]]:
    """Return light lettering on a red card over a blue band, smoothed by exact coverage.

    Its labels; and the box of each letter.

    Labels: 0 card, 1 band, 2 lettering, by what covers most of a pixel. ``without`` leaves letters out.
    """
    large = Image.new("RGB", (size * TIMES, size * TIMES // 2), GROUND)
    pen = ImageDraw.Draw(large)
    pen.rectangle((0, large.height * 0.8, large.width, large.height), fill=BAND)
    unit, boxes = size / 75, {}
    for place, name in enumerate(WORD):
        left, top = (8 + place * 12.5) * unit, 10.3 * unit
        boxes[name] = tuple(
            round(each) for each in (left - stroke, top - stroke, left + 6 * unit + stroke, top + 10 * unit + stroke)
        )
        for line in LETTERS[name] if name not in without else ():
            at = [((left + x * unit) * TIMES, (top + y * unit) * TIMES) for x, y in line]
            pen.line(at, fill=light, width=round(stroke * TIMES), joint="curve")
    colours = numpy.array([tuple(bytes.fromhex(each[1:])) for each in (GROUND, BAND, light)])
    blocks = numpy.asarray(large).reshape(large.height // TIMES, TIMES, size, TIMES, 3).swapaxes(1, 2)
    shares = numpy.stack([(blocks == each).all(-1).mean((2, 3)) for each in colours])
    return large.reduce(TIMES), shares.argmax(0).astype(numpy.uint8), boxes


def rgba_of(image: Image.Image, quality: int | None) -> Raster:
    if quality:
        file = io.BytesIO()
        image.save(file, "JPEG", quality=quality, subsampling=2)
        image = Image.open(file)
    return Raster(image.convert("RGBA").tobytes(), *image.size)


def rgb(text: str) -> tuple[int, int, int]:
    return tuple(bytes.fromhex(text[1:]))


QUALITIES = (None, 85, 70, 50)
SIZES = (120, 180, 300)
STROKES = (1.5, 2.0, 3.0)


@pytest.mark.parametrize("light", ["#ffffff", "#f2d13a"], ids=["white", "yellow"])
@pytest.mark.parametrize("quality", QUALITIES)
@pytest.mark.parametrize("stroke", STROKES)
@pytest.mark.parametrize("size", SIZES)
def test_lettering_with_its_true_labels_is_not_called_lost(size, stroke, quality, light):
    image, labels, _boxes = lettering(size, stroke, light)
    assert not losses(rgba_of(image, quality), labels.tobytes(), [rgb(GROUND), rgb(BAND), rgb(light)])


@pytest.mark.parametrize("light", ["#ffffff", "#f2d13a"], ids=["white", "yellow"])
@pytest.mark.parametrize("quality", QUALITIES)
@pytest.mark.parametrize("stroke", STROKES)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("letter", "NO")
def test_a_letter_without_labels_is_found_where_it_was(size, stroke, quality, light, letter):
    image, _labels, boxes = lettering(size, stroke, light)
    labels = lettering(size, stroke, light, without=letter)[1]
    lost = losses(rgba_of(image, quality), labels.tobytes(), [rgb(GROUND), rgb(BAND), rgb(light)])
    left, top, right, bottom = boxes[letter]
    assert lost.strokes
    for place in lost.strokes:
        assert (
            left - 2 <= place.box[0]
            and place.box[2] <= right + 2
            and top - 2 <= place.box[1]
            and place.box[3] <= bottom + 2
        )
    # Together the places reach from the letter's top to its foot.
    assert max(each.box[3] for each in lost.strokes) - min(each.box[1] for each in lost.strokes) >= 0.7 * (
        bottom - top - 2 * stroke
    )
    assert all(place.now == rgb(GROUND) for place in lost.strokes)


@pytest.mark.parametrize("quality", QUALITIES)
def test_a_single_break_of_a_stroke_is_located(quality):
    image, labels, _boxes = lettering(180, 2.0, "#ffffff")
    labels = labels.copy()
    (rows, columns) = numpy.nonzero(labels == 2)
    # Six pixels of the left stem of the N go to the card.
    left = round((8 + 12.5) * 180 / 75)
    stem = (abs(columns - left) <= 2) & (rows >= 34) & (rows < 40)
    assert stem.sum() >= 10
    labels[rows[stem], columns[stem]] = 0
    lost = losses(rgba_of(image, quality), labels.tobytes(), [rgb(GROUND), rgb(BAND), (255, 255, 255)])
    assert len(lost.strokes) == 1
    box = lost.strokes[0].box
    assert left - 3 <= box[0] and box[2] <= left + 4 and 33 <= box[1] and box[3] <= 41


@pytest.mark.parametrize("quality", QUALITIES)
def test_a_merged_colour_is_reported_with_both_colours(quality):
    """The reds differ by a delta E 2000 of 11.55 (colour-science), and one tenth of the picture is the second."""
    image = Image.new("RGB", (180, 180), "#d01f1f")
    ImageDraw.Draw(image).rectangle((40, 40, 96, 96), fill="#a01828")
    lost = losses(rgba_of(image, quality), bytes(180 * 180), [rgb("#d01f1f")])
    assert not lost.strokes and len(lost.merged) == 1
    assert numpy.abs(numpy.subtract(lost.merged[0].was, rgb("#a01828"))).max() <= 8
    left, top, right, bottom = lost.merged[0].box
    assert 36 <= left <= 44 and 36 <= top <= 44 and 92 <= right <= 100 and 92 <= bottom <= 100


@pytest.mark.parametrize("across", [8, 9])
def test_a_merged_colour_is_found_among_the_ripples_of_strong_compression(across):
    """A delta E 2000 of 11.55, in fields of 8 and 9 px between black lines, at quality 20."""
    image = Image.new("RGB", (120, 120), "#d01f1f")
    pen = ImageDraw.Draw(image)
    for x in range(12, 90, 32):
        pen.ellipse((x, 20, x + across + 3, 100), fill="#000000")
        pen.ellipse((x + 2, 22, x + across + 1, 98), fill="#a01828")
    labels = (numpy.asarray(image)[..., 0] < 80).astype(numpy.uint8).tobytes()
    lost = losses(rgba_of(image, 20), labels, [rgb("#d01f1f"), (0, 0, 0)])
    merged = [each.was for each in lost.merged if each.now == rgb("#d01f1f")]
    assert len(merged) == 1 and numpy.abs(numpy.subtract(merged[0], rgb("#a01828"))).max() <= 12


def test_a_colour_within_the_tolerance_is_not_merged():
    image = Image.new("RGB", (180, 180), "#d01f1f")
    ImageDraw.Draw(image).rectangle((40, 40, 96, 96), fill="#a01828")
    assert not losses(rgba_of(image, None), bytes(180 * 180), [rgb("#d01f1f")], apart=20)


def test_transparent_pixels_are_neither_lost_nor_merged():
    """Pixels without colour have any levels in their file; here a light line in nothing."""
    levels = numpy.zeros((60, 60, 4), numpy.uint8)
    levels[20:22, :, :3] = 255
    levels[30:, :, :] = (122, 34, 50, 255)
    labels = numpy.full((60, 60), NONE, numpy.uint8)
    labels[30:] = 0
    assert not losses(Raster(levels.tobytes(), 60, 60), labels.tobytes(), [(122, 34, 50)])


def test_losses_in_bands_equal_those_of_the_part():
    """The line runs across the borders of bands."""
    levels = numpy.full((1200, 900, 4), 255, numpy.uint8)
    levels[300:1100, 450:452, :3] = 0
    lost = losses(Raster(levels.tobytes(), 900, 1200), bytes(1200 * 900), [(255, 255, 255)])
    assert [place.box for place in lost.strokes] == [(450, 300, 452, 1100)]


@pytest.mark.parametrize("quality", [None, 85])
def test_an_even_panel_within_the_tolerance_is_reported_as_no_loss(quality):
    image = Image.new("RGB", (180, 180), "#ffffff")
    ImageDraw.Draw(image).rectangle((40, 40, 119, 119), fill="#f5f8fa")
    lost = losses(rgba_of(image, quality), bytes(180 * 180), [rgb("#ffffff")])
    assert not lost
    assert len(lost.near) == 1 and lost.near[0].now == rgb("#ffffff")
    # JPEG rounds to whole levels.
    assert all(abs(a - b) <= (1 if quality else 0) for a, b in zip(lost.near[0].was, rgb("#f5f8fa"), strict=True))
    left, top, right, bottom = lost.near[0].box
    assert 40 <= left and 40 <= top and right <= 120 and bottom <= 120


def test_a_speck_within_the_tolerance_is_not_reported():
    image = Image.new("RGB", (180, 180), "#ffffff")
    ImageDraw.Draw(image).rectangle((40, 40, 52, 52), fill="#f5f8fa")
    assert not losses(rgba_of(image, None), bytes(180 * 180), [rgb("#ffffff")]).near


#: Reds that differ by a delta E 2000 of 11.55 (colour-science): that of the drawing, and the only label there is.
RED, OTHER_RED = "#d01f1f", "#a01828"


def outlined(width: float, colour: str) -> Image.Image:
    """Return an outline of a ``width`` in pixels between white and the label's red, smoothed by exact coverage."""
    large = Image.new("RGB", (120 * TIMES, 120 * TIMES), "#ffffff")
    pen = ImageDraw.Draw(large)
    for inset, fill in ((0, colour), (width, RED)):
        low, high = (20 + inset) * TIMES, (100 - inset) * TIMES - 1
        pen.rounded_rectangle((low, low, high, high), (24 - inset) * TIMES, fill=fill)
    return large.reduce(TIMES)


@pytest.mark.parametrize("width", [2.5, 3.0])
def test_a_thin_outline_merged_with_the_colour_inside_is_reported(width):
    """No square of five by five lies on it."""
    image = outlined(width, OTHER_RED)
    labels = (numpy.asarray(image)[..., 1] < 128).astype(numpy.uint8).tobytes()
    lost = losses(rgba_of(image, None), labels, [(255, 255, 255), rgb(RED)])
    assert [each.now for each in lost.merged] == [rgb(RED)]


@pytest.mark.parametrize("quality", [None, 85, 50])
def test_the_shades_of_an_edge_are_no_merged_colour(quality):
    image = outlined(3.0, RED)
    labels = (numpy.asarray(image)[..., 1] < 128).astype(numpy.uint8).tobytes()
    assert not losses(rgba_of(image, quality), labels, [(255, 255, 255), rgb(RED)])


def test_hairlines_between_two_rows_of_pixels_are_no_merged_colour():
    """Black lines one pixel wide that cover half of two rows, as drawings with whole coordinates have them."""
    image = Image.new("RGB", (120, 120), "#ffffff")
    for at in range(20, 100, 8):
        ImageDraw.Draw(image).rectangle((10, at, 109, at + 1), fill="#808080")
    labels = (numpy.asarray(image)[..., 1] < 200).astype(numpy.uint8).tobytes()
    assert not losses(rgba_of(image, None), labels, [(255, 255, 255), (0, 0, 0)]).merged


def test_a_grey_field_taken_for_white_is_reported_though_it_is_small():
    """A field 9 px high between black lines, a fiftieth of the picture, at quality 70."""
    image = Image.new("RGB", (120, 120), "#ffffff")
    pen = ImageDraw.Draw(image)
    pen.rectangle((30, 50, 62, 62), fill="#9b9b9a", outline="#000000", width=2)
    labels = (numpy.asarray(image)[..., 1] < 80).astype(numpy.uint8).tobytes()
    lost = losses(rgba_of(image, 70), labels, [(255, 255, 255), (0, 0, 0)])
    assert [each.now for each in lost.merged] == [(255, 255, 255)]


@pytest.mark.parametrize(("length", "reported"), [(6, False), (40, True)])
def test_a_faint_seam_counts_only_if_it_is_long(length, reported):
    """Where two black shapes meet, renderers let a fifth of what is behind them shine through."""
    image = Image.new("RGB", (120, 120), "#ffffff")
    pen = ImageDraw.Draw(image)
    pen.rectangle((20, 20, 99, 99), fill="#000000")
    pen.line((60, 30, 60, 29 + length), fill="#343434")
    labels = (numpy.asarray(image)[..., 1] < 128).astype(numpy.uint8).tobytes()
    assert bool(losses(rgba_of(image, None), labels, [(255, 255, 255), (0, 0, 0)])) is reported


def test_an_edge_that_slants_a_little_is_no_gradient():
    """Along it the shades go evenly from one colour to the other."""
    large = Image.new("RGB", (120 * TIMES, 120 * TIMES), "#ffffff")
    pen = ImageDraw.Draw(large)
    for at in range(6, 110, 12):
        corners = [(at, 0), (at + 6, 0), (at + 11, 120), (at + 5, 120)]
        pen.polygon([(x * TIMES, y * TIMES) for x, y in corners], fill="#a57939")
    image = large.reduce(TIMES)
    labels = (numpy.asarray(image)[..., 2] < 156).astype(numpy.uint8).tobytes()
    assert losses(rgba_of(image, None), labels, [(255, 255, 255), rgb("#a57939")]).gradient == ()


def limbs(other: str) -> Image.Image:
    """Return two bars of the label's red and an ``other`` red, 5 px wide between black lines, smoothed by coverage."""
    large = Image.new("RGB", (120 * TIMES, 120 * TIMES), "#ffffff")
    pen = ImageDraw.Draw(large)
    for left, fill in ((20, RED), (35, RED), (60, other), (75, other)):
        corners = [(left, 10), (left + 10, 10), (left + 18, 110), (left + 8, 110)]
        pen.polygon([(x * TIMES, y * TIMES) for x, y in corners], fill="#000000")
        inner = [(left + 2.5, 12), (left + 7.5, 12), (left + 15.5, 108), (left + 10.5, 108)]
        pen.polygon([(x * TIMES, y * TIMES) for x, y in inner], fill=fill)
    return large.reduce(TIMES)


@pytest.mark.parametrize(("other", "lost"), [(RED, False), ("#7a5a20", True)])
def test_the_median_of_a_thin_area_tells_a_merged_colour_under_compression(other, lost):
    """The other colour differs from the red by a delta E 2000 of 29.2 (colour-science)."""
    image = limbs(other)
    red = numpy.asarray(image)[..., 0].astype(int)
    labels = numpy.where(numpy.asarray(image)[..., 1] > 128, 0, numpy.where(red > 60, 1, 2)).astype(numpy.uint8)
    found = losses(rgba_of(image, 70), labels.tobytes(), [(255, 255, 255), rgb(RED), (0, 0, 0)])
    assert bool(found.merged) is lost


@pytest.mark.parametrize(("mixed_up", "reported"), [(0.0, False), (0.3, True)])
def test_borders_of_labels_without_an_edge_are_reported(mixed_up, reported):
    """Rows of a field of one red that have the label of the other red, which lies beside it."""
    image = Image.new("RGB", (120, 120), RED)
    ImageDraw.Draw(image).rectangle((60, 0, 119, 119), fill=OTHER_RED)
    labels = (numpy.asarray(image)[..., 0] < 190).astype(numpy.uint8)
    for row in range(0, int(120 * mixed_up), 8):
        labels[row : row + 2, :40] = 1
    found = losses(rgba_of(image, 50), labels.tobytes(), [rgb(RED), rgb(OTHER_RED)])
    assert bool(found.unsteady) is reported


@pytest.mark.parametrize(("rows", "reported"), [((), False), ((12, 30, 48), True)])
def test_two_similar_colours_mixed_up_are_reported_among_many_sharp_edges(rows, reported):
    """A small field of two reds, parted by a line of the darker one, beside letters with a hundred times the edges."""
    image = Image.new("RGB", (240, 240), "white")
    pen = ImageDraw.Draw(image)
    for at in range(6, 234, 8):
        pen.rectangle((100, at, 233, at + 3), fill="black")
    pen.rectangle((20, 6, 80, 60), fill=RED)
    pen.rectangle((46, 6, 53, 60), fill=OTHER_RED)
    pixels = numpy.asarray(image).astype(int)
    colours = [(255, 255, 255), (0, 0, 0), rgb(RED), rgb(OTHER_RED)]
    labels = ((pixels[:, :, None] - numpy.array(colours)) ** 2).sum(-1).argmin(-1).astype(numpy.uint8)
    for row in rows:
        labels[row : row + 3, 46:54] = 2
        labels[row + 6 : row + 9, 24:40] = 3
    assert bool(losses(rgba_of(image, 50), labels.tobytes(), colours).unsteady) is reported
