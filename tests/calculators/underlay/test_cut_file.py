"""What is cut of a marking: pieces by geometry and shapely, files as ezdxf and other programs read them."""

from __future__ import annotations

import io
import json
import math
import re

import ezdxf
import numpy
import pikepdf
import pytest
from ezdxf.path import make_path
from PIL import Image, ImageDraw
from shapely import Polygon, box, unary_union

from calculators import catalogue
from calculators.answer import answer
from calculators.files.proof_page import MARKING_X, MARKING_Y
from calculators.shapes.snap_rounding import TooTangled
from calculators.underlay import cut_answer
from calculators.values import Progress
from tests.calculators.artwork.test_picture_check import saved
from tests.calculators.artwork.test_traced_losses import shapes_in_jpeg
from tests.calculators.files.pdf_files import MM, opened

#: A plate of 30 x 20 mm with a window, and a bar in it that touches neither.
PLATE = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">'
    b'<path fill="#7a2232" fill-rule="evenodd" d="M5 5H35V25H5ZM10 10H25V20H10Z"/>'
    b'<path fill="#1f3b4d" d="M12 12H18V15H12Z"/></svg>'
)
WINDOW, BAR = box(10, 10, 25, 20), box(12, 12, 18, 15)


def asked(data: bytes = PLATE, name: str = "plate.svg", **inputs: str) -> dict:
    envelope = {
        "do": "answer",
        "calculator": "cut-file",
        "inputs": {"width_mm": "40", "white_marks": "2 hole", **inputs},
        "files": {"picture": {"name": name, "bytes": 0}},
    }
    *_, (text, buffers) = answer(json.dumps(envelope), [data])
    reply = json.loads(text)
    reply["buffers"] = [bytes(each) for each in buffers]
    return reply


def reasons(reply: dict) -> str:
    return " ".join(reply["result"]["reasons"])


def dxf_polygons(reply: dict, layer: str) -> list[Polygon]:
    """Return the closed lines of a layer, y down, from the corner of the artwork, 9 mm inside the first frame."""
    read = ezdxf.read(io.StringIO(reply["buffers"][0].decode("ascii"), newline=None))
    assert not read.audit().errors

    def polygons(name: str) -> list[Polygon]:
        lines = read.modelspace().query(f'POLYLINE[layer=="{name}"]')
        return [Polygon([(at.x, -at.y) for at in make_path(each).flattening(1e-3)]) for each in lines if each.is_closed]

    left, top, _right, _bottom = min(polygons("FRAME"), key=lambda each: (round(each.bounds[1]), each.bounds[0])).bounds
    return [Polygon([(x - left - 9, y - top - 9) for x, y in each.exterior.coords]) for each in polygons(layer)]


def areas_differ(one, other) -> float:
    return one.symmetric_difference(other).area


def together(polygons: list[Polygon]):
    whole = Polygon()
    for each in polygons:
        whole = whole.symmetric_difference(each)
    return whole


def test_backing_piece_is_choked_towards_the_hole_and_the_outside():
    """By shapely: a choke keeps convex corners sharp, and rounds inward ones."""
    reply = asked(piece="backing", choke_mm="0.3")
    expected = (box(5, 5, 35, 25) - WINDOW).buffer(-0.3, quad_segs=64) | BAR.buffer(-0.3)
    assert areas_differ(together(dxf_polygons(reply, "BACKING")), expected) < 0.01
    assert reply["result"]["verdict"] == "cleanly" and reply["result"]["piece_count"] == 1
    assert reply["result"]["each"][0]["length_mm"] == pytest.approx(expected.length, abs=0.01)


