"""How far five calculators on one picture of 9 megapixels make the engine's memory grow. Run by ``make bench``."""

from __future__ import annotations

import io

import pytest
from playwright.sync_api import Page, expect

from builder import demo
from tests.bench.stock import launched
from tests.browser.forms import type_again
from tests.conftest import ROOT

pytestmark = pytest.mark.bench

SIDE_PX = 3000
CALCULATORS = (
    "artwork/picture-check",
    "artwork/clean-picture",
    "artwork/white-areas",
    "artwork/trace",
    "underlay/underlay",
)
#: The memory after all five against that after the most demanding one alone.
MOST_TIMES = 1.25


def crest() -> bytes:
    """The crest of the demonstration, 3000 pixels wide."""
    file = io.BytesIO()
    demo.drawn((ROOT / "content" / "demo" / "crest-left.svg").read_text("utf-8"), SIDE_PX).save(file, "PNG")
    return file.getvalue()


def answered(page: Page, url: str, picture: dict) -> int:
    """Ask the calculator at ``url`` about ``picture``; return the size of the engine's memory in bytes."""
    page.goto(url)
    page.locator("input[type=file]").first.set_input_files(picture)
    if page.locator("#in-width_mm").count():
        type_again(page, "width_mm", "14")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=180_000)
    page.wait_for_function("() => !dwEngine.working && dwEngine.heapBytes", timeout=180_000)
    return page.evaluate("dwEngine.heapBytes")


def test_five_calculators_barely_exceed_the_largest(host, chromium):
    picture = {"name": "crest.png", "mimeType": "image/png", "buffer": crest()}
    alone = {}
    for place in CALCULATORS:
        browser = launched(chromium)
        alone[place] = answered(browser.new_page(), f"{host.url}{place}/", picture)
        browser.close()
    browser = launched(chromium)
    page = browser.new_page()
    page.goto(f"{host.url}{CALCULATORS[0]}/")
    for place in CALCULATORS:
        # One visit, so one engine: the link of the site's own navigation is followed, not a new page loaded.
        if place != CALCULATORS[0]:
            page.evaluate(
                "(path) => { const link = document.createElement('a'); link.href = path; document.body.append(link); "
                "link.click(); link.remove(); }",
                f"{host.url}{place}/",
            )
            expect(page.locator(f"[data-calculator={place.rpartition('/')[2]}]")).to_be_visible()
            # No reader chooses a picture before the page has what the last calculator passed on.
            expect(page.locator(".dw-notes")).to_contain_text("Taken from your other calculations")
        page.locator("input[type=file]").first.set_input_files(picture)
        if place == CALCULATORS[0]:  # the others take the width over
            type_again(page, "width_mm", "14")
        expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=180_000)
        page.wait_for_function("() => !dwEngine.working", timeout=180_000)
    together = page.evaluate("dwEngine.heapBytes")
    browser.close()
    mib = 1024 * 1024
    print(
        "\n"
        + ", ".join(f"{place} {size / mib:.0f} MiB" for place, size in alone.items())
        + (
            f"; all five {together / mib:.0f} MiB: {together / max(alone.values()):.2f} times the most "
            f"demanding, at most {MOST_TIMES}"
        )
    )
    assert together <= MOST_TIMES * max(alone.values())
