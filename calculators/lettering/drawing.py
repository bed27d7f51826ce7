"""Texts drawn by a rule at a scale, with their drawing and their files: it comes with the first text that is drawn."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass

from calculators import units
from calculators.declare import Figure, Message, Progress, Refused, advice, message
from calculators.declare.sentences import sentence
from calculators.files.outline_files import pdf_of_outlines, svg_of_outlines
from calculators.lettering import ROUND, STENCILLED, sentences
from calculators.lettering.alphabet import Style
from calculators.lettering.effects import LEAST_OUTLINE, Letters, Outline, Shadow, layers, regions, trapped
from calculators.lettering.figure import box_of, lettering_figure
from calculators.lettering.layout import fitted_length, laid_out, largest_fitting, length_of, lines_of
from calculators.lettering.pieces import Drawn, coloured, laid
from calculators.lettering.series import Row, series
from calculators.lettering.sizes import Chosen, Sizes, Unfit, departures, sizes_of
from calculators.lettering.text_rules import completed, forbidden
from calculators.shapes.snap_rounding import TooTangled
from calculators.tables.lettering_rows import LetteringRule

#: How far a lower colour extends beneath the upper one in print, in mm (common practice).
OVERLAP_MM = 0.1
#: Characters of a series by the colours of each, and pieces of it: more would take minutes in a page.
MOST_WORK, MOST_PIECES = 1600, 500


@dataclass(frozen=True, kw_only=True)
class Order:
    """What is to be drawn: one ``text``, or a ``series``.

    Lengths are mm, those of letters at full size, those of outline and shadow on the model.
    """

    text: str
    series: str | None
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
class Drawing:
    """What was drawn. Lengths on the model are in mm, ``size_mm`` is across + down j of the widest text.

    ``sizes`` and ``letters``, all of one width together, are names with mm at full size. ``texts`` are the texts with
    what the rule has against each; the other sentences are how the sizes depart from it, and what else is to be known.
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
    texts: list[tuple[Drawn, list[Message]]]
    departs: list[Message]
    further: list[Message]

    @property
    def against(self) -> list[Message]:
        """What the rule has against the texts; of a series, how many are forbidden."""
        if len(self.texts) == 1:
            return self.texts[0][1]
        bad = [drawn.text for drawn, found in self.texts if any(not each.is_advice for each in found)]
        if not bad:
            return []
        parts = {"count": str(len(bad)), "of": str(len(self.texts)), "text": bad[0]}
        return [message(sentences.SERIES_FORBIDDEN, **parts)]


def words_against(found: Sequence[Message]) -> str:
    """Return what a rule has against a text in one line."""
    return " ".join(sentence(each, units.MM) for each in found) or sentences.NOTHING_AGAINST


def drawn(order: Order, rule: LetteringRule) -> Generator[Progress, None, Drawing | Message]:
    """Yield progress, and return the texts drawn by ``rule``, or why its sizes cannot be drawn.

    Raises Refused for texts that cannot be drawn.
    """
    rows = rows_of(order, lines_of, lambda text: completed(rule, text))
    try:
        # All rows have the sizes of the longest one.
        sizes, departs = _sizes(order, rule, [row.text for row in rows])
        style = Style(order.corners == ROUND, order.break_mm if order.style == STENCILLED else 0.0)
        made = yield from drawn_rows(order, rows, lambda text: laid_out(text, sizes, style, order.slant_degrees))
    except Unfit as unfit:
        return unfit.problem
    except TooTangled:
        return message(sentences.TOO_TANGLED)
    lengths = (longest_of(made).length, sizes.height, sizes.width, sizes.stroke, sizes.gap)
    return finished(
        order,
        made,
        stroke=sizes.stroke,
        sizes=list(zip(sentences.SIZE_NAMES, lengths, strict=True)),
        against=lambda text: forbidden(rule, text),
        departs=departs,
        further=_further(rule),
    )


