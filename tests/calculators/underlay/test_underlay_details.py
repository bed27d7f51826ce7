"""The ways to get white beneath a marking with fine parts, and with white at its edge."""

import re
from io import BytesIO

import pytest
from PIL import Image, ImageDraw

from calculators import tables, units
from calculators.declare.prose import html
from tests.calculators.underlay.underlays import IVORY, disc, reasons_text, seen


def shield(size=180, quality=None):
    """A shield in five colours with thin white lettering on red, as found on the web.

    The strokes are 1.75 pixels wide.
    """
    fine = 4
    image = Image.new("RGB", (size * fine, size * fine), "white")
    pen = ImageDraw.Draw(image)

    def at(*shares):
        return [round(each * size * fine) for each in shares]

    pen.polygon(at(0.1, 0.08, 0.9, 0.08, 0.9, 0.6, 0.5, 0.95, 0.1, 0.6), fill="#22304f")
    pen.polygon(at(0.14, 0.12, 0.86, 0.12, 0.86, 0.58, 0.5, 0.9, 0.14, 0.58), fill="#e9b824")
    pen.polygon(at(0.2, 0.4, 0.8, 0.4, 0.8, 0.55, 0.5, 0.8, 0.2, 0.55), fill="#2f6b45")
    pen.rectangle(at(0.14, 0.16, 0.86, 0.36), fill="#b82a2a")
    for place in range(9):
        # Nine letters like an H.
        left = 0.19 + 0.07 * place
        for x in (left, left + 0.035):
            pen.line(at(x, 0.2, x, 0.32), fill="white", width=round(1.7 * fine))
        pen.line(at(left, 0.26, left + 0.035, 0.26), fill="white", width=round(1.7 * fine))
    image = image.resize((size, size), Image.Resampling.BOX)
    if quality is None:
        return image
    saved = BytesIO()
    image.save(saved, "JPEG", quality=quality)
    with Image.open(saved) as opened:
        return opened.convert("RGB")


@pytest.mark.parametrize("quality", [None, 85, 70])
@pytest.mark.parametrize("width_mm", [6.0, 60.0])
def test_a_web_shield_keeps_some_ways(quality, width_mm):
    outputs = seen(shield(quality=quality), width_mm=width_mm, base_a="#b82a2a", base_b="#b82a2a", white_layers=4)
    left = [row for row in outputs.ways if row.place != "out"]
    assert len(left) >= 2 and outputs.ways_verdict == left[0].way
    # Strokes of 1.75 pixels are 0.06 mm at 6 mm, and 0.58 mm at 60 mm.
    assert (outputs.verdict == "too-fine") == (width_mm == 6.0)
    text = reasons_text(outputs)
    assert ("this printer" in text) == (width_mm == 6.0)
    assert ("rings mark" in outputs.finest.alt) if width_mm == 6.0 else outputs.finest is None


@pytest.mark.parametrize("quality", [None, 95, 85, 70, 50, 30])
def test_strokes_keep_their_width_in_a_jpeg(quality):
    """They are 1.75 pixels wide; 45 mm on 180 pixels are 0.25 mm a pixel."""
    found = seen(shield(quality=quality), width_mm=45.0, base_a="#b82a2a", base_b="#b82a2a", white_layers=4)
    assert found.inside_mm == pytest.approx(1.75 * 0.25, abs=0.25 * 0.25)
    assert found.outline_mm >= 4.0


def test_too_fine_parts_are_reported_once():
    outputs = seen(disc("#b82a2a"), inside_mm=0.05, base_a=IVORY, base_b=IVORY)
    assert outputs.verdict == "too-fine"
    assert reasons_text(outputs).count("0.05 mm wide") == 1
    assert not any(
        each in reasons_text(outputs)
        for each in ("It works", "looks as in the artwork", "looks as it does in the artwork")
    )
    reasoning = html(outputs.reasoning, units.MM)
    assert reasoning.count("0.05 mm") == sum(bool(row.inside) for row in tables.load("ways"))


@pytest.mark.parametrize("width_mm", [6.0, 7.3, 11.7])
def test_a_width_from_pixels_is_told_in_two_digits(width_mm):
    """And the width that cures it is rounded up: at that width the printer holds the strokes."""
    image, printer = shield(), tables.row("printers", "inkjet-pigment")
    outputs = seen(image, width_mm=width_mm, base_a="#b82a2a", base_b="#b82a2a", printer=printer.id)
    text = reasons_text(outputs)
    about = re.search(r"parts about ([0-9.]+) mm wide", text)[1]
    cure = re.search(r"make the marking about ([0-9.]+) mm wide", text)[1]
    for each in (about, cure):
        assert len(each.replace(".", "").strip("0")) <= 2, each
    assert float(about) == pytest.approx(outputs.inside_mm, rel=0.05)
    cured = seen(image, width_mm=float(cure), base_a="#b82a2a", base_b="#b82a2a", printer=printer.id)
    assert cured.inside_mm >= printer.thinnest_line_colour.high and cured.finest is None


