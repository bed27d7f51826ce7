"""How much memory the page's renderer holds after eight different photographs, one after another.

Run by ``make bench``.
"""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from tests.bench.stock import launched

pytestmark = pytest.mark.bench

WIDTH_PX, HEIGHT_PX, PHOTOGRAPHS = 2448, 1634, 8
CALCULATORS = ("artwork/picture-check", "artwork/resolution", "artwork/white-areas", "underlay/underlay")
MOST_MB = 600
#: A reader looks at an answer for longer than this; the browser then clears up.
REST_MS = 20_000


def photograph(seed: int) -> bytes:
    """A picture of 4 megapixels with detail everywhere, as a camera would save it; each seed gives another."""
    drawn = numpy.random.default_rng(seed)
    coarse = Image.fromarray(drawn.integers(0, 256, (HEIGHT_PX // 40, WIDTH_PX // 40, 3), numpy.uint8)).resize(
        (WIDTH_PX, HEIGHT_PX), Image.Resampling.BICUBIC
    )
    grain = drawn.normal(0, 12, (HEIGHT_PX, WIDTH_PX, 3))
    file = io.BytesIO()
    Image.fromarray(numpy.uint8(numpy.clip(numpy.asarray(coarse) + grain, 0, 255))).save(file, "JPEG", quality=90)
    return file.getvalue()


def renderer_mb(browser: Browser) -> float:
    """Return the memory of the largest renderer in MB, pages that it shares with others counted by its part (PSS)."""
    processes = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    rolled = [Path(f"/proc/{each['id']}/smaps_rollup").read_text() for each in processes if each["type"] == "renderer"]
    return max(int(re.search(r"^Pss:\s+(\d+)", each, re.MULTILINE)[1]) for each in rolled) / 1024


def go(page: Page, address: str) -> None:
    """Follow a link of the site's own navigation, which keeps the engine."""
    page.evaluate(
        "(path) => { const link = document.createElement('a'); link.href = path; document.body.append(link); "
        "link.click(); link.remove(); }",
        address,
    )
    expect(page.locator(f"[data-calculator={address.rstrip('/').rpartition('/')[2]}]")).to_be_visible()


#: Notes the names of the pictures that were answered.
WATCH = """() => {
  window.answeredFor = [];
  const ask = dwEngine.ask.bind(dwEngine);
  dwEngine.ask = async (request, options) => {
    const reply = await ask(request, options);
    if (request.do === "answer" && request.files?.picture)
      answeredFor.push(`${request.files.picture.name} ${reply.envelope.outcome}`);
    return reply;
  };
}"""


@pytest.mark.parametrize(
    "places",
    [pytest.param(CALCULATORS[:1], id="in one calculator"), pytest.param(CALCULATORS, id="in several")],
)
def test_eight_photographs_leave_the_page_small(host, chromium, places):
    browser = launched(chromium)
    page = browser.new_page()
    page.goto(f"{host.url}{places[0]}/")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=60_000)
    page.evaluate(WATCH)
    held, heap = [renderer_mb(browser)], []
    for turn in range(PHOTOGRAPHS):
        if len(places) > 1:
            go(page, f"{host.url}{places[turn % len(places)]}/")
        picture = {"name": f"photograph {turn}.jpg", "mimeType": "image/jpeg", "buffer": photograph(turn)}
        page.locator("input[type=file]").first.set_input_files(picture)
        expect(page.locator(".dw-drop-name").first).to_have_text(picture["name"])
        page.wait_for_function(
            "(name) => answeredFor.some((each) => each.startsWith(name))", arg=picture["name"], timeout=120_000
        )
        held.append(renderer_mb(browser))
        heap.append(page.evaluate("dwEngine.heapBytes") / 2**20)
    page.wait_for_timeout(REST_MS)
    rested = renderer_mb(browser)
    outcomes, boots = page.evaluate("[answeredFor, dwEngine.boots]")
    browser.close()
    print(
        f"\nrenderer in MB, before and after each: {', '.join(f'{each:.0f}' for each in held)}, {rested:.0f} after "
        "a rest; Python's memory"
        f" {', '.join(f'{each:.0f}' for each in heap)}; workers started {boots}; {', '.join(outcomes)}; at most "
        f"{MOST_MB} MB"
    )
    assert held[-1] <= MOST_MB
