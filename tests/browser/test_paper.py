"""How full a sheet is, and the list of a job on A4. ``test_fits.py`` prints the answers, since it opens them all."""

from __future__ import annotations

import numpy
from PIL import Image
from playwright.sync_api import expect

from tests.browser.forms import visitor
from tests.browser.paper import MOST_SHEETS, filled, sheets


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
        assert 1 <= len(sheets(tmp_path / "job.pdf")) <= MOST_SHEETS
        page.emulate_media(media="print")
        page.set_viewport_size({"width": 680, "height": 960})  # the width between the margins of A4
        over = page.locator(".dw-marking-next").evaluate_all(
            "all => all.map(each => each.getBoundingClientRect().right - document.documentElement.clientWidth)"
        )
        assert max(over) <= 0
