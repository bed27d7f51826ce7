"""Rank the ways to get white beneath a marking."""

from __future__ import annotations

from binascii import b2a_base64
from collections.abc import Generator
from math import ceil

from calculators import example, messages, tables
from calculators.colour.beyond import is_beyond
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Message,
    PictureStage,
    Problem,
    Progress,
    Refused,
    advice,
    message,
)
from calculators.figures.areas import MEANT, areas_figure
from calculators.files.outline_pixels import outline_reasons, with_pixels
from calculators.files.picture import Picture
from calculators.marking_widths import Widths, with_widths
from calculators.pixels.colour_table import hex_of
from calculators.pixels.paper import OFF_WHITE, paper_ground
from calculators.pixels.white_areas import BadMark
from calculators.pixels.white_guess import BACKGROUND
from calculators.underlay import next_steps, stacks, ways
from calculators.underlay.beside_figure import side_by_side
from calculators.underlay.case import LEAST_SHARE, TERMS, Case
from calculators.underlay.fineness import (
    FINE_ENOUGH,
    MAY_BE_LOST,
    TOO_FINE,
    Finest,
    find_finest,
    finest_reasons,
    finest_typed,
    places_figure,
)
from calculators.underlay.judging import SOURCES
from calculators.underlay.parts import STANDING_FOR, Artwork, artwork_of
from calculators.underlay.service_list import service_list
from calculators.underlay.stacks import FAILS, NOTHING, Stack, Whole
from calculators.underlay.underlay_fields import PRICES, UNDECIDED, ColourRow, UnderlayInputs, UnderlayOutputs
from calculators.underlay.way_rows import way_rows, ways_in_words

#: No way limits parts wider than this in mm, so wider ones are not searched for, nor parts of this many pixels.
NARROW_MM, MOST_NARROW_PX = 4.0, 100

#: Verdicts whose next step is the way.
_NEEDS_WAY = (stacks.SHIFTS, FAILS)


def underlay(inputs: UnderlayInputs) -> Generator[Progress, None, UnderlayOutputs]:
    """Return the look of a whole marking on one or two paints, and the ranked ways to get white beneath it.

    Each colour follows ``seen-colour``, pictures follow ``rendering`` and ways follow ``ways``. A picture of
    more than four million pixels is halved first. Yields progress. Raises Refused for marks that cannot be read.
    """
    picture = yield from with_pixels(inputs.picture or example.picture())
    inputs, widths = with_widths(inputs, picture)
    try:
        artwork = yield from artwork_of(picture, inputs.white_marks, inputs.white_tolerance)
    except BadMark as bad:
        raise Refused(_problem(bad)) from None
    parts = artwork.parts(inputs.border_percent, inputs.border_degrees)
    if not parts:
        return _nothing(inputs, artwork, widths)
    whole = Whole(parts, inputs.base_a, inputs.base_b, inputs.border_limit)
    stack = Stack(inputs.film, inputs.white_material, inputs.white_layers)
    outline_mm, inside_mm, finest = yield from _narrowest(inputs, artwork, whole)
    case = _case(inputs, whole, artwork, outline_mm, inside_mm)
    judged = ways.ranked(case)
    left = [each for each in judged if not each.out]
    low, high = whole.under(stack, "low"), whole.under(stack, "high")
    needed_by = whole.layers_needed(stack)
    deciding = [count for each in low.deciding if (count := needed_by[each.label]) is not None]
    needed = max(deciding) if len(deciding) == len(low.deciding) else None
    scenes = yield from stacks.scenes_of(artwork, whole, stack, needed)
    verdict = _verdict(low.verdict, finest)
    chosen = None if inputs.way == UNDECIDED else inputs.way
    fine = finest_reasons(
        finest, tables.row("printers", inputs.printer), inputs.width_mm, artwork.width, artwork.height
    )
    looks = stacks.reasons_for(whole, stack, low, high, needed, printable=verdict != TOO_FINE)
    return UnderlayOutputs(
        verdict=verdict,
        reasons=(
            # The deciding reason comes first.
            *([*looks, *fine] if verdict == FAILS else [*fine, *looks]),
            *_of_inks(whole),
            *_of_paper(artwork, inputs.white_tolerance),
            *widths.reasons,
            *_of_picture(picture, inputs.width_mm, artwork),
        ),
        ways_verdict=left[0].way.label,
        layers_needed=needed,
        picture_width_mm=widths.picture_mm,
        own_width_mm=widths.own_mm,
        white_percent=100 * case.white_share,
        outline_mm=outline_mm,
        inside_mm=inside_mm,
        on_paint=scenes,
        beside=side_by_side(scenes, inputs.border_percent, inputs.border_degrees, "underlay"),
        finest=places_figure(finest, _source(inputs), artwork.width, artwork.height),
        areas=_areas_figure(inputs, artwork),
        reasoning=ways_in_words(case, judged, chosen),
        colours=tuple(_row(each, whole.one_paint, needed_by[each.label]) for each in low.parts),
        ways=way_rows(judged),
        for_service=service_list(
            inputs.width_mm, inputs.width_mm * _height_share(picture), inputs.markings, whole, judged
        ),
        next_steps=next_steps.of_way(tables.row("ways", chosen) if chosen else left[0].way)
        if chosen or verdict in _NEEDS_WAY
        else (),
    )


