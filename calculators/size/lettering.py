"""Lettering by a published rule, or as measured on a photograph: at scale, as outlines."""

from __future__ import annotations

import json
from collections.abc import Generator
from dataclasses import dataclass, fields
from typing import Any

from calculators import tables
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    Progress,
    choice,
    colour,
    figure,
    file_result,
    folded,
    leads,
    measure,
    number,
    reasons,
    table,
    text,
    verdict,
    words,
)
from calculators.files import NEEDS
from calculators.job_fields import (
    SERIES_ROWS,
    TRACED_OUTLINES,
    looked_at_from,
    marking_lines,
    marking_printer,
    own_width_result,
    scale_of_model,
)
from calculators.lettering import BY_RULE, MOST_SLANT, OWN_FONT, ROUND, SOLID, SQUARE, STENCILLED
from calculators.size import font_fields, next_steps
from calculators.size.lines import DEPENDS, PRINTS, TOO_FINE, UNSEEN, judged_line

ONE, SERIES = "one", "series"
NOT_DRAWN, FORBIDDEN, DEPARTS = "not-drawn", "forbidden", "departs"
NO_FONT = "no-font"
#: The verdicts on letters in a font, by those on letters by a rule.
IN_FONT = {each: f"font-{each}" for each in (PRINTS, DEPENDS, UNSEEN)}
LEVELS = {
    PRINTS: ("pass", "By the rule, and it prints"),
    DEPENDS: ("watch", "By the rule, but it depends on your printer"),
    UNSEEN: ("watch", "By the rule, but its strokes are hard to see"),
    DEPARTS: ("watch", "It departs from the rule"),
    FORBIDDEN: ("watch", "The rule forbids this text"),
    IN_FONT[PRINTS]: ("pass", "It prints"),
    IN_FONT[DEPENDS]: ("watch", "It depends on your printer"),
    IN_FONT[UNSEEN]: ("watch", "Its strokes are hard to see"),
    TOO_FINE: ("fail", "Its strokes are too fine to print"),
    NO_FONT: ("watch", "Choose the file of your font"),
    NOT_DRAWN: ("fail", "Letters of these sizes cannot be drawn"),
}


def _measured(label: str, help: str = "", *, low: float = 0.5, high: float = 5000) -> float | None:
    made: float | None = folded(
        number(
            label, unit="mm", low=low, high=high, help=help, without="that of the rule.", only_when=("letters", BY_RULE)
        )
    )
    return made


def _colour(label: str, default: str) -> str:
    made: str = colour(label, default=default, names="paint-colours")
    return made


