"""The page of bars: a square with crosses at its corners, whose sides and diagonals are read with a ruler.

All is filled, never stroked. A length is read from the middle of one cross to the middle of another, so that ink that
spreads does not lengthen it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from calculators import tables
from calculators.files.pdf import Sheet, Step
from calculators.numbers import at_most
from calculators.sheet import print_error_sentences as sentences

#: Black alone: a printer mixes a dark grey of dots, and thin lines of dots have ragged edges.
BLACK = "#000000"
#: In mm: arms of a cross, width of its lines and of the bars, how far bars begin from the middle of a cross.
ARM_MM, LINE_MM, BAR_MM, GAP_MM = 4.0, 0.15, 0.2, 7.0
#: The arrow over the top side, and letters by the length of the bars.
ARROW_MM, LETTERS = 3.0, 1 / 55
#: The shortest bars that are drawn: on shorter ones no ruler sees an error.
SHORTEST_MM = 40.0


@dataclass(frozen=True)
class BarsPage:
    """A square of ``length_mm`` on a sheet of ``size`` in mm, its top left corner at ``corner``."""

    size: complex
    corner: complex
    length_mm: float

    def corners(self) -> tuple[complex, complex, complex, complex]:
        """Return the middles of the crosses: top left, top right, bottom right, bottom left."""
        across, down = complex(self.length_mm, 0), complex(0, self.length_mm)
        return self.corner, self.corner + across, self.corner + across + down, self.corner + down

    def bars(self) -> Iterator[tuple[str, complex, complex]]:
        """Yield the name and both ends of each length that is read."""
        top_left, top_right, bottom_right, bottom_left = self.corners()
        yield "across", top_left, top_right
        yield "down", top_left, bottom_left
        yield "falling", top_left, bottom_right
        yield "rising", bottom_left, top_right

    def nominal_mm(self, name: str) -> float:
        """Return how long a bar is as drawn."""
        return self.length_mm * (1 if name in ("across", "down") else sqrt(2))


def longest_mm(paper: str, margin_mm: float) -> float:
    """Return the longest side of a square that fits on a sheet of the table of papers, crosses included."""
    row = tables.row("papers", paper)
    return float(min(row.width.value, row.height.value) - 2 * (margin_mm + ARM_MM))


def bars_page(paper: str, length_mm: float) -> BarsPage:
    """Return the square in the middle of an upright sheet."""
    row = tables.row("papers", paper)
    size = complex(row.width.value, row.height.value)
    return BarsPage(size, (size - complex(length_mm, length_mm)) / 2, length_mm)


def bars_pdf(page: BarsPage, names: str) -> bytes:
    """Return the page as a PDF file; ``names`` says for which printer and film it is."""
    sheet = Sheet(page.size.real, page.size.imag)
    for corner in page.corners():
        sheet.rectangle(corner.real - ARM_MM, corner.imag - LINE_MM / 2, 2 * ARM_MM, LINE_MM, fill=BLACK)
        sheet.rectangle(corner.real - LINE_MM / 2, corner.imag - ARM_MM, LINE_MM, 2 * ARM_MM, fill=BLACK)
    letters = page.length_mm * LETTERS
    for name, start, end in page.bars():
        along = (end - start) / abs(end - start)
        sheet.path(_bar(start + GAP_MM * along, end - GAP_MM * along, along), fill=BLACK)
        at = start + 0.27 * (end - start) + _label(name) * letters
        words = f"{sentences.BARS[name]}  {at_most(page.nominal_mm(name), 2)} mm"
        sheet.text(words, at.real, at.imag, size_mm=1.3 * letters, colour=BLACK)
    top = page.corner + complex(page.length_mm / 2, -1)
    sheet.path(
        [
            ("M", top.real - ARROW_MM / 2, top.imag),
            ("L", top.real, top.imag - ARROW_MM),
            ("L", top.real + ARROW_MM / 2, top.imag),
            ("Z",),
        ],
        fill=BLACK,
    )
    first = page.corner + complex(0.24 * page.length_mm, 0.09 * page.length_mm)
    for line, words in enumerate((*sentences.HEADINGS, names)):
        at = first + line * complex(0, 1.6 * letters)
        sheet.text(words, at.real, at.imag, size_mm=letters, colour=BLACK)
    return sheet.bytes(sentences.TITLE)


def _bar(start: complex, end: complex, along: complex) -> list[Step]:
    side = 1j * along * BAR_MM / 2
    first, *rest = (start + side, end + side, end - side, start - side)
    return [("M", first.real, first.imag), *(("L", each.real, each.imag) for each in rest), ("Z",)]


def _label(name: str) -> complex:
    """Return where the words of a bar begin from a place on it, in heights of their letters."""
    return {"across": 0 + 2j, "down": 0.8 + 0j, "falling": 1 - 0.3j, "rising": 1 + 1j}[name]
