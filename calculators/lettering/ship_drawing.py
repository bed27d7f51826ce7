"""Load line marks and scales of draught at a scale, with their drawing and files: it comes when a first one is drawn.

Lengths are mm, y down. Forward is on the right on the starboard side, and on the left on the port side.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from calculators import tables
from calculators.declare import Figure, Message, Refused, advice, message
from calculators.files.outline_files import pdf_of_outlines, svg_of_outlines
from calculators.lettering import ship_figure, ship_sentences
from calculators.lettering.layout import laid_out, lines_of
from calculators.lettering.marks import draught_scale, load_line_mark, load_lines, millimetres
from calculators.lettering.ship_figure import Dimension
from calculators.lettering.sizes import Chosen, Sizes, Unfit, sizes_of
from calculators.messages import quoted
from calculators.shapes.areas import backwards
from calculators.shapes.cubics import Piece
from calculators.tables.lettering_rows import LoadLine

#: Letters beside the ring at most, letters at a load line, and load lines and figures of one drawing.
MOST_LETTERS, MOST_LINES, MOST_FIGURES = 4, 8, 60
#: How high the letters at load lines are, as a multiple of the width of the lines, and as a share of the room between
#: two of them; and the gap beside letters, as a share of the width of the lines (estimates).
HIGH_AT_LINES, OF_ROOM, BESIDE = 2, 0.75, 0.6
#: How far above or below the ring's centre a load line may lie, in mm.
MOST_LEVEL = 10_000

_LINE = re.compile(r"([A-Za-z]{1,4})\s*([+\-\u2212]?\d+(?:\.\d+)?)\s*(?:mm)?")

Rings = list[list[Piece]]


@dataclass(frozen=True)
class Mark:
    """A mark that was drawn: its rings at full size, what is measured on the drawing, and its ``sizes`` by their names,
    with how wide its finest line is.
    """

    rings: Rings
    dimensions: list[Dimension]
    sizes: list[tuple[str, float]]
    finest: float
    notes: list[Message]


@dataclass(frozen=True)
class Work:
    """A mark on the model: ``size_mm`` is across + down j, and so the files."""

    size_mm: complex
    finest_mm: float
    drawing: Figure
    sizes: list[tuple[str, float]]
    svg: bytes
    pdf: bytes
    notes: list[Message]


def levels_of(typed: str) -> dict[str, float]:
    """Return how many mm above the ring's centre each load line lies, by its letters. Raises Refused.

    >>> levels_of("S 0, T 52")
    {'S': 0.0, 'T': 52.0}
    """
    levels: dict[str, float] = {}
    for part in filter(None, map(str.strip, re.split(r"[,;\n]", typed))):
        found = _LINE.fullmatch(part)
        if found is None:
            raise _refused("lines", ship_sentences.NO_LEVEL, part=quoted(part))
        level = float(found[2].replace("\u2212", "-"))
        if abs(level) > MOST_LEVEL:
            raise _refused("lines", ship_sentences.LEVEL_TOO_FAR, part=quoted(part), most=str(MOST_LEVEL))
        if found[1].upper() in levels:
            raise _refused("lines", ship_sentences.LINE_TWICE, letters=found[1].upper())
        levels[found[1].upper()] = level
    if len(levels) > MOST_LINES:
        raise _refused("lines", ship_sentences.TOO_MANY_LINES, most=str(MOST_LINES))
    return levels


def load_line(row: LoadLine, letters: str, levels: Mapping[str, float], *, port: bool) -> Mark:
    """Return the mark by the text of ``row``, with the assigner's ``letters`` and load lines. Raises Refused."""
    band, ring, line, length, forward = map(millimetres, (row.band, row.ring, row.line, row.load_line, row.forward))
    initials = _initials(row, letters, ring / 2 + BESIDE * band)
    if any(each.endswith("F") for each in levels) and _reach(initials) > forward - length - band:
        raise _refused("letters", ship_sentences.LETTERS_MEET_LINES)
    rings = load_line_mark(row) + initials
    lines = load_lines(row, levels)
    rings += [_mirrored(each) for each in lines] if port else lines
    names = ship_sentences.LOAD_LINE_SIZES
    lengths = (ring, band, line, *map(millimetres, (row.letter_height, row.letter_width)))
    dimensions = [
        Dimension(complex(-line / 2, 0), complex(line / 2, 0), line, below=True),
        Dimension(complex(-ring / 2, -ring / 2), complex(ring / 2, -ring / 2), ring, below=False),
    ]
    sizes = list(zip(names, lengths, strict=False))
    notes = [message(ship_sentences.RING_LETTERS)] if letters.strip() else []
    if levels:
        side = -1 if port else 1
        rings += _line_letters(row, levels, side)
        sizes += list(zip(names[len(sizes) :], (length, forward), strict=True))
        ends = sorted((0.0, side * forward))
        low = max(band - min(levels.values()), ring / 2)
        dimensions.append(Dimension(complex(ends[0], low), complex(ends[1], low), forward, below=True))
        notes.append(message(ship_sentences.LINE_LETTERS))
    return Mark(rings, dimensions, sizes, band, notes)