def test_outline_and_cut_outs_have_their_rims():
    outline = asked(piece="outline", rim_mm="1.5")
    (found,) = dxf_polygons(outline, "OUTLINE")
    assert areas_differ(found, box(5, 5, 35, 25).buffer(1.5, quad_segs=64)) < 0.02
    assert "in the proof: draw" in reasons(outline)
    assert "further out" in reasons(asked(piece="outline", rim_mm="1.6"))
    (found,) = dxf_polygons(asked(piece="cut-outs", inside_mm="0.5"), "CUT_OUT")
    assert areas_differ(found, WINDOW.buffer(-0.5)) < 0.01


def test_colours_are_cut_one_by_one_light_to_dark():
    reply = asked(piece="colours", sheet_width_mm="70")
    names = [each["name"] for each in reply["result"]["each"]]
    assert names == ["Stencil 1 of 2, #7a2232", "Stencil 2 of 2, #1f3b4d"]
    assert [each["outlines"] for each in reply["result"]["each"]] == [2, 1]
    assert reply["result"]["island_count"] == 1 and "1 island" in reasons(reply)


def test_a_piece_inside_a_clear_part_is_mirrored():
    (found,) = dxf_polygons(asked(piece="cut-outs", mirrored="yes"), "CUT_OUT")
    left, top, right, bottom = WINDOW.bounds
    assert found.bounds == pytest.approx((40 - right, top, 40 - left, bottom), abs=1e-3)
    note = asked(piece="cut-outs", mirrored="yes")["buffers"][3].decode()
    assert "Mirrored: yes" in note and "never laser-cut vinyl" in note.lower()


def test_a_loose_stencil_is_held_by_bridges_and_falls_apart_without():
    held = asked(stencil_kind="loose")
    assert held["result"]["verdict"] == "cleanly" and held["result"]["bridge_count"] >= 1
    assert held["result"]["each"][0]["lost_percent"] < 10
    sheet = box(-9, -9, 49, 39) - together(dxf_polygons(held, "STENCIL"))
    assert sheet.geom_type == "Polygon"
    count = held["result"]["bridge_count"]
    loose = asked(stencil_kind="loose", changes=", ".join(f"{number} off" for number in range(1, count + 1)))
    assert loose["result"]["verdict"] == "not-like-this" and "fall out" in reasons(loose)
    assert loose["result"]["places"][0]["letter"] == "A"
    svg = loose["view"]["pieces"]["svg"]
    assert svg.count('class="dw-bridge dw-off"') == count and ">A</text>" in svg


def test_a_new_bridge_goes_where_it_is_wanted():
    held = asked(stencil_kind="loose", changes="new at 30 24")
    shown = held["view"]["pieces"]["svg"]
    assert re.search(r'data-bridge="\d+" data-new="0"', shown)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ("2 away", "“2 away” is none of them"),
        ("99 off", "There is no bridge 99"),
        ("new at 1 1", "There is no opening at 1 1"),
    ],
)
def test_changes_that_cannot_be_made_are_problems_of_their_field(changes, words):
    reply = asked(stencil_kind="loose", changes=changes)
    (problem,) = reply["problems"]
    assert problem["field"] == "changes" and words in f"{problem['text']} {problem['hint']}"


def test_a_mark_of_no_area_is_a_problem_of_its_field():
    (problem,) = asked(white_marks="77 hole")["problems"]
    assert problem["field"] == "white_marks" and "77" in problem["text"]


def test_outlines_too_tangled_are_a_problem_of_the_picture(monkeypatch):
    def tangled(*_arguments):
        raise TooTangled("many")
        yield

    monkeypatch.setattr(cut_answer, "artwork_of", tangled)
    (problem,) = asked()["problems"]
    assert problem["field"] == "picture" and "cross each other" in problem["text"]


def stripes(count: int) -> bytes:
    image = Image.new("RGB", (20 * count, 60), "white")
    for number in range(count):
        colour = (17 * number % 256, 60 + 90 * (number % 3), 255 - 17 * number % 256)
        ImageDraw.Draw(image).rectangle((20 * number, 10, 20 * number + 19, 49), fill=colour)
    return saved(image, "PNG")


