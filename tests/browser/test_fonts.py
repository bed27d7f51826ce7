"""A font of the reader's own in the page: unpacked, set, and refused beside its field where it is broken."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.forms import open_calculator, problem, result_text, visitor
from tests.calculators.lettering.fonts import made


@pytest.fixture
def page(browser, server):
    with visitor(browser) as device:
        yield open_calculator(device, f"{server.url}size/lettering/")


def chosen(page, name: str, data: bytes) -> None:
    page.set_input_files("#in-font_file", {"name": name, "mimeType": "font/woff2", "buffer": data})


def test_an_own_font_is_set_and_a_broken_one_is_refused_beside_its_field(page):
    expect(page.locator("[data-field=font_file]")).to_be_hidden()
    page.fill("#in-text", "HOX-1")
    page.select_option("#in-letters", "own-font")
    expect(page.locator("[data-field=rule]")).to_be_hidden()
    expect(page.locator(".dw-verdict [data-part=title]")).to_have_text("Choose the file of your font")
    chosen(page, "bars.woff2", made.truetype("woff2"))
    expect(page.locator(".dw-verdict [data-part=title]")).to_have_text("It prints", timeout=30_000)
    # Capitals 200 mm high at 1:43.5.
    expect(result_text(page, "height_mm")).to_have_text("4.60")
    chosen(page, "broken.woff2", made.truetype("woff2")[:-70])
    expect(problem(page, "font_file")).to_contain_text("broken.woff2 is damaged: the font in it cannot be read. Get")
    page.fill("#in-text", "HÄ")
    chosen(page, "bars.otf", made.cff())
    expect(problem(page, "text")).to_contain_text("The font lacks these characters: Ä. Leave")
    expect(problem(page, "font_file")).to_be_hidden()
