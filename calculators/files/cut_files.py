"""Files that a knife or a cutter takes: DXF, SVG in mm, PDF at exact size, and the note that goes with them.

All have the same lines in the order of cutting, and the check square below them. The same pieces give the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from calculators import messages
from calculators.files.dxf import Polyline, dxf
from calculators.files.outline_files import path_data, path_steps
from calculators.files.pdf import Sheet
from calculators.markup import escape
from calculators.numbers import at_most, plain
from calculators.shapes.arcs import Vertex, arcs_of_each
from calculators.shapes.cut_pieces import CutPiece, Layer, Run
from calculators.shapes.cutting_order import Cut, cutting_length
from calculators.shapes.waste import corners_of, rectangle

#: Round everything, and between the lines and the check square, in mm.
MARGIN_MM = 5.0
CHECK_MM = 50.0
#: The width of lines in SVG and PDF: what cutting programs take for a hairline, in mm (common practice).
HAIRLINE_MM = 0.025
#: The colour of each layer: its number in DXF files, and that colour in the others.
COLOURS = {
    Layer.BACKING: (5, "#0000ff"),
    Layer.STENCIL: (1, "#ff0000"),
    Layer.OUTLINE: (6, "#ff00ff"),
    Layer.CUT_OUT: (4, "#00a0a0"),
    Layer.TEMPLATE: (7, "#000000"),
    Layer.REGISTER: (3, "#008000"),
    Layer.WASTE: (2, "#a08000"),
    Layer.FRAME: (7, "#000000"),
    Layer.CHECK: (7, "#000000"),
}


@dataclass(frozen=True)
class CutSheet:
    """Lines in the order of cutting, the check square last, on a page of this size with its corner at 0, y down."""

    cuts: tuple[Cut, ...]
    width_mm: float
    height_mm: float


def cut_sheet(order: Sequence[Cut]) -> CutSheet:
    """Return lines in the order of cutting on a page that holds them. Raises NotCuttable where there are none."""
    low, high = corners_of(cut.run for cut in order)
    move = complex(MARGIN_MM, MARGIN_MM) - low
    bottom = high + move
    cuts = [Cut(cut.layer, cut.name, _moved(cut.run, move), cut.closed) for cut in order]
    corner = complex(MARGIN_MM, bottom.imag + MARGIN_MM)
    square = rectangle(corner, corner + complex(CHECK_MM, CHECK_MM))
    cuts.append(Cut(Layer.CHECK, messages.CUT_CHECK_LABEL, square, True))
    width = max(bottom.real, MARGIN_MM + CHECK_MM) + MARGIN_MM
    return CutSheet(tuple(cuts), _up(width), _up(corner.imag + CHECK_MM + MARGIN_MM))


def dxf_of_sheet(sheet: CutSheet) -> bytes:
    """Return a DXF file of release 12, with the sheet's lower left corner at 0. Raises NotCuttable where there are no
    lines.
    """
    polylines = [
        Polyline(
            cut.layer.value,
            # With y up, what turned one way turns the other.
            [Vertex(complex(at.point.real, sheet.height_mm - at.point.imag), -at.bulge) for at in vertices],
            cut.closed,
        )
        for cut, vertices in zip(sheet.cuts, arcs_of_each(cut.run for cut in sheet.cuts), strict=True)
    ]
    used = dict.fromkeys(cut.layer for cut in sheet.cuts)
    low, high = corners_of(cut.run for cut in sheet.cuts)
    return dxf(
        polylines,
        [(layer.value, COLOURS[layer][0]) for layer in used],
        complex(low.real, sheet.height_mm - high.imag),
        complex(high.real, sheet.height_mm - low.imag),
    )


def svg_of_sheet(sheet: CutSheet, title: str) -> bytes:
    """Return an SVG file in mm as large as the sheet, lines of one layer in a group."""
    width, height = plain(sheet.width_mm), plain(sheet.height_mm)
    groups = "".join(
        f'<g id="{name}" fill="none" stroke="{COLOURS[layer][1]}" stroke-width="{plain(HAIRLINE_MM)}">\n'
        + "".join(f'<path d="{path_data([cut.run], closed=cut.closed)}"/>\n' for cut in cuts)
        + "</g>\n"
        for name, layer, cuts in _groups(sheet)
    )
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n<title>{escape(title)}</title>\n{groups}</svg>\n'
    ).encode()


def pdf_of_sheet(sheet: CutSheet, title: str) -> bytes:
    """Return a PDF file of one page at exact size, with layers."""
    page = Sheet(sheet.width_mm, sheet.height_mm)
    for _name, layer, cuts in _groups(sheet):
        page.begin_layer(layer.value)
        for cut in cuts:
            steps = path_steps(cut.run, closed=cut.closed)
            page.path(steps, stroke=COLOURS[layer][1], line_mm=HAIRLINE_MM)
        if layer is Layer.CHECK:
            page.text(messages.CUT_CHECK_LABEL, cuts[0].run[0][0].real + 4, cuts[0].run[0][0].imag + 27)
        page.end_layer()
    return page.bytes(title)


def note_of_sheet(sheet: CutSheet, pieces: Sequence[CutPiece], title: str) -> bytes:
    """Return the note in plain text: what each of the ``pieces`` is, and what whoever cuts them must know."""
    lines = [title, "", messages.CUT_NOTE_PIECES, ""]
    for number, piece in enumerate((piece for piece in pieces if piece.count), 1):
        lines += [*_piece_lines(number, piece), ""]
    length = cutting_length(cut for cut in sheet.cuts if cut.layer is not Layer.CHECK)
    width, height = plain(sheet.width_mm), plain(sheet.height_mm)
    lines += [
        messages.CUT_NOTE_LENGTH.format(length=at_most(length, 0)),
        messages.CUT_NOTE_SHEET.format(width=width, height=height),
        "",
        messages.CUT_NOTE_READ,
        "",
    ]
    used = {cut.layer for cut in sheet.cuts}
    for layer, point in messages.CUT_NOTE_POINTS:
        if layer is None or Layer[layer] in used:
            lines.append("- " + point.format(layer=layer and Layer[layer].value))
    return "\r\n".join([*lines, "- " + messages.CUT_NOTE_VINYL, ""]).encode()


def _piece_lines(number: int, piece: CutPiece) -> Iterator[str]:
    yield messages.CUT_NOTE_PIECE.format(number=number, name=piece.name)
    yield messages.CUT_NOTE_MATERIAL.format(material=piece.material)
    yield messages.CUT_NOTE_LAYER.format(layer=piece.layer.value)
    if piece.outlines:
        low, high = corners_of(piece.outlines)
        size = high - low
        yield messages.CUT_NOTE_SIZE.format(width=at_most(size.real, 1), height=at_most(size.imag, 1))
    yield messages.CUT_NOTE_COUNT.format(count=piece.count)
    if piece.mirrored:
        yield messages.CUT_NOTE_MIRRORED


def _groups(sheet: CutSheet) -> Iterator[tuple[str, Layer, list[Cut]]]:
    """Yield runs of cuts of one layer, each with a name of its own: their order is that of cutting."""
    seen: dict[Layer, int] = {}
    for layer, cuts in groupby(sheet.cuts, lambda cut: cut.layer):
        seen[layer] = seen.get(layer, 0) + 1
        yield layer.value + (f"-{seen[layer]}" if seen[layer] > 1 else ""), layer, list(cuts)


def _moved(run: Run, move: complex) -> Run:
    return tuple(tuple(point + move for point in piece) for piece in run)


def _up(length: float) -> float:
    """Return a length in mm rounded up to a tenth."""
    return ceil(round(length * 10, 6)) / 10