@dataclass(frozen=True, kw_only=True)
class LetteringInputs:
    draw: str = choice("Draw", default=ONE, options={ONE: "One text", SERIES: "A series of texts"})
    series: str = text(
        "Texts of the series",
        default="12 to 15, 19 x 2",
        most=9000,
        lines=4,
        help="Between commas or line ends. 12-19: all between. 14 x 3: three copies. Missing check digits are added.",
        only_when=("draw", SERIES),
    )
    text: str = text(
        "Text",
        default="ROWAN 12",
        most=82,
        lines=2,
        help="At most two lines. A rule draws A to Z, 0 to 9, . / & - and blanks; a font what it has.",
        only_when=("draw", ONE),
    )
    letters: str = font_fields.letters()
    font_file: NamedFile | None = font_fields.font_file()
    font_height_mm: float = font_fields.height()
    height_of: str = font_fields.height_of()
    baseline: str = font_fields.baseline()
    radius_mm: float = font_fields.radius()
    kerned: bool = font_fields.kerned()
    letter_space_mm: float = font_fields.space("letters", "Below 0: less.")
    word_space_mm: float = font_fields.space("words")
    rule: str = choice(
        "Rule",
        table="rules",
        default="us-reporting-mark",
        help="A photograph of the subject overrules any rule.",
        only_when=("letters", BY_RULE),
    )
    height_mm: float | None = number(
        "Height of the capitals, on the real thing",
        unit="mm",
        low=5,
        high=5000,
        help="Needed where the rule leaves it open.",
        without="that of the rule.",
        only_when=("letters", BY_RULE),
    )
    width_mm: float | None = _measured("Width of a character, on the real thing", "Of a letter such as H.")
    stroke_mm: float | None = _measured("Width of the strokes, on the real thing")
    gap_mm: float | None = _measured("Gap between characters, on the real thing", low=0)
    length_mm: float | None = folded(
        number(
            "Wanted length, on the real thing",
            unit="mm",
            low=1,
            high=100_000,
            help="Letters and gaps are condensed or expanded. By a rule the strokes stay; in a font they follow.",
            without="that of the rule or the font.",
        )
    )
    room_mm: float | None = folded(
        number(
            "Free length on the surface, on the real thing",
            unit="mm",
            low=1,
            high=100_000,
            help="Smaller letters are drawn where the surface is too small. You see what a rule says of that.",
            without="as long as it comes.",
        )
    )
    corners: str = choice(
        "Corners", default=ROUND, options={ROUND: "Round", SQUARE: "Square"}, only_when=("letters", BY_RULE)
    )
    slant_degrees: float = folded(number("Slant", unit="°", low=0, high=MOST_SLANT, default=0))
    style: str = folded(
        choice(
            "Style",
            default=SOLID,
            options={SOLID: "Solid", STENCILLED: "Stencilled, with breaks"},
            only_when=("letters", BY_RULE),
        )
    )
    break_mm: float = folded(
        number(
            "Width of the breaks, on the real thing",
            unit="mm",
            low=1,
            high=1000,
            default=10,
            only_when=("style", STENCILLED),
        )
    )
    colour: str = _colour("Colour", "#1d2b44")
    outline_mm: float = folded(
        number("Outline round the letters, on the model", unit="mm", low=0, high=5, default=0, help="0: none.")
    )
    outline_colour: str = folded(_colour("Colour of the outline", "#c9a227"))
    second_outline_mm: float = folded(
        number("Second outline, on the model", unit="mm", low=0, high=5, default=0, help="Round the first. 0: none.")
    )
    second_outline_colour: str = folded(_colour("Colour of the second outline", "#ffffff"))
    shadow_right_mm: float = folded(
        number(
            "Shadow to the right, on the model", unit="mm", low=-10, high=10, default=0, help="Below 0: to the left."
        )
    )
    shadow_down_mm: float = folded(
        number("Shadow downwards, on the model", unit="mm", low=-10, high=10, default=0, help="Below 0: upwards.")
    )
    shadow_colour: str = folded(_colour("Colour of the shadow", "#7a1f2b"))
    scale: float = scale_of_model()
    line: str = marking_lines()
    printer: str = marking_printer()
    viewing_distance_mm: float = looked_at_from()


@dataclass(frozen=True, kw_only=True)
class SizeOfLettering:
    what: str = words("Size")
    full_mm: float = measure("On the real thing", unit="mm", decimals=1)
    model_mm: float = measure("On the model", unit="mm", decimals=3)


@dataclass(frozen=True, kw_only=True)
class WidthOfCharacter:
    character: str = words("Characters")
    full_mm: float = measure("Width on the real thing", unit="mm", decimals=1)
    model_mm: float = measure("On the model", unit="mm", decimals=3)


@dataclass(frozen=True, kw_only=True)
class TextOfSeries:
    text: str = words("Text")
    copies: int = measure("Copies", decimals=0)
    full_mm: float = measure("Length on the real thing", unit="mm", decimals=1)
    model_mm: float = measure("On the model", unit="mm", decimals=2)
    against: str = words("The rule against it")


@dataclass(frozen=True, kw_only=True)
class LetteringOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    length_mm: float | None = measure("Length on the model", unit="mm", decimals=2, help="of the boxes, not slanted")
    height_mm: float | None = measure("Height on the model", unit="mm", decimals=2)
    stroke_mm: float | None = measure("Stroke on the model", unit="mm", decimals=3)
    own_width_mm: float | None = own_width_result()
    drawing: Figure | None = figure("The lettering on the model")
    texts: tuple[TextOfSeries, ...] = table("The texts of the series", row=TextOfSeries)
    sizes: tuple[SizeOfLettering, ...] = table("Full size and model size", row=SizeOfLettering)
    letters: tuple[WidthOfCharacter, ...] = table("Width of each character", row=WidthOfCharacter)
    svg: NamedFile | None = file_result("Outlines, SVG in millimetres", shares=TRACED_OUTLINES)
    pdf: NamedFile | None = file_result("For print, PDF at exact size", help="Lower colours extend beneath the upper.")
    next_steps: tuple[Lead, ...] = leads(next_steps.LETTERING_OR_FONT)


