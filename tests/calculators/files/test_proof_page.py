"""The proof page: its contents and their positions in mm, by content stream and by rendering."""

import io
import subprocess

import pikepdf
import pytest
from PIL import Image

from calculators import example
from calculators.files.print_checks import LADDER_SIZE
from calculators.files.proof_page import MARKING_X, MARKING_Y, NoRoom, ProofPage
from tests.tools import needs

POINTS_PER_MM = 72 / 25.4  # ISO 32000: a point is 1/72 in; 25.4 mm to the inch exactly.
#: ISO 216, and ANSI/ASME Y14.1 size A at 25.4 mm to the inch; halves by arithmetic.
PAPERS = {"a4": (210, 297), "letter": (215.9, 279.4), "half-a4": (148.5, 210), "half-letter": (139.7, 215.9)}


def opened(page: ProofPage, *wanted: str):
    with pikepdf.open(io.BytesIO(page.written(example.picture(), "crest"))) as pdf:
        box = [float(each) for each in pdf.pages[0].MediaBox]
        drawn = [
            [float(each) for each in operands]
            for operands, operator in pikepdf.parse_content_stream(pdf.pages[0])
            if str(operator) in wanted
        ]
    return box, drawn


@pytest.mark.parametrize("paper", PAPERS)
def test_bars_and_marking_are_exact_on_every_paper(paper):
    page = ProofPage.laid_out(paper, 14.0, 14.0)
    box, rectangles = opened(page, "re")
    sides = [each / POINTS_PER_MM for each in box[2:]]
    assert sorted(sides) == pytest.approx(sorted(PAPERS[paper]), abs=0.01)
    bars = [
        (w, h)
        for _x, _y, w, h in rectangles
        if 100 * POINTS_PER_MM == pytest.approx(max(abs(w), abs(h)), abs=0.01 * POINTS_PER_MM)
    ]
    assert len(bars) == 2
    assert any(abs(w) > abs(h) for w, h in bars) and any(abs(h) > abs(w) for w, h in bars)
    (matrix,) = (each for each in opened(page, "cm")[1] if abs(each[0]) > 1)
    assert [matrix[0] / POINTS_PER_MM, matrix[3] / POINTS_PER_MM] == pytest.approx([14, 14], abs=0.01)
    assert matrix[4] / POINTS_PER_MM == pytest.approx(MARKING_X, abs=0.01)
    assert sides[1] - matrix[5] / POINTS_PER_MM == pytest.approx(MARKING_Y + 14, abs=0.01)


@needs("pdftoppm", "poppler-utils")
def test_bar_in_a_rendering_at_1200_ppi(tmp_path):
    page = ProofPage.laid_out("a4", 14.0, 14.0)
    (tmp_path / "page.pdf").write_bytes(page.written(example.picture(), "crest"))
    row = round((MARKING_Y - 8) / 25.4 * 1200)
    strip = ["-x", "0", "-y", str(row), "-W", "9921", "-H", "1"]
    subprocess.run(["pdftoppm", "-r", "1200", "-gray", "-png", *strip, "page.pdf", "seen"], cwd=tmp_path, check=True)
    seen = Image.open(next(tmp_path.glob("seen*.png")))
    dark = seen.point(lambda level: 255 * (level < 128)).getbbox()
    # 100 mm are 4724.4 pixels at 1200 ppi.
    assert dark[2] - dark[0] == pytest.approx(100 / 25.4 * 1200, abs=1.0)


@pytest.mark.parametrize(("width", "height"), [(14, 14), (120, 20), (20, 180), (170, 150), (100, 240)])
def test_nothing_overlaps_or_leaves_the_margins(width, height):
    page = ProofPage.laid_out("a4", width, height)
    marking = (MARKING_X, MARKING_Y, MARKING_X + width, MARKING_Y + height)
    ladder = (page.ladder_x, page.ladder_y, page.ladder_x + LADDER_SIZE[0], page.ladder_y + LADDER_SIZE[1])
    for box in (marking, ladder):
        assert box[0] >= 10 and box[1] >= 10
        assert box[2] <= page.sheet_width_mm - 10 + 1e-9 and box[3] <= page.sheet_height_mm - 10 + 1e-9
    assert ladder[0] >= marking[2] or ladder[1] >= marking[3]


def test_an_oversized_marking_reports_what_would_fit():
    with pytest.raises(NoRoom) as refused:
        ProofPage.laid_out("half-a4", 140.0, 140.0)
    widest = refused.value.widest_mm
    ProofPage.laid_out("half-a4", widest - 0.01, widest - 0.01)
    with pytest.raises(NoRoom):
        ProofPage.laid_out("half-a4", widest + 0.01, widest + 0.01)