def _nothing(inputs: UnderlayInputs, artwork: Artwork, widths: Widths) -> UnderlayOutputs:
    """Return the answer for a marking with nothing on any paint."""
    areas = _areas_figure(inputs, artwork)
    return UnderlayOutputs(
        verdict=NOTHING,
        reasons=(message(messages.NOTHING_LIES_HERE), *([advice(messages.MARK_WHAT_IS_WANTED)] if areas else [])),
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


def _verdict(seen: str, finest: Finest | None) -> str:
    """Return the verdict on the look, unless the printer cannot print the marking, or might not."""
    level = finest.level if finest else FINE_ENOUGH
    if level == TOO_FINE:
        return TOO_FINE
    return MAY_BE_LOST if level == MAY_BE_LOST and seen != FAILS else seen


def _narrowest(
    inputs: UnderlayInputs, artwork: Artwork, whole: Whole
) -> Generator[Progress, None, tuple[float, float, Finest | None]]:
    """Yield ``Progress``, and return the narrowest part of the outline and of any colour in mm, and the finest part:
    typed, else from the picture.
    """
    pixel_mm = inputs.width_mm / artwork.width
    outline, by_colour = yield from artwork.narrowest(
        whole.parts, max(2, min(MOST_NARROW_PX, ceil(NARROW_MM / pixel_mm)))
    )
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
    """Return the drawing of white areas, if there is anything to mark: a transparent ground alone needs no mark."""
    whites = artwork.whites
    if not whites or all(each.clear and each.meant == BACKGROUND for each in whites.areas):
        return None
    return areas_figure(whites, _source(inputs), MEANT, ("", ""))


def _source(inputs: UnderlayInputs) -> str:
    """Return the attribute that loads the picture into a drawing."""
    return (
        'data-picture="picture"'
        if inputs.picture
        else f'xlink:href="data:image/png;base64,{b2a_base64(example.picture().data, newline=False).decode()}"'
    )


def _height_share(picture: Picture) -> float:
    if picture.outlines:
        return picture.outlines.height_mm / picture.outlines.width_mm
    width, height = picture.size_px
    return height / width


def _of_picture(picture: Picture, width_mm: float, artwork: Artwork) -> list[Message]:
    reasons = outline_reasons(picture, width_mm)
    if (artwork.picture.width, artwork.picture.height) != (picture.width_px, picture.height_px):
        reasons.append(
            message(
                messages.MADE_SMALLER,
                width=str(artwork.picture.width),
                height=str(artwork.picture.height),
                from_width=str(picture.width_px),
                from_height=str(picture.height_px),
            )
        )
    if artwork.stands_for_more:
        reasons.append(message(messages.STANDS_FOR, count=STANDING_FOR))
    return reasons


def _of_inks(whole: Whole) -> list[Message]:
    """Return the message on inks that count as stronger than their screen colours."""
    beyond = [part.colour for part in whole.parts.values() if part.share >= LEAST_SHARE and is_beyond(part.colour)]
    return [message(messages.INKS_BEYOND, colours=", ".join(beyond))] if beyond else []


def _of_paper(artwork: Artwork, tolerance: float) -> list[Message]:
    """Return the message on a ground that looks like off-white paper: it counts as a
    colour, or as paper within ``tolerance``.
    """
    paper = paper_ground(artwork.picture, OFF_WHITE)
    if paper is None:
        return []
    if paper.difference > tolerance:
        return [
            message(
                messages.PAPER_GROUND,
                colour=hex_of(paper.colour),
                difference=paper.difference,
                tolerance=str(paper.tolerance),
            )
        ]
    is_bare = artwork.whites is not None and any(
        each.meant == BACKGROUND and not each.clear for each in artwork.whites.areas
    )
    return [message(messages.PAPER_TAKEN, colour=hex_of(paper.colour), difference=paper.difference)] if is_bare else []


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
    also=(
        "roundel",
        "insignia",
        "dark model",
        "white decals",
        "opaque",
        "show through",
        "white ink",
        "white underneath",
    ),
    stage="underlay",
    about=MARKING,
    inputs=UnderlayInputs,
    outputs=UnderlayOutputs,
    compute=underlay,
    sources=SOURCES,
    cautions=tuple(tables.row("hazards", each).caution for each in ("blades", "spray-mist")),
    limit_s=60,
    order=20,
    picture_stage=PictureStage(of="on_paint", still="beside", numbers=("ways_verdict", "layers_needed")),
)