def _initials(row: LoadLine, letters: str, beside: float) -> Rings:
    """Return the letters of who assigned the mark, half of them on each side of the ring, above its line."""
    text = "".join(letters.split())
    if not text:
        return []
    if len(text) > MOST_LETTERS:
        raise _refused("letters", ship_sentences.TOO_MANY_LETTERS, most=str(MOST_LETTERS))
    height, width, band = map(millimetres, (row.letter_height, row.letter_width, row.band))
    sizes = _sized(height, width)
    half = -(-len(text) // 2)
    made: Rings = []
    for part, right in ((text[:half], False), (text[half:], True)):
        if part:
            drawn = _row("letters", part, sizes)
            left = beside if right else -beside - drawn[1]
            made += _moved(drawn[0], complex(left, -height - BESIDE * band))
    return made


def _reach(rings: Rings) -> float:
    """Return how far rings reach to the right of the ring's centre."""
    return max((point.real for ring in rings for piece in ring for point in piece), default=0.0)


def _line_letters(row: LoadLine, levels: Mapping[str, float], side: int) -> Rings:
    """Return the letters at the outer end of each load line, as ``load_lines`` draws it."""
    band, line, length, forward = map(millimetres, (row.band, row.line, row.load_line, row.forward))
    # Aft of the vertical line they end before the line through the ring begins.
    room_aft = forward - length - (1 + BESIDE) * band - line / 2
    made: Rings = []
    for aft in (True, False):
        own = {letters: level for letters, level in levels.items() if letters.endswith("F") == aft}
        places = sorted(own.values())
        room = min((other - one for one, other in pairwise(places)), default=HIGH_AT_LINES * band)
        height = min(HIGH_AT_LINES * band, max(OF_ROOM * room, band))
        if own and aft:
            _rings, wide = _row("lines", max(own, key=len), _sized(height, height * 2 / 3))
            height *= min(1.0, room_aft / wide)
        for letters, level in own.items():
            rings, wide = _row("lines", letters, _sized(height, height * 2 / 3))
            outer = forward - length - BESIDE * band if aft else forward + band + length + BESIDE * band
            left = side * outer - (wide if (side < 0) != aft else 0.0)
            made += _moved(rings, complex(left, band / 2 - level - height / 2))
    return made


def draught_figures(rule: str, first: float, last: float) -> Mark:
    """Return the figures from ``first`` to ``last``, in the metres or feet of the rule. Raises Unfit."""
    row = tables.row("rules", rule)
    sizes = sizes_of(row)
    assert row.interval is not None
    interval = millimetres(row.interval)
    metric = row.interval.unit == "mm"
    texts = metre_figures(first, last) if metric else foot_figures(first, last)
    drawn = draught_scale(sizes, interval, texts)
    dimensions = [
        Dimension(
            complex(drawn.length, drawn.height - sizes.height), complex(drawn.length, drawn.height), sizes.height
        ),
    ]
    if len(texts) > 1:
        foot = drawn.height - interval
        dimensions.append(Dimension(complex(0, foot), complex(0, drawn.height), interval, left=True))
    measured = (sizes.height, interval, sizes.width, sizes.stroke, drawn.height)
    named = list(zip(ship_sentences.FIGURE_SIZES, measured, strict=True))
    rings = [[*ring] for each in drawn.rings() for ring in each]
    return Mark(rings, dimensions, named, sizes.stroke, [message(ship_sentences.LEFT_OPEN, words=row.leaves_open)])


def metre_figures(first: float, last: float) -> list[str]:
    """Return the figures of a scale in metres, one for every two decimetres, the lowest first. Raises Unfit.

    >>> metre_figures(0.6, 1.4)
    ['6', '8', '1M', '2', '4']
    """
    low, high = (Fraction(str(each)) * 5 for each in (first, last))
    if low.denominator > 1 or high.denominator > 1:
        raise Unfit(message(ship_sentences.NO_STEP))
    steps = _steps(int(low), int(high))
    return [str(2 * step % 10) if step % 5 else f"{step // 5}M" for step in steps]


def foot_figures(first: float, last: float) -> list[str]:
    """Return the figures of a scale in feet, the lowest first. Raises Unfit.

    >>> foot_figures(3, 6)
    ['3', '4', '5', '6']
    """
    return [str(each) for each in _steps(int(first), int(last))]


def _steps(first: int, last: int) -> range:
    if last < first:
        raise Unfit(message(ship_sentences.BACKWARDS))
    if last - first >= MOST_FIGURES:
        raise Unfit(message(ship_sentences.TOO_MANY_FIGURES, most=str(MOST_FIGURES)))
    return range(first, last + 1)


def figures(rule: str, first: float, last: float) -> Mark | Message:
    """Return ``draught_figures``, or why there are none."""
    try:
        return draught_figures(rule, first, last)
    except Unfit as unfit:
        return unfit.problem


def worked(mark: Mark, scale: float, colour: str, title: str) -> Work:
    """Return a mark at 1:``scale`` in one ``colour`` with its drawing and its files."""
    rings = [[tuple(point / scale for point in piece) for piece in ring] for ring in mark.rings]
    points = [point for ring in rings for piece in ring for point in piece]
    first = complex(min(point.real for point in points), min(point.imag for point in points))
    last = complex(max(point.real for point in points), max(point.imag for point in points))
    size = last - first
    placed = [(colour, _moved(rings, -first))]
    return Work(
        size_mm=size,
        finest_mm=mark.finest / scale,
        drawing=ship_figure.drawn(placed, size, [each.moved(scale, -first) for each in mark.dimensions], title),
        sizes=mark.sizes,
        svg=svg_of_outlines(placed, size.real, size.imag, title),
        pdf=pdf_of_outlines(placed, size.real, size.imag, title),
        notes=[*mark.notes, advice(ship_sentences.PHOTOGRAPH_OVERRULES)],
    )


def _row(field: str, text: str, sizes: Sizes) -> tuple[Rings, float]:
    """Return the rings of one line of letters from its left top corner, and its length. Raises Refused."""
    try:
        drawn = laid_out(lines_of(text)[0], sizes)
    except Unfit as unfit:
        raise Refused(unfit.beside(field)) from None
    return [[*ring] for each in drawn.rings() for ring in each], drawn.length


def _sized(height: float, width: float) -> Sizes:
    return sizes_of(tables.row("rules", "own-measure"), Chosen(height=height, width=width))


def _moved(rings: Sequence[Sequence[Piece]], by: complex) -> Rings:
    return [[tuple(point + by for point in piece) for piece in ring] for ring in rings]


def _mirrored(ring: Sequence[Piece]) -> list[Piece]:
    """Return a ring with left and right exchanged, running the same way round."""
    return backwards([tuple(complex(-point.real, point.imag) for point in piece) for piece in ring])


def _refused(field: str, sentence: str, **values: str) -> Refused:
    return Refused(Unfit(message(sentence, **values)).beside(field))
