"""Outlines as files at exact size: SVG in millimetres, and a PDF page as large as the marking."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from calculators.files.pdf import Sheet, Step
from calculators.markup import escape
from calculators.numbers import plain
from calculators.shapes.cubics import Piece

#: Coordinates are written to a tenth of a micrometre.
DECIMALS = 4
#: The width of the line under the seam of two colours: two printer dots, or one dot of an enlarged screen view.
SEAM_MM = 0.04
_NOUGHTS = re.compile(r"\.0+(?!\d)|(\.\d*?[1-9])0+(?!\d)")
_NOUGHT = re.compile(r"-0(?![.\d])")
#: A colour (#rrggbb) and its rings, each of closed pieces in mm.
Coloured = tuple[str, Sequence[Sequence[Piece]]]


def path_data(rings: Iterable[Sequence[Piece]], decimals: int = DECIMALS, *, closed: bool = True) -> str:
    """Return rings as absolute SVG path data with ``decimals``; as open lines if not ``closed``."""
    point = f"%.{decimals}f %.{decimals}f"
    line, curve = "L" + point, "C" + " ".join([point] * 3)
    commands: list[str] = []
    for pieces in rings:
        start = pieces[0][0]
        commands.append("M" + point % (start.real, start.imag))
        for piece in pieces:
            if len(piece) == 2:
                end = piece[1]
                commands.append(line % (end.real, end.imag))
            else:
                _, one, two, end = piece
                commands.append(curve % (one.real, one.imag, two.real, two.imag, end.real, end.imag))
        if closed:
            commands.append("Z")
    # Remove trailing zeros for all numbers at once, which is faster than one by one.
    return _NOUGHT.sub("0", _NOUGHTS.sub(r"\1", "".join(commands)))


def svg_of_outlines(
    colours: Sequence[Coloured], width_mm: float, height_mm: float, title: str, seams: Sequence[Coloured] = ()
) -> bytes:
    """Return an SVG file of ``width_mm`` x ``height_mm``, a path for each colour, in units of 1 mm.

    ``seams`` are lines drawn beneath, ``SEAM_MM`` wide.
    """
    size = (
        f'width="{plain(width_mm)}mm" height="{plain(height_mm)}mm" viewBox="0 0 {plain(width_mm)} {plain(height_mm)}"'
    )
    paths = "".join(
        f'<path fill="{colour}" fill-rule="evenodd" d="{path_data(rings)}"/>\n' for colour, rings in colours
    )
    beneath = "".join(
        f'<path fill="none" stroke="{colour}" stroke-width="{plain(SEAM_MM)}" d="{path_data(runs, closed=False)}"/>\n'
        for colour, runs in seams
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n<title>{escape(title)}</title>\n{beneath}{paths}</svg>\n'
    ).encode()


def pdf_of_outlines(
    colours: Sequence[Coloured], width_mm: float, height_mm: float, title: str, seams: Sequence[Coloured] = ()
) -> bytes:
    """Return a PDF file of one page of ``width_mm`` x ``height_mm``, curves as curves; ``seams`` as in an SVG file."""
    sheet = Sheet(width_mm, height_mm)
    for colour, runs in seams:
        sheet.path((step for run in runs for step in path_steps(run, closed=False)), stroke=colour, line_mm=SEAM_MM)
    for colour, rings in colours:
        sheet.path((step for ring in rings for step in path_steps(ring)), fill=colour, even_odd=True)
    return sheet.bytes(title)


def path_steps(pieces: Sequence[Piece], *, closed: bool = True) -> Iterable[Step]:
    """Yield the steps of a run for a PDF page; it is joined at its ends if ``closed``."""
    yield "M", pieces[0][0].real, pieces[0][0].imag
    for piece in pieces:
        yield "L" if len(piece) == 2 else "C", *(part for place in piece[1:] for part in (place.real, place.imag))
    if closed:
        yield ("Z",)
