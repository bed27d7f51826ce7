"""A text drawn by a rule at a scale, with its drawing and its files: it comes with the first text that is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.declare import Figure, Message, Problem, Refused, advice, message
from calculators.files.outline_files import pdf_of_outlines, svg_of_outlines
from calculators.lettering import ROUND, STENCILLED, sentences
from calculators.lettering.alphabet import Style
from calculators.lettering.effects import Outline, Region, Shadow, layers, regions, trapped
from calculators.lettering.figure import box_of, lettering_figure
from calculators.lettering.layout import Lettering, fitted_length, laid_out, largest_fitting, lines_of
from calculators.lettering.sizes import Chosen, Sizes, Unfit, departures, sizes_of
from calculators.lettering.text_rules import forbidden
from calculators.shapes.cubics import Piece
from calculators.shapes.snap_rounding import TooTangled
from calculators.tables.lettering_rows import LetteringRule

#: How far a lower colour extends beneath the upper one in print, in mm (common practice).
OVERLAP_MM = 0.1


@dataclass(frozen=True, kw_only=True)
class Order:
    """What is to be drawn. Lengths are mm, those of letters at full size, those of outline and shadow on the model."""

    text: str
    scale: float
    height_mm: float | None
    width_mm: float | None
    stroke_mm: float | None
    gap_mm: float | None
    length_mm: float | None
    room_mm: float | None
    corners: str
    style: str
    break_mm: float
    slant_degrees: float
    colour: str
    outline_mm: float
    outline_colour: str
    second_outline_mm: float
    second_outline_colour: str
    shadow_right_mm: float
    shadow_down_mm: float
    shadow_colour: str


@dataclass(frozen=True)
class Work:
    """A text that was drawn. Lengths on the model are in mm, ``size_mm`` is across + down j; ``sizes`` and ``letters``
    are names with mm at full size. The sentences are what the rule has against the text, how the sizes depart from
    it, and what else is to be known.
    """

    length_mm: float
    height_mm: float
    stroke_mm: float
    size_mm: complex
    drawing: Figure
    sizes: list[tuple[str, float]]
    letters: list[tuple[str, float]]
    svg: bytes
    pdf: bytes
    against: list[Message]
    departs: list[Message]
    further: list[Message]


def worked(order: Order, rule: LetteringRule) -> Work | Message:
    """Return a text that was drawn by ``rule``, or why its sizes cannot be drawn. Raises Refused for its characters."""
    try:
        lines_of(order.text)
    except Unfit as unfit:
        raise Refused(Problem("text", unfit.problem.sentence.format(**unfit.problem.values))) from None
    try:
        sizes, departs = _sizes(order, rule)
        style = Style(order.corners == ROUND, order.break_mm if order.style == STENCILLED else 0.0)
        drawn = laid_out(order.text, sizes, style, order.slant_degrees)
        whole = _layers(order, drawn)
        seen, printed = regions(whole), trapped(whole, OVERLAP_MM)
    except Unfit as unfit:
        return unfit.problem
    except TooTangled:
        return message(sentences.TOO_TANGLED)
    return _work(order, rule, drawn, departs, seen, printed)


def _sizes(order: Order, rule: LetteringRule) -> tuple[Sizes, list[Message]]:
    """Return the sizes, and how they depart from the rule. Raises Unfit."""
    chosen = Chosen(order.height_mm, order.width_mm, None, order.stroke_mm, order.gap_mm)
    sizes = sizes_of(rule, chosen)
    if order.length_mm is not None:
        sizes = fitted_length(order.text, sizes, order.length_mm)
    departs = departures(rule, sizes)
    if order.room_mm is not None:
        fitted = largest_fitting(order.text, sizes, order.room_mm)
        if fitted.height < sizes.height:
            sentence = sentences.SMALLER_AS_ALLOWED if rule.may_shrink else sentences.SMALLER_THAN_ALLOWED
            departs.append(message(sentence, rule_mm=sizes.height, chosen_mm=fitted.height))
        sizes = fitted
    if rule.slant is not None and order.slant_degrees > rule.slant.value:
        parts = {"rule": f"{rule.slant.value:g}", "chosen": f"{order.slant_degrees:g}"}
        departs.append(message(sentences.SLANTED, **parts))
    return sizes, departs


def _layers(order: Order, drawn: Lettering) -> list[Region]:
    widths = (
        (order.outline_mm, order.outline_colour),
        (order.second_outline_mm, order.second_outline_colour),
    )
    outlines = [Outline(width, colour) for width, colour in widths if width]
    offset = complex(order.shadow_right_mm, order.shadow_down_mm)
    shadow = Shadow(offset, order.shadow_colour) if offset else None
    return layers(drawn, order.scale, order.colour, outlines, shadow)


def _work(
    order: Order,
    rule: LetteringRule,
    drawn: Lettering,
    departs: list[Message],
    seen: list[Region],
    printed: list[Region],
) -> Work:
    sizes = drawn.sizes
    first, last = box_of(seen)
    size = last - first
    title = " ".join(order.text.split())
    lengths = (drawn.length, sizes.height, sizes.width, sizes.stroke, sizes.gap)
    return Work(
        length_mm=drawn.length / order.scale,
        height_mm=drawn.height / order.scale,
        stroke_mm=sizes.stroke / order.scale,
        size_mm=size,
        drawing=lettering_figure(seen, drawn, order.scale, title),
        sizes=list(zip(sentences.SIZE_NAMES, lengths, strict=True)),
        letters=list({each.character: each.width for each in drawn.placed}.items()),
        svg=svg_of_outlines(_placed(seen, first), size.real, size.imag, title),
        pdf=pdf_of_outlines(_placed(printed[::-1], first), size.real, size.imag, title),
        against=forbidden(rule, order.text),
        departs=departs,
        further=_further(rule),
    )


def _placed(seen: Sequence[Region], first: complex) -> list[tuple[str, list[list[Piece]]]]:
    """Return regions by colour with their left top corner at the origin."""
    return [
        (each.colour, [[tuple(point - first for point in piece) for piece in ring] for ring in each.rings])
        for each in seen
    ]


def _further(rule: LetteringRule) -> list[Message]:
    """Return what else is to be known of a rule."""
    made = [message(sentences.LEFT_OPEN, words=rule.leaves_open)]
    if rule.typeface:
        made.append(message(sentences.TYPEFACE_PRESCRIBED))
    made.append(advice(sentences.PHOTOGRAPH_OVERRULES))
    return made
