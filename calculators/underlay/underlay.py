"""Which way to get white beneath this marking?"""

from __future__ import annotations

from binascii import b2a_base64
from collections.abc import Generator
from dataclasses import dataclass
from math import ceil
from typing import Any

from calculators import example, messages, tables
from calculators.colour.beyond import is_beyond
from calculators.declare import (
    Calculator,
    Figure,
    NamedFile,
    Problem,
    Progress,
    Prose,
    Refused,
    Said,
    Scenes,
    choice,
    colour_result,
    figure,
    file_result,
    measure,
    number,
    prose,
    reasons,
    said,
    scenes,
    shared,
    table,
    text,
    verdict,
    whole_number,
    words,
    yes_no,
)
from calculators.figures.areas import MEANT, areas_figure
from calculators.files.outline_pixels import told_of_outlines, with_pixels
from calculators.files.picture import Picture
from calculators.job_fields import (
    border_limit,
    film,
    first_paint,
    marking_picture,
    own_width,
    own_width_result,
    picture_width_result,
    printed_width,
    second_paint,
    white_beneath,
    white_tolerance,
    width_is_of,
)
from calculators.marking_widths import with_widths
from calculators.pixels.colour_table import hex_of
from calculators.pixels.paper import OFF_WHITE, paper_ground
from calculators.pixels.white_areas import TOLERANCE, BadMark, read_marks
from calculators.pixels.white_guess import BACKGROUND
from calculators.underlay import stacks, ways
from calculators.underlay.beside_figure import side_by_side
from calculators.underlay.case import LEAST_SHARE, TERMS, Case
from calculators.underlay.fineness import (
    FINE_ENOUGH,
    MAY_BE_LOST,
    TOO_FINE,
    Finest,
    find_finest,
    finest_typed,
    places_figure,
    told_of_finest,
)
from calculators.underlay.judging import ACCEPTED_DELTA_E, MOST_LAYERS
from calculators.underlay.parts import STANDING_FOR, Artwork, artwork_of
from calculators.underlay.service_list import service_list
from calculators.underlay.stacks import FAILS, LEVELS, NOTHING, Stack, Whole
from calculators.underlay.way_rows import WayRow, way_rows, ways_in_words

