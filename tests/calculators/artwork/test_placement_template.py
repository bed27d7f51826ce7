"""Placement templates: distances and windows by geometry and shapely, files as other programs read them."""

import io
import json
import re
import subprocess

import numpy
import pikepdf
import pytest
import resvg_py
from PIL import Image, ImageDraw
from shapely import Polygon, affinity, box, unary_union

from calculators.answer import answer
from calculators.artwork.template_files import NoRoom, template_pdf, template_svg
from calculators.artwork.template_layout import (
    ABOVE,
    BELOW,
    LEFT,
    RIGHT,
    EdgeInside,
    ModelEdge,
    left_template,
    model_edges,
    right_template,
    size_lines,
    strips,
)
from calculators.pixels.marking_outline import Outline
from tests.calculators.artwork.test_picture_check import saved
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import MM, opened
from tests.tools import needs

#: A flag: no two of its sides are alike. 20 mm wide and 12 mm high.
FLAG = (0j, 20 + 0j, 14 + 5j, 4 + 6j, 4 + 12j, 12j)
RIM = 1.5


def polygon(points) -> Polygon:
    return Polygon([(at.real, at.imag) for at in points])


def flag() -> Outline:
    film = polygon(FLAG).buffer(RIM, quad_segs=32)
    return Outline((FLAG,), (tuple(complex(*at) for at in film.exterior.coords[:-1]),), 20, 12)


def left(upright_lies=LEFT, level_lies=BELOW, upright=12.0, level=8.0, **more):
    more = {"to_centre": False, **more}
    edges = ModelEdge("door", upright_lies, upright), ModelEdge("foot", level_lies, level)
    return left_template(flag(), *edges, RIM, **more)


# -- Distances ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("to_centre", [False, True])
@pytest.mark.parametrize("level_lies", [ABOVE, BELOW])
@pytest.mark.parametrize("upright_lies", [LEFT, RIGHT])
@pytest.mark.parametrize("side", [LEFT, RIGHT])
def test_the_marking_lies_at_the_typed_distances_from_both_thick_sides(side, upright_lies, level_lies, to_centre):
    template = left(upright_lies, level_lies, 14, 9, to_centre=to_centre)
    if side == RIGHT:
        template = right_template(template, mirrored=False)
    upright, level = (polygon([*line, line[0]]).exterior for line in model_edges(template))
    printed = polygon(template.printed[0])
    target = box(*printed.bounds).centroid if to_centre else printed
    assert upright.distance(target) == pytest.approx(14, abs=1e-9)
    assert level.distance(target) == pytest.approx(9, abs=1e-9)
    # The lines that show the distances are as long as these.
    assert [abs(end - start) for start, end in size_lines(template)] == pytest.approx([14, 9])


def test_the_upright_edge_changes_sides_on_the_right():
    template = left(LEFT)
    right = right_template(template, mirrored=False)
    assert (template.upright.lies, right.upright.lies) == (LEFT, RIGHT)
    assert right.level == template.level


def test_window_is_the_marking_with_its_film():
    template = left()
    window = unary_union([polygon(each) for each in template.window])
    expected = polygon(template.printed[0]).buffer(RIM, quad_segs=32)
    assert window.symmetric_difference(expected).area < 1e-6
    assert box(0, 0, template.width_mm, template.height_mm).contains(window)


def test_right_window_is_mirrored_only_where_the_marking_is():
    template = left()
    printed = polygon(template.printed[0])
    mirrored = affinity.scale(printed, xfact=-1, origin=(template.width_mm / 2, 0))
    assert polygon(right_template(template, mirrored=True).printed[0]).symmetric_difference(mirrored).area < 1e-9
    upright = polygon(right_template(template, mirrored=False).printed[0])
    assert upright.symmetric_difference(mirrored).area > 10
    moved = affinity.translate(printed, upright.bounds[0] - printed.bounds[0])
    assert upright.symmetric_difference(moved).area < 1e-9
    assert upright.bounds == pytest.approx(mirrored.bounds)


def test_a_window_that_reaches_the_edge_ends_there():
    template = left(upright=1)
    window = unary_union([polygon(each) for each in template.window])
    assert window.bounds[0] == pytest.approx(0, abs=1e-6)
    film = polygon(template.printed[0]).buffer(RIM, quad_segs=32)
    assert window.area == pytest.approx(film.intersection(box(0, 0, 99, 99)).area, rel=1e-5)
    assert strips(template, RIM) == pytest.approx((-0.5, 6.5))


