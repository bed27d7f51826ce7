"""The chart of lines, type and ink at exact size, and the grid of swatches."""

from __future__ import annotations

import pytest

from calculators import tables
from calculators.declare import Refused
from calculators.print.charts import ChartsInputs, charts
from calculators.print.line_chart import widths_for
from calculators.print.swatch_grid import SwatchGridInputs, swatch_grid
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import opened, operations

POINTS_PER_MM = 72 / 25.4
PRINTERS = [row.id for row in tables.load("printers")]


def boxes(pdf: bytes) -> list[tuple[tuple[float, ...], str]]:
    """Return x, y, width and height in mm, y down, and the colour of each rectangle of a page."""
    height, colour, found = float(opened(pdf).pages[0].mediabox[3]), "", []
    for operands, operator in operations(pdf, "re", "rg"):
        if operator == "rg":
            colour = "#" + "".join(f"{round(255 * float(each)):02x}" for each in operands)
        else:
            x, y, wide, high = map(float, operands)
            found.append((tuple(each / POINTS_PER_MM for each in (x, height - y - high, wide, high)), colour))
    return found


@pytest.mark.parametrize("printer", PRINTERS)
def test_each_width_is_printed_across_and_down_in_black_and_colour_dark_and_reversed(printer):
    outputs = charts(ChartsInputs(what="lines", printer=printer, colour="#123456"))
    made = [(round(min(box[2:]), 4), colour) for box, colour in boxes(outputs.pdf.data) if max(box[2:]) < 15]
    # A reversed line prints nothing: white on the dark patch behind it.
    expected = [
        (width, ink)
        for width in widths_for(tables.row("printers", printer))
        for ink in ("#000000", "#ffffff", "#123456", "#ffffff")
        for _way in ("across", "down")
    ]
    assert sorted(made) == sorted(expected)


@pytest.mark.parametrize("printer", PRINTERS)
def test_widths_begin_where_no_printer_holds_and_end_where_all_do(printer):
    row = tables.row("printers", printer)
    rows = charts(ChartsInputs(printer=printer)).widths
    assert rows[0].dark == rows[0].mixed == "fails" and rows[-1].dark == rows[-1].mixed == "holds"
    for each in rows:
        assert (float(each.line) >= row.thinnest_line.high) == (each.dark == "holds")
        # Strokes are about an eighth of the height (estimate).
        assert float(each.capitals) == pytest.approx(8 * float(each.line), abs=0.005)


@pytest.mark.parametrize("paper", [row.id for row in tables.load("papers")])
def test_the_chart_stays_within_the_margins_or_says_that_it_does_not_fit(paper):
    size = tables.row("papers", paper)
    for what in ("all", "lines", "type", "ink"):
        outputs = charts(ChartsInputs(what=what, paper=paper, margin_mm=12))
        if outputs.verdict == "no-room":
            assert outputs.pdf is None
            continue
        for (x, y, wide, high), _colour in boxes(outputs.pdf.data):
            assert min(x, y) >= 12 - 1e-3
            assert x + wide <= size.width.value - 12 + 1e-3 and y + high <= outputs.used_mm - 12 + 1e-3
    assert charts(ChartsInputs(what="all", paper="half-letter", margin_mm=50)).verdict == "no-room"


def test_swatches_have_their_colours_at_their_size():
    outputs = swatch_grid(SwatchGridInputs(paint="#7a2232", patch_mm=6.5))
    made = boxes(outputs.pdf.data)
    assert sorted(colour for _box, colour in made) == sorted(each.colour for each in outputs.patches)
    assert all(box[2:] == pytest.approx((6.5, 6.5), abs=0.002) for box, _colour in made)


def test_the_middle_is_the_paint_and_columns_darken():
    outputs = swatch_grid(SwatchGridInputs(paint="#7a2232"))
    by_name = {each.name: each for each in outputs.patches}
    assert by_name["H2"].colour == "#7a2232" and by_name["H2"].difference == 0
    assert by_name["H2"].light == by_name["H2"].hue == by_name["H2"].chroma == "as typed"
    assert (by_name["G2"].light, by_name["J2"].light) == ("1 lighter", "2 darker")
    assert by_name["C2"].chroma == "1 duller" and by_name["M2"].chroma == "1 stronger"


def test_a_patch_that_is_typed_back_gives_its_colour():
    outputs = swatch_grid(SwatchGridInputs(paint="#7a2232", best=" g2 "))
    (chosen,) = (each for each in outputs.patches if each.name == "G2")
    assert (outputs.verdict, outputs.colour) == ("chosen", chosen.colour)
    assert outputs.difference == pytest.approx(3, abs=0.3)
    assert swatch_grid(SwatchGridInputs(paint="#7a2232", best="C1")).verdict == "edge"


@pytest.mark.parametrize(("best", "words"), [("Z9", "no patch"), ("maroon", "no patch"), ("A1", "outside sRGB")])
def test_a_patch_that_is_not_there_is_a_problem_of_its_field(best, words):
    with pytest.raises(Refused) as refused:
        swatch_grid(SwatchGridInputs(paint="#efe4c4", best=best))
    (problem,) = refused.value.problems
    assert problem.field == "best" and words in problem.text


def test_the_end_of_the_gamut_is_counted():
    outputs = swatch_grid(SwatchGridInputs(paint="#efe4c4"))
    assert outputs.verdict == "partly"
    assert int(outputs.reasons[0].values["missing"]) == 45 - len(outputs.patches)
    assert swatch_grid(SwatchGridInputs(paint="#7a6a62", step=1.5)).verdict == "ready"