SURFACES = {
    "plain-gloss": "Large, plain and glossy",
    "usual": "Usual, with a matt final coat",
    "broken": "Broken up by detail, or matt",
}
UNDECIDED = "undecided"
#: Beyond this no way minds how narrow a part is, so no wider one is looked for, nor one of so many pixels.
NARROW_MM, MOST_NARROW_PX = 4.0, 100
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
    )
    white_tolerance: float = white_tolerance(default=TOLERANCE)
    base_a: str = first_paint()
    base_b: str = second_paint()
    border_percent: float = number(
        "Place of the border",
        unit="%",
        low=0,
        high=100,
        default=50,
        help="How far across the picture. You can drag it in the drawing.",
    )
    border_degrees: float = number(
        "Angle of the border",
        unit="°",
        low=-180,
        high=180,
        default=0,
        help="At 0 it is level with the first paint above. More turns it clockwise.",
    )
    film: str = film()
    white_material: str = white_beneath()
    white_layers: int = whole_number(
        "Layers of white", unit="", low=0, high=MOST_LAYERS, default=4, help="0 if there is no white beneath."
    )
    border_limit: float = border_limit(default=ACCEPTED_DELTA_E)
    width_of: str = width_is_of()
    width_mm: float = printed_width()
    own_width_mm: float = own_width()
    markings: int = whole_number("How many of them", unit="", low=1, high=1000, default=2, help="A handed pair is two.")
    outline_mm: float | None = number(
        "Narrowest part of the whole outline",
        unit="mm",
        low=0.05,
        high=400,
        help="Of the white beneath: for a disc, the width of the disc.",
        without="the page estimates it from the picture.",
    )
    inside_mm: float | None = number(
        "Narrowest part of any colour",
        unit="mm",
        low=0.05,
        high=400,
        help="The thinnest line or gap in it.",
        without="the page estimates it from the picture.",
    )
    printer: str = choice(
        "Printer",
        table="printers",
        default="inkjet-pigment",
        help="Its thinnest line decides whether the finest parts print at all.",
    )
    surface: str = choice("Surface", options=SURFACES, default="usual")
    metallic: bool = yes_no("It has a metallic, pearl or fluorescent colour", default=False)
    own_printer: bool = yes_no("I have a printer with white", default=False)
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
    )
    own_prices: bool = yes_no("Use my own prices", default=False)
    price_clear: float | None = _price("Price of a sheet of clear film")
    price_white: float | None = _price("Price of a sheet of white film")
    price_paint: float | None = _price("Price of the paint")
    price_stencil: float | None = _price("Price of a sheet of stencil film")
    price_white_print: float | None = _price("Price of a print with your own white")
    price_service: float | None = _price("Price from a service")
    own_weights: bool = yes_no("Change how much each thing counts", default=False)
    weight_border: int = _weight("Weight of the border", "border")
    weight_contrast: int = _weight("Weight of contrast with the paint", "contrast")
    weight_shift: int = _weight("Weight of the shift of colour", "shift")
    weight_edge: int = _weight("Weight of the edge", "edge")
    weight_register: int = _weight("Weight of register", "register")
    weight_wait: int = _weight("Weight of waiting", "wait")
    weight_cost: int = _weight("Weight of cost", "cost")
    weight_detail: int = _weight("Weight of fine parts", "detail")


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
    reasons: tuple[Said, ...] = reasons()
    ways_verdict: str | None = words("First choice of way")
    layers_needed: int | None = measure(
        "Layers of this white that all of it needs",
        decimals=0,
        help="with this film, both at the low end of their ranges",
    )
    picture_width_mm: float | None = picture_width_result()
    own_width_mm: float | None = own_width_result()
    white_percent: float | None = measure("Wanted white in it", unit="%", decimals=0)
    outline_mm: float | None = measure(
        "Narrowest part of the whole outline",
        unit="mm",
        decimals=2,
        help="an estimate if you typed none; anything wider counts as this wide",
    )
    inside_mm: float | None = measure(
        "Narrowest part of any colour",
        unit="mm",
        decimals=2,
        help="an estimate if you typed none; anything wider counts as this wide",
    )
    on_paint: Scenes | None = scenes("The marking on the paints", percent="border_percent", degrees="border_degrees")
    beside: Figure | None = figure("Side by side")
    finest: Figure | None = figure("Where it is too fine")
    areas: Figure | None = figure("The white areas, numbered")
    reasoning: Prose | None = prose("The ways to get white beneath, in words")
    colours: tuple[ColourRow, ...] = table(
        "The marking by colour",
        row=ColourRow,
        help="differences as ΔE 2000, at the low end of what film and white hide",
    )
    ways: tuple[WayRow, ...] = table(
        "The ways in numbers",
        row=WayRow,
        cards=True,
        help="estimates; less is better in every column except the difference from the paint",
    )
    for_service: NamedFile | None = file_result(
        "List for a printing service, text", help="What to send and what to ask, with your own sizes and colours."
    )


