"""Lines on the model against the limits of printers in data/printers.yaml, which are estimates from common practice."""

import pytest

from calculators import tables
from calculators.printed_lines import LINES
from calculators.read import read
from calculators.size.scale_size import CALCULATOR, ScaleSizeInputs
from calculators.units import MM
from calculators.view import view


def asked(**typed: str):
    reading = read(ScaleSizeInputs, typed)
    assert not reading.problems, reading.problems
    return CALCULATOR.answer(reading.inputs)


@pytest.mark.parametrize(
    ("line", "verdict"), [("solid", "prints"), ("reversed", "depends-on-printer"), ("mixed", "depends-on-printer")]
)
def test_light_lines_on_dark_use_their_own_limit(line, verdict):
    """A line of 0.2 mm on a pigment inkjet: dark ones hold from 0.15 or 0.2 mm, reversed and mixed ones from 0.2 or 0.3
    mm.
    """
    answer = asked(thinnest_line_full_mm="14.4 mm", scale="1:72", line=line, printer="inkjet-pigment")
    assert answer.verdict == verdict


@pytest.mark.parametrize("printer", [row.id for row in tables.load("printers")])
def test_thinnest_lines_come_from_the_table(printer):
    row = tables.row("printers", printer)
    for line, held in (
        ("solid", row.thinnest_line),
        ("reversed", row.thinnest_line_colour),
        ("mixed", row.thinnest_line_colour),
    ):
        answer = asked(scale="1:50", line=line, printer=printer)
        assert answer.thinnest_printed_full_mm == pytest.approx(50 * held.high)
        assert answer.thinnest_printed_at_best_full_mm == pytest.approx(50 * held.low)


def test_a_reversed_line_below_the_printer_limit_fails():
    assert asked(thinnest_line_full_mm="12 mm", scale="1:72", line="solid").verdict == "depends-on-printer"
    assert asked(thinnest_line_full_mm="12 mm", scale="1:72", line="reversed").verdict == "too-fine-to-print"


@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize(
    ("full", "scale"), [("600 mm", "1:43.5"), ("13 mm", "1:72"), ("9 mm", "1:72"), ("16 mm", "1:72")]
)
def test_the_title_says_only_the_whole_was_judged(line, full, scale):
    for distance in ("300 mm", "3 m"):
        answer = asked(full_size_mm=full, scale=scale, line=line, viewing_distance_mm=distance)
        verdict = view(answer, MM)["verdict"]
        assert verdict["title"].startswith("The whole marking ")
        assert "thinnest line is not judged" in verdict["title"] or verdict["level"] == "fail"
        assert verdict["reasons"][0].startswith("The whole marking is ")


def test_a_known_thinnest_line_is_not_called_the_whole_marking():
    verdict = view(asked(thinnest_line_full_mm="20 mm"), MM)["verdict"]
    assert "whole" not in verdict["title"] + verdict["reasons"][0]
