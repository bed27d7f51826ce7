"""A page with points on a picture, and hands that move them, for the tests of points."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from tests.browser.forms import open_calculator, type_again, typed
from tests.browser.screen import choose, middle

PANEL = Path(__file__).resolve().parents[2] / "content" / "demo" / "railcar-panel.png"


#: Records how long the page's thread works on each pointer move, and the time between frames.
WATCH_MOVES = """() => {
  Object.assign(globalThis, { spent: [], gaps: [] });
  let began = 0;
  addEventListener("pointermove", () => (began = performance.now()), true);
  addEventListener("pointermove", () => spent.push(performance.now() - began));
  let last = performance.now();
  const frame = (now) => {
    gaps.push(now - last);
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}"""


def open_panel(context, address: str) -> Page:
    """The demo drawing with the points of the worked example on it, which fit it."""
    page = open_calculator(context, address)
    choose_first(page, PANEL.read_bytes())
    verdict = page.locator(".dw-verdict h2")
    # The example's picture is seen from the start, so wait for what is said of this one.
    expect(verdict).to_have_text("No verdict until every point is in place", timeout=20_000)
    typed(page, "points_in_place").select_option("all")
    expect(verdict).to_have_text("Measured closely enough")
    page.locator(".dw-points-frame").scroll_into_view_if_needed()
    return page


def choose_first(page: Page, data: bytes, name: str = "panel.png", media: str = "image/png") -> None:
    """Choose a picture over the worked example, and type the known length that it asks for: the example's."""
    choose(page, data, name, media)
    type_again(page, "known_mm", "1500")
    # It is of another height than the example's above the picture.
    expect(page.locator(".dw-verdict")).to_contain_text("No verdict until", timeout=20_000)


def marker(page: Page, label: str) -> Locator:
    return page.get_by_role("slider", name=label, exact=True)


def drag(page: Page, label: str, to: tuple[float, float]) -> None:
    page.mouse.move(*middle(marker(page, label)))
    page.mouse.down()
    page.mouse.move(*to, steps=5)
    page.mouse.up()


def point(page: Page, field: str) -> tuple[float, float]:
    text = typed(page, field).input_value()
    assert re.fullmatch(r"\d+\.\d, \d+\.\d", text)
    x, y = text.split(", ")
    return float(x), float(y)


def screen_scale(page: Page) -> float:
    """Screen pixels a pixel of the picture: the known length of the worked example is 750 px long."""
    return (middle(marker(page, "Known length, other end"))[0] - middle(marker(page, "Known length, one end"))[0]) / 750
