"""Placement templates as files: SVG in mm, and PDF pages of a paper, with a bar to measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calculators import messages, tables
from calculators.artwork.template_layout import (
    BELOW,
    RIGHT,
    Template,
    centre_lines,
    model_edges,
    size_lines,
    ticks,
)
from calculators.files.outline_files import path_data, path_steps
from calculators.files.pdf import Sheet, document
from calculators.files.print_checks import BAR_MM, DARK, bar_across
from calculators.markup import escape
from calculators.numbers import at_most, plain
from calculators.pixels.marking_outline import Polygon
from calculators.shapes.cubics import Piece

#: Widths of lines in mm: sides that lie on edges of the model, cuts, and all else.
EDGE_MM, CUT_MM, THIN_MM = 0.6, 0.25, 0.13
GREY = "#7b8287"
#: What home printers leave white, the gap between pieces, and the space for words and bar above them, in mm.
MARGIN_MM, GAP_MM, HEAD_MM = 10.0, 8.0, 26.0
#: Lines of words are so far apart, those above a piece take up so much, and letters on it are so high, in mm.
LINE_MM, HEADINGS_MM, NOTE_MM = 4.0, 13.0, 2.5


@dataclass(frozen=True)
class Stroke:
    """A line of a template: from point to point, or a closed one."""

    points: Polygon
    width_mm: float
    colour: str = DARK
    closed: bool = False

    def pieces(self, move: complex = 0j, scale: float = 1.0) -> list[Piece]:
        """Return the line moved after it was scaled."""
        placed = [scale * at + move for at in self.points]
        return list(pairwise([*placed, placed[0]] if self.closed else placed))


@dataclass(frozen=True)
class Words:
    """One line of words that begins at a place on its base line."""

    text: str
    place: complex
    size_mm: float = 3.0
    upward: bool = False


def strokes(template: Template) -> Iterator[Stroke]:
    """Yield all lines of a template."""
    size = complex(template.width_mm, template.height_mm)
    yield Stroke((0j, complex(size.real, 0), size, complex(0, size.imag)), CUT_MM, closed=True)
    for each in template.printed:
        yield Stroke(each, THIN_MM, GREY, closed=True)
    sizes = size_lines(template)
    for line in (*centre_lines(template), *sizes, *(tick for each in sizes for tick in ticks(each))):
        yield Stroke(line, THIN_MM)
    for each in template.window:
        yield Stroke(each, CUT_MM, closed=True)
    for line in model_edges(template):
        yield Stroke(line, EDGE_MM)


#: What stands above the bar.
HEAD = (Words(messages.PRINT_AT_TRUE_SIZE, 4j, 4), Words(messages.TEMPLATE_MEASURE, 9j))


def sentences(template: Template) -> list[str]:
    """Return which side a template is for, and where two of its own sides lie."""
    sentence = messages.TEMPLATE_TO_CENTRE if template.to_centre else messages.TEMPLATE_TO_EDGE
    return [
        messages.TEMPLATE_SIDES[template.side],
        *(
            sentence.format(
                lies=messages.TEMPLATE_LIES[edge.lies], name=edge.name, distance=at_most(edge.distance_mm, 2)
            )
            for edge in (template.upright, template.level)
        ),
    ]


def headings(template: Template) -> Iterator[Words]:
    """Yield what stands above a template."""
    for line, text in enumerate(sentences(template)):
        yield Words(text, complex(0, 3 + line * LINE_MM))


def words_on(template: Template) -> Iterator[Words]:
    """Yield what is written on the paper piece itself: its side, and the distances beside their lines."""
    across, down = size_lines(template)
    far = NOTE_MM + 1 if template.level.lies == BELOW else template.height_mm - 2
    yield Words(messages.TEMPLATE_SHORT[template.side], complex(2, far), NOTE_MM)
    # The number stands on the side of its line that is away from the window.
    below = 0 if template.level.lies == BELOW else NOTE_MM + 0.9
    start = min(across, key=lambda at: at.real)
    yield Words(at_most(template.upright.distance_mm, 2), start + complex(0.8, below - 0.7), NOTE_MM)
    right = 0 if template.upright.lies == RIGHT else NOTE_MM + 0.9
    start = max(down, key=lambda at: at.imag)
    yield Words(at_most(template.level.distance_mm, 2), start + complex(right - 0.7, -0.8), NOTE_MM, upward=True)


class NoRoom(ValueError):
    """A template does not fit on the paper."""


def template_pdf(templates: Sequence[Template], paper: str, title: str) -> bytes:
    """Return pages of a ``paper``, each with a bar of 100 mm, on as few as hold the templates. Raises NoRoom."""
    row = tables.row("papers", paper)
    sides = (row.width.value, row.height.value)
    ways = [_pages(templates, *each) for each in (sides, sides[::-1])]
    fitting = [(pages, size) for pages, size in zip(ways, (sides, sides[::-1]), strict=True) if pages]
    if not fitting:
        raise NoRoom
    pages, size = min(fitting, key=lambda each: len(each[0]))
    sheets = []
    for page in pages:
        sheet = Sheet(*size)
        for words in HEAD:
            _write(sheet, words, complex(MARGIN_MM, MARGIN_MM))
        bar_across(sheet, MARGIN_MM, MARGIN_MM + 18)
        for template, top in page:
            _draw(sheet, template, complex(MARGIN_MM, top))
        sheets.append(sheet)
    return document(sheets, title)


def template_svg(templates: Sequence[Template], title: str) -> bytes:
    """Return an SVG file in mm with all templates below each other, and a bar of 100 mm."""
    widest = max(_width(words) for words in (*HEAD, *(each for template in templates for each in headings(template))))
    width = max(BAR_MM, widest, templates[0].width_mm) + 2 * MARGIN_MM
    corner = complex(MARGIN_MM, MARGIN_MM)
    parts = [_words(words, corner) for words in (*HEAD, Words(messages.BAR_LABEL, 3 + 16.8j))]
    bar = complex(MARGIN_MM, MARGIN_MM + 18)
    ends = [((at - 1.5j), (at + 1.5j)) for at in (bar + 0.15, bar + BAR_MM - 0.15)]
    parts += [_path(Stroke(each, 0.3), 0j) for each in ((bar, bar + BAR_MM), *ends)]
    top = MARGIN_MM + HEAD_MM
    for template in templates:
        place = complex(MARGIN_MM, top)
        parts += [_words(words, place) for words in headings(template)]
        move = place + complex(0, HEADINGS_MM)
        parts += [_path(stroke, move) for stroke in strokes(template)]
        parts += [_words(words, move) for words in words_on(template)]
        top += _high(template)
    height = top - GAP_MM + MARGIN_MM
    size = f'width="{_plain(width)}mm" height="{_plain(height)}mm" viewBox="0 0 {_plain(width)} {_plain(height)}"'
    body = "\n".join(parts)
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n<title>{escape(title)}</title>\n{body}\n</svg>\n'.encode()


def _pages(templates: Sequence[Template], width: float, height: float) -> list[list[tuple[Template, float]]]:
    """Return the templates of each page and where they begin, none where one does not fit."""
    first = MARGIN_MM + HEAD_MM
    pages: list[list[tuple[Template, float]]] = []
    top = height
    for template in templates:
        if template.width_mm > width - 2 * MARGIN_MM or first + _high(template) - GAP_MM > height - MARGIN_MM:
            return []
        if top + _high(template) - GAP_MM > height - MARGIN_MM:
            pages.append([])
            top = first
        pages[-1].append((template, top))
        top += _high(template)
    return pages


def _high(template: Template) -> float:
    """Return the height of a template with its headings and the gap below it."""
    return HEADINGS_MM + template.height_mm + GAP_MM


def _width(words: Words) -> float:
    """Return roughly how wide words are: letters are half as wide as high, with something to spare."""
    return 0.55 * words.size_mm * len(words.text)


def _draw(sheet: Sheet, template: Template, place: complex) -> None:
    for words in headings(template):
        _write(sheet, words, place)
    move = place + complex(0, HEADINGS_MM)
    for stroke in strokes(template):
        sheet.path(path_steps(stroke.pieces(move), closed=stroke.closed), stroke=stroke.colour, line_mm=stroke.width_mm)
    for words in words_on(template):
        _write(sheet, words, move)


def _write(sheet: Sheet, words: Words, move: complex) -> None:
    at = words.place + move
    sheet.text(words.text, at.real, at.imag, size_mm=words.size_mm, upward=words.upward)


def _path(stroke: Stroke, move: complex) -> str:
    data = path_data([stroke.pieces(move)], closed=stroke.closed)
    return f'<path fill="none" stroke="{stroke.colour}" stroke-width="{plain(stroke.width_mm)}" d="{data}"/>'


def _words(words: Words, move: complex) -> str:
    at = words.place + move
    x, y = _plain(at.real), _plain(at.imag)
    turn = f' transform="rotate(-90 {x} {y})"' if words.upward else ""
    return (
        f'<text x="{x}" y="{y}"{turn} font-family="Helvetica, Arial, sans-serif" font-size="{plain(words.size_mm)}" '
        f'fill="{DARK}">{escape(words.text)}</text>'
    )


def _plain(length: float) -> str:
    return at_most(length, 4)