def underlay(inputs: UnderlayInputs) -> Generator[Progress, None, UnderlayOutputs]:
    """Return how a whole marking looks on one or two paints, and the ways to get white beneath it, ranked.

    Every colour is worked out as in ``seen-colour``; pictures as in ``rendering``, ways as in ``ways``. A picture of
    more than four million pixels is halved first. Yields progress. Raises Refused for marks that cannot be read.
    """
    given = yield from with_pixels(inputs.picture or example.picture())
    inputs, widths = with_widths(inputs, given)
    try:
        artwork = yield from artwork_of(given, inputs.white_marks, inputs.white_tolerance)
    except BadMark as bad:
        raise Refused(_problem(bad)) from None
    parts = artwork.parts(inputs.border_percent, inputs.border_degrees)
    if not parts:
        areas = _areas_figure(inputs, artwork)
        return UnderlayOutputs(
            verdict=NOTHING,
            reasons=(said(messages.NOTHING_LIES_HERE), *([said(messages.MARK_WHAT_IS_WANTED)] if areas else [])),
            ways_verdict=None,
            layers_needed=None,
            picture_width_mm=widths.picture_mm,
            own_width_mm=widths.own_mm,
            white_percent=None,
            outline_mm=None,
            inside_mm=None,
            on_paint=None,
            beside=None,
            finest=None,
            areas=areas,
            reasoning=None,
            colours=(),
            ways=(),
            for_service=None,
        )
    whole = Whole(parts, inputs.base_a, inputs.base_b, inputs.border_limit)
    stack = Stack(inputs.film, inputs.white_material, inputs.white_layers)
    outline_mm, inside_mm, finest = _narrowest(inputs, artwork, whole)
    case = _case(inputs, whole, artwork, outline_mm, inside_mm)
    judged = ways.ranked(case)
    left = [each for each in judged if not each.out]
    low, high = whole.under(stack, "low"), whole.under(stack, "high")
    needed_by = whole.layers_needed(stack)
    deciding = [count for each in low.deciding if (count := needed_by[each.label]) is not None]
    needed = max(deciding) if len(deciding) == len(low.deciding) else None
    shown = yield from stacks.shown(artwork, whole, stack, needed)
    verdict = _verdict(low.verdict, finest)
    chosen = None if inputs.way == UNDECIDED else inputs.way
    return UnderlayOutputs(
        verdict=verdict,
        reasons=(
            *told_of_finest(
                finest, tables.row("printers", inputs.printer), inputs.width_mm, artwork.width, artwork.height
            ),
            *stacks.told(whole, stack, low, high, needed, printable=verdict != TOO_FINE),
            *_of_inks(whole),
            *_of_paper(artwork, inputs.white_tolerance),
            *widths.told,
            *_of_picture(given, inputs.width_mm, artwork),
        ),
        ways_verdict=left[0].way.label,
        layers_needed=needed,
        picture_width_mm=widths.picture_mm,
        own_width_mm=widths.own_mm,
        white_percent=100 * case.white_share,
        outline_mm=outline_mm,
        inside_mm=inside_mm,
        on_paint=shown,
        beside=side_by_side(shown, inputs.border_percent, inputs.border_degrees, "underlay"),
        finest=places_figure(finest, _source(inputs), artwork.width, artwork.height),
        areas=_areas_figure(inputs, artwork),
        reasoning=ways_in_words(case, judged, chosen),
        colours=tuple(_row(each, whole.one_paint, needed_by[each.label]) for each in low.parts),
        ways=way_rows(judged),
        for_service=service_list(
            inputs.width_mm, inputs.width_mm * _height_share(given), inputs.markings, whole, judged
        ),
    )


def _verdict(seen: str, finest: Finest | None) -> str:
    """Return the verdict on what is seen, unless the printer cannot draw it, or may not."""
    level = finest.level if finest else FINE_ENOUGH
    if level == TOO_FINE:
        return TOO_FINE
    return MAY_BE_LOST if level == MAY_BE_LOST and seen != FAILS else seen


def _narrowest(inputs: UnderlayInputs, artwork: Artwork, whole: Whole) -> tuple[float, float, Finest | None]:
    """Return the narrowest part of the outline and of any colour, in mm, and what is finest to
    print: as typed, else as the picture has it.
    """
    pixel_mm = inputs.width_mm / artwork.width
    outline, by_colour = artwork.narrowest(whole.parts, max(2, min(MOST_NARROW_PX, ceil(NARROW_MM / pixel_mm))))
    printer = tables.row("printers", inputs.printer)
    inside_px = min((each.px for each in by_colour.values()), default=MOST_NARROW_PX)
    finest: Finest | None
    if inputs.inside_mm is not None:
        finest = finest_typed(tuple(whole.parts.values()), inputs.inside_mm, printer)
    else:
        finest = find_finest(whole.parts, by_colour, pixel_mm, printer)
    return (
        inputs.outline_mm if inputs.outline_mm is not None else min(outline.px * pixel_mm, NARROW_MM),
        inputs.inside_mm if inputs.inside_mm is not None else min(inside_px * pixel_mm, NARROW_MM),
        finest,
    )


def _case(inputs: UnderlayInputs, whole: Whole, artwork: Artwork, outline_mm: float, inside_mm: float) -> Case:
    prices = {each: getattr(inputs, f"price_{each}") for each in PRICES} if inputs.own_prices else {}
    return Case(
        parts=tuple(whole.parts.values()),
        base_a=inputs.base_a,
        base_b=inputs.base_b,
        border_limit=inputs.border_limit,
        outline_mm=outline_mm,
        inside_mm=inside_mm,
        white_edge=artwork.white_edge(),
        surface=inputs.surface,
        metallic=inputs.metallic,
        own_printer=inputs.own_printer or tables.row("printers", inputs.printer).prints_white,
        sprays=inputs.sprays,
        painted=inputs.painted,
        prices={each: price for each, price in prices.items() if price is not None},
        weights={term: getattr(inputs, f"weight_{term}") for term in TERMS} if inputs.own_weights else TERMS,
    )