def lettering(inputs: LetteringInputs) -> Generator[Progress, None, LetteringOutputs]:
    """Return texts by a rule or in a font at the scale of the model, as outlines, with what the rule has against them.

    Yields progress. Raises Refused for a text or a font that cannot be drawn.
    """
    # Most calculators of this stage draw no letters, so what does comes in a part of its own.
    from calculators.lettering import drawing

    chosen = {each.name: getattr(inputs, each.name) for each in fields(drawing.Order) if each.name != "series"}
    order = drawing.Order(**chosen, series=inputs.series if inputs.draw == SERIES else None)
    if inputs.letters == BY_RULE:
        work = yield from drawing.drawn(order, tables.row("rules", inputs.rule))
    else:
        # And what reads fonts comes with the first text that is set in one.
        from calculators.lettering.fonts import drawing as in_font

        of_font = in_font.FontOrder(**{each.name: getattr(inputs, each.name) for each in fields(in_font.FontOrder)})
        work = yield from in_font.drawn_in_font(order, of_font)
    if isinstance(work, Message):
        return LetteringOutputs(
            verdict=NO_FONT if inputs.letters == OWN_FONT and inputs.font_file is None else NOT_DRAWN,
            reasons=(work,),
            length_mm=None,
            height_mm=None,
            stroke_mm=None,
            own_width_mm=None,
            drawing=None,
            texts=(),
            sizes=(),
            letters=(),
            svg=None,
            pdf=None,
        )
    found, reasons = _judged(inputs, work)
    series = work.texts if inputs.draw == SERIES else []
    return LetteringOutputs(
        verdict=found,
        reasons=(*reasons, *work.further),
        length_mm=work.length_mm,
        height_mm=work.height_mm,
        stroke_mm=work.stroke_mm,
        own_width_mm=work.size_mm.real,
        drawing=work.drawing,
        texts=tuple(
            TextOfSeries(
                text=drawn.text,
                copies=drawn.copies,
                full_mm=drawn.lettering.length,
                model_mm=drawn.lettering.length / inputs.scale,
                against=drawing.words_against(against),
            )
            for drawn, against in series
        ),
        sizes=tuple(
            SizeOfLettering(what=what, full_mm=full, model_mm=full / inputs.scale) for what, full in work.sizes
        ),
        letters=tuple(
            WidthOfCharacter(character=character, full_mm=full, model_mm=full / inputs.scale)
            for character, full in work.letters
        ),
        svg=NamedFile("lettering.svg", "image/svg+xml", work.svg),
        pdf=NamedFile("lettering.pdf", "application/pdf", work.pdf),
        next_steps=(_row_step(work),) if series else (),
    )


def _judged(inputs: LetteringInputs, work: Any) -> tuple[str, tuple[Message, ...]]:
    """Return the verdict on a ``Drawing``, and its reasons, the one that decides first."""
    thinnest = min([work.stroke_mm, *filter(None, (inputs.outline_mm, inputs.second_outline_mm))])
    printer = tables.row("printers", inputs.printer)
    found, line = judged_line(thinnest, inputs.line, printer, inputs.viewing_distance_mm, whole=False)
    if found != TOO_FINE and any(not each.is_advice for each in work.against):
        found = FORBIDDEN
    elif found != TOO_FINE and work.departs:
        found = DEPARTS
    if inputs.letters != BY_RULE:
        found = IN_FONT.get(found, found)
    first = {FORBIDDEN: (*work.against, *work.departs, line), DEPARTS: (*work.departs, *work.against, line)}
    return found, first.get(found, (line, *work.against, *work.departs))


def _row_step(work: Any) -> Lead:
    """Return the step that keeps the texts of a ``Drawing`` as the rows of their marking."""
    from calculators.lettering import sentences

    # The page of the job makes rows of them, since what is done of each is counted there.
    rows = json.dumps([[drawn.text, drawn.copies] for drawn, _against in work.texts], separators=(",", ":"))
    return Lead("job/", sentences.KEEP_ROWS.format(count=str(len(work.texts))), sets={SERIES_ROWS: rows})


CALCULATOR = Calculator(
    id="lettering",
    title="How does lettering look on the model?",
    summary="Draws registrations, plates, numbers and notices by their rule, or in a font, at your scale.",
    also=(
        "registration",
        "tail number",
        "number plate",
        "licence plate",
        "license plate",
        "reporting marks",
        "container number",
        "fleet number",
        "stencil letters",
        "font",
        "typeface",
        "TTF",
        "OTF",
        "WOFF",
        "kerning",
        "text on an arc",
        "alphabet",
        "drop shadow",
    ),
    stage="size",
    about=MARKING,
    inputs=LetteringInputs,
    outputs=LetteringOutputs,
    compute=lettering,
    sources=("cfr-14-45-29", "icao-annex-7", "uk-si-2001-561", "iso-6346", tables.COMMON_PRACTICE, tables.ESTIMATE),
    needs=NEEDS,
    limit_s=60,
    order=40,
)