def test_more_colours_than_stencils_are_made_are_counted():
    reply = asked(stripes(14), "stripes.png", piece="colours", white_marks="")
    assert reply["result"]["verdict"] == "many" and "14 colours" in reasons(reply)
    assert asked(stripes(14), "stripes.png", piece="backing", white_marks="")["result"]["verdict"] == "cleanly"


def test_one_island_is_written_of_as_one():
    image = Image.new("RGB", (80, 80), "white")
    ImageDraw.Draw(image).ellipse((10, 10, 69, 69), outline="navy", width=12)
    reply = asked(saved(image, "PNG"), "ring.png", piece="colours", white_marks="")
    assert "1 island travels on" in reasons(reply)


def test_too_many_points_are_refused_before_they_are_arranged(monkeypatch):
    monkeypatch.setattr("calculators.cut.traced.MOST_TRACED_POINTS", 10)
    monkeypatch.setattr("calculators.cut.traced.sorted_out", None)
    reply = asked(stripes(6), "stripes.png", piece="backing", white_marks="")
    assert reply["result"]["verdict"] == "too-fine" and "more than the" in reasons(reply)


def test_a_photograph_and_a_blank_are_refused_with_their_reason():
    noise = numpy.random.default_rng(3).integers(0, 256, (90, 120, 3), dtype=numpy.uint8)
    noisy = asked(saved(Image.fromarray(noise), "PNG"), "noise.png", white_marks="")["result"]
    assert noisy["verdict"] in ("not-flat", "too-fine") and noisy["svg"] is None
    blank = asked(saved(Image.new("RGB", (60, 40), "white"), "PNG"), "blank.png", white_marks="")["result"]
    assert blank["verdict"] == "nothing"
    assert asked(piece="cut-outs", white_marks="2 wanted")["result"]["verdict"] == "nothing"


@pytest.mark.parametrize(("shape", "verdict"), [("star", "with-care"), ("disc", "cleanly")])
def test_lines_that_lost_something_of_the_picture_are_not_good(shape, verdict):
    """Stars 9 px across lose points in a JPEG, discs lose nothing. Either outline cuts cleanly."""
    reply = asked(saved(shapes_in_jpeg(shape), "PNG"), "panel.png", width_mm="30", white_marks="", piece="outline")
    assert reply["result"]["verdict"] == verdict and reply["result"]["places"] == []
    assert ("lost something of the picture" in reasons(reply)) == (shape == "star"), reasons(reply)


def test_copies_are_placed_by_the_width_of_the_sheet():
    """A frame is 58 x 48 mm: artwork of 40 x 30 mm and 9 mm round it. 5 mm lie between two."""
    one = asked(piece="cut-outs", copies="5", sheet_width_mm="125")
    assert one["result"]["piece_count"] == 5
    assert one["result"]["sheet_mm"] == pytest.approx(3 * 48 + 2 * 5, abs=1e-6)
    turned = asked(piece="cut-outs", sheet_width_mm="50")["result"]
    assert turned["verdict"] == "cleanly" and turned["sheet_mm"] == pytest.approx(58, abs=1e-6)
    wide = asked(piece="cut-outs", sheet_width_mm="47")
    assert wide["result"]["verdict"] == "too-wide" and "48 mm wide, and the sheet 47 mm" in reasons(wide)


def test_a_choke_says_how_far_it_draws_tips_back():
    """A triangle with a tip of 36 degrees, choked by shapely: 0.49 mm at 0.15 mm."""
    half = math.radians(18)
    tip = Polygon([(0, 0), (20 * math.cos(half), 20 * math.sin(half)), (20 * math.cos(half), -20 * math.sin(half))])
    back = tip.buffer(-0.15, join_style="mitre", mitre_limit=99).bounds[0]
    assert back == pytest.approx(0.49, abs=0.005)
    assert f"(36°) by {back:.3f} mm" in reasons(asked(choke_mm="0.15"))