def _areas_figure(inputs: UnderlayInputs, artwork: Artwork) -> Figure | None:
    """Return the white areas where they can be marked and there is anything to
    mark: clear ground alone is what it is.
    """
    whites = artwork.whites
    if not whites or all(each.clear and each.meant == BACKGROUND for each in whites.areas):
        return None
    return areas_figure(whites, _source(inputs), MEANT, ("", ""))


def _source(inputs: UnderlayInputs) -> str:
    """Return the attribute that brings the picture into a drawing."""
    return (
        'data-picture="picture"'
        if inputs.picture
        else f'xlink:href="data:image/png;base64,{b2a_base64(example.picture().data, newline=False).decode()}"'
    )


def _height_share(given: Picture) -> float:
    if given.outlines:
        return given.outlines.height_mm / given.outlines.width_mm
    width, height = given.size_px
    return height / width


def _of_picture(given: Picture, width_mm: float, artwork: Artwork) -> list[Said]:
    told = told_of_outlines(given, width_mm)
    if (artwork.picture.width, artwork.picture.height) != (given.width_px, given.height_px):
        told.append(
            said(
                messages.MADE_SMALLER,
                width=str(artwork.picture.width),
                height=str(artwork.picture.height),
                from_width=str(given.width_px),
                from_height=str(given.height_px),
            )
        )
    if artwork.stands_for_more:
        told.append(said(messages.STANDS_FOR, count=STANDING_FOR))
    return told


def _of_inks(whole: Whole) -> list[Said]:
    """Return which inks are taken as stronger than their colours on a screen."""
    beyond = [part.colour for part in whole.parts.values() if part.share >= LEAST_SHARE and is_beyond(part.colour)]
    return [said(messages.INKS_BEYOND, colours=", ".join(beyond))] if beyond else []


def _of_paper(artwork: Artwork, tolerance: float) -> list[Said]:
    """Return what is said of a ground that looks like off-white paper: that it counts as
    a colour, or as paper within ``tolerance``.
    """
    paper = paper_ground(artwork.picture, OFF_WHITE)
    if paper is None:
        return []
    if paper.difference > tolerance:
        return [
            said(
                messages.PAPER_GROUND,
                colour=hex_of(paper.colour),
                difference=paper.difference,
                tolerance=str(paper.tolerance),
            )
        ]
    is_bare = artwork.whites is not None and any(
        each.meant == BACKGROUND and not each.clear for each in artwork.whites.areas
    )
    return [said(messages.PAPER_TAKEN, colour=hex_of(paper.colour), difference=paper.difference)] if is_bare else []


def _row(each: stacks.PartSeen, one_paint: bool, needed: int | None) -> ColourRow:
    first, second = (side.colour if over else None for over, side in zip(each.part.over, each.seen.sides, strict=True))
    return ColourRow(
        colour=each.part.colour,
        what=messages.WANTED_WHITE if each.part.is_white else messages.PRINTED_COLOUR,
        share=100 * each.part.share,
        seen_a=first,
        seen_b=None if one_paint else second,
        shift=each.shift,
        contrast=each.contrast,
        border=each.seen.border if each.part.crosses and not one_paint else None,
        layers_needed=needed,
        verdict=each.verdict,
    )


def _problem(bad: BadMark) -> Problem:
    if bad.number is not None:
        return Problem("white_marks", messages.NO_SUCH_AREA.format(number=bad.number), messages.AREAS_ARE)
    hint = f"{messages.TYPED.format(typed=messages.quoted(bad.text))} {messages.UNREAD_MARK_HINT}"
    return Problem("white_marks", messages.UNREAD_MARK, hint)


CALCULATOR = Calculator(
    id="underlay",
    title="Which way to get white beneath this marking?",
    summary="Shows the whole marking on its paint, and ranks the ways to get white beneath it, with reasons.",
    stage="underlay",
    inputs=UnderlayInputs,
    outputs=UnderlayOutputs,
    compute=underlay,
    sources=(
        "kubelka-munk-1931",
        "burns-2020",
        "ciede2000",
        "iec-61966-2-1",
        "tooth-thresholds",
        tables.COMMON_PRACTICE,
        tables.ESTIMATE,
        tables.DRAWN_UP,
    ),
    cautions=tuple(tables.row("hazards", each).caution for each in ("blades", "spray-mist")),
    limit_s=60,
    order=20,
)
