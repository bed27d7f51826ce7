"""The print file: every piece at its place by the content stream and in poppler's rendering, correction included."""

import io
import subprocess
from dataclasses import replace

import pikepdf
import pytest
from PIL import Image

from calculators.sheets.correction import Correction, PrinterError
from calculators.sheets.model import Part, Placement
from calculators.sheets.print_file import NotPrintable, PrintOptions, print_file
from calculators.sheets.white_plate import BadPlate, Plate
from calculators.values import in_one_go
from tests.calculators.files.pdf_files import poppler
from tests.calculators.files.pdf_geometry import things
from tests.calculators.files.separations import ghostscript, plates
from tests.calculators.sheets.printed_sheets import contents, emblem, everything, item, layout
from tests.tools import needs

OPTIONS = PrintOptions("Railcar 12", "2026-11-29", names=True, cut_lines=True, plate=Plate("White", 0.15))
RED, BLUE, GREEN, DARK = (0.7765, 0.2471, 0.1686), (0.1216, 0.2314, 0.302), (0.1843, 0.4353, 0.3098), (0.1098,)
ERRORS = [(PrinterError(across, down, skew)) for across in (0.993, 1.004) for down in (0.993, 1.004) for skew in (0.2,)]


@pytest.fixture(scope="module")
def printed():
    return in_one_go(print_file([everything()], contents(), OPTIONS))


def boxes(data, colour):
    return [each.box for each in things(data) if each.colour[: len(colour)] == colour and each.kind.startswith("f")]


def test_outlines_lie_where_they_were_laid_out(printed):
    # The red field is 4, 1 to 19, 6 in its box: upright, mirrored (1 to 16 from the left), turned to the left.
    assert boxes(printed, RED) == [
        pytest.approx(box, abs=0.001)
        for box in [(24, 21, 39, 26), (21, 46, 36, 51), (60 + 1, 20 + 20 - 19, 60 + 6, 20 + 20 - 4)]
    ]
    assert boxes(printed, GREEN) == [pytest.approx((90.5, 20.5, 101.5, 31.5), abs=0.001)]


