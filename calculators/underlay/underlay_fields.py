"""The fields and results of the ways to get white beneath a marking."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import tables
from calculators.declare import (
    MARKING,
    Figure,
    Lead,
    Message,
    NamedFile,
    Prose,
    Scenes,
    belonging,
    choice,
    colour_result,
    figure,
    file_result,
    folded,
    leads,
    measure,
    number,
    prose,
    reasons,
    scenes,
    shared,
    table,
    text,
    verdict,
    whole_number,
    words,
    yes_no,
)
from calculators.files.picture import Picture
from calculators.job_fields import (
    border_limit,
    film,
    first_paint,
    marking_picture,
    marking_printer,
    own_width,
    own_width_result,
    picture_width_result,
    printed_width,
    second_paint,
    white_beneath,
    white_tolerance,
    width_is_of,
)
from calculators.pixels.white_areas import TOLERANCE, read_marks
from calculators.underlay import next_steps
from calculators.underlay.case import TERMS
from calculators.underlay.judging import ACCEPTED_DELTA_E, MOST_LAYERS
from calculators.underlay.stacks import LEVELS
from calculators.underlay.way_rows import WayRow

SURFACES = {
    "plain-gloss": "Large, plain and glossy",
    "usual": "Usual, with a matt final coat",
    "broken": "Broken up by detail, or matt",
}


UNDECIDED = "undecided"


PRICES = ("clear", "white", "paint", "stencil", "white_print", "service")


def _price(of: str) -> Any:
    return number(
        of,
        unit="",
        low=0,
        high=100_000,
        help="In your own money.",
        without="its cost stays open.",
        only_when=("own_prices", "yes"),
    )


def _weight(of: str, term: str) -> Any:
    return whole_number(
        of,
        unit="",
        low=0,
        high=10,
        default=TERMS[term],
        help="How much it counts. 0 means not at all.",
        only_when=("own_weights", "yes"),
    )


@dataclass(frozen=True, kw_only=True)
class UnderlayInputs:
    picture: Picture | None = marking_picture(without="the page uses the demonstration crest.", or_outlines=True)
    white_marks: str = shared(
        "white-marks",
        text(
            "White areas",
            default="",
            most=800,
            may_be_empty=True,
            marks="areas",
            grammar=read_marks,
            help="Tap an area in its drawing, or type: 3 hole, 5 wanted, 1 background. Empty: all guesses stand.",
        ),
        MARKING,
    )
    white_tolerance: float = folded(white_tolerance(default=TOLERANCE))
    base_a: str = first_paint()
    base_b: str = second_paint()
    border_percent: float = folded(
        number(
            "Place of the border",
            unit="%",
            low=0,
            high=100,
            default=50,
            help="How far across the picture. You can drag it in the drawing.",
        )
    )
    border_degrees: float = folded(
        number(
            "Angle of the border",
            unit="°",
            low=-180,
            high=180,
            default=0,
            help="At 0 it is level with the first paint above. More turns it clockwise.",
        )
    )
    film: str = film()
    white_material: str = white_beneath()
    white_layers: int = whole_number(
        "Layers of white", unit="", low=0, high=MOST_LAYERS, default=4, help="0 if there is no white beneath."
    )
    border_limit: float = folded(border_limit(default=ACCEPTED_DELTA_E))
    width_of: str = width_is_of()
    width_mm: float = printed_width()
    own_width_mm: float = own_width()
    markings: int = folded(
        whole_number("How many of them", unit="", low=1, high=1000, default=2, help="A handed pair is two.")
    )
    outline_mm: float | None = folded(
        belonging(
            number(
                "Narrowest part of the whole outline",
                unit="mm",
                low=0.05,
                high=400,
                help="Of the white beneath: for a disc, the width of the disc.",
                without="the page estimates it from the picture.",
            )
        )
    )
    inside_mm: float | None = folded(
        belonging(
            number(
                "Narrowest part of any colour",
                unit="mm",
                low=0.05,
                high=400,
                help="The thinnest line or gap in it.",
                without="the page estimates it from the picture.",
            )
        )
    )
    printer: str = marking_printer(help="Its thinnest line decides whether the finest parts print at all.")
    surface: str = folded(choice("Surface", options=SURFACES, default="usual"))
    metallic: bool = folded(yes_no("It has a metallic, pearl or fluorescent colour", default=False))
    own_printer: bool = folded(yes_no("I have a printer with white", default=False))
    sprays: bool = yes_no("I can spray paint", default=True)
    painted: bool = yes_no("The model is painted already", default=False)
    way: str = shared(
        "way",
        choice(
            "My choice of way",
            options={UNDECIDED: "Not decided", **{row.id: row.label for row in tables.load("ways")}},
            default=UNDECIDED,
            help="It stays with your job, and the answer lists the outlines it needs.",
        ),
        MARKING,
    )
    own_prices: bool = folded(yes_no("Use my own prices", default=False))
    price_clear: float | None = folded(_price("Price of a sheet of clear film"))
    price_white: float | None = folded(_price("Price of a sheet of white film"))
    price_paint: float | None = folded(_price("Price of the paint"))
    price_stencil: float | None = folded(_price("Price of a sheet of stencil film"))
    price_white_print: float | None = folded(_price("Price of a print with your own white"))
    price_service: float | None = folded(_price("Price from a service"))
    own_weights: bool = folded(yes_no("Change how much each thing counts", default=False))
    weight_border: int = folded(_weight("Weight of the border", "border"))
    weight_contrast: int = folded(_weight("Weight of contrast with the paint", "contrast"))
    weight_shift: int = folded(_weight("Weight of the shift of colour", "shift"))
    weight_edge: int = folded(_weight("Weight of the edge", "edge"))
    weight_register: int = folded(_weight("Weight of register", "register"))
    weight_wait: int = folded(_weight("Weight of waiting", "wait"))
    weight_cost: int = folded(_weight("Weight of cost", "cost"))
    weight_detail: int = folded(_weight("Weight of fine parts", "detail"))


@dataclass(frozen=True, kw_only=True)
class ColourRow:
    colour: str = colour_result("Colour")
    what: str = words("Kind")
    share: float = measure("Share", unit="%", decimals=1)
    seen_a: str | None = colour_result("Over the paint")
    seen_b: str | None = colour_result("Over the second")
    shift: float = measure("Shift (ΔE)", decimals=1)
    contrast: float = measure("From the paint (ΔE)", decimals=1)
    border: float | None = measure("Border (ΔE)", decimals=1)
    layers_needed: int | None = measure("Layers needed", decimals=0)
    verdict: str = verdict("Verdict", levels=LEVELS)


@dataclass(frozen=True, kw_only=True)
class UnderlayOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    ways_verdict: str | None = words("First choice of way")
    layers_needed: int | None = measure(
        "Layers of this white that all of it needs",
        decimals=0,
        help="with this film, both at the low end of their ranges",
    )
    picture_width_mm: float | None = folded(picture_width_result())
    own_width_mm: float | None = folded(own_width_result())
    white_percent: float | None = folded(measure("Wanted white in it", unit="%", decimals=0))
    outline_mm: float | None = folded(
        measure(
            "Narrowest part of the whole outline",
            unit="mm",
            decimals=2,
            help="an estimate if you typed none; anything wider counts as this wide",
        )
    )
    inside_mm: float | None = folded(
        measure(
            "Narrowest part of any colour",
            unit="mm",
            decimals=2,
            help="an estimate if you typed none; anything wider counts as this wide",
        )
    )
    on_paint: Scenes | None = scenes("The marking on the paints", percent="border_percent", degrees="border_degrees")
    beside: Figure | None = figure("Side by side")
    finest: Figure | None = folded(figure("Where it is too fine"))
    areas: Figure | None = folded(figure("The white areas, numbered"))
    reasoning: Prose | None = prose("The ways to get white beneath, in words")
    colours: tuple[ColourRow, ...] = folded(
        table(
            "The marking by colour",
            row=ColourRow,
            decides=("colour", "what", "seen_a", "seen_b", "verdict"),
            help="differences as ΔE 2000, at the low end of what film and white hide",
        )
    )
    ways: tuple[WayRow, ...] = folded(
        table(
            "The ways in numbers",
            row=WayRow,
            cards=True,
            help="estimates; less is better in every column except the difference from the paint",
        )
    )
    for_service: NamedFile | None = file_result(
        "List for a printing service, text", help="What to send and what to ask, with your own sizes and colours."
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.UNDERLAY)
