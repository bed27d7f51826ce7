"""What does the printer do to a length on this film, and how is that taken out?"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from calculators import messages, tables
from calculators.declare import (
    JOB,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    Problem,
    Refused,
    advice,
    choice,
    figure,
    file_result,
    folded,
    leads,
    measure,
    message,
    number,
    plus_minus,
    reasons,
    rows,
    table,
    verdict,
    words,
)
from calculators.declare.sentences import sentence
from calculators.files import NEEDS
from calculators.job_fields import printer_errors, printer_margin
from calculators.sheet import next_steps
from calculators.sheet import print_error_sentences as sentences
from calculators.sheet.bars_page import SHORTEST_MM, BarsPage, bars_page, bars_pdf, longest_mm
from calculators.sheet.print_error_figures import error_figure, page_figure
from calculators.sheets.correction import PrinterError
from calculators.sheets.measured_error import MOST_PRINTS, MeasuredError, Reading, measured_error
from calculators.sheets.printer_errors import KnownError, Unreadable, with_error
from calculators.units import MM

UNMEASURED, INCOMPLETE, CORRECTED, NONE = "unmeasured", "incomplete", "corrected", "none"
UNSTEADY, MISREAD, TOO_LARGE, NO_ROOM = "unsteady", "misread", "too-large", "no-room"
LEVELS = {
    UNMEASURED: ("watch", "Not measured yet"),
    INCOMPLETE: ("watch", "Some readings are missing"),
    CORRECTED: ("pass", "The printer's error can be taken out"),
    NONE: ("pass", "No error that your ruler can see"),
    UNSTEADY: ("watch", "The prints differ too much to correct"),
    MISREAD: ("watch", "One reading does not fit the others"),
    TOO_LARGE: ("fail", "Too large to be the printer's own error"),
    NO_ROOM: ("fail", "The bars do not fit on this sheet"),
}
#: What sums of lengths lose in their last digits.
ROUNDING_MM = 1e-6
#: The length for which sentences say how far it comes out wrong.
BASE_MM = 100.0


def _reading(label: str, help: str) -> float | None:
    made: float | None = number(label, unit="mm", low=10, high=1000, help=help, without="not read yet.")
    return made


@dataclass(frozen=True, kw_only=True)
class PrintInputs:
    """What is read on one print."""

    across_mm: float | None = _reading("A, across", "The top side, from cross to cross.")
    down_mm: float | None = _reading("B, down", "The left side.")
    falling_mm: float | None = _reading("C, diagonal", "From top left to bottom right.")
    rising_mm: float | None = _reading("D, diagonal", "From bottom left to top right.")


@dataclass(frozen=True, kw_only=True)
class PrintErrorInputs:
    printer: str = choice("Printer", table="printers", default="inkjet-pigment")
    film: str = choice("Film", table="materials", where=("kind", "film"), default="clear")
    paper: str = choice("Sheet", table="papers", default="a4")
    length_mm: float = number(
        "Length of the bars",
        unit="mm",
        low=SHORTEST_MM,
        high=280,
        default=180,
        help="Across and down alike. Your ruler must be longer than 1.42 times that, for the diagonals.",
    )
    prints: tuple[PrintInputs, ...] = rows(
        "Prints",
        row=PrintInputs,
        default=(PrintInputs(), PrintInputs()),
        fewest=2,
        most=MOST_PRINTS,
        help="Two prints on the film, fed the same way. Read to a tenth of a millimetre, through a magnifier.",
    )
    reading_error_mm: float = number(
        "A reading may be off by",
        unit="mm",
        low=0.01,
        high=2,
        default=0.2,
        help="Either way, at most. About 0.2 mm by eye on a steel rule, 0.1 mm through a magnifier (estimates).",
    )
    margin_mm: float = folded(printer_margin())
    known: str = folded(printer_errors())


@dataclass(frozen=True, kw_only=True)
class BarRow:
    """One length: as drawn, and as it came out."""

    bar: str = words("Bar")
    drawn_mm: float = measure("As drawn", unit="mm", decimals=2)
    printed_mm: float = measure("Printed, mean", unit="mm", decimals=2)
    in_100_mm: float = measure("Off in 100 mm", unit="mm", decimals=2)


@dataclass(frozen=True, kw_only=True)
class PrintErrorOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    across: float | None = measure(
        "Factor across", decimals=4, uncertainty="across_off", help="printed over drawn; ± covers 95 of 100 cases"
    )
    across_off: float | None = plus_minus("Factor across, may be off by")
    down: float | None = measure("Factor down", decimals=4, uncertainty="down_off")
    down_off: float | None = plus_minus("Factor down, may be off by")
    skew: float | None = measure(
        "Slant", unit="degrees", decimals=3, uncertainty="skew_off", help="of lines down; the bottom goes to the right"
    )
    skew_off: float | None = plus_minus("Slant, may be off by")
    errors: str | None = words("What the job then knows")
    error: Figure | None = figure("What the printer does")
    page: Figure | None = figure("The page of bars")
    bars: tuple[BarRow, ...] = table("Bar by bar", row=BarRow)
    pdf: NamedFile | None = file_result("Page of bars to print twice, PDF")
    next_steps: tuple[Lead, ...] = leads(next_steps.PRINT_ERROR)


def print_error(inputs: PrintErrorInputs) -> PrintErrorOutputs:
    """Return the page of bars and, once both prints are read, the printer's error with its uncertainty.

    Raises Refused where what the job knows cannot be read.
    """
    most_mm = longest_mm(inputs.paper, inputs.margin_mm)
    page = bars_page(inputs.paper, inputs.length_mm) if inputs.length_mm <= most_mm + ROUNDING_MM else None
    readings = tuple(map(_read, inputs.prints))
    complete = [each for each in readings if each is not None]
    if len(complete) == len(readings):
        found = measured_error(inputs.length_mm, complete, inputs.reading_error_mm)
        return _outputs(inputs, page, *_judged(inputs, found, complete), found, complete)
    if page is None:
        return _outputs(inputs, page, NO_ROOM, _too_long(inputs.length_mm, most_mm))
    return _outputs(inputs, page, *_unread(inputs.prints))


def _too_long(length_mm: float, most_mm: float) -> list[Message]:
    # Whole millimetres, rounded down, so that whoever types what is said here gets bars.
    most_mm = floor(most_mm + ROUNDING_MM)
    room = advice(sentences.ROOM_FOR, most_mm=most_mm) if most_mm >= SHORTEST_MM else advice(sentences.NO_ROOM_AT_ALL)
    return [message(sentences.NO_ROOM, length_mm=length_mm), room]


def _read(each: PrintInputs) -> Reading | None:
    if each.across_mm is None or each.down_mm is None or each.falling_mm is None or each.rising_mm is None:
        return None
    return Reading(each.across_mm, each.down_mm, each.falling_mm, each.rising_mm)


def _unread(prints: tuple[PrintInputs, ...]) -> tuple[str, list[Message]]:
    """Return verdict and reasons as long as readings are missing."""
    missing = [
        sentences.OF_PRINT.format(reading=sentences.BARS[name.removesuffix("_mm")], number=place + 1)
        for place, each in enumerate(prints)
        for name, value in vars(each).items()
        if value is None
    ]
    if len(missing) == len(sentences.BARS) * len(prints):
        return UNMEASURED, [message(sentences.PRINT_TWICE), advice(sentences.PRINT_TWICE_HOW)]
    count = messages.plural(len(missing), "reading is", "readings are")
    listed = message(sentences.READINGS_MISSING, missing=count, which=", ".join(missing))
    return INCOMPLETE, [listed, advice(sentences.TYPE_MISSING)]


def _judged(inputs: PrintErrorInputs, found: MeasuredError, readings: list[Reading]) -> tuple[str, list[Message]]:
    """Return verdict and reasons of a measured error."""
    if refusal := found.error.refusal():
        return TOO_LARGE, [refusal, advice(sentences.TOO_LARGE_HOW)]
    if found.misread is not None:
        number_ = str(found.misread + 1)
        misfit = message(sentences.MISREAD, number=number_, misfit_mm=readings[found.misread].misfit_mm)
        return MISREAD, [misfit, advice(sentences.MISREAD_HOW, number=number_)]
    further = [message(sentences.UNEVEN[found.uneven])] if found.uneven else []
    if any(found.seen):
        scatter = [message(sentences.SCATTERS)] if found.scatters else []
        return CORRECTED, [*_seen(inputs, found), *further, *scatter, message(sentences.ON_THE_SHEET)]
    if found.scatters:
        return UNSTEADY, [message(sentences.UNSTEADY), advice(sentences.UNSTEADY_HOW), *further]
    nothing = message(
        sentences.NOT_SEEN,
        base_mm=BASE_MM,
        across_mm=found.off.across * BASE_MM,
        down_mm=found.off.down * BASE_MM,
    )
    return NONE, [nothing, advice(sentences.NOTHING_TO_DO, **_names(inputs)), message(sentences.FINER)]


def _seen(inputs: PrintErrorInputs, found: MeasuredError) -> list[Message]:
    """Return what was found, and what to do with it."""
    across, down, skew = found.seen
    slant = message(sentences.SLANT, skew=f"{found.error.skew:.2f}") if skew else message(sentences.NO_SLANT)
    factors = message(
        sentences.FOUND,
        base_mm=BASE_MM,
        across=_off(found.error.across, found.off.across, seen=across),
        down=_off(found.error.down, found.off.down, seen=down),
        skew=slant,
    )
    return [factors, advice(sentences.TAKE_OUT, **_names(inputs))]


def _off(factor: float, off: float, *, seen: bool) -> Message:
    if not seen:
        return message(sentences.RIGHT, off_mm=off * BASE_MM)
    return message(sentences.TOO_LONG if factor > 1 else sentences.TOO_SHORT, off_mm=abs(factor - 1) * BASE_MM)


def _names(inputs: PrintErrorInputs) -> dict[str, str]:
    printer, film = tables.row("printers", inputs.printer), tables.row("materials", inputs.film)
    return {"printer": messages.in_sentence(printer.label), "film": messages.in_sentence(film.label)}


def _stored_errors(inputs: PrintErrorInputs, error: PrinterError) -> str:
    """Return what the job then knows of its printers. Raises Refused."""
    try:
        return with_error(inputs.known, KnownError(inputs.printer, inputs.film, error))
    except Unreadable as unread:
        raise Refused(Problem("known", sentence(unread.sentence, MM), sentences.UNREADABLE_HOW)) from None


def _outputs(
    inputs: PrintErrorInputs,
    page: BarsPage | None,
    verdict_here: str,
    why: list[Message],
    found: MeasuredError | None = None,
    readings: list[Reading] | None = None,
) -> PrintErrorOutputs:
    names = _names(inputs)
    return PrintErrorOutputs(
        verdict=verdict_here,
        reasons=tuple(why),
        across=found.error.across if found else None,
        across_off=found.off.across if found else None,
        down=found.error.down if found else None,
        down_off=found.off.down if found else None,
        skew=found.error.skew if found else None,
        skew_off=found.off.skew if found else None,
        errors=_stored_errors(inputs, found.to_correct) if found and verdict_here in (CORRECTED, NONE) else None,
        error=error_figure(found.error, inputs.length_mm) if found else None,
        page=page_figure(page) if page else None,
        bars=_rows(inputs, readings or []),
        pdf=_pdf(page, f"{names['printer']}, {names['film']}") if page else None,
    )


def _pdf(page: BarsPage, names: str) -> NamedFile:
    return NamedFile("bars.pdf", "application/pdf", bars_pdf(page, names))


def _rows(inputs: PrintErrorInputs, readings: list[Reading]) -> tuple[BarRow, ...]:
    """Return each bar as it was drawn and as it came out; nothing where it was not read."""
    page, rows_here = bars_page(inputs.paper, inputs.length_mm), []
    for name, _start, _end in page.bars() if readings else ():
        drawn, printed = page.nominal_mm(name), sum(getattr(each, name) for each in readings) / len(readings)
        rows_here.append(
            BarRow(
                bar=sentences.BARS[name],
                drawn_mm=drawn,
                printed_mm=printed,
                in_100_mm=BASE_MM * (printed / drawn - 1),
            )
        )
    return tuple(rows_here)


CALCULATOR = Calculator(
    id="print-error",
    title="What does my printer do to a length?",
    summary="Makes bars to print twice on the film, and takes the printer's own error out of every later sheet.",
    also=("calibration", "wrong size", "stretched", "skew", "too long", "too short", "scale factor"),
    stage="sheet",
    about=JOB,
    inputs=PrintErrorInputs,
    outputs=PrintErrorOutputs,
    compute=print_error,
    sources=("jcgm-100", tables.COMMON_PRACTICE, tables.ESTIMATE),
    needs=NEEDS,
    order=50,
)
