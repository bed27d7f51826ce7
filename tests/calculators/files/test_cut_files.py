"""Files for cutters in other programs: DXF by ezdxf, SVG by librsvg, PDF by qpdf and poppler; areas by shapely."""

import io
import re
import subprocess

import ezdxf
import pikepdf
import pytest
from ezdxf.path import make_path
from PIL import Image
from shapely import LineString, Polygon, unary_union

from calculators.files.cut_files import CutSheet, cut_sheet, dxf_of_sheet, note_of_sheet, pdf_of_sheet, svg_of_sheet
from calculators.shapes.cut_pieces import FARTHEST_MM, CutPiece, Layer, NotCuttable
from calculators.shapes.cutting_order import cutting_order
from calculators.shapes.grid import flattened
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import MM, opened, poppler
from tests.calculators.shapes.cut_samples import FILM, circle, grown, piece, shape, targets
from tests.calculators.shapes.offset_shapes import box
from tests.tools import needs

OFF_MM = 0.01
#: Of an area.
OFF_SHARE = 0.002


def crest():
    """Return one set of pieces of the demonstration artwork, of letters and of what was spread."""
    moved = [
        [tuple(point + 40 for point in part) for part in run]
        for name in ("letters", "&")
        for run in grown(name, 0.2).outlines
    ]
    return [shape("stalk of the crest"), piece(moved, "stencil", Layer.STENCIL), *targets()]


def sheet_of(pieces: list[CutPiece]) -> CutSheet:
    return cut_sheet(cutting_order(pieces))


SETS = {"rings": targets, "crest and letters": crest}


@pytest.fixture(params=SETS, scope="module")
def pieces(request) -> list[CutPiece]:
    return SETS[request.param]()


@pytest.fixture(scope="module")
def sheet(pieces) -> CutSheet:
    return sheet_of(pieces)


@pytest.fixture(scope="module")
def document(sheet):
    return read(dxf_of_sheet(sheet))


def line(cut) -> LineString:
    points = [cut.run[0][0], *flattened(cut.run, 1e-5)]
    return LineString([(point.real, point.imag) for point in points])


def filled(cuts) -> Polygon:
    """Return what closed cuts fill by even-odd."""
    made = Polygon()
    for cut in cuts:
        if cut.closed:
            made = made.symmetric_difference(Polygon(line(cut)))
    return made


# -- DXF ---------------------------------------------------------------------------------------------


def read(data: bytes):
    return ezdxf.read(io.StringIO(data.decode("ascii"), newline=None))


def test_dxf_is_release_12_and_audits_clean(document):
    auditor = document.audit()
    assert document.dxfversion == "AC1009"
    assert (auditor.errors, auditor.fixes) == ([], [])


def test_dxf_holds_polylines_only_in_the_order_of_cutting(document, sheet):
    entities = list(document.modelspace())
    assert {entity.dxftype() for entity in entities} == {"POLYLINE"}
    assert [(entity.dxf.layer, entity.is_closed) for entity in entities] == [
        (cut.layer.value, cut.closed) for cut in sheet.cuts
    ]


def test_dxf_layers_are_those_of_the_pieces_and_the_check_square(document):
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert {layer.dxf.name for layer in document.layers} - {"0", "DEFPOINTS", "Defpoints"} == used
    assert {"BACKING", "STENCIL", "REGISTER", "WASTE", "FRAME", "CHECK_50MM"} == used


def test_dxf_paths_lie_within_a_hundredth_of_the_outlines(document, sheet):
    """Bulges are resolved by ezdxf; each line stays in a band round the other, whose ends lie within the true ones."""
    for entity, cut in zip(document.modelspace(), sheet.cuts, strict=True):
        points = list(make_path(entity).flattening(1e-4))
        made = LineString([(point.x, sheet.height_mm - point.y) for point in points])
        expected = line(cut)
        assert made.buffer(OFF_MM, quad_segs=8).covers(expected) and expected.buffer(OFF_MM, quad_segs=8).covers(made)


def test_dxf_extents_are_those_of_all_lines(document, sheet):
    left, top, right, bottom = unary_union([line(cut) for cut in sheet.cuts]).bounds
    for corner, expected in (
        ("$EXTMIN", (left, sheet.height_mm - bottom, 0)),
        ("$EXTMAX", (right, sheet.height_mm - top, 0)),
    ):
        assert document.header[corner] == pytest.approx(expected, abs=OFF_MM)


def test_dxf_check_square_has_sides_of_50_mm(document):
    (square,) = [each for each in document.modelspace() if each.dxf.layer == "CHECK_50MM"]
    corners = [vertex.dxf.location for vertex in square.vertices]
    assert len(corners) == 4 and square.is_closed
    sides = [after - before for before, after in zip(corners, [*corners[1:], corners[0]], strict=True)]
    assert [side.magnitude for side in sides] == pytest.approx([50] * 4)
    assert [abs(sides[0].dot(sides[1]))] == pytest.approx([0])


