"""The calculator of outlines: what it answers, what it refuses, what its files hold."""

from __future__ import annotations

import io
import re
import subprocess
from dataclasses import replace

import numpy
import pikepdf
import pytest
import shapely
from PIL import Image, ImageDraw
from scipy import ndimage

from calculators.artwork.trace import CALCULATOR, TraceInputs, TraceOutputs
from calculators.declare import Progress, Refused
from calculators.files.picture import Picture, read_picture
from calculators.pixels.downscaling import MOST_WORKED
from calculators.shapes.areas import enclosed
from tests.calculators.pixels.test_flat_colours import IVORY, MAROON, drawn
from tests.calculators.pixels.truth import _pieces, along
from tests.noise import noise
from tests.tools import needs

MM_PER_POINT = 25.4 / 72


def picture(image: Image.Image, name: str = "art.png") -> Picture:
    file = io.BytesIO()
    image.save(file, "PNG")
    return read_picture(name, file.getvalue(), wanted=True)


def answer(image: Image.Image, **inputs) -> TraceOutputs:
    return CALCULATOR.answer(TraceInputs(picture=picture(image), **inputs))


def reasons_text(outputs: TraceOutputs) -> str:
    return " ".join(each.sentence.format(**each.values) for each in outputs.reasons)


#: A maroon disc with an ivory bar across it, and a white hole, on white.
MARKING = drawn(
    "#ffffff",
    ("ellipse", MAROON, (10, 10, 110, 110)),
    ("rectangle", IVORY, (6, 50, 114, 66)),
    ("ellipse", "#ffffff", (48, 78, 70, 100)),
    times=16,
)[0]


def test_regions_share_their_borders():
    outputs = answer(MARKING, width_mm=12, keep_ground=True)
    assert outputs.verdict == "traced"
    assert {each.colour for each in outputs.colours} == {"#ffffff", MAROON, IVORY}
    # Nothing is covered twice and nothing is left bare.
    assert sum(each.area_mm2 for each in outputs.colours) == pytest.approx(12 * 12, rel=1e-9)
    counted = sum(each.curves for each in outputs.colours)
    frame = 4
    assert outputs.piece_count < counted <= 2 * outputs.piece_count + frame


def test_areas_are_those_of_the_drawing():
    by_colour = {each.colour: each for each in answer(MARKING, width_mm=12).colours}
    bar = shapely.box(0.6, 5, 11.4 + 0.1 / 16, 6.6 + 0.1 / 16)
    assert by_colour[IVORY].area_mm2 == pytest.approx(bar.area, rel=0.005)
    assert (by_colour[MAROON].outer, by_colour[MAROON].holes) == (2, 1)
    # The ground is left out, the white that it does not reach is not.
    assert by_colour["#ffffff"].outer == 1
    assert by_colour["#ffffff"].area_mm2 == pytest.approx(numpy.pi * 1.1**2, rel=0.02)


def test_colours_are_left_out_by_number():
    outputs = answer(MARKING, leave_out="2")
    assert [each.taken for each in outputs.colours] == ["Yes", "Left out", "Yes"]
    assert outputs.colours[1].colour.encode() not in outputs.svg.data
    for typed, hint in (("9", "3 colours, numbered from 1"), ("red", "red"), ("1 2 3", "3 colours, numbered from 1")):
        with pytest.raises(Refused) as refused:
            answer(MARKING, leave_out=typed)
        assert refused.value.problems[0].field == "leave_out" and hint in refused.value.problems[0].hint


def test_tracing_by_transparency_gives_one_region():
    clear = MARKING.convert("RGBA")
    levels = numpy.asarray(drawn("#000000", ("ellipse", "#ffffff", (20, 20, 100, 100)), times=16)[0].convert("L"))
    clear.putalpha(Image.fromarray(levels))
    outputs = answer(clear, colours="transparency", width_mm=12)
    assert outputs.colour_count == 1 and outputs.colours[0].outer == 1
    assert outputs.colours[0].area_mm2 == pytest.approx(levels.sum() / 255 / 100, rel=0.001)
    assert answer(MARKING, colours="transparency").verdict == "nothing"


def test_a_single_colour_is_traced_without_its_background():
    outputs = answer(drawn(IVORY, ("ellipse", MAROON, (10, 10, 110, 110)), times=16)[0], colours="one", width_mm=12)
    assert [each.colour for each in outputs.colours] == [MAROON]


def test_specks_are_filled_and_counted():
    image = MARKING.copy()
    image.putpixel((60, 20), (255, 255, 255))
    image.putpixel((2, 2), (122, 34, 50))
    outputs = answer(image, width_mm=12, smallest_area_mm2=0.05)
    assert outputs.speck_count == 2
    assert [each.colour for each in outputs.colours] == [each.colour for each in answer(MARKING, width_mm=12).colours]


def test_hard_steps_are_reported():
    image = Image.new("RGB", (120, 120), "white")
    ImageDraw.Draw(image).ellipse((10, 10, 110, 110), fill=MAROON)
    outputs = answer(image)
    assert outputs.verdict == "steps" and "hard steps" in reasons_text(outputs)


