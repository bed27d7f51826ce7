"""The page of bars, what is read off it, and what the job then knows."""

from __future__ import annotations

import pytest

from calculators import catalogue, tables
from calculators.declare import Refused
from calculators.declare.sentences import sentence
from calculators.sheet.bars_page import ARM_MM, bars_page, longest_mm
from calculators.sheet.print_error import PrintErrorInputs, PrintInputs, print_error
from calculators.sheets.correction import PrinterError
from calculators.sheets.printer_errors import correction_for
from calculators.units import MM
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import opened, operations
from tests.calculators.sheets.test_measured_error import TRUTH, bars

POINTS_PER_MM = 72 / 25.4


def prints(*errors: PrinterError, length_mm: float = 180) -> tuple[PrintInputs, ...]:
    """Return what is typed for prints with these errors, read exactly."""
    return tuple(
        PrintInputs(**{f"{name}_mm": value for name, value in vars(bars(each, length_mm)).items()}) for each in errors
    )


def answer(*errors: PrinterError, **more):
    return print_error(PrintErrorInputs(prints=prints(*errors), **more))


def told(outputs) -> str:
    return " ".join(sentence(each, MM) for each in outputs.reasons)


def boxes(pdf: bytes) -> list[tuple[float, float, float, float]]:
    """Return x, y, width and height in mm, y down, of the rectangles of a page."""
    height = float(opened(pdf).pages[0].mediabox[3])
    found = [tuple(map(float, operands)) for operands, _operator in operations(pdf, "re")]
    return [tuple(each / POINTS_PER_MM for each in (x, height - y - high, wide, high)) for x, y, wide, high in found]


@pytest.mark.parametrize(("paper", "length_mm"), [("a4", 180), ("half-letter", 120), ("a3", 279), ("letter", 123.4)])
def test_crosses_lie_at_the_corners_of_a_square_of_the_length(paper, length_mm):
    outputs = print_error(PrintErrorInputs(paper=paper, length_mm=length_mm))
    middles = {(round(x + wide / 2, 3), round(y + high / 2, 3)) for x, y, wide, high in boxes(outputs.pdf.data)}
    assert len(middles) == 4
    across, down = ({each[at] for each in middles} for at in (0, 1))
    assert max(across) - min(across) == pytest.approx(length_mm, abs=0.002)
    assert max(down) - min(down) == pytest.approx(length_mm, abs=0.002)
    row = tables.row("papers", paper)
    assert min(across) + max(across) == pytest.approx(row.width.value, abs=0.002)


@pytest.mark.parametrize("paper", [row.id for row in tables.load("papers")])
def test_the_longest_bars_stay_within_the_margins(paper):
    most = longest_mm(paper, 5)
    page = bars_page(paper, most)
    outer = [corner + way for corner in page.corners() for way in (ARM_MM, -ARM_MM, 1j * ARM_MM, -1j * ARM_MM)]
    assert min(each.real for each in outer) == pytest.approx(5)
    assert min(each.imag for each in outer) >= 5 - 1e-9
    assert max(each.real for each in outer) == pytest.approx(page.size.real - 5)


def test_bars_that_do_not_fit_are_told_with_the_length_that_does():
    outputs = print_error(PrintErrorInputs(paper="half-letter", length_mm=125))
    assert outputs.verdict == "no-room" and outputs.pdf is None
    # 139.7 mm less two margins of 5 mm and two arms of 4 mm is 121.7 mm.
    assert outputs.reasons[1].values == {"most_mm": 121}
    assert print_error(PrintErrorInputs(paper="half-letter", length_mm=121.7)).pdf
    assert "Even the shortest" in told(print_error(PrintErrorInputs(paper="half-letter", length_mm=60, margin_mm=50)))


def test_readings_count_where_the_bars_no_longer_fit():
    outputs = print_error(PrintErrorInputs(prints=prints(TRUTH, TRUTH), paper="a5"))
    assert outputs.verdict == "corrected" and outputs.pdf is None


def test_readings_give_the_factors_back_and_the_job_knows_them():
    outputs = answer(TRUTH, TRUTH, reading_error_mm=0.1)
    assert outputs.verdict == "corrected"
    assert (outputs.across, outputs.down, outputs.skew) == pytest.approx((0.993, 1.004, 0.2), abs=1e-9)
    assert "0.7 mm too short" in told(outputs) and "0.4 mm too long" in told(outputs) and "0.20°" in told(outputs)
    correction = correction_for(outputs.errors, "inkjet-pigment", "clear")
    assert correction is not None
    places = [complex(x, y) for x in (-105, -40, 0, 105) for y in (-148.5, -60, 0, 148.5)]
    assert max(abs(TRUTH.printed(correction.applied(each)) - each) for each in places) < 0.01


def test_other_printers_and_films_keep_their_correction():
    known = "laser on white: 1.00000 across, 0.99800 down, 0.000° slant"
    outputs = answer(TRUTH, TRUTH, known=known, film="white")
    assert outputs.errors.startswith(known)
    assert correction_for(outputs.errors, "inkjet-pigment", "white") is not None


def test_what_the_job_knows_is_read_or_refused_at_its_field():
    with pytest.raises(Refused) as refused:
        answer(TRUTH, TRUTH, known="about one in a hundred")
    assert refused.value.problems[0].field == "known"


def test_an_error_below_the_ruler_s_is_not_corrected():
    slight = PrinterError(1.0003, 0.9997, 0.01)
    outputs = answer(slight, slight, reading_error_mm=0.2)
    assert outputs.verdict == "none"
    assert correction_for(outputs.errors, "inkjet-pigment", "clear").is_identity


def test_an_error_of_a_fifth_is_called_a_scaling_and_keeps_nothing():
    outputs = answer(PrinterError(0.8, 0.8, 0.0), PrinterError(0.8, 0.8, 0.0))
    assert outputs.verdict == "too-large" and outputs.errors is None
    assert "80.0 % of its length" in told(outputs) and "fit to page" in told(outputs)
    assert outputs.pdf.data


def test_prints_that_differ_as_much_as_they_are_off_are_not_corrected():
    outputs = answer(PrinterError(0.997, 1.003, 0.1), PrinterError(1.003, 0.997, -0.1), reading_error_mm=0.1)
    assert outputs.verdict == "unsteady" and outputs.errors is None


def test_a_misread_print_is_named():
    (first, second) = prints(TRUTH, TRUTH)
    wrong = PrintInputs(**{**vars(second), "rising_mm": second.rising_mm + 1})
    outputs = print_error(PrintErrorInputs(prints=(first, wrong), reading_error_mm=0.1))
    assert outputs.verdict == "misread" and outputs.errors is None
    assert "print 2" in told(outputs)


def test_missing_readings_are_listed():
    assert print_error(PrintErrorInputs()).verdict == "unmeasured"
    outputs = print_error(PrintErrorInputs(prints=(PrintInputs(across_mm=179.0), *prints(TRUTH))))
    assert outputs.verdict == "incomplete"
    assert "3 readings are still missing: B of print 1, C of print 1, D of print 1." in told(outputs)


def test_the_correction_goes_along_with_the_first_step():
    calculator = catalogue.find("print-error")
    found = answer(TRUTH, TRUTH)
    (step, _) = calculator.outputs.__dataclass_fields__["next_steps"].metadata["result"].render((), found, MM)["shown"]
    assert step["carries"] == {"printer-errors": found.errors}