def test_a_finer_printer_draws_what_another_cannot():
    """Black strokes of 0.12 mm: under what inkjet holds and within what laser holds (table of printers)."""
    verdicts = {
        each: seen(disc("#000000"), inside_mm=0.12, printer=each, base_a=IVORY, base_b=IVORY).verdict
        for each in ("inkjet-pigment", "laser")
    }
    assert verdicts == {"inkjet-pigment": "too-fine", "laser": "passes"}


def ringed(inner, outer):
    """A disc of one colour in a ring of another."""
    image = Image.new("RGBA", (120, 120))
    pen = ImageDraw.Draw(image)
    pen.ellipse((5, 5, 115, 115), fill=outer)
    pen.ellipse((25, 25, 95, 95), fill=inner)
    return image


def test_white_within_colour_is_never_the_visible_edge():
    enclosed = html(seen(ringed("#ffffff", "#204060"), way="backing-piece").reasoning, units.MM)
    assert "White is nowhere the visible edge" in enclosed and "of the outline, it keeps" not in enclosed
    around = html(seen(ringed("#204060", "#ffffff"), way="backing-piece", white_marks="").reasoning, units.MM)
    assert "along 100 % of the outline" in around


def test_a_half_white_outline_is_reported_as_half():
    image = Image.new("RGBA", (120, 80))
    pen = ImageDraw.Draw(image)
    pen.rectangle((10, 10, 59, 69), fill="#ffffff")
    pen.rectangle((60, 10, 109, 69), fill="#204060")
    share = re.search(r"along ([0-9]+) % of the outline", html(seen(image, way="backing-piece").reasoning, units.MM))
    assert int(share[1]) == pytest.approx(50, abs=2)


def test_a_body_colour_patch_is_reported_to_match_the_paint():
    image = Image.new("RGBA", (160, 80), "#b42c2e")
    pen = ImageDraw.Draw(image)
    for left in range(20, 140, 24):
        pen.rectangle((left, 20, left + 5, 60), fill="#ffffff")
    outputs = seen(image, width_mm=16.0, base_a="#b82a2a", base_b="#b82a2a")
    assert outputs.ways_verdict == tables.row("ways", "white-film-body-colour").label
    text = html(outputs.reasoning, units.MM)
    assert "must match the" in text and "leave it out of the artwork" in text


@pytest.mark.parametrize("printer", ["inkjet-dye", "inkjet-pigment", "laser", "led"])
def test_a_line_is_judged_by_its_colour(printer):
    """Black has the limit of one solid colour; white is left open and other colours are mixed, which need more."""
    row = tables.row("printers", printer)
    between = (row.thinnest_line.low + row.thinnest_line_colour.low) / 2
    assert row.thinnest_line.low < between < row.thinnest_line_colour.low
    for colour, is_fine in (("#101010", True), ("#ffffff", False), ("#c03020", False)):
        # Only white has to be marked; beside the others it would be a colour of its own.
        marks = "1 wanted" if colour == "#ffffff" else ""
        outputs = seen(disc(colour), printer=printer, inside_mm=between, width_mm=40.0, white_marks=marks)
        assert (outputs.verdict != "too-fine") == is_fine, colour


@pytest.mark.parametrize("printer", ["inkjet-dye", "inkjet-pigment", "laser", "led"])
def test_a_typed_width_is_judged_by_the_strictest_colour(printer):
    """Nobody said whether the narrowest part is the black or the white beside it."""
    row = tables.row("printers", printer)
    between = (row.thinnest_line.low + row.thinnest_line_colour.low) / 2
    asked = {"printer": printer, "inside_mm": between, "width_mm": 40.0, "base_a": IVORY, "base_b": IVORY}
    mixed = seen(ringed("#ffffff", "#000000"), **asked)
    assert mixed.verdict == "too-fine" and "strictest of the colours" in reasons_text(mixed)
    black = seen(disc("#000000"), **asked)
    assert black.verdict != "too-fine" and "strictest of the colours" not in reasons_text(black)


def test_a_few_pixels_of_another_colour_make_no_limit_stricter():
    """A colour under 1 % of the marking decides nothing else either."""
    image = disc("#000000", size=200)
    image.putpixel((100, 100), (192, 48, 32, 255))
    row = tables.row("printers", "laser")
    between = (row.thinnest_line.low + row.thinnest_line_colour.low) / 2
    outputs = seen(image, printer="laser", inside_mm=between, width_mm=40.0, base_a=IVORY, base_b=IVORY)
    assert outputs.verdict != "too-fine"