def test_thin_lines_are_reported():
    image = drawn(
        "#ffffff", *[("rectangle", MAROON, (10, 10.1 + 9 * at, 110, 11 + 9 * at)) for at in range(11)], times=10
    )[0]
    outputs = answer(image)
    assert outputs.verdict == "thin" and "thinner than two pixels" in reasons_text(outputs)


BAD = {
    "empty": (Image.new("RGBA", (60, 40)), "nothing", "pixel of the picture is transparent"),
    "one flat colour": (Image.new("RGB", (60, 40), MAROON), "nothing", MAROON),
    "one pixel": (Image.new("RGB", (1, 1), MAROON), "nothing", MAROON),
    "noise": (noise((500, 400), 90).convert("RGB"), "not-flat", "Type a number of colours"),
    "photograph": (
        Image.merge("RGB", [Image.linear_gradient("L").rotate(90 * turn) for turn in range(3)]),
        "not-flat",
        "photograph",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_a_picture_without_outlines_gets_a_reason(name):
    image, verdict, words = BAD[name]
    outputs = answer(image)
    assert outputs.verdict == verdict and words in reasons_text(outputs)
    assert outputs.svg is None and outputs.colours == ()


def test_noise_of_two_colours_is_refused_for_its_edges():
    lot = numpy.random.default_rng(1).random((1100, 1100)) < 0.5
    noise = Image.fromarray(numpy.uint8(lot) * 255)
    outputs = answer(noise, colours="one", fine_detail=True)
    assert outputs.verdict == "noise" and "steps of edge" in reasons_text(outputs)
    # Told from a sample already, unless the reader wants it tried.
    assert answer(noise, colours="one").verdict == "fine"


def test_grain_in_many_separate_stretches_is_refused():
    lot = numpy.random.default_rng(1).random((450, 450)) < 0.5
    outputs = answer(Image.fromarray(numpy.uint8(lot) * 255), colours="one", smallest_area_mm2=0)
    assert outputs.verdict == "noise" and "separate stretches" in reasons_text(outputs)
    assert outputs.svg is None


def test_grain_resembling_corners_is_traced_without_corners():
    """Noise of two colours, blurred, with soft edges: nearly every place turns sharply, hardly one is a corner."""
    lot = ndimage.gaussian_filter(numpy.random.default_rng(1).standard_normal((260, 260)), 1)
    shares = (ndimage.zoom(lot, 4, order=1) > 0).reshape(260, 4, 260, 4).mean((1, 3))
    outputs = answer(Image.fromarray(numpy.uint8(255 * shares)), colours="one", smallest_area_mm2=0)
    assert outputs.verdict == "grainy" and "the search for corners stopped" in reasons_text(outputs)
    assert outputs.svg is not None


def test_a_large_picture_is_traced_smaller_and_says_so():
    image = Image.new("RGB", (8000, 6250), "white")
    ImageDraw.Draw(image).ellipse((1000, 1000, 5000, 5000), fill=MAROON)
    outputs = answer(image, width_mm=80)
    assert 8000 * 6250 == 50_000_000 > MOST_WORKED
    assert "2000 px by" in reasons_text(outputs) or "2000 by" in reasons_text(outputs)
    assert outputs.colours[0].area_mm2 == pytest.approx(numpy.pi * 20**2, rel=0.001)
    assert (outputs.width_mm, outputs.height_mm) == (80, 62.5)


def test_it_can_be_stopped_between_steps():
    steps = CALCULATOR.steps(TraceInputs(picture=picture(MARKING.resize((600, 600)))))
    seen = [next(steps) for _ in range(4)]
    assert all(isinstance(each, Progress) for each in seen)
    steps.close()


def test_nodes_are_drawn_on_request():
    plain, with_nodes = answer(MARKING), answer(MARKING, show_nodes=True)
    assert "stroke-linecap" not in plain.outlines.svg and "stroke-linecap" in with_nodes.outlines.svg
    assert f"{with_nodes.corner_count} corners" in with_nodes.outlines.alt


def areas_in_svg(data: bytes) -> dict[str, float]:
    """Return the area of each colour of an SVG file, in square mm, from its paths alone."""
    text = data.decode()
    reasons_text = {}
    for colour, path in re.findall(r'<path fill="(#\w+)" fill-rule="evenodd" d="([^"]*)"', text):
        reasons_text[colour] = abs(enclosed(list(_pieces(path))))
    return reasons_text


def areas_in_pdf(data: bytes) -> dict[str, float]:
    """Return the area of each colour of a PDF file, in square mm, from its content stream alone."""
    reasons_text, here, start, colour, pieces = {}, 0j, 0j, "", []
    with pikepdf.open(io.BytesIO(data)) as pdf:
        stream = [(list(operands), str(operator)) for operands, operator in pikepdf.parse_content_stream(pdf.pages[0])]
    for operands, operator in stream:
        values = [float(each) * MM_PER_POINT for each in operands] if operator in "mlc" else operands
        points = (
            [complex(*values[place : place + 2]) for place in range(0, len(values) - 1, 2)] if operator in "mlc" else []
        )
        match operator:
            case "rg":
                colour = "#" + "".join(f"{round(255 * float(each)):02x}" for each in values)
            case "m":
                here = start = points[0]
            case "l" | "c":
                pieces.append((here, *points))
                here = points[-1]
            case "h":
                pieces.append((here, start))
                here = start
            case "f*" | "f":
                reasons_text[colour] = abs(enclosed(pieces))
                pieces = []
    return reasons_text


def test_files_contain_the_reported_areas():
    outputs = answer(MARKING, width_mm=37.5)
    areas = {each.colour: each.area_mm2 for each in outputs.colours}
    assert areas_in_svg(outputs.svg.data) == pytest.approx(areas, rel=1e-3)
    assert areas_in_pdf(outputs.pdf.data) == pytest.approx(areas, rel=1e-3)


@needs("rsvg-convert", "librsvg2-bin")
@needs("pdftoppm", "poppler-utils")
def test_a_file_traced_again_has_the_same_areas(tmp_path):
    """SVG drawn by librsvg, PDF by poppler, both at exact size, and traced again."""
    # One colour: where two meet, drawing programs let the ground shine through between their soft edges.
    outputs = answer(
        drawn("#ffffff", ("ellipse", MAROON, (10, 10, 110, 110)), ("ellipse", "#ffffff", (48, 68, 90, 100)), times=16)[
            0
        ],
        width_mm=25.4,
        leave_out="2",
    )
    areas = {each.colour: each.area_mm2 for each in outputs.colours}
    (tmp_path / "art.svg").write_bytes(outputs.svg.data)
    (tmp_path / "art.pdf").write_bytes(outputs.pdf.data)
    subprocess.run(
        [
            "rsvg-convert",
            "--dpi-x",
            "600",
            "--dpi-y",
            "600",
            "-b",
            "white",
            tmp_path / "art.svg",
            "-o",
            tmp_path / "svg.png",
        ],
        check=True,
    )
    # Poppler fills a little too wide, by some hundredths of a pixel: at twice the pixels that is half as much.
    subprocess.run(
        ["pdftoppm", "-r", "1200", "-png", "-singlefile", tmp_path / "art.pdf", tmp_path / "pdf"], check=True
    )
    # 25.4 mm at 600 and at 1200 to the inch.
    for name, pixels in (("svg", 600), ("pdf", 1200)):
        image = Image.open(tmp_path / f"{name}.png").convert("RGB")
        assert image.size == (pixels, pixels)
        again = answer(image, width_mm=25.4)
        assert {each.colour: each.area_mm2 for each in again.colours} == pytest.approx(areas, rel=1e-3), name


def test_outlines_do_not_depend_on_the_size_asked_for():
    small, large = (
        answer(MARKING, width_mm=10, curve_tolerance_mm=0.005),
        answer(MARKING, width_mm=20, curve_tolerance_mm=0.01),
    )
    assert small.piece_count == large.piece_count
    assert large.colours[0].area_mm2 == pytest.approx(4 * small.colours[0].area_mm2)


def test_a_wider_tolerance_needs_fewer_curves():
    inputs = TraceInputs(picture=picture(MARKING), width_mm=12)
    counts = [CALCULATOR.answer(replace(inputs, curve_tolerance_mm=mm)).piece_count for mm in (0.001, 0.01, 0.05)]
    assert counts == sorted(counts, reverse=True) and counts[0] > counts[2]
    assert len(along([(0j, 1 + 0j)])) > 1


def test_closing_seams_changes_nothing_else(tmp_path):
    """Seen in librsvg and poppler on black: between two light colours nothing dark shines through any more."""
    plain, closed = (
        answer(MARKING, width_mm=12, keep_ground=True),
        answer(MARKING, width_mm=12, keep_ground=True, close_seams=True),
    )
    assert "stroke" not in plain.svg.data.decode() and "A cutter would cut" in reasons_text(closed)
    fills = [re.findall(r'fill="#.*?" .*? d="(.*?)"', each.svg.data.decode()) for each in (plain, closed)]
    assert fills[0] == fills[1] and plain.colours == closed.colours
    darkest = []
    for name, outputs in (("plain", plain), ("closed", closed)):
        (tmp_path / f"{name}.svg").write_bytes(outputs.svg.data.replace(MAROON.encode(), b"#fffffe"))
        subprocess.run(
            [
                "rsvg-convert",
                "-w",
                "960",
                "-b",
                "black",
                str(tmp_path / f"{name}.svg"),
                "-o",
                str(tmp_path / f"{name}.png"),
            ],
            check=True,
        )
        inside = numpy.asarray(Image.open(tmp_path / f"{name}.png").convert("L"))[8:-8, 8:-8]
        darkest.append(int(inside.min()))
    # A quarter of what lies behind shines through where both colours cover half of a pixel.
    assert darkest[0] < 200 and darkest[1] >= 220
