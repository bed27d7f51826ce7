"""Charts on a sheet: blocks of boxes and words, side by side from the leading edge, as a PDF page and as a drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calculators import tables
from calculators.declare import Figure
from calculators.files.pdf import Sheet
from calculators.markup import escape
from calculators.numbers import at_most

#: Black alone: a printer mixes a dark grey of dots. White is where nothing is printed.
BLACK, BARE = "#000000", "#ffffff"
#: The gap between two blocks, in mm.
BETWEEN_MM = 4.0
#: Paper and its edge in the drawing.
PAPER, SOFT = "#fffefb", "#586066"


@dataclass(frozen=True)
class Box:
    """A filled rectangle in mm from the top left corner of its block."""

    x: float
    y: float
    width: float
    height: float
    colour: str = BLACK


@dataclass(frozen=True)
class Words:
    """A line of words in mm, from the left end of its base line."""

    text: str
    x: float
    y: float
    size: float = 2.4
    colour: str = BLACK


@dataclass(frozen=True)
class Block:
    """Shapes that stay together, ``width`` x ``height`` mm."""

    width: float
    height: float
    shapes: tuple[Box | Words, ...]


@dataclass(frozen=True)
class ChartPage:
    """Blocks on a sheet of ``size`` in mm, each with its top left corner."""

    size: complex
    margin_mm: float
    placed: tuple[tuple[complex, Block], ...]

    @property
    def used(self) -> complex:
        """How much of the sheet the blocks take up from its top left corner, the margins round them included."""
        right = max(at.real + block.width for at, block in self.placed)
        bottom = max(at.imag + block.height for at, block in self.placed)
        return complex(right + self.margin_mm, bottom + self.margin_mm)


def chart_page(blocks: Sequence[Block], paper: str, margin_mm: float) -> ChartPage | None:
    """Return blocks in rows from the top edge of an upright sheet of the table; None if there is no room for them."""
    row = tables.row("papers", paper)
    size = complex(row.width.value, row.height.value)
    placed: list[tuple[complex, Block]] = []
    x, y, high = margin_mm, margin_mm, 0.0
    for block in blocks:
        if placed and x + block.width > size.real - margin_mm:
            x, y, high = margin_mm, y + high + BETWEEN_MM, 0.0
        placed.append((complex(x, y), block))
        x, high = x + block.width + BETWEEN_MM, max(high, block.height)
    page = ChartPage(size, margin_mm, tuple(placed))
    return page if page.used.real <= size.real and page.used.imag <= size.imag else None


def chart_pdf(page: ChartPage, title: str) -> bytes:
    """Return the page as a PDF file at exact size."""
    sheet = Sheet(page.size.real, page.size.imag)
    for each in _shapes(page):
        if isinstance(each, Box):
            sheet.rectangle(each.x, each.y, each.width, each.height, fill=each.colour)
        else:
            sheet.text(each.text, each.x, each.y, size_mm=each.size, colour=each.colour)
    return sheet.bytes(title)


def chart_figure(page: ChartPage, alt: str) -> Figure:
    """Return the part of the sheet that the blocks take up, in true proportion."""
    used = page.used
    body = "".join(map(_drawn, _shapes(page)))
    size = f"{used.real:.1f} {used.imag:.1f}"
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" role="img"><title>{escape(alt)}</title>'
        # A picture of the print: as small as it comes out, and the table has the same figures.
        f'<svg width="{used.real:.1f}" height="{used.imag:.1f}" '
        "font-family=\"'Atkinson Hyperlegible Next', Helvetica, sans-serif\">"
        f'<path fill="{PAPER}" stroke="{SOFT}" stroke-width="0.2" d="M0 0h{used.real:.1f}v{used.imag:.1f}H0z"/>'
        f"{body}</svg></svg>",
        alt,
    )


def _shapes(page: ChartPage) -> Iterator[Box | Words]:
    """Yield all shapes where they lie on the sheet."""
    for at, block in page.placed:
        for each in block.shapes:
            x, y = at.real + each.x, at.imag + each.y
            if isinstance(each, Box):
                yield Box(x, y, each.width, each.height, each.colour)
            else:
                yield Words(each.text, x, y, each.size, each.colour)


def _drawn(shape: Box | Words) -> str:
    x, y = at_most(shape.x, 3), at_most(shape.y, 3)
    # What is left bare shows the paper.
    colour = PAPER if shape.colour == BARE else shape.colour
    if isinstance(shape, Box):
        path = f"M{x} {y}h{at_most(shape.width, 3)}v{at_most(shape.height, 3)}h-{at_most(shape.width, 3)}z"
        return f'<path fill="{colour}" d="{path}"/>'
    return f'<text x="{x}" y="{y}" font-size="{at_most(shape.size, 2)}" fill="{colour}">{escape(shape.text)}</text>'
