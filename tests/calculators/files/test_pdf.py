"""PDF files: lengths checked in content streams and in another program's rendering, pictures by their bytes."""

import io
import subprocess
from decimal import Decimal

import pytest
from PIL import Image, ImageChops, ImageCms

from calculators import messages
from calculators.files import print_checks
from calculators.files.icc import srgb_profile
from calculators.files.pdf import Sheet, document
from calculators.files.picture import read_picture
from tests.calculators.files.held import held_for_one_test  # noqa: F401 - a fixture
from tests.calculators.files.pdf_files import (
    MM,
    PAPERS,
    art,
    opened,
    operations,
    poppler,
    rendered,
    sheet_with,
    written,
)
from tests.tools import needs

# -- Pages and lengths -------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "size"), PAPERS.items())
def test_page_has_the_size_of_the_paper(paper, size):
    box = opened(Sheet.of(paper).bytes("test")).pages[0].MediaBox
    assert [float(Decimal(part) / MM) for part in box] == pytest.approx([0, 0, *size], abs=1e-5)


def full_sheet():
    sheet = Sheet.of("a4")
    print_checks.scale_words(sheet, 20, 20)
    print_checks.bar_across(sheet, 40, 40)
    print_checks.bar_down(sheet, 30, 50)
    print_checks.line_ladder(sheet, 120, 60)
    sheet.picture(read_picture("a.png", written(art(), "PNG"), wanted=True), 50, 130, 30, 20)
    return sheet


def test_bars_are_100_mm_in_the_content_stream():
    sheet = Sheet.of("a4")
    print_checks.bar_across(sheet, 40, 40)
    print_checks.bar_down(sheet, 30, 50)
    boxes = [[float(part / MM) for part in operands] for operands, _ in operations(sheet.bytes("test"), "re")]
    for axis in (2, 3):
        # The bar itself, and its two ticks: all within the same 100 mm.
        (bar,) = [box for box in boxes if box[axis] == pytest.approx(100, abs=0.01)]
        ticks = [
            box
            for box in boxes
            if box[axis] == pytest.approx(0.3, abs=1e-4) and box[5 - axis] == pytest.approx(3, abs=1e-4)
        ]
        start, end = bar[axis - 2], bar[axis - 2] + bar[axis]
        assert sorted(box[axis - 2] for box in ticks) == pytest.approx([start, end - 0.3], abs=1e-4)
        assert end - start == pytest.approx(100, abs=1e-4)
        assert start == pytest.approx({2: 40, 3: 297 - 150}[axis], abs=1e-4)


@poppler
def test_bars_are_100_mm_rendered_at_1200_ppi(tmp_path):
    sheet = Sheet(130, 130)
    print_checks.bar_across(sheet, 15, 10)
    print_checks.bar_down(sheet, 10, 15)
    seen = rendered(sheet.bytes("test"), tmp_path, 1200, "-gray", "-aa", "no", "-aaVector", "no").convert("L")
    dark = seen.point(lambda level: 255 * (level < 128))
    per_mm = 1200 / 25.4
    # Across: the stretch of the bar below its label; down: right of its label.
    across = dark.crop((0, round(9.9 * per_mm), seen.width, round(11.4 * per_mm))).getbbox()
    down = dark.crop((round(9.9 * per_mm), round(12 * per_mm), round(11.4 * per_mm), seen.height)).getbbox()
    assert abs(across[2] - across[0] - 100 * per_mm) <= 1
    assert abs(down[3] - down[1] - 100 * per_mm) <= 1


def test_ladder_has_every_line_in_both_directions():
    data = full_sheet().bytes("test")
    boxes = [[float(part / MM) for part in operands] for operands, _ in operations(data, "re")]
    for wide in (0.05, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3):
        assert [
            box for box in boxes if box[2] == pytest.approx(12, abs=1e-4) and box[3] == pytest.approx(wide, abs=1e-4)
        ]
        assert [
            box for box in boxes if box[3] == pytest.approx(3, abs=1e-4) and box[2] == pytest.approx(wide, abs=1e-4)
        ]
    points = [operands for operands, _ in operations(data, "m", "l")]
    outlines = [points[at : at + 4] for at in range(0, len(points), 4)]
    sizes = {
        tuple(round(float((max(axis) - min(axis)) / MM), 3) for axis in zip(*outline, strict=True))
        for outline in outlines
    }
    assert sizes == {(20, 40)} | {(12, wide) for wide in print_checks.LADDER_MM} | {
        (wide, 3) for wide in print_checks.LADDER_MM
    }


