"""Lettering as a dimensioned drawing: the letters as they are coloured, their length and their height."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.files.outline_files import path_data
from calculators.lettering import sentences
from calculators.lettering.effects import Region
from calculators.lettering.layout import Lettering
from calculators.markup import escape
from calculators.numbers import at_most
from calculators.pixels.colour_table import rgb_of
from calculators.values import Figure

#: In SVG units: the width, the paper round the letters, the greatest height of them, letters of the numbers, and the
#: room for the height beside them.
WIDTH, ROUND, MOST_HIGH, LETTERS, SIDE = 520, 28, 220, 15, 80
LIGHT, DARK, SOFT = "#fffefb", "#3a4148", "#586066"
#: A colour lighter than so much of 255 is shown on dark.
BRIGHT = 170


def box_of(seen: Sequence[Region]) -> tuple[complex, complex]:
    """Return the left top and the right bottom corner of all regions, in mm."""
    points = [point for each in seen for ring in each.rings for piece in ring for point in (piece[0], piece[-1])]
    across, down = [point.real for point in points], [point.imag for point in points]
    return complex(min(across), min(down)), complex(max(across), max(down))


def lettering_figure(seen: Sequence[Region], drawn: Lettering, scale: float, title: str) -> Figure:
    """Return the regions of a text at 1:``scale`` with its length and height on the model."""
    first, last = box_of(seen)
    size = last - first
    factor = min((WIDTH - 2 * ROUND - SIDE) / size.real, MOST_HIGH / size.imag)
    place = complex(ROUND, ROUND) - factor * first
    length, height = drawn.length / scale, drawn.height / scale
    outermost = seen[-1].colour
    red, green, blue = rgb_of(outermost)
    paper = DARK if 0.3 * red + 0.6 * green + 0.1 * blue > BRIGHT else LIGHT
    right, foot = ROUND + factor * size.real, ROUND + factor * size.imag
    body = f'<path fill="{paper}" d="M8 8H{right + ROUND - 8:.1f}V{foot + ROUND - 8:.1f}H8z"/>'
    for each in seen:
        rings = [[tuple(place + factor * point for point in piece) for piece in ring] for ring in each.rings]
        body += f'<path fill="{each.colour}" fill-rule="evenodd" d="{path_data(rings, 2)}"/>'
    low = foot + ROUND + 10
    start, end = place.real, place.real + factor * length
    body += _line(complex(start, low), complex(end, low))
    body += _text(at_most(length, 2) + " mm", complex((start + end) / 2, low + LETTERS + 4), "middle")
    side = right + ROUND + 8
    top, bottom = place.imag, place.imag + factor * height
    body += _line(complex(side, top), complex(side, bottom))
    body += _text(at_most(height, 2) + " mm", complex(side + 8, (top + bottom) / 2 + LETTERS / 3), "start")
    alt = sentences.DRAWING_ALT.format(text=title, length=at_most(length, 2), height=at_most(height, 2))
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {low + LETTERS + 14:.1f}" role="img"><title>'
        f"{escape(alt)}</title>{body}</svg>",
        alt,
    )


def _line(start: complex, end: complex) -> str:
    """Return a line with a bar across each end."""
    across = 5 * 1j * (end - start) / abs(end - start)
    parts = [(start, end), (start - across, start + across), (end - across, end + across)]
    data = "".join(f"M{one.real:.1f} {one.imag:.1f}L{two.real:.1f} {two.imag:.1f}" for one, two in parts)
    return f'<path class="dw-axis" fill="none" stroke="{SOFT}" d="{data}"/>'


def _text(words: str, place: complex, anchor: str) -> str:
    return (
        f'<text class="dw-label" x="{place.real:.1f}" y="{place.imag:.1f}" font-size="{LETTERS}" '
        f'text-anchor="{anchor}">{escape(words)}</text>'
    )
