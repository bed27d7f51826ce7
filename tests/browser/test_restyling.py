"""How much of a page the browser styles again while it opens: the largest part of what blocks a slow processor.

Counted by Chromium's own tracing, so that the figures are the same on any machine.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.browser.forms import visitor

#: How often every element of a page may be styled, all in all, from opening to the answer. Once is for the page to
#: show; what its scripts show and hide is the rest. An attribute of the root, or a :has() about the page, costs one
#: more at every change.
MOST_TIMES = 3

ANSWERED = """
new Promise((resolve) => {
  const answer = document.querySelector(".dw-answer");
  const look = () => answer.dataset.state === "answered" && requestAnimationFrame(() => setTimeout(resolve));
  new MutationObserver(look).observe(answer, { attributes: true });
  look();
})
"""


@pytest.fixture
def page(browser):
    with visitor(browser, first=True) as device:
        yield device.new_page()


def styled(page: Any, address: str, until: str) -> tuple[int, list[int]]:
    """Return how many elements a page has once loaded, and how many the browser styled, each time that it did.

    It is watched from opening the page until a promise of it resolves. A drawing counts as one element.
    """
    session = page.context.browser.new_browser_cdp_session()
    events: list[dict[str, Any]] = []
    ended: list[bool] = []
    session.on("Tracing.dataCollected", lambda part: events.extend(part["value"]))
    session.on("Tracing.tracingComplete", lambda _: ended.extend([True]))
    config = {"includedCategories": ["devtools.timeline"], "recordMode": "recordAsMuchAsPossible"}
    session.send("Tracing.start", {"transferMode": "ReportEvents", "traceConfig": config})
    page.goto(address, wait_until="load")
    elements = page.evaluate("document.querySelectorAll(':not(svg *)').length")
    page.evaluate(until)
    session.send("Tracing.end")
    while not ended:
        page.wait_for_timeout(20)
    session.detach()
    return elements, [each["args"].get("elementCount", 0) for each in events if each["name"] == "UpdateLayoutTree"]


@pytest.mark.parametrize("path", ["", "size/scale-size/", "underlay/underlay/"])
def test_a_page_is_styled_hardly_more_than_once_as_it_opens(server, page, path):
    elements, counts = styled(page, server.url + path, ANSWERED if path else "document.fonts.ready.then(() => {})")
    print(f"{path}: {sum(counts) / elements:.2f} times {elements} elements: {counts}")
    assert sum(counts) <= MOST_TIMES * elements