def rows_of(
    order: Order, lines: Callable[[str], list[str]], complete: Callable[[str], str] = lambda text: text
) -> list[Row]:
    """Return the texts to draw. ``lines`` returns the lines of one, or raises Unfit; ``complete`` adds to those of a
    series what may be left out. Raises Refused.
    """
    field = "text" if order.series is None else "series"
    try:
        if order.series is None:
            lines(order.text)
            return [Row(order.text, 1)]
        rows = [Row(complete(row.text), row.copies) for row in series(order.series, lines)]
        layers = 1 + sum(map(bool, (order.outline_mm, order.second_outline_mm, _shadow(order))))
        work = layers * sum(len(row.text) for row in rows)
        if work > MOST_WORK or sum(row.copies for row in rows) > MOST_PIECES:
            most = {"characters": str(MOST_WORK // layers), "pieces": str(MOST_PIECES)}
            raise Unfit(message(sentences.SERIES_TOO_LARGE, **most))
    except Unfit as unfit:
        raise Refused(unfit.beside(field)) from None
    return rows


def _sizes(order: Order, rule: LetteringRule, texts: Sequence[str]) -> tuple[Sizes, list[Message]]:
    """Return the sizes, and how they depart from the rule. Raises Unfit."""
    chosen = Chosen(order.height_mm, order.width_mm, None, order.stroke_mm, order.gap_mm)
    sizes = sizes_of(rule, chosen)
    longest = max(texts, key=lambda text: length_of(text, sizes))
    if order.length_mm is not None:
        sizes = fitted_length(longest, sizes, order.length_mm)
    departs = departures(rule, sizes)
    if order.room_mm is not None:
        fitted = largest_fitting(longest, sizes, order.room_mm)
        if fitted.height < sizes.height:
            sentence = sentences.SMALLER_AS_ALLOWED if rule.may_shrink else sentences.SMALLER_THAN_ALLOWED
            departs.append(message(sentence, rule_mm=sizes.height, chosen_mm=fitted.height))
        sizes = fitted
    if rule.slant is not None and order.slant_degrees > rule.slant.value:
        parts = {"rule": f"{rule.slant.value:g}", "chosen": f"{order.slant_degrees:g}"}
        departs.append(message(sentences.SLANTED, **parts))
    return sizes, departs


def drawn_rows(
    order: Order, rows: Sequence[Row], lay_out: Callable[[str], Letters]
) -> Generator[Progress, None, list[Drawn]]:
    """Yield progress, and return the rows drawn as ``lay_out`` lays out each text. Raises Unfit and TooTangled."""
    made: list[Drawn] = []
    for number, row in enumerate(rows):
        if len(rows) > 1:
            words = sentences.DRAWING_ROW.format(number=str(number + 1), count=str(len(rows)))
            yield Progress(number / len(rows), words)
        made.append((yield from _drawn(order, row, lay_out(row.text), alone=len(rows) == 1)))
    yield Progress(0.9, sentences.WRITING_FILES)
    return made


def longest_of(made: Sequence[Drawn]) -> Letters:
    """Return the longest of some texts."""
    return max((each.lettering for each in made), key=lambda each: each.length)


def _drawn(order: Order, row: Row, lettering: Letters, *, alone: bool) -> Generator[Progress, None, Drawn]:
    """Yield progress if it is ``alone``, and return one text drawn. Raises Unfit and TooTangled."""
    if alone:
        yield Progress(0.0, sentences.DRAWING_LETTERS)
    whole = layers(lettering, order.scale, order.colour, _outlines(order), _shadow(order))
    if alone:
        yield Progress(0.4, sentences.LAYING_COLOURS)
    seen = regions(whole)
    if alone:
        yield Progress(0.6, sentences.LAYING_OVERLAP)
    return Drawn(row.text, row.copies, lettering, seen, trapped(whole, OVERLAP_MM), *box_of(seen))


def _outlines(order: Order) -> list[Outline]:
    """Return the outlines that are wanted. Raises Unfit for one too narrow to draw."""
    widths = (
        (order.outline_mm, order.outline_colour),
        (order.second_outline_mm, order.second_outline_colour),
    )
    made = [Outline(width, colour) for width, colour in widths if width]
    for each in made:
        if each.width < LEAST_OUTLINE:
            raise Unfit(message(sentences.OUTLINE_TOO_NARROW, least_mm=LEAST_OUTLINE))
    return made


def _shadow(order: Order) -> Shadow | None:
    offset = complex(order.shadow_right_mm, order.shadow_down_mm)
    return Shadow(offset, order.shadow_colour) if offset else None


def finished(
    order: Order,
    made: Sequence[Drawn],
    *,
    stroke: float,
    sizes: list[tuple[str, float]],
    against: Callable[[str], list[Message]],
    departs: list[Message],
    further: list[Message],
) -> Drawing:
    """Return texts that are drawn, with their drawing and their files.

    ``stroke`` is mm at full size, ``against`` returns what a rule has against a text; the rest is as in ``Drawing``.
    """
    sheet = laid(made)
    lettering = longest_of(made)
    title = " ".join(" ".join(each.text for each in made).split())
    letters: dict[float, str] = {}
    for character, width in sorted({(each.character, each.width) for drawn in made for each in drawn.lettering.placed}):
        letters[width] = f"{letters[width]} {character}" if width in letters else character
    seen = coloured(sheet, printed=False)
    return Drawing(
        length_mm=lettering.length / order.scale,
        height_mm=lettering.height / order.scale,
        stroke_mm=stroke / order.scale,
        size_mm=max((each.size for each in made), key=lambda size: size.real),
        drawing=lettering_figure(sheet, seen, order.scale, title),
        sizes=sizes,
        letters=[(characters, width) for width, characters in letters.items()],
        svg=svg_of_outlines(seen, sheet.size.real, sheet.size.imag, title),
        pdf=pdf_of_outlines(coloured(sheet, printed=True), sheet.size.real, sheet.size.imag, title),
        texts=[(each, against(each.text)) for each in made],
        departs=departs,
        further=further,
    )


def _further(rule: LetteringRule) -> list[Message]:
    """Return what else is to be known of a rule."""
    made = [message(sentences.LEFT_OPEN, words=rule.leaves_open)]
    if rule.typeface:
        made.append(message(sentences.TYPEFACE_PRESCRIBED))
    made.append(advice(sentences.PHOTOGRAPH_OVERRULES))
    return made
