"""Draw sheets to scale: pieces with their numbers, tabs, bars, margins, and what is left over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from calculators import messages
from calculators.declare import Figure
from calculators.markup import escape
from calculators.numbers import at_most
from calculators.sheet import sheet_sentences as sentences
from calculators.sheet.sheet import FILMS
from calculators.sheets.model import Part, Placement, Rectangle, SheetLayout

#: In SVG units: the width of the drawing, the gap between two sheets, lines of words, letters, and the most height.
WIDTH, GAP, LINE, LETTERS, MOST_HIGH = 720.0, 24.0, 18.0, 13, 760.0
#: More sheets are not drawn.
MOST_DRAWN = 8
PAPER, INK, SOFT, REST = "#fffefb", "#1c2226", "#6b7378", "#d9ecec"
FILLS = {Part.COLOUR: "#c9b79c", Part.WHITE_UNDER: "#ffffff", Part.TRIAL: "#e6c76f", Part.STRIP: "#9fb4a7"}
TAB = "#ece7da"


def sheets_figure(sheets: Sequence[SheetLayout], numbers: Mapping[str, int]) -> Figure:
    """Return the sheets side by side at one scale; ``numbers`` are those of the items in the table."""
    drawn = sheets[:MOST_DRAWN]
    columns = min(len(drawn), 2 if drawn[0].size.real < 1.2 * drawn[0].size.imag else 1)
    widest, highest = max(each.size.real for each in drawn), max(each.size.imag for each in drawn)
    scale = min((WIDTH - GAP * (columns - 1)) / columns / widest, MOST_HIGH / highest)
    panel, row = widest * scale + GAP, highest * scale + LINE + GAP
    body = "".join(
        _sheet(each, numbers, complex(place % columns * panel, place // columns * row), scale)
        for place, each in enumerate(drawn)
    )
    height = -(-len(drawn) // columns) * row - GAP
    if len(sheets) > len(drawn):
        words = sentences.MORE_SHEETS.format(count=len(sheets) - len(drawn))
        body += _text(words, complex(0, height + LINE))
        height += LINE + 6
    alt = sentences.ALT.format(
        sheets=messages.plural(len(sheets), "sheet"),
        pieces=messages.plural(sum(len(each.placements) for each in sheets), "piece"),
    )
    wide = columns * panel - GAP
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.1f} {height:.1f}" role="img">'
        f"<title>{escape(alt)}</title>{body}</svg>"
    )
    return Figure(svg, alt)


def _sheet(sheet: SheetLayout, numbers: Mapping[str, int], corner: complex, scale: float) -> str:
    title = sentences.SHEET_TITLE.format(number=sheet.number, film=FILMS.get(sheet.film, sheet.film))
    end = corner + complex(scale * sheet.size.real, LETTERS)
    feed = f'<text class="dw-soft" text-anchor="end" font-size="{LETTERS}" x="{end.real:.1f}" y="{end.imag:.1f}">'
    parts = [_text(title, corner + complex(0, LETTERS), "dw-label"), f"{feed}↑ {sentences.FEED}</text>"]
    origin = corner + complex(0, LINE)

    def at(box: Rectangle) -> Rectangle:
        left, top, right, bottom = (scale * each for each in box)
        return origin.real + left, origin.imag + top, origin.real + right, origin.imag + bottom

    width, height = sheet.size.real, sheet.size.imag
    parts.append(_box(at((0, 0, width, height)), PAPER, SOFT))
    if sheet.remainder:
        left, top, right, bottom = at(sheet.remainder)
        parts.append(_box((left, top, right, bottom), REST))
        words = sentences.LEFT_OVER.format(rest_mm=at_most(height - sheet.used_length, 0))
        if bottom - top > 2 * LINE:
            parts.append(
                _text(words, complex((left + right) / 2, (top + bottom) / 2), "dw-soft", middle=True, fill=INK)
            )
    parts.append(_box(at(sheet.printable), "none", SOFT, dashed=True))
    if sheet.used_length < height:
        _, y, _, _ = at((0, sheet.used_length, 0, 0))
        parts.append(
            f'<path stroke="{INK}" stroke-dasharray="7 4" d="M{origin.real:.1f} {y:.1f}h{scale * width:.1f}"/>'
        )
    for each in sheet.placements:
        parts += _piece(each, numbers.get(each.item.id), at)
    for start, stop in sheet.bars:
        left, top, right, bottom = at((start.real, start.imag, stop.real, stop.imag))
        line = f"M{left:.1f} {top:.1f}L{right:.1f} {bottom:.1f}"
        parts.append(f'<path stroke="{INK}" stroke-width="1.6" d="{line}"/>')
    return "".join(parts)


def _piece(placement: Placement, number: int | None, at: Callable[[Rectangle], Rectangle]) -> Iterator[str]:
    item = placement.item
    yield _box(at(placement.footprint), TAB, SOFT)
    corner, far = placement.corner, placement.corner + placement.size
    box = at((corner.real, corner.imag, far.real, far.imag))
    yield _box(box, FILLS[item.part], INK)
    if number is None:
        return
    left, top, right, bottom = box
    words = str(number)
    if right - left >= 7 * len(words) and bottom - top >= 9:
        yield _text(
            words, complex((left + right) / 2, (top + bottom) / 2 + 4), "dw-label", middle=True, small=True, fill=INK
        )
    elif (tab := item.tab_box) is not None:
        ends = [placement.on_sheet(complex(tab[0], tab[1])), placement.on_sheet(complex(tab[2], tab[3]))]
        one, other = (at((each.real, each.imag, each.real, each.imag))[:2] for each in ends)
        yield _text(
            words,
            complex((one[0] + other[0]) / 2, (one[1] + other[1]) / 2 + 4),
            "dw-label",
            middle=True,
            small=True,
            fill=INK,
        )


def _box(box: Rectangle, fill: str, line: str = "", *, dashed: bool = False) -> str:
    left, top, right, bottom = box
    stroke = f' stroke="{line}" stroke-width="0.7"' if line else ""
    dashes = ' stroke-dasharray="3 3"' if dashed else ""
    d = f"M{left:.1f} {top:.1f}H{right:.1f}V{bottom:.1f}H{left:.1f}z"
    return f'<path fill="{fill}"{stroke}{dashes} d="{d}"/>'


def _text(
    words: str, place: complex, kind: str = "dw-soft", *, middle: bool = False, small: bool = False, fill: str = ""
) -> str:
    anchor = ' text-anchor="middle"' if middle else ""
    colour = f' fill="{fill}"' if fill else f' class="{kind}"'
    size = 10 if small else LETTERS
    return f'<text{colour}{anchor} font-size="{size}" x="{place.real:.1f}" y="{place.imag:.1f}">{escape(words)}</text>'
