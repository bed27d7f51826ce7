"""Draw placement templates on the page: each paper piece with its window, lines and distances."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calculators import messages
from calculators.artwork.template_files import Stroke, sentences, strokes
from calculators.artwork.template_layout import Template, size_lines
from calculators.declare import Figure
from calculators.files.outline_files import path_data
from calculators.markup import escape
from calculators.numbers import at_most

#: In SVG units: the width, the gap between two pieces, the greatest height of one, letters and lines of words.
WIDTH, GAP, MOST_HIGH, LETTERS, LINE = 520, 20, 340, 15, 20
#: Paper round a piece, so that its thick sides show on dark pages too.
ROUND = 8
#: Where words and pieces are side by side, the most letters in a line.
MOST_LETTERS = 30
PAPER, INK, SOFT = "#fffefb", "#1c2226", "#586066"


def template_figure(templates: Sequence[Template]) -> Figure:
    """Return the templates side by side, at one scale."""
    first = templates[0]
    panel = (WIDTH - GAP * (len(templates) - 1)) / len(templates)
    scale = min((panel - 2 * ROUND) / first.width_mm, MOST_HIGH / first.height_mm)
    alt = messages.TEMPLATE_ALT.format(width=at_most(first.width_mm, 1), height=at_most(first.height_mm, 1))
    body, lowest = "", 0.0
    for place, template in enumerate(templates):
        left = place * (panel + GAP)
        piece = complex(left + (panel - scale * template.width_mm) / 2, ROUND)
        wide, high = scale * template.width_mm + 2 * ROUND, scale * template.height_mm + 2 * ROUND
        body += f'<path fill="{PAPER}" d="M{piece.real - ROUND:.1f} 0h{wide:.1f}v{high:.1f}h-{wide:.1f}z"/>'
        body += "".join(_path(stroke, scale, piece) for stroke in strokes(template))
        body += "".join(_numbers(template, scale, piece))
        y = high + LINE
        for line, words in enumerate(_lines(template, len(templates))):
            body += _text(words, complex(left, y), "dw-soft" if line else "dw-label")
            y += LINE
        lowest = max(lowest, y)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {lowest - LINE + 8:.1f}" role="img"><title>'
        f"{escape(alt)}</title>{body}</svg>",
        alt,
    )


def _path(stroke: Stroke, scale: float, place: complex) -> str:
    data = path_data([stroke.pieces(place, scale)], 2, closed=stroke.closed)
    width = max(1.0, 4 * stroke.width_mm) * (1.5 if stroke.width_mm > 0.5 else 1)
    return f'<path fill="none" stroke="{stroke.colour}" stroke-width="{width:.1f}" d="{data}"/>'


def _numbers(template: Template, scale: float, place: complex) -> Iterator[str]:
    """Yield the distances in mm, beside the middle of their lines, on paper."""
    edges = (template.upright, template.level)
    for line, edge in zip(size_lines(template), edges, strict=True):
        words = at_most(edge.distance_mm, 2)
        middle = place + scale * (line[0] + line[1]) / 2
        half = 4.5 * len(words) + 2
        box = f"M{middle.real - half:.1f} {middle.imag - 9:.1f}h{2 * half:.1f}v18h-{2 * half:.1f}z"
        yield f'<path fill="{PAPER}" d="{box}"/>'
        yield _text(words, middle + 5.5j, "", ' text-anchor="middle"')


def _lines(template: Template, count: int) -> Iterator[str]:
    """Yield the words of a piece, broken at spaces where two pieces share the width."""
    most = MOST_LETTERS if count > 1 else 2 * MOST_LETTERS
    for words in sentences(template):
        line = ""
        for word in words.split(" "):
            if line and len(line) + 1 + len(word) > most:
                yield line
                line = ""
            line = f"{line} {word}" if line else word
        yield line


def _text(words: str, place: complex, kind: str, anchor: str = "") -> str:
    """Return words: of a ``kind`` (a class of the theme) that goes with the page, or as ink on paper."""
    colour = f'class="{kind}" fill="{SOFT}"' if kind else f'fill="{INK}"'
    return (
        f'<text x="{place.real:.1f}" y="{place.imag:.1f}"{anchor} font-size="{LETTERS}" {colour}>{escape(words)}</text>'
    )
