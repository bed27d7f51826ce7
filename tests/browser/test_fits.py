"""Every calculator fits its screen: nothing sticks out, nothing lies over something else,
nothing is cut off, and nothing moves while it opens.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from builder.pages import calculators
from tests.browser.forms import answered, visitor

SIZES = {"landscape": (1180, 820), "portrait": (820, 1180), "desk": (1440, 900), "phone": (390, 844)}

#: What sticks out of the page sideways. What is scrolled in a frame of its own may be wider.
STICKS_OUT = """() => {
  const wide = document.documentElement.clientWidth;
  const framed = ".dw-table-frame, .dw-scenes-frame, .dw-points-frame, svg, .dw-spoken";
  return [...document.querySelectorAll(".dw-calculator *, .dw-article > *")]
    .filter((each) => each.checkVisibility() && !each.closest(framed))
    .map((each) => [each, each.getBoundingClientRect()])
    .filter(([, box]) => box.width && (box.left < -1 || box.right > wide + 1))
    .map(([each, box]) => `${Math.round(box.left)} to ${Math.round(box.right)}: ${each.outerHTML.slice(0, 100)}`);
}"""

#: What lies over what else in the flow of the page: texts, controls and pictures that share more than a hair.
LIES_OVER = """() => {
  const what = "h1, .dw-lead, .dw-state, .dw-label, .dw-box, .dw-drop, .dw-help, .dw-check, " +
    ".dw-calculator button, summary, figcaption, " +
    ".dw-verdict h2, .dw-verdict p, .dw-scenes-frame, .dw-points-frame, " +
    ".dw-scenes-sides select, .dw-measures tr, .dw-caution, .dw-sources";
  const frames = ".dw-scenes-frame, .dw-points-frame";
  const hidden = (each) => each.closest("svg, .dw-spoken, .dw-verdict-line, .dw-sheet-handle, " + frames);
  const seen = [...document.querySelectorAll(what)]
    .filter((each) => each.checkVisibility({ visibilityProperty: true }))
    .filter((each) => !hidden(each) || each.matches(frames));
  const boxes = seen.map((each) => [each, each.getBoundingClientRect()]).filter(([, box]) => box.width && box.height);
  const found = [];
  // The panel and the sheet have their own scroll: what is in them lies over nothing outside.
  const place = (each) => each.closest(".dw-form");
  for (const [at, [one, a]] of boxes.entries()) for (const [other, b] of boxes.slice(at + 1)) {
    if (one.contains(other) || other.contains(one) || place(one) !== place(other)) continue;
    const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
    const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
    const [first, second] = [one, other].map((each) => each.outerHTML.slice(0, 70));
    if (across > 2 && down > 4) found.push(`${Math.round(across)} x ${Math.round(down)}: ${first} / ${second}`);
  }
  return found;
}"""

#: Closed lists whose choice is wider than what shows it, and headings that are cut.
CUT_OFF = """() => {
  const pen = document.createElement("canvas").getContext("2d");
  const lists = [...document.querySelectorAll(".dw-calculator select")].filter((each) => {
    if (!each.checkVisibility()) return false;
    const chosen = each.selectedOptions[0]?.textContent;
    const shown = each.parentElement.querySelector(".dw-chosen");
    if (shown) return shown.scrollWidth > shown.clientWidth + 1 || shown.textContent !== chosen;
    const style = getComputedStyle(each);
    pen.font = style.font;
    const room = each.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - 20;
    return pen.measureText(chosen ?? "").width > room;
  });
  const cut = [...document.querySelectorAll("h1, .dw-verdict h2, .dw-label, .dw-calculator button, summary")]
    .filter((each) => each.checkVisibility() && !each.closest("svg") && getComputedStyle(each).display !== "inline")
    .filter((each) => each.scrollWidth > each.clientWidth + 1);
  return [...lists, ...cut].map((each) => each.outerHTML.slice(0, 120));
}"""

WATCH_SHIFTS = """globalThis.shifts = [];
new PerformanceObserver((list) => {
  for (const each of list.getEntries()) {
    const names = each.sources.map(({ node }) => node?.className || node?.nodeName);
    shifts.push([each.value, names.join(", ")]);
  }
}).observe({ type: "layout-shift", buffered: true });"""

PATHS = [each["url"] for each in calculators()]


def misfits(page: Page) -> list[str]:
    return [*page.evaluate(STICKS_OUT), *page.evaluate(LIES_OVER), *page.evaluate(CUT_OFF)]


@pytest.mark.parametrize("path", PATHS)
def test_nothing_sticks_out_lies_over_or_is_cut_off(browser, server, path):
    with visitor(browser, has_touch=True) as device:
        page = device.new_page()
        page.goto(server.url + path)
        answered(page)
        found = {}
        for size, (width, height) in SIZES.items():
            page.set_viewport_size({"width": width, "height": height})
            page.wait_for_timeout(100)
            found[size] = misfits(page)
            assert page.evaluate("document.scrollingElement.scrollWidth") <= width, size
        assert found == {size: [] for size in SIZES}


@pytest.mark.parametrize("size", ["landscape", "portrait"])
@pytest.mark.parametrize("path", ["", "artwork/check-a-picture/", *PATHS])
def test_nothing_moves_while_a_page_opens(browser, server, path, size):
    """Less than 0.05 of the screen, all shifts added, as the Layout Instability API counts them."""
    with visitor(browser, has_touch=True) as device:
        device.add_init_script(WATCH_SHIFTS)
        page = device.new_page()
        page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
        page.goto(server.url + path)
        if path in PATHS:
            answered(page)
        page.wait_for_timeout(300)
        shifts = page.evaluate("shifts")
        print(f"\n{path or 'home'} {size}: {sum(value for value, _ in shifts):.4f}")
        assert sum(value for value, _ in shifts) < 0.05, shifts
