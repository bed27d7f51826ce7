"""Marks beside a marking that check the print itself: bars of 100 mm and a ladder of thin lines.

Everything is filled, never stroked: viewers and printers may fatten or shift thin strokes to their
own dots, and a filled shape has exactly known edges.
"""

from __future__ import annotations

from calculators import messages
from calculators.files.pdf import Sheet, Step
from calculators.numbers import plain

BAR_MM = 100.0
#: Lines of the ladder, in mm: from too thin for any home printer to wide enough for all.
LADDER_MM = (0.05, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3)
DARK = "#1c2226"

#: The bar is thin; its ticks are inside its length, so that their outer edges are its ends.
_BAR_HEIGHT, _TICK_WIDTH, _TICK_HEIGHT = 0.3, 0.3, 3.0
_ROW, _LABEL, _LINE, _UPRIGHT, _PATCH = 5.0, 9.0, 12.0, 3.0, 20.0
#: The size of a ladder, its heading included.
LADDER_SIZE = (_LABEL + _PATCH + 4 + _PATCH, 10 + _ROW * len(LADDER_MM))


def bar_across(sheet: Sheet, x: float, y: float) -> None:
    """Draw a filled rectangle exactly 100 mm long from (x, y) to the right, with ticks at its ends."""
    sheet.rectangle(x, y - _BAR_HEIGHT / 2, BAR_MM, _BAR_HEIGHT, fill=DARK)
    for end in (x, x + BAR_MM - _TICK_WIDTH):
        sheet.rectangle(end, y - _TICK_HEIGHT / 2, _TICK_WIDTH, _TICK_HEIGHT, fill=DARK)
    sheet.text(messages.BAR_LABEL, x + 3, y - 1.2, size_mm=3)


def bar_down(sheet: Sheet, x: float, y: float) -> None:
    """Draw a filled rectangle exactly 100 mm long from (x, y) downwards, with ticks at its ends."""
    sheet.rectangle(x - _BAR_HEIGHT / 2, y, _BAR_HEIGHT, BAR_MM, fill=DARK)
    for end in (y, y + BAR_MM - _TICK_WIDTH):
        sheet.rectangle(x - _TICK_HEIGHT / 2, end, _TICK_HEIGHT, _TICK_WIDTH, fill=DARK)
    sheet.text(messages.BAR_LABEL, x - 1.2, y + BAR_MM - 3, size_mm=3, upward=True)


def scale_words(sheet: Sheet, x: float, y: float) -> None:
    """Write at (x, y) how the page must be printed, and what to measure."""
    sheet.text(messages.PRINT_AT_TRUE_SIZE, x, y, size_mm=4)
    sheet.text(messages.MEASURE_BARS, x, y + 5, size_mm=3)


def line_ladder(sheet: Sheet, x: float, y: float) -> None:
    """Draw lines of LADDER_MM, dark on bare film and reversed out of a dark patch, with (x, y) top left.

    Each has a piece across and a piece down, since printers differ in the two. A line reversed out
    is a slit in the patch through which nothing is printed. Screens widen all of them to their own
    dots; what counts is the print.
    """
    sheet.text(messages.LADDER_HEADING, x, y + 3, size_mm=3)
    bare, reversed_out = x + _LABEL, x + _LABEL + _PATCH + 4
    for left, words in zip((bare, reversed_out), messages.LADDER_COLUMNS, strict=True):
        sheet.text(words, left, y + 8, size_mm=2.5)
    patch = _box(reversed_out, y + 10, _PATCH, _ROW * len(LADDER_MM))
    for step, wide in enumerate(LADDER_MM):
        middle = y + 10 + (step + 0.5) * _ROW
        sheet.text(plain(wide), x, middle + 1, size_mm=3)
        across = (1.0, middle - wide / 2, _LINE, wide)
        down = (_LINE + 4 - wide / 2, middle - _UPRIGHT / 2, wide, _UPRIGHT)
        for left, *rest in (across, down):
            sheet.rectangle(bare + left, *rest, fill=DARK)
            patch += _box(reversed_out + left, *rest)
    sheet.path(patch, fill=DARK, even_odd=True)


def _box(x: float, y: float, width: float, height: float) -> list[Step]:
    return [("M", x, y), ("L", x + width, y), ("L", x + width, y + height), ("L", x, y + height), ("Z",)]
