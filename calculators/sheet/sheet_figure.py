"""Draw sheets to scale: pieces with their numbers, tabs, bars, margins, and what is left over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from calculators import messages
from calculators.declare import Figure
from calculators.markup import escape
from calculators.numbers import at_most
from calculators.sheet import sheet_sentences as sentences
from calculators.sheet.sheet import FILMS
from calculators.sheets.model import Part, Placement, Rectangle, SheetLayout

#: In SVG units: the most width and height of a sheet, and the gap between two.
WIDTH, MOST_HIGH, GAP = 720.0, 760.0, 24.0
#: Letters and numbers of pieces, as shares of the width: on a telephone the drawing is 320 px wide.
LETTERS, NUMBERS = 0.030, 0.0285
#: More sheets are not drawn.
MOST_DRAWN = 8
PAPER, INK, SOFT, REST = "#fffefb", "#1c2226", "#6b7378", "#d9ecec"
FILLS = {Part.COLOUR: "#c9b79c", Part.WHITE_UNDER: "#ffffff", Part.TRIAL: "#e6c76f", Part.STRIP: "#9fb4a7"}
TAB = "#ece7da"


def sheets_figure(sheets: Sequence[SheetLayout], numbers: Mapping[str, int]) -> Figure:
    """Return the sheets one below the other at one scale; ``numbers`` are those of the items in the table."""
    drawn = sheets[:MOST_DRAWN]
    widest, highest = max(each.size.real for each in drawn), max(each.size.imag for each in drawn)
    pen = _Pen(min(WIDTH / widest, MOST_HIGH / highest), widest)
    body, height = "", 0.0
    for each in drawn:
        body += pen.sheet(each, numbers, height)
        height += pen.line + pen.scale * each.size.imag + GAP
    height -= GAP
    if len(sheets) > len(drawn):
        words = sentences.MORE_SHEETS.format(count=len(sheets) - len(drawn))
        body += pen.text(words, complex(0, height + pen.line))
        height += 1.4 * pen.line
    alt = sentences.ALT.format(
        sheets=messages.plural(len(sheets), "sheet"),
        pieces=messages.plural(sum(len(each.placements) for each in sheets), "piece"),
    )
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {pen.width:.1f} {height:.1f}" role="img">'
        f"<title>{escape(alt)}</title>{body}</svg>"
    )
    return Figure(svg, alt)


@dataclass(frozen=True)
class _Pen:
    """Draws at ``scale`` SVG units a millimetre; the widest sheet is ``widest`` mm wide."""

    scale: float
    widest: float

    @property
    def width(self) -> float:
        return self.scale * self.widest

    @property
    def line(self) -> float:
        """The height of a line of words."""
        return 1.4 * LETTERS * self.width

    def sheet(self, sheet: SheetLayout, numbers: Mapping[str, int], top: float) -> str:
        """Return a sheet below its line of words, which begins at ``top``."""
        letters, right_edge = LETTERS * self.width, self.scale * sheet.size.real
        title = sentences.SHEET_TITLE.format(number=sheet.number, film=FILMS.get(sheet.film, sheet.film))
        parts = [
            self.text(title, complex(0, top + letters), "dw-label"),
            self.text(f"↑ {sentences.FEED}", complex(right_edge, top + letters), anchor="end"),
        ]
        origin = top + self.line

        def at(box: Rectangle) -> Rectangle:
            left, up, right, down = (self.scale * each for each in box)
            return left, origin + up, right, origin + down

        width, height = sheet.size.real, sheet.size.imag
        parts.append(_box(at((0, 0, width, height)), PAPER, SOFT))
        if sheet.remainder:
            left, up, right, down = at(sheet.remainder)
            parts.append(_box((left, up, right, down), REST))
            words = sentences.LEFT_OVER.format(rest_mm=at_most(height - sheet.used_length, 0))
            if down - up > 2 * self.line:
                middle = complex((left + right) / 2, (up + down) / 2)
                parts.append(self.text(words, middle, anchor="middle", fill=INK))
        parts.append(_box(at(sheet.printable), "none", SOFT, dashed=True))
        if sheet.used_length < height:
            _, y, _, _ = at((0, sheet.used_length, 0, 0))
            parts.append(f'<path stroke="{INK}" stroke-dasharray="7 4" d="M0 {y:.1f}h{right_edge:.1f}"/>')
        for each in sheet.placements:
            parts += self._piece(each, numbers.get(each.item.id), at)
        for start, stop in sheet.bars:
            left, up, right, down = at((start.real, start.imag, stop.real, stop.imag))
            line = f"M{left:.1f} {up:.1f}L{right:.1f} {down:.1f}"
            parts.append(f'<path stroke="{INK}" stroke-width="1.6" d="{line}"/>')
        return "".join(parts)

    def _piece(self, placement: Placement, number: int | None, at: Callable[[Rectangle], Rectangle]) -> Iterator[str]:
        """Yield a piece, with its number on it or on its tab, wherever there is room."""
        item = placement.item
        yield _box(at(placement.footprint), TAB, SOFT)
        corner, far = placement.corner, placement.corner + placement.size
        box = at((corner.real, corner.imag, far.real, far.imag))
        yield _box(box, FILLS[item.part], INK)
        if number is None:
            return
        places = [box]
        if (tab := item.tab_box) is not None:
            one, other = placement.on_sheet(complex(*tab[:2])), placement.on_sheet(complex(*tab[2:]))
            across, down = sorted((one.real, other.real)), sorted((one.imag, other.imag))
            places.append(at((across[0], down[0], across[1], down[1])))
        places.append(at(placement.footprint))
        high, wide = NUMBERS * self.width, 0.62 * NUMBERS * self.width * len(str(number))
        for left, up, right, bottom in places:
            if right - left >= wide and bottom - up >= 0.68 * high:
                middle = complex((left + right) / 2, (up + bottom) / 2 + 0.36 * high)
                yield self.text(str(number), middle, anchor="middle", fill=INK, size=NUMBERS)
                return

    def text(
        self,
        words: str,
        place: complex,
        kind: str = "dw-soft",
        *,
        anchor: str = "start",
        fill: str = "",
        size: float = LETTERS,
    ) -> str:
        """Return a line of words; ``size`` is a share of the width."""
        colour = f'fill="{fill}"' if fill else f'class="{kind}"'
        return (
            f'<text {colour} text-anchor="{anchor}" font-size="{size * self.width:.1f}" x="{place.real:.1f}"'
            f' y="{place.imag:.1f}">{escape(words)}</text>'
        )


def _box(box: Rectangle, fill: str, line: str = "", *, dashed: bool = False) -> str:
    left, top, right, bottom = box
    stroke = f' stroke="{line}" stroke-width="0.7"' if line else ""
    dashes = ' stroke-dasharray="3 3"' if dashed else ""
    d = f"M{left:.1f} {top:.1f}H{right:.1f}V{bottom:.1f}H{left:.1f}z"
    return f'<path fill="{fill}"{stroke}{dashes} d="{d}"/>'
