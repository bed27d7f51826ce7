"""Lay all markings of a job out on film: what the bench still lacks, with spares, white pieces and a test strip."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from typing import Any

from calculators import tables
from calculators.declare import (
    JOB,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    Progress,
    choice,
    figure,
    file_result,
    folded,
    leads,
    measure,
    named,
    number,
    reasons,
    table,
    text,
    verdict,
    whole_job,
    whole_number,
    words,
    yes_no,
)
from calculators.files import NEEDS as PDF_NEEDS
from calculators.job_fields import printer_errors
from calculators.packing import NEEDS
from calculators.sheet import next_steps
from calculators.values import Pixels, Wanted

FITS, SEVERAL, INCOMPLETE, LEFT_OUT, NOTHING = "fits", "several", "incomplete", "left-out", "nothing"
REFUSED, NO_ROOM, TOO_MANY = "refused", "no-room", "too-many"
LEVELS = {
    FITS: ("pass", "All of it fits, one sheet of each film"),
    SEVERAL: ("pass", "All of it fits on several sheets"),
    INCOMPLETE: ("watch", "All of it fits, but some of it is not printed"),
    LEFT_OUT: ("fail", "Some pieces do not fit"),
    NOTHING: ("watch", "There is nothing to print"),
    REFUSED: ("fail", "This sheet must not go into the printer"),
    NO_ROOM: ("fail", "The margins leave no room"),
    TOO_MANY: ("fail", "These are too many pieces"),
}
BY_HAND, BY_CUTTER = "hand", "cutter"
CLEAR, WHITE = "clear", "white"
#: Which spares, and which check bars: the words of `sheets.collect` and `sheets.layout`.
OF_JOB, SUGGESTED, NO_SPARES = "job", "suggested", "none"
NO_BARS, SHORT_ALONG, BOTH_BARS = "none", "short", "both"
#: Printers whose fuser is hot: part-used sheets are a hazard there.
TONER = ("laser", "led", "white-toner")
_PART_USED = ("part_used", "yes")
_PRICED = ("own_prices", "yes")
_CUTTER = ("cut_by", BY_CUTTER)
_PLATED = ("plate", "yes")


def _margin(label: str, default: float) -> Any:
    return number(
        label,
        unit="mm",
        low=0,
        high=60,
        default=default,
        help="Print one page filled to the edge on paper, and measure what stays white.",
    )


def _price(label: str) -> Any:
    return number(
        label,
        unit="",
        low=0,
        high=100_000,
        help="In your own money.",
        without="its cost stays open.",
        only_when=_PRICED,
    )


@dataclass(frozen=True, kw_only=True)
class SheetInputs:
    job: NamedFile | None = whole_job(
        "Job",
        help="All markings of your current job, as they are now.",
        without="the page lays out the demonstration job.",
    )
    printer: str = choice("Printer", table="printers", default="inkjet-pigment")
    paper: str = choice("Sheet", table="papers", default="a4")
    own_size: bool = yes_no(
        "My sheets have another size", default=False, help="Film is often trimmed a little smaller."
    )
    width_mm: float = number(
        "Width of a sheet", unit="mm", low=50, high=1200, default=210, only_when=("own_size", "yes")
    )
    height_mm: float = number(
        "Length of a sheet",
        unit="mm",
        low=50,
        high=2000,
        default=297,
        help="In the direction in which it goes into the printer.",
        only_when=("own_size", "yes"),
    )
    cut_by: str = choice(
        "You cut",
        options={BY_HAND: "By hand, with a knife", BY_CUTTER: "With a cutter, by printed marks"},
        default=BY_HAND,
    )
    cutter_error_mm: float = number(
        "Error of the cutter",
        unit="mm",
        low=0,
        high=3,
        default=0.3,
        help="How far its cut lies beside the print. Bleed and rim are at least that.",
        only_when=_CUTTER,
    )
    marks_mm: float = number(
        "Room for the marks of the cutter's program",
        unit="mm",
        low=0,
        high=60,
        default=10,
        help="A band inside the margins that stays empty. Its own program puts its marks there.",
        only_when=_CUTTER,
    )
    spares: str = choice(
        "Spares",
        options={
            SUGGESTED: "As the job says, and at least as many as suggested",
            OF_JOB: "As the job says",
            NO_SPARES: "None",
        },
        default=SUGGESTED,
        help="Suggested by difficulty: more for what is small, long or in two parts.",
    )
    seen_through: str = text(
        "Seen through their film, or applied face down",
        default="",
        most=2000,
        may_be_empty=True,
        help="Names of markings, with commas between them. They are mirrored, and white goes over their print.",
    )
    part_used: bool = yes_no("The first sheet is part-used", default=False)
    used_film: str = choice(
        "Film of the part-used sheet",
        table="materials",
        where=("kind", "film"),
        default="clear",
        only_when=_PART_USED,
    )
    used_mm: float = number(
        "Length cut off before",
        unit="mm",
        low=1,
        high=1900,
        default=100,
        help="From the edge that went in first, across the full width.",
        only_when=_PART_USED,
    )
    cut_straight: bool = yes_no("It is cut straight across the full width", default=False, only_when=_PART_USED)
    whole_edge_first: bool = yes_no(
        "Its whole edge goes in first",
        default=False,
        help="The edge from the maker, and not the one that you cut.",
        only_when=_PART_USED,
    )
    no_tape: bool = yes_no("There is no tape on it", default=False, only_when=_PART_USED)
    maker_permits: bool = yes_no(
        "The printer's maker permits part-used or cut sheets",
        default=False,
        help="In a hot fuser they are a hazard. Look it up in the printer's manual.",
        only_when=("printer", TONER),
    )
    shortest_mm: float = folded(
        number(
            "Shortest sheet of the printer",
            unit="mm",
            low=0,
            high=500,
            default=127,
            help="From its manual. What is left of a sheet is useful only if it is no shorter.",
        )
    )
    sides_mm: float = folded(_margin("Margin at both sides", 5))
    leading_mm: float = folded(_margin("Margin at the edge that goes in first", 5))
    trailing_mm: float = folded(_margin("Margin at the other end", 12))
    gap_mm: float | None = folded(
        number("Knife gap", unit="mm", low=0, high=30, without="3 mm by hand, and 1 mm with a cutter.")
    )
    bleed_mm: float | None = folded(
        number("Bleed on white film", unit="mm", low=0, high=10, without="1 mm by hand, and 0.5 mm with a cutter.")
    )
    rim_mm: float = folded(
        number(
            "Rim of bare clear film", unit="mm", low=0, high=10, default=0.5, help="So that no cut goes through ink."
        )
    )
    tab_mm: float = folded(
        number(
            "Holding tab",
            unit="mm",
            low=0,
            high=40,
            default=6,
            help="Waste at the left of each piece, for the tweezers.",
        )
    )
    bars: str = folded(
        choice(
            "Bars to measure",
            options={
                BOTH_BARS: "100 mm in both directions",
                SHORT_ALONG: "100 mm across, 20 mm along: it uses less film",
                NO_BARS: "None",
            },
            default=BOTH_BARS,
        )
    )
    tests: bool = folded(
        yes_no(
            "A test strip and one piece to try first",
            default=True,
            help="Take them through the whole chain before you print the rest.",
        )
    )
    names: bool = folded(yes_no("Write the names of pieces beside them", default=True))
    cut_lines: bool = folded(
        yes_no("Cut lines", default=False, help="On a layer of their own, which is hidden until you show it.")
    )
    date: str = folded(
        text(
            "Date on the sheets",
            default="",
            most=40,
            may_be_empty=True,
            help="Written on each sheet with the job's name.",
        )
    )
    plate: bool = folded(
        yes_no(
            "A white plate",
            default=False,
            help="For printers and services with white: beneath all colour on clear film, its edges smooth.",
        )
    )
    plate_name: str = folded(
        text(
            "Name of the white ink", default="White", most=60, help="As the print service calls it.", only_when=_PLATED
        )
    )
    plate_choke_mm: float = folded(
        number(
            "Choke of the plate",
            unit="mm",
            low=0,
            high=1,
            default=0.1,
            help="How far white ends inside colour: the service's own figure.",
            only_when=_PLATED,
        )
    )
    png_ppi: float | None = folded(
        number(
            "One sheet as a picture, at",
            unit="ppi",
            low=150,
            high=1200,
            help="For printer drivers that only take pictures.",
            without="no picture is made.",
        )
    )
    file_sheet: int = folded(whole_number("Sheet for the picture and the cutter", unit="", low=1, high=40, default=1))
    errors: str = folded(printer_errors())
    own_prices: bool = folded(yes_no("Work out what it costs", default=False))
    price_clear: float | None = folded(_price("Price of a sheet of clear film"))
    price_white: float | None = folded(_price("Price of a sheet of white film"))


FILMS = {"clear": "Clear film", "white": "White film"}
PARTS = {
    "colour": "Marking",
    "white": "Backing piece",
    "trial": "To try first",
    "strip": "Test strip",
}


@dataclass(frozen=True)
class SheetRow:
    """A sheet: what it holds, and what is left of it."""

    number: int = measure("Sheet", unit="", decimals=0)
    film: str = named("Film", names=FILMS)
    pieces: int = measure("Pieces", unit="", decimals=0)
    used_mm: float = measure("Used length", unit="mm", decimals=0)
    share: float = measure("Film covered", unit="%", decimals=0)
    rest_mm: float | None = measure("Left over", unit="mm", decimals=0)
    cost: float | None = measure("Cost", unit="", decimals=2)


@dataclass(frozen=True)
class PieceRow:
    """A kind of piece: where its copies lie, and what one more would take. ``number`` is the one in the drawing."""

    number: int = measure("No.", unit="", decimals=0)
    name: str = words("Piece")
    part: str = named("What it is", names=PARTS)
    sheets: str = words("On sheet")
    copies: int = measure("Copies", unit="", decimals=0)
    spares: int = measure("Spares", unit="", decimals=0)
    suggested: int | None = measure("Spares suggested", unit="", decimals=0)
    width_mm: float = measure("Width", unit="mm", decimals=1)
    height_mm: float = measure("Height", unit="mm", decimals=1)
    more_mm: float | None = measure("One more takes", unit="mm", decimals=0)
    cost: float | None = measure("Cost of one", unit="", decimals=2)


@dataclass(frozen=True)
class MissingRow:
    """A marking or piece that is on no sheet, and why."""

    name: str = words("Marking")
    pieces: int | None = measure("Pieces", unit="", decimals=0)
    why: Message = words("Why")


@dataclass(frozen=True, kw_only=True)
class SheetOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    pieces: int = measure("Pieces", unit="", decimals=0)
    used_mm: float = measure("Used length of film", unit="mm", decimals=0, help="of all sheets together")
    share: float | None = measure(
        "Film covered", unit="%", decimals=0, help="of the used length, by pieces with their tabs"
    )
    cost: float | None = measure("Cost of the film used", unit="", decimals=2)
    cost_spares: float | None = measure("Spares in it", unit="", decimals=2)
    cost_white: float | None = measure("White pieces in it", unit="", decimals=2)
    layout: Figure | None = figure("The sheets, to scale")
    print_clear: NamedFile | None = file_result(
        "Clear film, PDF for the printer", help="Print at 100 %, and measure the bars."
    )
    print_white: NamedFile | None = file_result(
        "White film, PDF for the printer", help="Print at 100 %, and measure the bars."
    )
    proof: NamedFile | None = file_result(
        "Paper proof, PDF", help="In light tints with cut lines, to try on the model."
    )
    png: NamedFile | None = file_result("One sheet, PNG")
    png_white: NamedFile | None = file_result("Its white plate, PNG", help="Black where white is printed.")
    cuts_svg: NamedFile | None = file_result("Cuts of one sheet, SVG in millimetres")
    cuts_dxf: NamedFile | None = file_result("Cuts of one sheet, DXF in millimetres")
    sheets: tuple[SheetRow, ...] = table(
        "Sheets", row=SheetRow, decides=("number", "film", "pieces", "used_mm", "rest_mm")
    )
    missing: tuple[MissingRow, ...] = table("Not on the sheets", row=MissingRow)
    placed: tuple[PieceRow, ...] = table(
        "What lies where", row=PieceRow, decides=("number", "name", "sheets", "copies", "spares")
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.SHEET)


def sheet(inputs: SheetInputs) -> Generator[Progress | Wanted, Pixels | None, SheetOutputs]:
    """Return all pieces that a job still lacks, laid out on sheets of film.

    Yields progress, and asks for pixels. Raises Refused for what is no job, and for what is seen through white film.
    """
    # A part of its own: no other question needs all that reads jobs and packs.
    from calculators.sheet import sheet_answer

    return (yield from sheet_answer.answered(inputs))


CALCULATOR = Calculator(
    id="sheet",
    title="How does it all fit on the film?",
    summary="Lays every marking of the job out on sheets of film, with spares, white pieces, holding tabs, bars to "
    "measure and a test strip, and says what is left over.",
    also=("layout", "nesting", "gang sheet", "arrange", "fill a sheet", "imposition"),
    stage="sheet",
    about=JOB,
    inputs=SheetInputs,
    outputs=SheetOutputs,
    compute=sheet,
    sources=(tables.COMMON_PRACTICE, tables.ESTIMATE),
    cautions=tuple(tables.row("hazards", each).caution for each in ("jams",)),
    needs=(*PDF_NEEDS, *NEEDS),
    limit_s=300,
    order=10,
)
