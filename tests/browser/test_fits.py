"""Every calculator, every table and two dozen other pages fit their screens: nothing sticks out, lies over something
else, is cut off or too pale, and nothing moves while they open. Answers fit on four sheets of paper.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

from builder.pages import calculators
from builder.table_pages import pages_of_tables, url_of
from tests.browser.forms import answered, visitor
from tests.browser.misfits import (
    CUT_OFF,
    DRAWN_OVER,
    LIES_OVER,
    OUT_OF_REACH,
    PALE,
    STICKS_OUT,
    TINY,
    misfits,
    pale_texts,
    settled,
)
from tests.browser.paper import waste_of_paper

SIZES = {"landscape": (1180, 820), "portrait": (820, 1180), "desk": (1440, 900), "phone": (390, 844)}

#: A desk at 1280 px enlarged to 400 %, as WCAG 2.2 tests reflow (1.4.10, from memory).
ENLARGED = (320, 256)
#: Text at twice its size: the page's own size is 112.5 %.
TWICE = "document.documentElement.style.fontSize = '225%'"

WATCH_SHIFTS = """globalThis.shifts = [];
new PerformanceObserver((list) => {
  for (const each of list.getEntries()) {
    const names = each.sources.map(({ node }) => node?.className || node?.nodeName);
    shifts.push([each.value, names.join(", ")]);
  }
}).observe({ type: "layout-shift", buffered: true });"""

PATHS = [each["url"] for each in calculators()]


#: Pages that together have every kind of layout: stages, how-tos with drawings, background, an entry, lists.
READ = [
    "",
    "size/",
    "artwork/",
    "underlay/",
    "rescue/",
    "artwork/check-a-picture/",
    "artwork/demonstration/",
    "artwork/enlarged-pictures/",
    "artwork/resolution-and-the-eye/",
    "size/measure-a-drawing/",
    "underlay/crest-on-two-paints/",
    "underlay/choose-a-way/",
    "underlay/translucency/",
    "seal/seal-a-sheet/",
    "apply/float-a-marking-off/",
    "apply/lay-over-a-curve/",
    "print/print-at-exact-size/",
    "sheet/lay-out-a-sheet/",
    "finish/protect-the-marking/",
    "rescue/ink-bleeds-at-cut-edge/",
    "rescue/troubleshooting/",
    "reference/values/",
    "tutorial/",
    "safety/",
    "glossary/",
    "share/",
    "job/",
]
_CONTENT = Path(__file__).resolve().parents[2] / "content"
TABLES = sorted({url_of(page) for page in pages_of_tables(_CONTENT).values()})


@pytest.mark.parametrize("path", [*PATHS, *TABLES, *READ])
def test_a_page_fits_every_screen_and_is_readable_on_it(browser, server, path, tmp_path):
    """At four sizes, light and dark, at twice the text, enlarged to four times, and answers also on paper; one page is
    loaded for all.
    """
    with visitor(browser, has_touch=True) as device:
        page = device.new_page()
        assert_steady(page, server.url + path, "landscape")
        found = {"paper": waste_of_paper(page, tmp_path) if path in PATHS else []}
        for size, (width, height) in {**SIZES, "enlarged": ENLARGED}.items():
            page.set_viewport_size({"width": width, "height": height})
            settled(page)
            found[size] = [*misfits(page), *pale_texts(page), *(page.evaluate(TINY) if size == "phone" else [])]
        page.set_viewport_size(dict(zip(("width", "height"), SIZES["landscape"], strict=True)))
        page.evaluate(TWICE)
        settled(page)
        found["twice"] = misfits(page)
        page.evaluate("document.documentElement.style.fontSize = ''")
        page.set_viewport_size(dict(zip(("width", "height"), ENLARGED, strict=True)))
        settled(page)
        found["out of reach"] = page.evaluate(OUT_OF_REACH)
        assert {size: wrong for size, wrong in found.items() if wrong} == {}


#: A how-to with drawings, a stage, a table and an entry: with home and the calculators, all kinds of pages.
KINDS = ["artwork/check-a-picture/", "artwork/", "reference/sources/", "rescue/ink-bleeds-at-cut-edge/"]

#: A page with one fault of each kind, and what each check shall say of it.
FAULTY = """<style>.later { color: #000 } @media (max-width: 500px) { .later { color: #888 } }
@media (min-width: 501px) { .narrow { display: none } }</style>
<body style="margin: 0; background: white"><article class="dw-article">
<p style="width: 2000px">too wide</p>
<p style="margin: 0; height: 40px">one</p><p style="margin: -30px 0 0; height: 40px">two</p>
<svg viewBox="0 0 200 60" width="200" height="60"><rect width="200" height="60" fill="#222"/>
<text x="10" y="30" fill="#fff">light on dark</text><text x="20" y="32" fill="#333">dark on dark</text></svg>
<h2 style="width: 40px; overflow: hidden; white-space: nowrap">cut off heading</h2>
<svg viewBox="0 0 400 20" width="200" height="10"><text x="4" y="14" font-size="17">tiny</text></svg>
<p class="later">later</p><p class="narrow" style="color: #777">narrow</p>
<p style="color: #999">pale</p><button style="position: fixed; left: 0; bottom: 10px">below</button>
<div style="position: fixed; inset: auto 0 0; height: 90px; background: white">over it</div></article>"""


def test_each_check_finds_its_fault(browser):
    page = browser.new_page()
    page.set_content(FAULTY)
    assert any("too wide" in each for each in page.evaluate(STICKS_OUT))
    assert any("one</p>" in each and "two</p>" in each for each in page.evaluate(LIES_OVER))
    assert any('"light on dark" and "dark on dark"' in each for each in page.evaluate(DRAWN_OVER))
    assert any("cut off heading" in each for each in page.evaluate(CUT_OFF))
    # Worked by hand (WCAG 2.2, "contrast ratio"): on white #999 has 2.85 to 1, #888 3.54, #777 4.48; #333 on #222 1.26.
    assert ratios(page) == ["1.26", "2.85"]
    assert any("below" in each for each in page.evaluate(OUT_OF_REACH))
    assert page.evaluate(TINY) == ['8.5 px: "tiny"']
    # At another size, texts are looked at that were not there before, or whose colours depend on it.
    page.set_viewport_size({"width": 400, "height": 800})
    assert ratios(page) == ["1.26", "2.85", "3.54", "4.48"]
    page.close()


def ratios(page: Page) -> list[str]:
    """Return the contrasts of the texts that are too pale, the lowest first."""
    return sorted(each.split(": ")[1][:4] for each in page.evaluate(PALE, ["light"]))


@pytest.mark.parametrize("path", ["", *KINDS, *PATHS])
def test_nothing_moves_while_a_page_opens_upright(browser, server, path):
    """The test above looks at a page that opens the other way up."""
    with visitor(browser, has_touch=True) as device:
        assert_steady(device.new_page(), server.url + path, "portrait")


def assert_steady(page: Page, url: str, size: str) -> None:
    """Open a page: less than 0.05 of the screen moves, all shifts added, as the Layout Instability API counts them."""
    page.add_init_script(WATCH_SHIFTS)
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    page.goto(url)
    if any(url.endswith(path) for path in PATHS):
        answered(page)
    page.evaluate("() => document.fonts.ready.then(() => {})")
    settled(page)
    shifts = page.evaluate("shifts")
    print(f"\n{url} {size}: {sum(value for value, _ in shifts):.4f}")
    assert sum(value for value, _ in shifts) < 0.05, shifts
