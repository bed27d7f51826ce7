"""Draw the page of bars, and the printer's error much larger than it is."""

from __future__ import annotations

from calculators.declare import Figure
from calculators.markup import escape
from calculators.numbers import at_most
from calculators.sheet import print_error_sentences as sentences
from calculators.sheet.bars_page import BarsPage
from calculators.sheets.correction import PrinterError

INK, SOFT, ACCENT, WATER, FILM = "#1c2226", "#586066", "#7a2232", "#1d6a73", "#fffefb"
#: The size of the drawings in SVG units, and of the square as it should be.
WIDTH, SQUARE, LETTERS = 520.0, 260.0, 15
#: How many times an error may be drawn, and how much of the square the largest part of it may then take up.
TIMES = (1, 2, 5, 10, 20, 50, 100)
MOST_OF_SQUARE = 0.12


def page_figure(page: BarsPage) -> Figure:
    """Return the sheet with its bars, each with its letter."""
    scale = 300 / page.size.imag
    left = (WIDTH - scale * page.size.real) / 2

    def at(place: complex) -> complex:
        return left + scale * place + 4 + 4j

    corner, far = at(0), at(page.size)
    sheet = f"{_path(corner, complex(far.real, corner.imag), far, complex(corner.real, far.imag))}Z"
    body = f'<path class="dw-paper" fill="{FILM}" d="{sheet}"/>' + _line(sheet, "dw-soft-line", SOFT, 1)
    for name, start, end in page.bars():
        body += _line(_path(at(start), at(end)), "dw-ink", INK, 1.5)
        middle = at(start + (0.5 if name in ("across", "down") else 0.3) * (end - start))
        middle += {"across": 17j, "down": 14 + 5j, "falling": 14 + 2j, "rising": 14 + 12j}[name]
        body += _text(sentences.BARS[name], middle, "middle")
    crosses = "".join(
        f"M{each.real - 7:.1f} {each.imag:.1f}h14M{each.real:.1f} {each.imag - 7:.1f}v14"
        for each in map(at, page.corners())
    )
    body += _line(crosses, "dw-accent", ACCENT, 2)
    top = at(page.corner + page.length_mm / 2)
    body += f'<path class="dw-ink-fill" fill="{INK}" d="M{top.real - 6:.1f} {top.imag - 4:.1f}l6 -10l6 10z"/>'
    return _figure(body, 308, sentences.PAGE_ALT)


def error_figure(error: PrinterError, length_mm: float) -> Figure:
    """Return what the printer makes of a square, over the square as it should be."""
    times = _times(error)
    larger = PrinterError(1 + times * (error.across - 1), 1 + times * (error.down - 1), times * error.skew)
    middle, half = complex(WIDTH / 2, 200), SQUARE / 2
    meant = [middle + half * each for each in (-1 - 1j, 1 - 1j, 1 + 1j, -1 + 1j)]
    printed = [middle + larger.printed(each - middle) for each in meant]
    body = f'<path class="dw-glass" fill="#d9ecec" d="{_path(*printed)}Z"/>'
    body += _line(f"{_path(*printed)}Z", "dw-water-line", WATER, 2.5)
    body += _line(f"{_path(*meant)}Z", "dw-soft-line", SOFT, 1.5, ' stroke-dasharray="7 5"')
    body += _text(sentences.DRAWN_TIMES.format(times=times), complex(WIDTH / 2, 16), "middle")
    across, down = (f"{at_most(each * length_mm, 2)} mm" for each in (error.across, error.down))
    body += _text(across, complex(WIDTH / 2, min(each.imag for each in (*meant, *printed)) - 8), "middle")
    body += _text(down, complex(max(each.real for each in (*meant, *printed)) + 8, middle.imag + 5), "start")
    lowest = max(each.imag for each in (*meant, *printed)) + 22
    slant = at_most(error.skew, 2)
    body += _text(f"{slant}°", complex(printed[2].real, lowest), "middle")
    alt = sentences.ERROR_ALT.format(
        times=times, across=f"{error.across:.4f}", down=f"{error.down:.4f}", skew=f"{error.skew:.2f}"
    )
    return _figure(body, lowest + 8, alt)


def _times(error: PrinterError) -> int:
    """Return how many times the error is drawn."""
    largest = max(abs(error.across - 1), abs(error.down - 1), abs(error.skew) * 0.0175, 1e-9)
    return max(each for each in TIMES if each == 1 or each * largest <= MOST_OF_SQUARE)


def _path(*places: complex) -> str:
    return "M" + "L".join(f"{each.real:.1f} {each.imag:.1f}" for each in places)


def _line(data: str, name: str, colour: str, wide: float, more: str = "") -> str:
    return f'<path class="{name}" fill="none" stroke="{colour}" stroke-width="{wide}"{more} d="{data}"/>'


def _text(words: str, place: complex, anchor: str) -> str:
    at = f'x="{place.real:.1f}" y="{place.imag:.1f}" text-anchor="{anchor}"'
    return f'<text class="dw-label" {at} font-size="{LETTERS}" fill="{INK}">{escape(words)}</text>'


def _figure(body: str, height: float, alt: str) -> Figure:
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:.0f} {height:.0f}" role="img"><title>'
        f"{escape(alt)}</title>{body}</svg>",
        alt,
    )
