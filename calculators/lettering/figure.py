"""Lettering as a dimensioned drawing: the letters as they are coloured, their length and their height."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.files.outline_files import Coloured, path_data
from calculators.lettering import sentences
from calculators.lettering.effects import Region
from calculators.lettering.pieces import Sheet
from calculators.markup import escape
from calculators.numbers import at_most
from calculators.pixels.colour_table import rgb_of
from calculators.shapes.extents import bounds
from calculators.values import Figure

#: In SVG units: the width, the paper round the letters, the greatest height of them, letters of the numbers, and the
#: room for the height beside them.
WIDTH, ROUND, MOST_HIGH, LETTERS, SIDE = 520, 28, 220, 15, 80
MOST_HIGH_SERIES = 900
LIGHT, DARK, SOFT = "#fffefb", "#3a4148", "#586066"
#: A colour lighter than so much of 255 is shown on dark.
BRIGHT = 170


def box_of(seen: Sequence[Region]) -> tuple[complex, complex]:
    """Return the left top and the right bottom corner of all regions, in mm."""
    return bounds(ring for each in seen for ring in each.rings)


def lettering_figure(sheet: Sheet, seen: Sequence[Coloured], scale: float, title: str) -> Figure:
    """Return what lies on a sheet at 1:``scale`` with the length of its longest text and the height of one text."""
    size = sheet.size
    most_high = MOST_HIGH if len(sheet.places) == 1 else MOST_HIGH_SERIES
    factor = min((WIDTH - 2 * ROUND - SIDE) / size.real, most_high / size.imag)
    corner = complex(ROUND, ROUND)
    right, foot = ROUND + factor * size.real, ROUND + factor * size.imag
    paper = paper_beneath(sheet.places[0][0].seen[-1].colour)
    body = f'<path fill="{paper}" d="M8 8H{right + ROUND - 8:.1f}V{foot + ROUND - 8:.1f}H8z"/>'
    for colour, rings in seen:
        drawn = [[tuple(corner + factor * point for point in piece) for piece in ring] for ring in rings]
        body += f'<path fill="{colour}" fill-rule="evenodd" d="{path_data(drawn, 2)}"/>'
    longest, places = max(sheet.places, key=lambda each: each[0].lettering.length)
    length, height = longest.lettering.length / scale, longest.lettering.height / scale
    low = foot + ROUND + 10
    # Of a series the longest text is measured at its own left edge, and the first one's height.
    start = ROUND + factor * places[0].real
    body += dimension_line(complex(start, low), complex(start + factor * length, low))
    body += label(at_most(length, 2) + " mm", complex(start + factor * length / 2, low + LETTERS + 4), "middle")
    side, top = right + ROUND + 8, ROUND + factor * sheet.places[0][1][0].imag
    body += dimension_line(complex(side, top), complex(side, top + factor * height))
    body += label(at_most(height, 2) + " mm", complex(side + 8, top + factor * height / 2 + LETTERS / 3), "start")
    parts = {"text": title, "length": at_most(length, 2), "height": at_most(height, 2)}
    if len(sheet.places) > 1:
        first = sheet.places[0][0].text
        alt = sentences.SERIES_ALT.format(**parts | {"count": str(len(sheet.places)), "text": first})
    else:
        alt = sentences.DRAWING_ALT.format(**parts)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {low + LETTERS + 14:.1f}" role="img"><title>'
        f"{escape(alt)}</title>{body}</svg>",
        alt,
    )


def paper_beneath(colour: str) -> str:
    """Return the colour of the paper on which ``colour`` is shown: light ones lie on dark."""
    red, green, blue = rgb_of(colour)
    return DARK if 0.3 * red + 0.6 * green + 0.1 * blue > BRIGHT else LIGHT


def dimension_line(start: complex, end: complex) -> str:
    """Return a line with a bar across each end, for an SVG drawing."""
    across = 5 * 1j * (end - start) / abs(end - start)
    parts = [(start, end), (start - across, start + across), (end - across, end + across)]
    data = "".join(f"M{one.real:.1f} {one.imag:.1f}L{two.real:.1f} {two.imag:.1f}" for one, two in parts)
    return f'<path class="dw-axis" fill="none" stroke="{SOFT}" d="{data}"/>'


def label(words: str, place: complex, anchor: str) -> str:
    """Return words in a drawing."""
    return (
        f'<text class="dw-label" x="{place.real:.1f}" y="{place.imag:.1f}" font-size="{LETTERS}" '
        f'text-anchor="{anchor}">{escape(words)}</text>'
    )