def test_dxf_of_a_circle_bulges_outward():
    (made, _square) = read(dxf_of_sheet(sheet_of([piece([circle(0j, 10)])]))).modelspace()
    assert 4 <= len(made) <= 6
    assert Polygon([(p.x, p.y) for p in make_path(made).flattening(1e-3)]).area == pytest.approx(314.16, rel=OFF_SHARE)


# -- SVG and PDF -------------------------------------------------------------------------------------


def layers_of(svg: str) -> dict[str, str]:
    """Return the path data of each layer."""
    found: dict[str, str] = {}
    for name, group in re.findall(r'<g id="([A-Z0-9_]+?)(?:-\d+)?" [^>]*>(.*?)</g>', svg, re.DOTALL):
        found[name] = found.get(name, "") + "".join(re.findall(r' d="([^"]*)"', group))
    return found


def test_svg_is_as_large_as_it_says_and_named_by_layers(sheet):
    svg = svg_of_sheet(sheet, "A < B").decode()
    assert f'width="{sheet.width_mm:g}mm" height="{sheet.height_mm:g}mm"' in svg
    assert f'viewBox="0 0 {sheet.width_mm:g} {sheet.height_mm:g}"' in svg
    assert "<title>A &lt; B</title>" in svg
    assert set(layers_of(svg)) == {cut.layer.value for cut in sheet.cuts}
    assert svg.count("<path") == len(sheet.cuts)
    ids = re.findall(r'id="([^"]*)"', svg)
    assert len(ids) == len(set(ids))


@needs("rsvg-convert", "librsvg2-bin")
def test_svg_draws_areas_like_shapely(sheet):
    """The renderer fills what the lines of a layer enclose; coverage of all pixels is summed."""
    svg = svg_of_sheet(sheet, "t").decode()
    head = svg[: svg.index("<title>")]
    per_mm = 10
    for layer in (Layer.BACKING, Layer.STENCIL, Layer.CHECK):
        data = f'{head}<path fill-rule="evenodd" d="{layers_of(svg)[layer.value]}"/></svg>'
        command = ["rsvg-convert", "--dpi-x", "96", "--dpi-y", "96", "--zoom", str(per_mm * 25.4 / 96)]
        drawn = subprocess.run(command, input=data.encode(), capture_output=True, check=True).stdout
        alpha = Image.open(io.BytesIO(drawn)).convert("RGBA").getchannel("A")
        seen = sum(level * count for level, count in enumerate(alpha.histogram())) / 255
        # A pixel is 1 / per_mm mm, but the picture is cut to whole ones.
        unit = (sheet.width_mm / alpha.width) * (sheet.height_mm / alpha.height)
        assert (sheet.width_mm / alpha.width) == pytest.approx(1 / per_mm, rel=2e-3)
        expected = filled(cut for cut in sheet.cuts if cut.layer is layer).area
        assert seen * unit == pytest.approx(expected, rel=OFF_SHARE)


def filled_layer(data: bytes, wanted: str) -> bytes:
    """Return a PDF in which the paths of one layer are filled by even-odd, all together, and nothing else is drawn."""
    file = opened(data)
    page = file.pages[0]
    names = {str(key): str(group.Name) for key, group in page.Resources.Properties.items()}
    operations, layer = [], None
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) == "BDC":
            layer = names[str(operands[1])]
        elif layer == wanted and str(operator) in ("m", "l", "c", "h"):
            operations.append((operands, operator))
    operations.append(([], pikepdf.Operator("f*")))
    page.Contents = file.make_stream(pikepdf.unparse_content_stream(operations))
    made = io.BytesIO()
    file.save(made)
    return made.getvalue()


@poppler
def test_pdf_draws_areas_like_shapely(sheet, tmp_path):
    data = pdf_of_sheet(sheet, "t")
    for layer in (Layer.BACKING, Layer.STENCIL, Layer.CHECK):
        (tmp_path / "cut.pdf").write_bytes(filled_layer(data, layer.value))
        # So fine that what poppler adds along the edges, a twentieth of a pixel, does not count.
        options = ["-r", "762", "-gray", "-singlefile", "cut.pdf", "seen"]
        subprocess.run(["pdftoppm", *options], cwd=tmp_path, check=True)
        seen = Image.open(tmp_path / "seen.pgm")
        dark = sum((255 - level) * count for level, count in enumerate(seen.histogram())) / 255
        expected = filled(cut for cut in sheet.cuts if cut.layer is layer).area
        assert dark / 900 == pytest.approx(expected, rel=OFF_SHARE)


