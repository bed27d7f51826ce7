"""Load line marks and draught figures of ships: at scale, as outlines."""

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
    choice,
    colour,
    figure,
    file_result,
    leads,
    measure,
    number,
    reasons,
    table,
    text,
    verdict,
    whole_number,
    words,
)
from calculators.files import NEEDS
from calculators.job_fields import (
    TRACED_OUTLINES,
    looked_at_from,
    marking_lines,
    marking_printer,
    own_width_result,
    scale_of_model,
)
from calculators.size import next_steps
from calculators.size.lines import DEPENDS, LEVELS, PRINTS, TOO_FINE, UNSEEN, judged_line

MARK, US_MARK, METRES, FEET = "metric", "us-inch", "draught-figures-metric", "draught-figures-us"
NOT_DRAWN = "not-drawn"
STARBOARD, PORT = "starboard", "port"
_MARKS = ("draw", (MARK, US_MARK))


@dataclass(frozen=True, kw_only=True)
class LoadLineInputs:
    draw: str = choice(
        "Draw",
        default=MARK,
        options={
            MARK: "Load line mark, in millimetres",
            US_MARK: "Load line mark, US text in inches",
            METRES: "Draught figures, in metres",
            FEET: "Draught figures, US text in feet",
        },
        help="The US text is not the same to the millimetre.",
    )
    letters: str = text(
        "Letters beside the ring",
        default="RK",
        most=20,
        may_be_empty=True,
        help="Of who assigned the mark, half on each side. Empty: none.",
        only_when=_MARKS,
    )
    lines: str = text(
        "Load lines",
        default="T 55, S 0, W -55",
        most=200,
        may_be_empty=True,
        help="Letters and mm above the ring's centre, on the real thing. Empty: the ring alone.",
        only_when=_MARKS,
    )
    side: str = choice(
        "Side of the ship",
        default=STARBOARD,
        options={STARBOARD: "Starboard, the bow to the right", PORT: "Port, the bow to the left"},
        only_when=_MARKS,
    )
    first_m: float = number(
        "Lowest figure",
        unit="",
        low=0,
        high=40,
        default=0.4,
        help="In metres, a figure for every 0.2.",
        only_when=("draw", METRES),
    )
    last_m: float = number(
        "Highest figure", unit="", low=0, high=40, default=1.2, help="In metres.", only_when=("draw", METRES)
    )
    first_ft: int = whole_number(
        "Lowest figure", unit="", low=0, high=130, default=2, help="In feet.", only_when=("draw", FEET)
    )
    last_ft: int = whole_number(
        "Highest figure", unit="", low=0, high=130, default=6, help="In feet.", only_when=("draw", FEET)
    )
    colour: str = colour("Colour", default="#1d2b44", names="paint-colours")
    scale: float = scale_of_model()
    line: str = marking_lines()
    printer: str = marking_printer()
    viewing_distance_mm: float = looked_at_from()


@dataclass(frozen=True, kw_only=True)
class SizeOfMark:
    what: str = words("Size")
    full_mm: float = measure("On the real thing", unit="mm", decimals=1)
    model_mm: float = measure("On the model", unit="mm", decimals=3)


@dataclass(frozen=True, kw_only=True)
class LoadLineOutputs:
    verdict: str = verdict(
        "Verdict",
        levels={each: LEVELS[each] for each in (PRINTS, DEPENDS, UNSEEN, TOO_FINE)}
        | {NOT_DRAWN: ("fail", "There are no such figures")},
    )
    reasons: tuple[Message, ...] = reasons()
    height_mm: float | None = measure("Height on the model", unit="mm", decimals=2)
    finest_mm: float | None = measure("Finest line on the model", unit="mm", decimals=3)
    own_width_mm: float | None = own_width_result()
    drawing: Figure | None = figure("The mark on the model")
    sizes: tuple[SizeOfMark, ...] = table("Full size and model size", row=SizeOfMark)
    svg: NamedFile | None = file_result("Outlines, SVG in millimetres", shares=TRACED_OUTLINES)
    pdf: NamedFile | None = file_result("For print, PDF at exact size")
    next_steps: tuple[Lead, ...] = leads(next_steps.LOAD_LINE)


def load_line(inputs: LoadLineInputs) -> LoadLineOutputs:
    """Return a load line mark or a scale of draught at the scale of the model, as outlines.

    Raises Refused for letters and load lines that cannot be drawn.
    """
    # Most calculators of this stage draw no letters, so what does comes in a part of its own.
    from calculators.lettering import ship_drawing, ship_sentences

    if inputs.draw in (MARK, US_MARK):
        title = ship_sentences.LOAD_LINE_TITLE
        levels = ship_drawing.levels_of(inputs.lines)
        row = tables.row("load-lines", inputs.draw)
        mark = ship_drawing.load_line(row, inputs.letters, levels, port=inputs.side == PORT)
    else:
        title = ship_sentences.FIGURES_TITLE
        ends = (inputs.first_m, inputs.last_m) if inputs.draw == METRES else (inputs.first_ft, inputs.last_ft)
        made = ship_drawing.figures(inputs.draw, *ends)
        if isinstance(made, Message):
            return _not_drawn(made)
        mark = made
    work = ship_drawing.worked(mark, inputs.scale, inputs.colour, title)
    printer = tables.row("printers", inputs.printer)
    found, line = judged_line(work.finest_mm, inputs.line, printer, inputs.viewing_distance_mm, whole=False)
    return LoadLineOutputs(
        verdict=found,
        reasons=(line, *work.notes),
        height_mm=work.size_mm.imag,
        finest_mm=work.finest_mm,
        own_width_mm=work.size_mm.real,
        drawing=work.drawing,
        sizes=tuple(SizeOfMark(what=what, full_mm=full, model_mm=full / inputs.scale) for what, full in work.sizes),
        svg=NamedFile("load-line.svg", "image/svg+xml", work.svg),
        pdf=NamedFile("load-line.pdf", "application/pdf", work.pdf),
    )


def _not_drawn(why: Message) -> LoadLineOutputs:
    return LoadLineOutputs(
        verdict=NOT_DRAWN,
        reasons=(why,),
        height_mm=None,
        finest_mm=None,
        own_width_mm=None,
        drawing=None,
        sizes=(),
        svg=None,
        pdf=None,
    )


CALCULATOR = Calculator(
    id="load-line",
    title="How big are load line and draught figures?",
    summary="Draws the load line mark and the draught figures of a ship at your scale, by the metric or the US text.",
    also=("ship", "boat", "hull", "Plimsoll", "freeboard", "waterline", "draft marks"),
    stage="size",
    about=MARKING,
    inputs=LoadLineInputs,
    outputs=LoadLineOutputs,
    compute=load_line,
    sources=("load-lines-1966", "cfr-46-42-13", "cfr-46-108-661", tables.COMMON_PRACTICE, tables.ESTIMATE),
    needs=NEEDS,
    order=45,
)