def test_an_edge_through_the_marking_is_refused():
    with pytest.raises(EdgeInside) as across:
        left(upright=9.9, level=20, to_centre=True)
    assert (across.value.name, across.value.least_mm) == ("door", 10)
    with pytest.raises(EdgeInside) as down:
        left(upright=10, level=5.9, to_centre=True)
    assert (down.value.name, down.value.least_mm) == ("foot", 6)


# -- Files -------------------------------------------------------------------------------------------


def pair():
    template = left()
    return [template, right_template(template, mirrored=False)]


def paths(page) -> list[Polygon]:
    """Return the closed paths of a page in mm from its top left corner."""
    height, found, points = page.MediaBox[3], [], []
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) in ("m", "l"):
            points.append((float(operands[0] / MM), float((height - operands[1]) / MM)))
        elif str(operator) == "h":
            found.append(Polygon(points))
        elif str(operator) == "S":
            points = []
    return found


def test_pdf_has_each_piece_and_window_at_exact_size():
    template = left()
    (page,) = opened(template_pdf(pair(), "a4", "t")).pages
    assert [float(part / MM) for part in page.MediaBox[2:]] == pytest.approx([210, 297], abs=1e-4)
    pieces = [each for each in paths(page) if each.equals(box(*each.bounds))]
    assert [(each.bounds[2] - each.bounds[0], each.bounds[3] - each.bounds[1]) for each in pieces] == [
        pytest.approx((template.width_mm, template.height_mm), abs=1e-4)
    ] * 2
    windows = [each.area for each in paths(page) if len(each.exterior.coords) > 20]
    assert windows == pytest.approx([polygon(FLAG).buffer(RIM, quad_segs=32).area] * 2, rel=1e-4)
    assert all(box(10, 10, 200, 287).contains(each) for each in pieces)


def test_pdf_has_a_bar_of_100_mm():
    (page,) = opened(template_pdf(pair(), "a4", "t")).pages
    widths = [float(parts[2] / MM) for parts, name in pikepdf.parse_content_stream(page) if str(name) == "re"]
    assert max(widths) == pytest.approx(100, abs=1e-4)


def test_a_second_page_or_a_turned_one_is_taken_where_that_fits():
    tall = left(level=110)
    pages = opened(template_pdf([tall, right_template(tall, mirrored=True)], "a4", "t")).pages
    assert len(pages) == 2
    wide = left(upright=200)
    (page,) = opened(template_pdf([wide], "a4", "t")).pages
    assert float(page.MediaBox[2] / MM) == pytest.approx(297, abs=1e-4)
    with pytest.raises(NoRoom):
        template_pdf([left(upright=280)], "a4", "t")


def test_svg_has_the_size_of_the_pieces_when_it_is_drawn():
    """The renderer draws 10 px to the mm. The second piece reaches to 10 mm above the foot of the page."""
    svg, template = template_svg(pair(), "t").decode(), left()
    drawn = resvg_py.svg_to_bytes(svg_string=re.sub(r"<text.*?</text>", "", svg), dpi=96, zoom=254 / 96)
    seen = numpy.asarray(Image.open(io.BytesIO(bytes(drawn))).convert("RGBA"))[:, :, 3] > 128
    width, height = (float(each) for each in re.findall(r'="([\d.]+)mm"', svg))
    assert seen.shape == pytest.approx((height * 10, width * 10), abs=1)
    # From halfway down the space between both pieces.
    part = seen[-round(10 * (template.height_mm + 14)) :]
    for axis, size in ((0, template.width_mm), (1, template.height_mm)):
        dark = numpy.flatnonzero(part.any(axis=axis))
        # One side is thick, 0.6 mm, the other 0.25 mm; half of each lies outside.
        assert dark[-1] - dark[0] + 1 == pytest.approx(10 * size + 3 + 1.25, abs=1.5)