def test_pdf_page_is_as_large_as_the_sheet_and_strokes_hairlines(sheet):
    data = pdf_of_sheet(sheet, "t")
    page = opened(data).pages[0]
    assert [float(part / MM) for part in page.MediaBox] == pytest.approx(
        [0, 0, sheet.width_mm, sheet.height_mm], abs=1e-5
    )
    operators = [(str(operator), operands) for operands, operator in pikepdf.parse_content_stream(page)]
    assert sum(1 for name, _ in operators if name == "S") == len(sheet.cuts)
    assert {name for name, _ in operators} & {"f", "f*", "B", "B*", "re"} == set()
    widths = [float(operands[0] / MM) for name, operands in operators if name == "w"]
    assert widths == pytest.approx([0.025] * len(sheet.cuts), abs=1e-5)


def test_pdf_lists_its_layers_for_viewers(sheet):
    root = opened(pdf_of_sheet(sheet, "t")).Root
    assert {str(group.Name) for group in root.OCProperties.OCGs} == {cut.layer.value for cut in sheet.cuts}
    assert len(root.OCProperties.D.Order) == len(root.OCProperties.OCGs)


@needs("qpdf", "qpdf")
def test_qpdf_finds_no_fault(sheet, tmp_path):
    (tmp_path / "cut.pdf").write_bytes(pdf_of_sheet(sheet, "t"))
    made = subprocess.run(["qpdf", "--check", "cut.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert made.returncode == 0 and "WARNING" not in made.stdout + made.stderr


# -- The note ----------------------------------------------------------------------------------------


def note(pieces, title) -> str:
    return note_of_sheet(sheet_of(pieces), pieces, title).decode().replace("\r\n", "\n")


def test_note_names_every_piece_with_material_size_and_count():
    pieces = [
        piece([box(0, 0, 30, 20)], "backing for the crest", count=3),
        CutPiece("stencil", Layer.STENCIL, "masking film", piece([box(40, 0, 12.5, 8)]).outlines, mirrored=True),
    ]
    text = note(pieces, "Crest")
    first, second = text.split("\n\n")[2:4]
    assert "1. backing for the crest" in first and FILM in first and "30 x 20 mm" in first and ": 3" in first
    assert "2. stencil" in second and "masking film" in second and "12.5 x 8 mm" in second and "Mirrored" in second
    assert "Mirrored" not in first


def test_note_lists_no_copies_frames_and_waste():
    copy = piece([box(80, 30, 5, 5)], "copy", count=0)
    text = note([*targets(), copy], "t")
    assert re.findall(r"^\d+\. (.*)$", text, re.MULTILINE) == ["backing piece", "stencil"]


def test_note_warns_of_lasers_scale_and_blade():
    text = note(targets(), "Crest")
    assert "Never laser-cut vinyl: it gives off hydrogen chloride." in text
    assert "has no unit" in text and "CHECK_50MM: each side must be 50 mm" in text
    assert "The blade is not corrected for" in text
    assert "{" not in text


def test_note_speaks_only_of_layers_that_are_there():
    assert "REGISTER" in note(targets(), "t") and "WASTE" in note(targets(), "t")
    plain = note([piece([box(0, 0, 30, 20)])], "t")
    assert "REGISTER" not in plain and "WASTE" not in plain


def test_note_states_the_length_of_the_cuts():
    text = note([piece([box(0, 0, 30, 20), box(40, 0, 10, 10)])], "t")
    assert ": 140 mm." in text


# -- What may not be written -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "bad", [float("nan"), float("inf"), complex(0, float("nan")), 1e300, complex(FARTHEST_MM, 2 * FARTHEST_MM)]
)
def test_numbers_that_are_none_or_too_large_are_refused(bad):
    with pytest.raises(NotCuttable):
        piece([[(0j, 5 + 0j), (5 + 0j, bad), (bad, 0j)]])
    with pytest.raises(NotCuttable):
        piece([], marks=(((0j, bad, 5j, 5 + 0j),),))


@pytest.mark.parametrize(
    "outline",
    [((0j, 5 + 0j), (5 + 0j, 5 + 5j)), (), ((3j, 3j),), ((0j, 0j, 0j, 0j),)],
    ids=["open", "empty", "dot", "dots"],
)
def test_outlines_that_are_open_or_without_length_are_refused(outline):
    with pytest.raises(NotCuttable):
        CutPiece("open", Layer.BACKING, FILM, (outline,))


def test_without_lines_there_is_no_sheet():
    with pytest.raises(NotCuttable):
        cut_sheet([])


def test_the_same_pieces_give_the_same_bytes(pieces):
    for write in (
        dxf_of_sheet,
        lambda made: svg_of_sheet(made, "t"),
        lambda made: pdf_of_sheet(made, "t"),
        lambda made: note_of_sheet(made, pieces, "t"),
    ):
        assert write(sheet_of(pieces)) == write(sheet_of(list(pieces)))
