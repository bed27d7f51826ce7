"""The chart of lines, small type and heavy ink for one kind of printer."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.numbers import plain
from calculators.print import chart_sentences as sentences
from calculators.print.chart_page import BARE, BLACK, Block, Box, Words
from calculators.tables.printing_rows import Printer

#: Widths of lines that a chart may have, in mm.
WIDTHS_MM = (0.04, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15, 0.18, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6)
#: From this share of the thinnest line that printers of a kind hold at best, to this one of what they hold at worst.
FROM, TO = 0.5, 1.5
#: Strokes of plain capitals are about an eighth of their height, and these about 0.72 of the size (estimates).
HEIGHT_OF_STROKE, CAPITALS = 8.0, 0.72
#: In mm: a row, the words before it, the longer and the shorter line of each width, and what is above the rows.
ROW_MM, BEFORE_MM, ACROSS_MM, DOWN_MM, HEAD_MM = 4.2, 8.0, 13.0, 3.0, 7.0
#: The width of a column of lines, and of the dark patch that others are reversed out of.
PATCH_MM = ACROSS_MM + 6
#: Patches that are touched to see whether they are dry, and solid ones.
TOUCH_MM, SOLID_MM = 10.0, 12.0


def widths_for(printer: Printer) -> tuple[float, ...]:
    """Return the widths of lines round what printers of a kind hold, in mm, thinnest first."""
    facts = (printer.thinnest_line, printer.thinnest_line_colour)
    low, high = min(each.low for each in facts) * FROM, max(each.high for each in facts) * TO
    return tuple(each for each in WIDTHS_MM if low <= each <= high)


def capitals_mm(width_mm: float) -> float:
    """Return the height of plain capitals whose strokes are about so wide, in mm and to a hundredth."""
    return round(HEIGHT_OF_STROKE * width_mm, 2)


def columns(colour: str) -> tuple[tuple[str, str, bool], ...]:
    """Return heading, colour and whether it is reversed out, of each column."""
    return tuple(
        (words, colour if name.startswith("colour") else BLACK, name.endswith("reversed"))
        for name, words in sentences.COLUMNS.items()
    )


def lines_block(widths: Sequence[float], heading: str, colour: str, reversed_out: bool) -> Block:
    """Return a column of lines, each with its width beside it: a piece across and a piece down."""
    high = ROW_MM * len(widths)
    shapes: list[Box | Words] = [Words(sentences.LINES_HEADING, 0, 2.4), Words(heading, BEFORE_MM, 5.4)]
    if reversed_out:
        shapes.append(Box(BEFORE_MM, HEAD_MM, PATCH_MM, high, colour))
    ink = BARE if reversed_out else colour
    for place, wide in enumerate(widths):
        middle = HEAD_MM + (place + 0.5) * ROW_MM
        shapes += [
            Words(plain(wide), 0, middle + 0.9),
            Box(BEFORE_MM + 1, middle - wide / 2, ACROSS_MM, wide, ink),
            Box(BEFORE_MM + ACROSS_MM + 3.5 - wide / 2, middle - DOWN_MM / 2, wide, DOWN_MM, ink),
        ]
    return Block(BEFORE_MM + PATCH_MM, HEAD_MM + high, tuple(shapes))


def type_block(widths: Sequence[float], heading: str, colour: str, reversed_out: bool) -> Block:
    """Return a column of words in small type, each with the height of its capitals beside it."""
    heights = [capitals_mm(each) for each in widths]
    wide = 0.6 * max(heights) / CAPITALS * len(sentences.SPECIMEN) + 2
    bottom = HEAD_MM + 0.6
    words: list[Box | Words] = []
    for each in heights:
        bottom += each + 1.4
        words += [
            Words(plain(each), 0, bottom - each / 2 + 0.9),
            Words(sentences.SPECIMEN, BEFORE_MM + 1, bottom, each / CAPITALS, BARE if reversed_out else colour),
        ]
        bottom = max(bottom, bottom + 1.4 - each / 2)
    high = bottom + 1.2
    patch = [Box(BEFORE_MM, HEAD_MM, wide, high - HEAD_MM, colour)] if reversed_out else []
    head = (Words(sentences.TYPE_HEADING, 0, 2.4), Words(heading, BEFORE_MM, 5.4))
    return Block(BEFORE_MM + wide, high, (*head, *patch, *words))


def ink_block(colour: str) -> Block:
    """Return patches to touch, each at its time, and solid patches of the heaviest inks."""
    shapes: list[Box | Words] = [Words(sentences.INK_HEADING, 0, 2.4)]
    for place, time in enumerate(sentences.TIMES):
        left = place * (TOUCH_MM + 1.5)
        shapes += [Box(left, 4, TOUCH_MM, TOUCH_MM, BLACK), Words(time, left, 4 + TOUCH_MM + 3)]
    top = TOUCH_MM + 9
    solids = {**sentences.SOLIDS, colour: sentences.COLUMNS["colour"]}
    for place, (ink, name) in enumerate(solids.items()):
        left = place * (SOLID_MM + 1.5)
        shapes += [Box(left, top, SOLID_MM, SOLID_MM, ink), Words(name, left, top + SOLID_MM + 3)]
    wide = max(len(sentences.TIMES) * (TOUCH_MM + 1.5), len(solids) * (SOLID_MM + 1.5)) - 1.5
    return Block(wide, top + SOLID_MM + 4, tuple(shapes))