@needs("qpdf", "qpdf")
def test_qpdf_finds_no_fault(tmp_path):
    (tmp_path / "template.pdf").write_bytes(template_pdf(pair(), "a4", "t"))
    made = subprocess.run(
        ["qpdf", "--check", "template.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert made.returncode == 0 and "WARNING" not in made.stdout + made.stderr


# -- Answers -----------------------------------------------------------------------------------------


def asked(name: str = "", data: bytes = b"", **inputs: str) -> dict:
    files = {"picture": {"name": name, "bytes": 0}} if name else {}
    envelope = {"do": "answer", "calculator": "placement-template", "inputs": inputs, "files": files}
    *_, (text, _buffers) = answer(json.dumps(envelope), [data])
    return json.loads(text)


def block() -> bytes:
    """Return a picture of 120 x 80 px with a block of 60 x 20 px."""
    image = Image.new("RGB", (120, 80), "white")
    ImageDraw.Draw(image).rectangle((30, 40, 89, 59), fill="#7a2232")
    return saved(image, "PNG")


def test_a_piece_reaches_from_the_edges_past_the_window():
    """The block is 30 mm wide and 10 mm high; 12 and 8 mm to the edges, 2 mm of film, and 12 mm of paper beyond."""
    result = asked("block.png", block(), width_mm="60", rim_mm="2")["result"]
    assert result["verdict"] == "ready"
    assert result["width_mm"] == pytest.approx(12 + 30 + 2 + 12, abs=0.1)
    assert result["height_mm"] == pytest.approx(8 + 10 + 2 + 12, abs=0.1)


def test_drawn_outlines_are_taken_as_they_are():
    svg = (
        b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20" width="40mm" height="20mm">'
        b'<path fill="#7a2232" d="M5 5H25V15H5z"/><path fill="#fff" d="M7 7H23V13H7z"/></svg>'
    )
    result = asked("plate.svg", svg, width_mm="40", rim_mm="0", upright_mm="10", level_mm="9")["result"]
    assert (result["width_mm"], result["height_mm"]) == pytest.approx((10 + 20 + 12, 9 + 10 + 12), abs=1e-6)


@pytest.mark.parametrize(
    ("inputs", "expected"),
    [
        ({}, "ready"),
        ({"upright_mm": "3.5"}, "narrow"),
        ({"upright_mm": "3.5", "upright_name": "edge", "level_name": "edge"}, "narrow"),
        ({"level_mm": "0.5"}, "open"),
        ({"upright_mm": "300"}, "too-large"),
    ],
)
def test_verdict_follows_the_paper_that_is_left(inputs, expected):
    result = asked("block.png", block(), width_mm="60", **inputs)["result"]
    assert result["verdict"] == expected
    assert (result["pdf"] is None) == (expected == "too-large")
    assert result["svg"]


def test_an_edge_inside_the_marking_is_named():
    result = asked("block.png", block(), width_mm="60", measured_to="centre", upright_mm="14", level_mm="20")["result"]
    assert result["verdict"] == "inside"
    assert "The door frame would run through" in result["reasons"][0]
    (least,) = re.findall(r"is ([\d.]+) mm from", result["reasons"][0])
    assert 15 <= float(least) <= 15.1
    named = asked("block.png", block(), width_mm="60", measured_to="centre", upright_mm=least, level_mm="20")["result"]
    assert named["verdict"] != "inside"
    assert result["pdf"] is None and result["svg"] is None


def test_a_picture_without_outlines_gets_a_rectangle():
    noise = numpy.random.default_rng(3).integers(0, 256, (90, 120, 3), dtype=numpy.uint8)
    result = asked("noise.png", saved(Image.fromarray(noise), "PNG"), width_mm="24", rim_mm="0")["result"]
    assert any("the window is a rectangle" in reason for reason in result["reasons"])
    assert (result["width_mm"], result["height_mm"]) == pytest.approx((12 + 24 + 12, 8 + 18 + 12), abs=0.01)


def test_letters_that_the_pdf_cannot_write_are_reported():
    named = asked("block.png", block(), width_mm="60", upright_name="дверь")["result"]
    assert any("question mark" in reason for reason in named["reasons"])
    plain = asked("block.png", block(), width_mm="60", upright_name="Türrahmen")["result"]
    assert not any("question mark" in reason for reason in plain["reasons"])


def test_only_the_asked_sides_are_drawn():
    for sides, words in (("left", {"Left"}), ("right", {"Right"}), ("both", {"Left", "Right"})):
        drawn = asked("block.png", block(), width_mm="60", sides=sides)["view"]["templates"]["svg"]
        assert set(re.findall(r"(Left|Right) side of the model", drawn)) == words
