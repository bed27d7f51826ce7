"""The verdict on outlines where something of the picture was lost, and where nothing was."""

from __future__ import annotations

import io
from itertools import product

import pytest
from PIL import Image, ImageDraw

from tests.calculators.artwork.test_trace import answer, reasons_text
from tests.calculators.pixels.test_fidelity import lettering
from tests.calculators.pixels.test_flat_colours import MAROON, drawn
from tests.calculators.pixels.test_small_parts import star


def test_strokes_lost_with_too_few_colours_are_marked():
    image = lettering(180, 2.0, "#ffffff")[0]
    whole, few = (answer(image, width_mm=30, most_colours=count, keep_ground=True) for count in (3, 2))
    assert whole.verdict == "traced" and "lost" not in reasons_text(whole)
    assert (
        few.verdict == "lost"
        and "Thin strokes are lost in" in reasons_text(few)
        and "Ask for more colours" in reasons_text(few)
    )
    assert "Losses marked: " in few.outlines.alt


def test_filled_specks_of_strokes_count_as_losses():
    """A letter smaller than the smallest area asked for is gone from the outlines."""
    image = lettering(180, 2.0, "#ffffff")[0]
    assert answer(image, width_mm=30, smallest_area_mm2=4).verdict == "lost"


def shapes_in_jpeg(shape: str, quality: int = 80) -> Image.Image:
    """Return a panel with dark shapes 9 px across and two bands, as a JPEG of 192 px has it."""
    times = 16
    large = Image.new("RGB", (192 * times, 192 * times), "#ffffff")
    pen = ImageDraw.Draw(large)
    pen.rectangle((6 * times, 6 * times, 186 * times, 186 * times), fill="#f6c800")
    for row, column in product(range(3), range(6)):
        x, y = 20 + 30 * column + 0.37 * row, 24 + 30 * row + 0.23 * column
        corners = star(x, y, 9, 0.2 * ((column + row) % 4))
        if shape == "star":
            pen.polygon([(times * a, times * b) for a, b in corners], fill="#111111")
        else:
            pen.ellipse([times * each for each in (x - 4.5, y - 4.5, x + 4.5, y + 4.5)], fill="#111111")
    pen.rectangle((20 * times, 110 * times, 170 * times, 134 * times), fill="#111111")
    pen.rectangle((20 * times, 146 * times, 170 * times, 170 * times), fill="#c8102e")
    file = io.BytesIO()
    large.reduce(times).save(file, "JPEG", quality=quality, subsampling=2)
    return Image.open(io.BytesIO(file.getvalue())).convert("RGB")


def test_small_stars_that_lost_points_are_reported_and_marked():
    outputs = answer(shapes_in_jpeg("star"), width_mm=30)
    assert outputs.verdict == "lost"
    assert "not as" in reasons_text(outputs) and "Losses marked" in outputs.outlines.alt


def test_small_discs_in_a_jpeg_keep_a_good_verdict():
    assert answer(shapes_in_jpeg("disc"), width_mm=30).verdict == "traced"


def test_a_gradient_cut_into_steps_is_reported_and_not_good():
    image = Image.new("RGB", (180, 180), "#ffffff")
    pen = ImageDraw.Draw(image)
    for row in range(20, 160):
        pen.line((20, row, 159, row), fill=(200, 20 + row, 40))
    outputs = answer(image, width_mm=30)
    assert outputs.verdict == "lost"
    assert "gradient" in reasons_text(outputs)


def test_colours_nearer_than_the_tolerance_are_reported_as_no_loss():
    image = Image.new("RGB", (180, 180), "#ffffff")
    pen = ImageDraw.Draw(image)
    pen.rectangle((40, 20, 119, 89), fill="#f5f8fa")
    pen.rectangle((40, 100, 119, 159), fill="#c8102e")
    outputs = answer(image, width_mm=30)
    assert outputs.verdict != "lost"
    assert "#f5f8fa became #ffffff" in reasons_text(outputs)


def test_bands_along_the_pixels_show_no_steps():
    """Vertical bands whose edges fall between two pixels; without in-between shades they are known to half a pixel."""
    image = Image.new("RGB", (120, 80), "#003f87")
    pen = ImageDraw.Draw(image)
    pen.rectangle((40, 0, 79, 79), fill="#f6c800")
    pen.rectangle((80, 0, 119, 79), fill="#c8102e")
    result = answer(image, width_mm=30)
    assert result.verdict == "traced" and result.colour_count == 3
    assert result.worst_mm == pytest.approx(0.5 * 30 / 120)


@pytest.mark.parametrize("times", [1, 4])
def test_a_disc_without_in_between_shades_shows_steps(times):
    """Also where its pixels were made larger."""
    image = Image.new("RGB", (60, 60), "#ffffff")
    ImageDraw.Draw(image).ellipse((10, 10, 49, 49), fill="#003f87")
    assert answer(image.resize((60 * times, 60 * times), Image.Resampling.NEAREST), width_mm=30).verdict == "steps"


def test_thin_lines_of_a_colour_that_is_broad_elsewhere_are_good():
    """The outlines have the width that the picture shows: lines 1.5 px wide beside a square of their colour."""
    lines = [("rectangle", MAROON, (10, 10 + 9 * at, 70, 11.5 + 9 * at)) for at in range(11)]
    image = drawn("#ffffff", *lines, ("rectangle", MAROON, (80, 40, 110, 70)), times=10)[0]
    assert answer(image).verdict == "traced"