def test_curves_stay_curves(printed):
    with pikepdf.open(io.BytesIO(printed)) as file:
        forms = [each for each in file.objects if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Form"]
        curves = [
            sum(str(operator) == "c" for _operands, operator in pikepdf.parse_content_stream(form)) for form in forms
        ]
    assert max(curves) >= 4


def test_pictures_lie_where_they_were_laid_out_and_keep_their_samples(printed):
    found = [each for each in things(printed) if each.kind == "image" and not each.image["stencil"]]
    assert [each.points for each in found] == [
        pytest.approx(corners, abs=0.001)
        for corners in [
            [20 + 70j, 35 + 70j, 35 + 85j, 20 + 85j],
            # Mirrored, then turned to the left: its top left corner comes to the top left, its top edge to the left.
            [60 + 70j, 60 + 85j, 75 + 85j, 75 + 70j],
            [90 + 70j, 108 + 70j, 108 + 82j, 90 + 82j],
        ]
    ]
    upright, turned, photo = (each.image for each in found)
    assert upright["data"] == turned["data"]
    pixels = emblem().tobytes()
    assert upright["mask"] == pixels[3::4]
    assert photo["data"] == contents()["photo"].picture.data
    assert photo["filter"] == "/DCTDecode"


def test_embedded_once_however_often_it_is_placed(printed):
    assert printed.count(b"/Subtype /Image") == 4  # both pictures, and the alpha and the white of one


def test_bars_are_100_mm(printed):
    dark = boxes(printed, DARK)
    assert pytest.approx((20, 131.85, 120, 132.15), abs=0.001) in dark
    assert pytest.approx((141.85, 20, 142.15, 120), abs=0.001) in dark


def test_crosses_stand_on_the_tabs_of_both_parts_at_the_same_place_of_the_artwork():
    front, back = item("plate", set_id="s", crosses=True), item("plate", Part.WHITE_UNDER, id="b", set_id="s")
    back = replace(back, crosses=True, film="white")
    colour = in_one_go(print_file([layout(Placement(front, 1, 20 + 20j))], contents(), replace(OPTIONS, plate=None)))
    white = in_one_go(print_file([layout(Placement(back, 1, 50 + 60j), film="white")], contents(), OPTIONS))

    def arms(data, corner):
        thin = [box for box in boxes(data, DARK) if min(box[2] - box[0], box[3] - box[1]) < 0.2]
        return [
            pytest.approx([each - (corner.real, corner.imag)[place % 2] for place, each in enumerate(box)], abs=1e-6)
            for box in thin
        ]

    assert len(arms(colour, 20 + 20j)) == 4
    for one, other in zip(arms(colour, 20 + 20j), arms(white, 50 + 60j), strict=True):
        assert one.expected == other


@pytest.mark.parametrize("error", ERRORS)
def test_put_through_the_printers_error_everything_lands_on_the_layout(error):
    options = replace(OPTIONS, correction=Correction.of(error))
    centre = 75 + 70j
    plain = things(in_one_go(print_file([everything()], contents(), OPTIONS)))
    corrected = things(in_one_go(print_file([everything()], contents(), options)))
    assert len(plain) == len(corrected)
    for one, other in zip(plain, corrected, strict=True):
        for meant, drawn in zip(one.points, other.points, strict=True):
            assert abs(centre + error.printed(drawn - centre) - meant) < 0.001


def test_white_plate_lies_on_the_colours_before_and_after_the_correction():
    for correction in (Correction.identity, Correction.of(PrinterError(0.993, 1.004, 0.2))):
        data = in_one_go(print_file([everything()], contents(), replace(OPTIONS, correction=correction)))
        in_place = [each for each in things(data) if each.colour[0] == "/Separation"]
        alone = [each for each in things(data, 1) if each.colour[0] == "/Separation"]
        assert [each.points for each in alone] == [pytest.approx(each.points, abs=1e-6) for each in in_place]
        # The wanted white disc in the red plate is in both: its middle, by its box, agrees.
        discs = [each for each in things(data) if each.colour == (1.0, 1.0, 1.0) and len(each.points) == 13]
        assert len(discs) == 3
        masks = [each for each in in_place if each.kind == "image"]
        pictures = [each for each in things(data) if each.kind == "image" and not each.image["stencil"]]
        assert [each.points for each in masks[:2]] == [pytest.approx(each.points, abs=0.001) for each in pictures[:2]]


def test_layers_hold_names_cut_lines_and_white(printed):
    by_layer = {each.layer for each in things(printed)}
    assert {"", "Cut lines", "White"} <= by_layer
    with pikepdf.open(io.BytesIO(printed)) as file:
        layers = file.Root.OCProperties
        assert [str(each.Name) for each in layers.OCGs] == ["Names of pieces", "Cut lines", "White"]
        assert [str(each.Name) for each in layers.D.OFF] == ["Cut lines"]


def test_same_sheets_give_the_same_bytes_and_another_date_another_file(printed):
    again = in_one_go(print_file([everything()], contents(), OPTIONS))
    assert again == printed
    other = in_one_go(print_file([everything()], contents(), replace(OPTIONS, date="2026-11-30")))
    assert other != printed


@needs("qpdf", "qpdf")
def test_qpdf_finds_nothing_in_a_print_file(printed, tmp_path):
    (tmp_path / "a.pdf").write_bytes(printed)
    ran = subprocess.run(["qpdf", "--check", "a.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


@poppler
@needs("pdftotext", "poppler-utils")
def test_name_date_length_and_correction_are_written_on_the_sheet(tmp_path):
    options = replace(OPTIONS, correction=Correction.of(PrinterError(0.993, 1.004, 0.2)))
    (tmp_path / "a.pdf").write_bytes(in_one_go(print_file([everything()], contents(), options)))
    text = subprocess.run(["pdftotext", "a.pdf", "-"], cwd=tmp_path, check=True, capture_output=True, text=True).stdout
    for words in ("Railcar 12, sheet 1 of 1", "2026-11-29", "100 mm", "0.9930 across", "Plate right", "beneath"):
        assert words in " ".join(text.split())


@poppler
def test_edges_lie_within_a_pixel_at_1200_ppi(printed, tmp_path):
    (tmp_path / "a.pdf").write_bytes(printed)
    per_mm = 1200 / 25.4

    def edges(left, top, right, bottom, dark):
        """Return the box of what is ``dark`` in a part of the page, in pixels of the page."""
        x, y = round(left * per_mm), round(top * per_mm)
        size = [round((right - left) * per_mm), round((bottom - top) * per_mm)]
        command = f"pdftoppm -r 1200 -png -f 1 -l 1 -x {x} -y {y} -W {size[0]} -H {size[1]} -aaVector no a.pdf part"
        subprocess.run(command.split(), cwd=tmp_path, check=True)
        seen = Image.open(next(tmp_path.glob("part*.png"))).convert("RGB")
        found = Image.eval(seen.split()[1], lambda level: 255 * (level < dark)).getbbox()
        return [each + (x, y)[place % 2] for place, each in enumerate(found)]

    # The dial, which white does not touch at its edge, and the photograph's corner region.
    for box, meant in (((89, 19, 104, 33), (90.5, 20.5, 101.5, 31.5)), ((15, 130.9, 125, 131.99), None)):
        seen = edges(*box, 200)
        if meant:
            assert all(abs(one - other * per_mm) <= 1 for one, other in zip(seen, meant, strict=True))
        else:
            assert abs(seen[0] - 20 * per_mm) <= 1 and abs(seen[2] - 120 * per_mm) <= 1


@ghostscript
def test_separations_have_the_white_plate_choked_under_colour_only(printed, tmp_path):
    seen = plates(printed, tmp_path, 508)
    per_mm = 20
    white = seen["White"]

    def is_white(x, y):
        return white.getpixel((round(x * per_mm), round(y * per_mm))) < 128

    # The plate at 20, 20: its white rim from x 21 keeps its edge, its coloured right side, 39, is choked by 0.15.
    assert is_white(21.1, 25) and not is_white(20.9, 25)
    assert is_white(38.75, 25) and not is_white(38.95, 25)
    # Mirrored: rim at the right, colour's edge at the left.
    assert is_white(38.9, 50) and not is_white(21.05, 50) and is_white(21.25, 50)
    # Colour is not knocked out, and hidden cut lines print in no plate.
    assert seen["Magenta"].getpixel((30 * per_mm, 22 * per_mm)) < 128
    assert seen["Black"].getpixel((round(13.5 * per_mm), 25 * per_mm)) == 255


def test_white_film_is_refused_where_white_would_cover_the_print():
    for flags in ({"face_down": True}, {"face_down": True, "mirrored": True}):
        sheet = layout(Placement(item("plate", film="white", **flags), 1, 20 + 20j), film="white")
        with pytest.raises(NotPrintable, match="White film would cover it"):
            in_one_go(print_file([sheet], contents(), OPTIONS))
    # The mirrored partner of a marking is seen from its printed side like any other.
    sheet = layout(Placement(item("plate", film="white", mirrored=True), 1, 20 + 20j), film="white")
    assert in_one_go(print_file([sheet], contents(), OPTIONS))


def test_white_before_and_after_the_colours_is_refused_on_one_sheet():
    sheet = layout(
        Placement(item("plate"), 1, 20 + 20j),
        Placement(item("plate", id="f", mirrored=True, face_down=True), 1, 20 + 50j),
    )
    with pytest.raises(NotPrintable, match="sheets of their own"):
        in_one_go(print_file([sheet], contents(), OPTIONS))
    in_one_go(print_file([sheet], contents(), replace(OPTIONS, plate=None)))


def test_missing_or_other_contents_are_refused():
    sheet = layout(Placement(item("plate"), 1, 20 + 20j))
    with pytest.raises(NotPrintable, match="missing"):
        in_one_go(print_file([sheet], {}, OPTIONS))
    with pytest.raises(NotPrintable, match="another size"):
        in_one_go(print_file([sheet], {"plate": contents()["dial"]}, OPTIONS))


@pytest.mark.parametrize("name", ["", "  ", "All", "black", "W\n", "x" * 200])
def test_name_that_cannot_be_a_plates_is_refused(name):
    with pytest.raises(BadPlate):
        Plate(name, 0.1)
