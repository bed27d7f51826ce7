"""The sheet for print and cut, and the paper proof: lines where the print has them, colours light."""

import io
import re
from dataclasses import replace

import ezdxf
import pytest
from ezdxf import bbox
from shapely import Point, Polygon, box

from calculators.shapes.cut_pieces import NotCuttable
from calculators.sheets.correction import Correction, PrinterError
from calculators.sheets.cut_sheet import cut_dxf, cut_svg, sheet_cuts
from calculators.sheets.model import Part, Placement
from calculators.sheets.print_file import PrintOptions, print_file
from calculators.sheets.proof import proof_file
from calculators.values import in_one_go
from tests.calculators.files.pdf_files import poppler, rendered
from tests.calculators.files.pdf_geometry import things
from tests.calculators.sheets.printed_sheets import contents, everything, item, layout


def read(data):
    drawing = ezdxf.read(io.StringIO(data.decode("ascii"), newline=None))
    assert not drawing.audit().errors
    return drawing


def test_dxf_has_each_line_where_the_print_has_its_piece():
    lines = read(cut_dxf(everything(), contents())).modelspace()
    found = {}
    for each in lines:
        low, high = bbox.extents([each]).extmin, bbox.extents([each]).extmax
        # y goes up from the lower edge of the sheet, 140 mm high.
        found.setdefault(each.dxf.layer, []).append((low.x, 140 - high.y, high.x, 140 - low.y))
    # The dial is 11 mm across in its box; on clear film the cut leaves a rim of 0.5 mm.
    assert any(each == pytest.approx((90, 20, 102, 32), abs=0.01) for each in found["OUTLINE"])
    # The plate, turned to the left: 1 to 19 by 1 to 9 in its box, with the rim.
    assert any(each == pytest.approx((60.5, 20.5, 69.5, 39.5), abs=0.01) for each in found["OUTLINE"])
    # The photograph has no regions: its box with the rim.
    assert any(each == pytest.approx((89.5, 69.5, 108.5, 82.5), abs=0.01) for each in found["OUTLINE"])
    assert len(found["FRAME"]) == len(found["OUTLINE"]) == 7


def test_lines_are_the_rim_around_the_print_by_shapely():
    (cut,) = sheet_cuts(layout(Placement(item("dial", tab=0.0), 1, 90 + 20j)), contents()).cuts
    ring = Polygon([(piece[0].real, piece[0].imag) for piece in cut.run])
    meant = Point(96, 26).buffer(6.0, quad_segs=256)
    assert ring.hausdorff_distance(meant) < 0.005


def test_white_film_is_cut_at_the_edge_of_the_colour():
    one = item("plate", film="white", bleed=1.0, tab=0.0)
    (cut,) = sheet_cuts(layout(Placement(one, 1, 20 + 20j)), contents()).cuts
    assert (
        Polygon([(piece[0].real, piece[0].imag) for piece in cut.run]).symmetric_difference(box(21, 21, 39, 29)).area
        < 0.01
    )


def test_svg_has_the_size_of_the_sheet_and_the_same_lines():
    made = cut_svg(everything(), contents(), "Railcar <12>").decode()
    assert 'width="150mm" height="140mm" viewBox="0 0 150 140"' in made and "Railcar &lt;12&gt;" in made
    assert len(re.findall("<path ", made)) == 14


def test_sheet_without_pieces_is_not_cut():
    with pytest.raises(NotCuttable):
        cut_dxf(layout(), contents())


def test_backing_piece_is_cut_inside_the_colour_and_at_visible_white():
    back = item("plate", Part.WHITE_UNDER, film="white", tab=0.0)
    (cut,) = sheet_cuts(layout(Placement(back, 1, 20 + 20j)), contents(), 0.2).cuts
    assert cut.layer.value == "BACKING"
    across = [piece[0].real for piece in cut.run]
    assert (min(across), max(across)) == pytest.approx((21, 38.8), abs=0.005)


def test_cut_layer_of_the_print_file_has_the_cutters_lines():
    options = PrintOptions("t", "d", cut_lines=True, correction=Correction.of(PrinterError(0.99, 1.01)))
    plain = replace(options, correction=Correction.identity)
    lines = [
        each.box
        for each in things(in_one_go(print_file([everything()], contents(), plain)))
        if each.layer == "Cut lines"
    ]
    cuts = sheet_cuts(everything(), contents()).cuts
    runs = [[point for piece in cut.run for point in piece] for cut in cuts]
    boxes = [
        (
            min(each.real for each in run),
            min(each.imag for each in run),
            max(each.real for each in run),
            max(each.imag for each in run),
        )
        for run in runs
    ]
    for one, other in zip(sorted(lines), sorted(boxes), strict=True):
        assert one == pytest.approx(other, abs=1e-3)
    # The print is corrected, and the lines of the cutter are not.
    corrected = [
        each.box
        for each in things(in_one_go(print_file([everything()], contents(), options)))
        if each.layer == "Cut lines"
    ]
    assert not any(one == pytest.approx(other, abs=0.01) for one, other in zip(lines, corrected, strict=True))


@poppler
def test_proof_is_light_and_has_cut_lines(tmp_path):
    data = in_one_go(proof_file([everything()], contents(), "Railcar 12", "2026-11-29"))
    seen = rendered(data, tmp_path, 254)
    # Blue of the plate, 31, 59, 77, at 0.35 over paper: 255 - 0.35 (255 - 31) ...
    assert all(abs(one - other) <= 1 for one, other in zip(seen.getpixel((300, 280)), (177, 186, 193), strict=True))
    lines = [each for each in things(data) if each.kind == "S"]
    assert any(each.box == pytest.approx((90, 20, 102, 32), abs=0.01) for each in lines)
    column = [seen.getpixel((x, 260))[0] for x in range(895, 905)]
    assert min(column) < 120
