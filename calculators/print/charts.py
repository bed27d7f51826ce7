"""What thin lines, small type and heavy ink become on this film: a chart to print and look at."""

from __future__ import annotations

from dataclasses import dataclass

from calculators import tables
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    advice,
    choice,
    colour,
    figure,
    file_result,
    folded,
    leads,
    measure,
    message,
    reasons,
    table,
    verdict,
    words,
)
from calculators.files import NEEDS
from calculators.job_fields import film, marking_printer, printer_margin
from calculators.numbers import plain
from calculators.print import chart_sentences as sentences
from calculators.print import next_steps
from calculators.print.chart_page import Block, chart_figure, chart_page, chart_pdf
from calculators.print.line_chart import capitals_mm, columns, ink_block, lines_block, type_block, widths_for
from calculators.tables.declaration import Fact
from calculators.tables.printing_rows import Printer

ALL, LINES, TYPE, INK = "all", "lines", "type", "ink"
READY, NO_ROOM = "ready", "no-room"
LEVELS = {READY: ("pass", "Ready to print"), NO_ROOM: ("fail", "The chart does not fit on this sheet")}


@dataclass(frozen=True, kw_only=True)
class ChartsInputs:
    what: str = choice(
        "What to print",
        default=ALL,
        options={ALL: "Everything", LINES: "Thin lines", TYPE: "Small type", INK: "Patches of ink"},
        help="One part fits on a narrower strip of waste.",
    )
    printer: str = marking_printer()
    film: str = film()
    colour: str = colour(
        "Your colour",
        default="#7a2232",
        names="paint-colours",
        help="That of your lining or lettering. Printers mix most colours from dots, which hold less than black.",
    )
    paper: str = choice("Sheet", table="papers", default="a4")
    margin_mm: float = folded(printer_margin())


@dataclass(frozen=True, kw_only=True)
class WidthRow:
    """One width, with the type whose strokes have it, and what the table of printers says of it."""

    line: str = words("Line, mm", help="as it is named on the chart")
    capitals: str = words("Capitals, mm")
    dark: str = verdict("In black", levels=sentences.BY_THE_TABLE)
    mixed: str = verdict("Reversed or mixed", levels=sentences.BY_THE_TABLE)


@dataclass(frozen=True, kw_only=True)
class ChartsOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    used_mm: float | None = measure("Length of film that it takes", unit="mm", decimals=0)
    chart: Figure | None = figure("The chart")
    widths: tuple[WidthRow, ...] = table("What printers of this kind hold, by the table", row=WidthRow)
    pdf: NamedFile | None = file_result("Chart to print, PDF")
    next_steps: tuple[Lead, ...] = leads(next_steps.CHARTS)


def charts(inputs: ChartsInputs) -> ChartsOutputs:
    """Return lines and type round what the kind of printer holds, and patches of ink, at exact size."""
    printer = tables.row("printers", inputs.printer)
    page = chart_page(_blocks(inputs, printer), inputs.paper, inputs.margin_mm)
    if page is None:
        why = (message(sentences.NO_ROOM), advice(sentences.LARGER_SHEET))
        return ChartsOutputs(verdict=NO_ROOM, reasons=why, used_mm=None, chart=None, widths=_rows(printer), pdf=None)
    used = message(sentences.READY, used_mm=page.used.imag)
    return ChartsOutputs(
        verdict=READY,
        reasons=(used, advice(sentences.PRINT_IT), message(sentences.WHAT_TO_FIND), message(sentences.WHOLE_SHEET)),
        used_mm=page.used.imag,
        chart=chart_figure(page, sentences.LINES_ALT),
        widths=_rows(printer),
        pdf=NamedFile("chart.pdf", "application/pdf", chart_pdf(page, sentences.TITLE_LINES)),
    )


def _blocks(inputs: ChartsInputs, printer: Printer) -> list[Block]:
    widths = widths_for(printer)
    found: list[Block] = []
    if inputs.what in (ALL, LINES):
        found += [lines_block(widths, *each) for each in columns(inputs.colour)]
    # Beside the lines there is room for it, not beside the type.
    if inputs.what in (ALL, INK):
        found.append(ink_block(inputs.colour))
    if inputs.what in (ALL, TYPE):
        found += [type_block(widths, *each) for each in columns(inputs.colour)]
    return found


def _rows(printer: Printer) -> tuple[WidthRow, ...]:
    return tuple(
        WidthRow(
            line=plain(each),
            capitals=plain(capitals_mm(each)),
            dark=_held(each, printer.thinnest_line),
            mixed=_held(each, printer.thinnest_line_colour),
        )
        for each in widths_for(printer)
    )


def _held(width_mm: float, fact: Fact) -> str:
    """Return whether printers of a kind hold a line: all of them, some, or none."""
    return "holds" if width_mm >= fact.high else "may" if width_mm >= fact.low else "fails"


CALCULATOR = Calculator(
    id="charts",
    title="What does my printer hold on this film?",
    summary="Makes a chart of thin lines, small type and heavy ink round the limits of your printer, at exact size.",
    also=("line test", "thin lines", "small type", "smallest text", "ink test", "drying test", "test print"),
    stage="print",
    about=MARKING,
    inputs=ChartsInputs,
    outputs=ChartsOutputs,
    compute=charts,
    sources=(tables.COMMON_PRACTICE, tables.ESTIMATE),
    needs=NEEDS,
    order=10,
)
