"""Forms, spot colours, layers and clips of PDF pages: in the file, and as other programs draw them."""

import subprocess

import pytest
from PIL import Image

from calculators.files.pdf import Form, Layer, Sheet, Spot, document
from calculators.files.pdf_document import escaped_name
from calculators.files.pdf_picture import mask_of
from calculators.files.picture import read_picture
from calculators.shapes.transforms import product, rotation, scaling, translation
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import art, opened, poppler, rendered, written
from tests.calculators.files.pdf_geometry import things
from tests.calculators.files.separations import ghostscript, plates
from tests.tools import needs

#: A name with all that PDF gives a meaning to, and letters beyond ASCII.
NAME = "Weiß (1) {2}/3 #4 %5 [6]<7>"
TRIANGLE = [("M", 1, 1), ("L", 9, 1), ("L", 1, 4), ("Z",)]
#: A turn by a quarter to the left, mirrored before, with its corner at 20, 10.
TURNED = product(translation(20, 10), rotation(-90), translation(-10, 0), translation(10, 0), scaling(-1, 1))


def sheet(name=NAME):
    white = Spot(name, "#7fbfff")
    page, form = Sheet(60, 40), Form(10, 5, reach_mm=1)
    form.path(TRIANGLE, fill="#c63f2b")
    form.picture(read_picture("a.png", written(art(), "PNG"), wanted=True), 2, 3, 3, 2)
    page.form(form, translation(5, 5))
    page.form(form, TURNED)
    with page.layer(Layer("white plate")):
        page.path([("M", 30, 5), ("L", 40, 5), ("L", 40, 15), ("L", 30, 15), ("Z",)], fill="#1f3b4d")
        page.path([("M", 35, 10), ("L", 45, 10), ("L", 45, 20), ("L", 35, 20), ("Z",)], fill=white)
        page.image(mask_of(8, 2, b"\xf0\x0f"), 50, 5, 8, 2, fill=white)
    with page.layer(Layer("cut lines", hidden=True)):
        page.path([("M", 2, 30), ("L", 58, 30)], stroke="#000000", line_mm=2)
    with page.inside(translation(0, 20), clip=[("M", 30, 5), ("L", 40, 5), ("L", 30, 15), ("Z",)]):
        page.rectangle(30, 5, 10, 10, fill="#008000")
    return page


def test_form_is_written_once_and_placed_turned_and_mirrored():
    data = document([sheet()], "t")
    first, second = [each for each in things(data) if each.colour == (0.7765, 0.2471, 0.1686) and each.kind == "f"]
    assert first.points == pytest.approx([6 + 6j, 14 + 6j, 6 + 9j], abs=1e-6)
    # x, y becomes -x, y by the mirror, and y, x by the turn to the left: (x, y) -> (y, -x).
    assert second.points == pytest.approx([21 + 11j, 21 + 19j, 24 + 11j], abs=1e-6)
    upright, turned = [each for each in things(data) if each.kind == "image" and not each.image["stencil"]]
    assert upright.points == pytest.approx([7 + 8j, 10 + 8j, 10 + 10j, 7 + 10j], abs=1e-6)
    assert turned.points == pytest.approx([23 + 12j, 23 + 15j, 25 + 15j, 25 + 12j], abs=1e-6)
    assert data.count(b"/Subtype /Form") == 1
    assert data.count(b"/Subtype /Image") == 3  # the picture, its alpha, the mask
    assert document([sheet()], "t") == data


def test_spot_colour_has_its_name_and_overprints():
    data = document([sheet()], "t")
    plate = [each for each in things(data) if each.layer == "white plate" and each.colour[0] == "/Separation"]
    assert [each.colour[1] for each in plate] == ["/" + NAME] * 2
    for each in plate:
        assert (each.state["/OP"], each.state["/op"], each.state["/OPM"]) == (True, True, 1)
    assert escaped_name("a b%{}") == "/a#20b#25#7b#7d"


def test_hidden_layer_is_off_until_the_reader_shows_it():
    layers = opened(document([sheet()], "t")).Root.OCProperties
    assert [str(each.Name) for each in layers.OCGs] == ["white plate", "cut lines"]
    assert [str(each.Name) for each in layers.D.OFF] == ["cut lines"]


@needs("qpdf", "qpdf")
def test_qpdf_finds_nothing_in_forms_spots_and_layers(tmp_path):
    (tmp_path / "a.pdf").write_bytes(document([sheet(), sheet()], "t"))
    ran = subprocess.run(["qpdf", "--check", "a.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


@ghostscript
def test_separations_show_the_spot_plate_over_the_untouched_others(tmp_path):
    seen = plates(document([sheet("White (2)")], "t"), tmp_path, 254)
    spot = seen["White (2)"]
    # Ten dots a millimetre; 0 is full ink.
    assert spot.point(lambda level: 255 * (level < 128)).getbbox() == (350, 50, 580, 200)
    assert (spot.getpixel((400, 150)), spot.getpixel((340, 150))) == (0, 255)
    assert [spot.getpixel((505 + 10 * place, 55)) for place in range(8)] == [0] * 4 + [255] * 4
    # The blue beneath goes on under the white plate, and hidden cut lines are in no plate.
    cyan = seen["Cyan"]
    assert cyan.getpixel((375, 125)) == cyan.getpixel((325, 75)) < 128
    assert all(plate.getpixel((100, 300)) == 255 for plate in seen.values())


@poppler
def test_clip_and_hidden_layer_are_drawn_by_poppler(tmp_path):
    seen = rendered(document([sheet()], "t"), tmp_path, 254)
    assert seen.getpixel((310, 260)) == (0, 128, 0)
    assert seen.getpixel((395, 345)) == seen.getpixel((100, 300)) == (255, 255, 255)


def test_mask_needs_whole_rows():
    with pytest.raises(ValueError, match="no mask"):
        mask_of(9, 2, b"\0\0")


@poppler
def test_opacity_holds_for_a_whole_form_at_once(tmp_path):
    page, form = Sheet(20, 10), Form(10, 10, whole=True)
    form.rectangle(1, 1, 6, 8, fill="#000000")
    form.rectangle(4, 1, 5, 8, fill="#000000")
    with page.inside(opacity=0.5):
        page.form(form)
    seen: Image.Image = rendered(page.bytes("t"), tmp_path, 254)
    levels = {seen.getpixel((x, 50))[0] for x in (20, 55, 80)}
    assert len(levels) == 1 and levels <= {127, 128}
