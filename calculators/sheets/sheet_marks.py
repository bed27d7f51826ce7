"""What stands on a sheet beside its pieces: check bars with the sheet's name, register crosses, names of pieces.

Bars and crosses are filled, never stroked: a filled shape has exactly known edges on every printer.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators.files.pdf import Sheet
from calculators.files.print_checks import DARK
from calculators.numbers import plain
from calculators.sheets import sentences
from calculators.sheets.model import Placement, SheetLayout
from calculators.sheets.pieces import CROSS_LINE_MM, crosses

#: The thickness of bars, and the height of the ticks within their ends, in mm. All that belongs to a bar, its words
#: included, lies within the third figure to either side of it.
BAR_MM, TICK_MM, BESIDE_MM = 0.3, 3.0, 2.5
#: The size of words, in mm, at best and at least. A character is at most so wide by the size of the font, on average.
WORDS_MM, LEAST_WORDS_MM, CHARACTER = 1.9, 1.1, 0.56
#: How far words stand from the line of their bar, in mm.
OFF_BAR_MM = 0.5
#: How far names of pieces stay from what is beside them, in mm.
OFF_SIDE_MM = 0.3
BETWEEN = "  ·  "


def box_between(start: complex, end: complex, thick: float) -> tuple[float, float, float, float]:
    """Return left, top, width and height of a bar from one end to the other, along x or y.

    >>> box_between(10 + 20j, 110 + 20j, 2.0)
    (10.0, 19.0, 100.0, 2.0)
    """
    low = complex(min(start.real, end.real), min(start.imag, end.imag))
    length = abs(end - start)
    if is_level(start, end):
        return low.real, low.imag - thick / 2, length, thick
    return low.real - thick / 2, low.imag, thick, length


def bar_boxes(start: complex, end: complex) -> Iterator[tuple[float, float, float, float]]:
    """Yield the boxes of a check bar: the bar itself, exactly from end to end, and ticks within its ends."""
    yield box_between(start, end, BAR_MM)
    way = (end - start) / abs(end - start)
    for tick in (start + way * BAR_MM / 2, end - way * BAR_MM / 2):
        half = complex(way.imag, way.real) * TICK_MM / 2
        yield box_between(tick - half, tick + half, BAR_MM)


def cross_boxes(placement: Placement) -> Iterator[tuple[float, float, float, float]]:
    """Yield the boxes of the register crosses of a piece, on the sheet."""
    for start, end in crosses(placement.item):
        yield box_between(placement.on_sheet(start), placement.on_sheet(end), CROSS_LINE_MM)


def draw_bars(sheet: Sheet, layout: SheetLayout, words: Sequence[str]) -> None:
    """Draw the check bars with their lengths, and ``words`` about the sheet along the first of them; without bars
    along the lower edge, where that is free.
    """
    said = list(words)
    for start, end in layout.bars:
        for box in bar_boxes(start, end):
            sheet.rectangle(*box, fill=DARK)
        length = sentences.BAR_LENGTH.format(length=plain(round(abs(end - start), 3)))
        if is_level(start, end):
            _along(sheet, [length, *said], min(start.real, end.real), start.imag, abs(end - start))
            said = []
        else:
            sheet.text(length, start.real - OFF_BAR_MM, max(start.imag, end.imag) - 2, size_mm=WORDS_MM, upward=True)
    left, _top, right, bottom = layout.printable
    if said and not any(each.footprint[3] > bottom - BESIDE_MM for each in layout.placements):
        _along(sheet, said, left, bottom, right - left)


def draw_crosses(sheet: Sheet, placement: Placement) -> None:
    """Draw the register crosses of a piece."""
    for box in cross_boxes(placement):
        sheet.rectangle(*box, fill=DARK)


def draw_name(sheet: Sheet, placement: Placement, gap_mm: float) -> None:
    """Write the name of a piece along its tab, or below it in the gap; nothing where neither has room."""
    item = placement.item
    if item.tab_box:
        left, _top, right, _bottom = item.tab_box
        ends = placement.on_sheet(complex(left, 0)), placement.on_sheet(complex(right, item.size.imag))
        left, right = sorted(end.real for end in ends)
        top, bottom = sorted(end.imag for end in ends)
        upward = not placement.turned
        along, across = (bottom - top, right - left) if upward else (right - left, bottom - top)
        words, size = fitted(item.name, along - 2 * OFF_SIDE_MM, across * 0.6)
        capital = 0.72 * size / 2
        if words and upward:
            sheet.text(words, (left + right) / 2 + capital, bottom - OFF_SIDE_MM, size_mm=size, upward=True)
        elif words:
            sheet.text(words, left + OFF_SIDE_MM, (top + bottom) / 2 + capital, size_mm=size)
        return
    left, _top, right, bottom = placement.footprint
    words, size = fitted(item.name, right - left, gap_mm - 2 * OFF_SIDE_MM)
    if words:
        sheet.text(words, left, bottom + OFF_SIDE_MM + 0.72 * size, size_mm=size)


def fitted(words: str, length_mm: float, height_mm: float) -> tuple[str, float]:
    """Return words, cut short if necessary, and the size at which they fit; "" if not even that fits."""
    size = min(WORDS_MM, height_mm, length_mm / (CHARACTER * max(1, len(words))))
    if size >= LEAST_WORDS_MM:
        return words, size
    count = int(length_mm / (CHARACTER * LEAST_WORDS_MM))
    if height_mm < LEAST_WORDS_MM or count < 4:
        return "", 0.0
    return words[: count - 1].rstrip() + "…", LEAST_WORDS_MM


def _along(sheet: Sheet, parts: Sequence[str], x: float, y: float, length_mm: float) -> None:
    """Write parts above a level line, and below it what does not fit there."""
    most = int(length_mm / (CHARACTER * LEAST_WORDS_MM))
    above: list[str] = []
    rest = list(parts)
    while rest and (not above or len(BETWEEN.join([*above, rest[0]])) <= most):
        above.append(rest.pop(0))
    for row, base in ((above, y - OFF_BAR_MM), (rest, y + OFF_BAR_MM + 0.72 * WORDS_MM)):
        words, size = fitted(BETWEEN.join(row), length_mm - 2 * BAR_MM, WORDS_MM)
        if words:
            sheet.text(words, x + BAR_MM + 0.2, base, size_mm=size)


def is_level(start: complex, end: complex) -> bool:
    """Return whether a bar lies along x."""
    return abs(end.real - start.real) >= abs(end.imag - start.imag)