@poppler
def test_text_can_be_extracted(tmp_path):
    (tmp_path / "a.pdf").write_bytes(full_sheet().bytes("Größe ≤ 3"))
    text = subprocess.run(["pdftotext", "a.pdf", "-"], cwd=tmp_path, check=True, capture_output=True, text=True).stdout
    for words in (messages.PRINT_AT_TRUE_SIZE, "100 mm", "0.05", "0.3", "reversed out"):
        assert words in text


def test_box_of_the_picture_is_exact():
    data = sheet_with(written(art(), "PNG"), place=(12.345, 6.789, 20.001, 13.334), paper=(80, 60))
    (((a, b, c, d, e, f), _),) = operations(data, "cm")
    assert (b, c) == (0, 0)
    box = [float(part / MM) for part in (e, f, a, d)]
    assert box == pytest.approx([12.345, 60 - 6.789 - 13.334, 20.001, 13.334], abs=1e-5)


def test_outline_is_drawn_as_given():
    sheet = Sheet(100, 100)
    sheet.path(
        [("M", 10, 20), ("L", 30, 20), ("C", 40, 20, 50, 30, 50, 40), ("Z",)],
        fill="#7a2232",
        stroke="#1c2226",
        line_mm=0.5,
    )
    found = [
        ([round(float(part / MM), 4) for part in operands], operator)
        for operands, operator in operations(sheet.bytes("t"), "m", "l", "c", "h", "w", "B")
    ]
    assert found == [
        ([0.5], "w"),
        ([10, 80], "m"),
        ([30, 80], "l"),
        ([40, 80, 50, 70, 50, 60], "c"),
        ([], "h"),
        ([], "B"),
    ]


# -- The file ----------------------------------------------------------------------------------------


def test_same_calls_give_the_same_bytes():
    assert full_sheet().bytes("test") == full_sheet().bytes("test")


def test_file_asks_for_no_scaling_and_has_its_title():
    pdf = opened(full_sheet().bytes("Größe ≤ 3 – crest"))
    assert pdf.docinfo.Title == "Größe ≤ 3 – crest"
    assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
    assert not [key for key in pdf.docinfo if "Date" in str(key)]


def test_two_pages_stay_in_order():
    pages = opened(document([Sheet.of("a4"), Sheet.of("letter")], "test")).pages
    assert [round(float(Decimal(page.MediaBox[2]) / MM), 1) for page in pages] == [210, 215.9]


@needs("qpdf", "qpdf")
@pytest.mark.parametrize("mode", ["RGBA", "RGB", "L", "P"])
def test_qpdf_finds_nothing(mode, tmp_path):
    for kind in ("PNG", "JPEG") if mode in ("RGB", "L") else ("PNG",):
        (tmp_path / "a.pdf").write_bytes(sheet_with(written(art(mode), kind)))
        ran = subprocess.run(["qpdf", "--check", "a.pdf"], cwd=tmp_path, capture_output=True, text=True, check=False)
        assert (ran.returncode, ran.stderr) == (0, "")


def test_profile_is_srgb():
    """Against the sRGB profile of another colour engine: no difference over the whole cube."""
    profile = ImageCms.ImageCmsProfile(io.BytesIO(srgb_profile()))
    levels = range(0, 256, 17)
    cube = Image.frombytes(
        "RGB", (16, 256), bytes(part for r in levels for g in levels for b in levels for part in (r, g, b))
    )
    for intent in range(4):
        seen = ImageCms.profileToProfile(cube, profile, ImageCms.createProfile("sRGB"), renderingIntent=intent)
        assert max(high for _low, high in ImageChops.difference(cube, seen).getextrema()) <= 1
    stream = opened(full_sheet().bytes("t")).Root.OutputIntents[0].DestOutputProfile
    assert stream.read_bytes() == srgb_profile()
