"""The whole sheet for print and cut: the lines round each piece, where the print has them, as DXF and SVG.

The cutter finds the print by marks that its own program adds, in the band that the layout leaves empty. The printer's
error is not taken out here: the cutter measures the print as it came out.
"""

from __future__ import annotations

from collections.abc import Mapping

from calculators.files.cut_files import CutSheet, dxf_of_sheet, svg_of_sheet
from calculators.shapes.cut_pieces import CutPiece, NotCuttable
from calculators.shapes.cutting_order import cutting_order
from calculators.sheets.contents import Content
from calculators.sheets.model import SheetLayout
from calculators.sheets.pieces import cut_lines, on_sheet
from calculators.sheets.print_file import BACKING_CHOKE_MM


def sheet_cuts(
    layout: SheetLayout, contents: Mapping[str, Content], backing_choke_mm: float = BACKING_CHOKE_MM
) -> CutSheet:
    """Return the lines of a sheet in the order of cutting, on a page of its size.

    Raises NotCuttable where there are none, and KeyError for a piece without content.
    """
    pieces = [
        CutPiece(each.item.name, layer, each.item.film, (on_sheet(run, each),))
        for each in layout.placements
        for layer, run in cut_lines(each.item, contents[each.item.content], backing_choke_mm)
    ]
    if not pieces:
        raise NotCuttable("nothing")
    return CutSheet(tuple(cutting_order(pieces)), layout.size.real, layout.size.imag)


def cut_dxf(layout: SheetLayout, contents: Mapping[str, Content]) -> bytes:
    """Return a sheet as a DXF file, its lower left corner at 0. Raises as ``sheet_cuts`` does."""
    return dxf_of_sheet(sheet_cuts(layout, contents))


def cut_svg(layout: SheetLayout, contents: Mapping[str, Content], title: str) -> bytes:
    """Return a sheet as an SVG file in mm of the sheet's size. Raises as ``sheet_cuts`` does."""
    return svg_of_sheet(sheet_cuts(layout, contents), title)