def test_places_are_marked_and_named():
    thin = PLATE.replace(b"M12 12H18V15H12Z", b"M9.7 3H9.9V27H9.7ZM30 1L30.4 4L29.6 4Z")
    reply = asked(thin, piece="colours")
    assert reply["result"]["verdict"] == "with-care"
    letters = [each["letter"] for each in reply["result"]["places"]]
    assert letters and letters == sorted(letters)
    svg = reply["view"]["pieces"]["svg"]
    assert all(f">{letter}</text>" in svg for letter in letters)
    assert "openings narrower than 0.5 mm" in reasons(reply)


def test_crosses_are_identical_in_every_piece():
    reply = asked(piece="colours", copies="2", sheet_width_mm="62")
    read = ezdxf.read(io.StringIO(reply["buffers"][0].decode("ascii"), newline=None))
    frames = sorted(
        Polygon([(at.x, at.y) for at in make_path(each).flattening(1)]).bounds
        for each in read.modelspace().query('POLYLINE[layer=="FRAME"]')
    )
    ends = [
        [(at.x, at.y) for at in make_path(each).flattening(1)]
        for each in read.modelspace().query('POLYLINE[layer=="REGISTER"]')
    ]
    places = []
    for frame in frames:
        inside = [line for line in ends if box(*frame).contains(box(*line[0], *line[0]).centroid)]
        places.append(sorted((round(x - frame[0], 4), round(y - frame[1], 4)) for line in inside for x, y in line))
    assert len(frames) == 4 and len(places[0]) == 12 and places == [places[0]] * 4
    assert unary_union([box(*frame) for frame in frames]).area == pytest.approx(4 * 58 * 48)


def test_crosses_of_the_proof_are_those_of_the_pieces():
    """From the corner of the marking: those of the page by its content stream, those of the pieces by DXF."""
    data = stripes(3)
    envelope = {
        "do": "answer",
        "calculator": "picture-check",
        "inputs": {"width_mm": "20", "crosses": "yes"},
        "files": {"picture": {"name": "stripes.png", "bytes": 0}},
    }
    *_, (text, buffers) = answer(json.dumps(envelope), [data])
    assert json.loads(text)["outcome"] == "result"
    with opened(bytes(buffers[0])) as pdf:
        page = pdf.pages[0]
        height, mm = float(page.MediaBox[3]) / float(MM), float(MM)
        drawn = [
            [float(each) / mm for each in operands]
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "re"
        ]
    printed = sorted(
        (round(x + width / 2 - MARKING_X, 3), round(height - y - tall / 2 - MARKING_Y, 3))
        for x, y, width, tall in drawn
        if max(abs(width), abs(tall)) == pytest.approx(5.1, abs=1e-3)
    )
    reply = asked(data, "stripes.png", piece="backing", white_marks="", width_mm="20")
    read = ezdxf.read(io.StringIO(reply["buffers"][0].decode("ascii"), newline=None))
    frame = next(iter(read.modelspace().query('POLYLINE[layer=="FRAME"]')))
    left, top = min(at.x for at in make_path(frame).flattening(1)), max(at.y for at in make_path(frame).flattening(1))
    cut = []
    for each in read.modelspace().query('POLYLINE[layer=="REGISTER"]'):
        one, other = make_path(each).flattening(1)
        cut.append((round((one.x + other.x) / 2 - left - 9, 3), round(top - (one.y + other.y) / 2 - 9, 3)))
    assert len(printed) == 6 and numpy.abs(numpy.subtract(sorted(cut), printed)).max() < 2e-3


def test_long_work_shows_its_progress():
    calculator = catalogue.find("cut-file")
    *steps, _outputs = calculator.steps(calculator.inputs(width_mm=5.0))
    shares = [each.share for each in steps if isinstance(each, Progress) and each.share is not None]
    assert len(shares) > 3 and shares == sorted(shares) and shares[-1] <= 1
