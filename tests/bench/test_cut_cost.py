"""From traced outlines to a stencil with register marks, in the page against stock starts. Run by ``make bench``."""

from __future__ import annotations

import statistics
import time

import pytest
from playwright.sync_api import expect

from calculators.artwork.trace import CALCULATOR, TraceInputs
from tests.bench.stock import launched, stock_start, wait_for_words
from tests.browser.forms import typed

pytestmark = pytest.mark.bench

ROUNDS = 9
MOST_STARTS = 1


def test_a_stencil_from_the_traced_crest_takes_at_most_one_stock_start(host, chromium):
    outlines = CALCULATOR.answer(TraceInputs()).svg.data
    stock, took = [], []
    for turn in range(ROUNDS + 1):
        started = stock_start(host, chromium)
        browser = launched(chromium)
        page = browser.new_page(viewport={"width": 1180, "height": 820})
        page.goto(f"{host.url}underlay/cut-file/")
        expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=60_000)
        typed(page, "width_mm").fill("14")  # otherwise the picture asks for it
        before = time.perf_counter()
        page.set_input_files("#in-picture", {"name": "traced.svg", "mimeType": "image/svg+xml", "buffer": outlines})
        wait_for_words(page, "[data-result=svg]", "traced-white.svg")
        wait_for_words(page, "[data-result=dxf]", "traced-white.dxf")
        if turn:
            stock.append(started)
            took.append(1000 * (time.perf_counter() - before))
        browser.close()
    starts = statistics.median(took) / statistics.median(stock)
    print(
        f"\nstock {statistics.median(stock):.0f} ms; stencil {statistics.median(took):.0f} ms: {starts:.2f} starts, "
        f"at most {MOST_STARTS}"
    )
    assert starts <= MOST_STARTS
