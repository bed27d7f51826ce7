"""Answers and the list of a job on A4: four sheets at most, none of an answer half empty before a drawing."""

from __future__ import annotations

import io
import re
import subprocess
from pathlib import Path

import numpy
import pytest
from PIL import Image
from playwright.sync_api import expect

from calculators import catalogue
from tests.browser.forms import answered, visitor
from tests.browser.test_look import open_page  # noqa: F401 - a fixture

MOST_SHEETS = 4
#: Sheets are looked at in so many pixels to the inch.
PPI = 20
PAGES = [f"{each.stage}/{each.id}/" for each in catalogue.every().values()]


def sheets(pdf: Path) -> list[Image.Image]:
    """Return the pages of a PDF as small grey pictures."""
    subprocess.run(["pdftoppm", "-r", str(PPI), "-gray", pdf.name, "sheet"], cwd=pdf.parent, check=True)
    found = sorted(pdf.parent.glob("sheet-*.pgm"), key=lambda path: int(re.search(r"\d+", path.stem)[0]))
    # Copied, so that no file stays open.
    return [Image.fromarray(numpy.asarray(Image.open(io.BytesIO(path.read_bytes())))) for path in found]


def filled(sheet: Image.Image) -> float:
    """Return the share of a sheet's height down to its last ink."""
    rows = numpy.flatnonzero((numpy.asarray(sheet) < 200).any(axis=1))
    return (rows[-1] + 1) / sheet.height if rows.size else 0.0


@pytest.mark.parametrize("path", PAGES)
def test_an_answer_takes_four_sheets_and_leaves_none_half_empty(open_page, path: str, tmp_path):  # noqa: F811 - a fixture
    page = open_page(path)
    answered(page)
    page.pdf(path=tmp_path / "answer.pdf", format="A4", prefer_css_page_size=True)
    printed = sheets(tmp_path / "answer.pdf")
    assert 1 <= len(printed) <= MOST_SHEETS
    assert all(filled(each) > 0.5 for each in printed[:-1])


def test_what_is_left_empty_is_seen():
    sheet = numpy.full((200, 140), 255, numpy.uint8)
    sheet[10:90, 20:100] = 0
    assert filled(Image.fromarray(sheet)) == 0.45
    assert filled(Image.fromarray(numpy.full((200, 140), 255, numpy.uint8))) == 0


def test_the_demo_job_takes_four_sheets_of_paper_and_nothing_is_cut_off(browser, server, tmp_path):
    with visitor(browser) as device:
        page = device.new_page()
        page.goto(f"{server.url}job/")
        page.get_by_role("button", name="Open the demo job").click()
        expect(page.locator("[data-does=check]")).to_have_text("All rows are checked", timeout=20_000)
        page.pdf(path=tmp_path / "job.pdf", format="A4", prefer_css_page_size=True)
        assert 1 <= len(sheets(tmp_path / "job.pdf")) <= 4
        page.emulate_media(media="print")
        page.set_viewport_size({"width": 680, "height": 960})  # the width between the margins of A4
        over = page.locator(".dw-marking-next").evaluate_all(
            "all => all.map(each => each.getBoundingClientRect().right - document.documentElement.clientWidth)"
        )
        assert max(over) <= 0
