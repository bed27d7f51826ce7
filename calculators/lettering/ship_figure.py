"""Marks of ships as dimensioned drawings. Numbers stand outside what they measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.files.outline_files import Coloured, path_data
from calculators.lettering import ship_sentences
from calculators.lettering.figure import LETTERS, ROUND, SIDE, WIDTH, dimension_line, label, paper_beneath
from calculators.markup import escape
from calculators.numbers import at_most
from calculators.values import Figure

#: The greatest height of a mark, and how far apart lines with numbers lie, in SVG units.
MOST_HIGH, APART = 340, 34


@dataclass(frozen=True)
class Dimension:
    """A length that is measured on a drawing, between two points that lie level or upright.

    A level one stands above or ``below`` all of the mark, an upright one on the right, or on the ``left``.
    """

    start: complex
    end: complex
    length: float
    below: bool = False
    left: bool = False

    @property
    def is_level(self) -> bool:
        return self.start.imag == self.end.imag

    def moved(self, scale: float, by: complex) -> Dimension:
        """Return it on the model at 1:``scale``, moved ``by`` so much there."""
        return Dimension(self.start / scale + by, self.end / scale + by, self.length / scale, self.below, self.left)


def drawn(seen: Sequence[Coloured], size: complex, dimensions: Sequence[Dimension], title: str) -> Figure:
    """Return a mark of ``size`` (mm, across + down j) in the colours in which it is ``seen``, with its dimensions."""
    beside = SIDE if any(not each.is_level for each in dimensions) else 0
    left = SIDE if any(each.left for each in dimensions) else 0
    above = APART * sum(each.is_level and not each.below for each in dimensions)
    factor = min((WIDTH - 2 * ROUND - beside - left) / size.real, MOST_HIGH / size.imag)
    corner = complex(ROUND + left, ROUND + above)
    right, foot = corner.real + factor * size.real, corner.imag + factor * size.imag
    paper = (corner.real - 20, corner.imag - 20, right + 20, foot + 20)
    outline = f"M{paper[0]:.1f} {paper[1]:.1f}H{paper[2]:.1f}V{paper[3]:.1f}H{paper[0]:.1f}z"
    body = f'<path fill="{paper_beneath(seen[0][0])}" d="{outline}"/>'
    for colour, rings in seen:
        placed = [[tuple(corner + factor * point for point in piece) for piece in ring] for ring in rings]
        body += f'<path fill="{colour}" fill-rule="evenodd" d="{path_data(placed, 2)}"/>'
    low, high = paper[3] + 10, paper[1] - 10
    for each in dimensions:
        start, end = (corner + factor * point for point in (each.start, each.end))
        words = at_most(each.length, 3) + " mm"
        if each.is_level:
            y = low if each.below else high
            body += dimension_line(complex(start.real, y), complex(end.real, y))
            place = complex((start.real + end.real) / 2, y + LETTERS + 4 if each.below else y - 8)
            body += label(words, place, "middle")
            low, high = (low + APART, high) if each.below else (low, high - APART)
        else:
            x = paper[0] - 8 if each.left else paper[2] + 8
            body += dimension_line(complex(x, start.imag), complex(x, end.imag))
            middle = complex(x - 8 if each.left else x + 8, (start.imag + end.imag) / 2 + LETTERS / 3)
            body += label(words, middle, "end" if each.left else "start")
    alt = ship_sentences.DRAWING_ALT.format(title=title, width=at_most(size.real, 2), height=at_most(size.imag, 2))
    tall = max(low, paper[3]) + 10
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {tall:.1f}" role="img"><title>'
        f"{escape(alt)}</title>{body}</svg>",
        alt,
    )
