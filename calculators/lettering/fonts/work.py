"""A text drawn in a font at a scale."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

from calculators.declare import Message, Problem, Progress, Refused, advice, message
from calculators.lettering import CAPITALS, OWN_FONT, STRAIGHT, drawing
from calculators.lettering.fonts import font as fonts
from calculators.lettering.fonts import sentences
from calculators.lettering.fonts.container import Unreadable
from calculators.lettering.fonts.order import FontOrder
from calculators.lettering.fonts.served import FILES, served
from calculators.lettering.fonts.setting import (
    Refusal,
    Setting,
    fitted_to,
    lines_in_font,
    set_in_font,
    stretched_to,
    stroke_of,
)
from calculators.lettering.sentences import TOO_TANGLED
from calculators.lettering.sizes import Unfit
from calculators.shapes.snap_rounding import TooTangled


def drawn(order: drawing.Order, of_font: FontOrder) -> Generator[Progress, None, drawing.Drawing | Message]:
    """Yield progress, and return texts drawn in a font, or why they cannot be drawn at these sizes.

    Raises Refused for a font that is not read, and for texts that are not set in it.
    """
    with _refusing("font_file" if of_font.letters == OWN_FONT else "letters", order):
        font = _font(of_font)
        rows = drawing.rows_of(order, lambda text: lines_in_font(text, font))
        usual = _setting(order, of_font)
        try:
            setting = _fitted(order, [row.text for row in rows], font, usual)
            made = yield from drawing.drawn_rows(order, rows, lambda text: set_in_font(text, font, setting))
            stroke, measured = stroke_of([row.text for row in rows], font, setting)
        except Unfit as unfit:
            return unfit.problem
        except TooTangled:
            return message(TOO_TANGLED)
    of_height = sentences.CAPITALS if of_font.height_of == CAPITALS else sentences.FIGURES
    length = drawing.longest_of(made).length
    sizes = [(sentences.LENGTH, length), (of_height, setting.height), (sentences.STROKE, stroke)]
    if of_font.baseline != STRAIGHT:
        sizes.append((sentences.RADIUS, of_font.radius_mm))
    return drawing.finished(
        order,
        made,
        stroke=stroke,
        sizes=sizes,
        against=lambda _text: [],
        departs=[],
        further=_further(of_font, usual, setting, measured),
    )


@contextmanager
def _refusing(field: str, order: drawing.Order) -> Iterator[None]:
    """Refuse what is wrong with the font, chosen in ``field``, and with a text that is not set in it."""
    of_text = "text" if order.series is None else "series"
    try:
        yield
    except Unreadable as trouble:
        raise Refused(Problem(field, trouble.text, trouble.hint)) from None
    except Refusal as trouble:
        raise Refused(Problem(of_text, trouble.text, trouble.hint)) from None


def _font(of_font: FontOrder) -> fonts.Font:
    file = of_font.font_file if of_font.letters == OWN_FONT else None
    if file:
        return fonts.Font(file.name, file.data)
    return fonts.Font(FILES[of_font.letters], served(of_font.letters))


def _setting(order: drawing.Order, of_font: FontOrder) -> Setting:
    return Setting(
        height=of_font.font_height_mm,
        reference=fonts.CAPITALS if of_font.height_of == CAPITALS else fonts.FIGURES,
        kerned=of_font.kerned,
        letter_space=of_font.letter_space_mm,
        word_space=of_font.word_space_mm,
        slant_degrees=order.slant_degrees,
        line=of_font.baseline,
        radius=of_font.radius_mm,
    )


def _fitted(order: drawing.Order, texts: Sequence[str], font: fonts.Font, usual: Setting) -> Setting:
    """Return the setting with which the longest text has the wanted length and fits the free one."""
    wanted = usual
    if order.length_mm is None and order.room_mm is None:
        return wanted
    straight = replace(usual, line=STRAIGHT)
    longest = max(texts, key=lambda text: set_in_font(text, font, straight).length)
    if order.length_mm is not None:
        wanted = stretched_to(longest, font, usual, order.length_mm)
    if order.room_mm is not None:
        wanted = fitted_to(longest, font, wanted, order.room_mm)
    return wanted


def _further(of_font: FontOrder, usual: Setting, setting: Setting, measured: bool) -> list[Message]:
    """Return what else is to be known of a text in a font."""
    made = []
    if setting.stretch != 1:
        made.append(message(sentences.STRETCHED, percent=f"{100 * setting.stretch:.0f}"))
    if setting.height < usual.height:
        made.append(message(sentences.MADE_SMALLER, asked_mm=usual.height, chosen_mm=setting.height))
    made.append(message(sentences.STROKE_MEASURED if measured else sentences.STROKE_WORKED_OUT))
    if of_font.letters == OWN_FONT:
        made.append(advice(sentences.FONT_RIGHTS))
    return [*made, advice(sentences.OWN_SHAPES)]
