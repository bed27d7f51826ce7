"""Figures contain the reader's picture, and a loupe over it shows its pixels."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.forms import answered, open_calculator, result_text, typed
from tests.browser.screen import choose, green_on, middle, touch, with_block
from tests.browser.test_look import contrast

LIVE_ADDRESSES = """() => {
  globalThis.live = new Set();
  const [make, free] = [URL.createObjectURL, URL.revokeObjectURL];
  URL.createObjectURL = (what) => { const made = make.call(URL, what); live.add(made); return made; };
  URL.revokeObjectURL = (address) => { live.delete(address); free.call(URL, address); };
}"""


@pytest.fixture
def placed(workbench_server):
    return f"{workbench_server.url}artwork/placed-picture/"


def open_placed(context, address: str, left: int = 0, top: int = 0) -> Page:
    """A picture of 8 × 6 pixels with one of them green, in its figure."""
    page = open_calculator(context, address)
    choose(page, with_block(8, 6, left, top, 1))
    expect(page.locator("image.dw-loupe")).to_have_attribute("href", re.compile("^blob:"))
    page.locator(".dw-figure svg").scroll_into_view_if_needed()
    page.wait_for_timeout(200)
    return page


def test_the_reader_s_picture_is_inserted_and_freed(context, placed):
    page = context.new_page()
    page.add_init_script(f"({LIVE_ADDRESSES})()")
    page.goto(placed)
    answered(page)
    expect(page.locator(".dw-loupe-tools")).to_be_hidden()
    choose(page, with_block(8, 6, 0, 0, 1))
    expect(page.locator("image.dw-loupe")).to_have_attribute("href", re.compile("^blob:"))
    box = page.locator("image.dw-loupe").bounding_box()
    page.locator(".dw-figure svg").scroll_into_view_if_needed()
    page.wait_for_timeout(200)
    seen = green_on(page, page.locator("image.dw-loupe"))
    assert len(seen) == pytest.approx(box["width"] / 8 * box["height"] / 6, rel=0.1)
    choose(page, with_block(16, 12, 0, 0, 1), "other.png")
    expect(result_text(page, "width_px")).to_have_text("16")
    thumb = page.locator(".dw-drop-thumb").get_attribute("src")
    placed_at = page.locator("image.dw-loupe").get_attribute("href")
    assert set(page.evaluate("[...live]")) == {thumb, placed_at}
    page.reload()
    expect(page.locator("image.dw-loupe")).to_have_attribute("href", re.compile("^blob:"), timeout=20_000)
    page.locator(".dw-drop-remove").click()
    expect(page.locator("[data-result=width_px]")).to_be_hidden()
    assert page.locator("image.dw-loupe").get_attribute("href") is None
    assert page.evaluate("live.size") == 0


def test_a_page_that_is_left_frees_its_pictures(context, placed, workbench_server):
    page = context.new_page()
    page.add_init_script(f"({LIVE_ADDRESSES})()")
    page.goto(placed)
    answered(page)
    choose(page, with_block(8, 6, 0, 0, 1))
    expect(page.locator("image.dw-loupe")).to_have_attribute("href", re.compile("^blob:"))
    assert page.evaluate("live.size") >= 2
    # A link of the site keeps the scripts and what they hold.
    page.evaluate("globalThis.sameVisit = true")
    page.locator("a[href$='safety/']").first.evaluate("(link) => link.click()")
    expect(page.locator(".dw-form")).to_have_count(0)
    page.wait_for_function("() => live.size === 0")
    assert page.evaluate("sameVisit")


@pytest.mark.parametrize(("way", "column", "row"), [("as-is", 2, 4), ("turned", 5, 1)])
def test_the_loupe_shows_the_pixel_under_it(context, placed, way, column, row):
    """Rotated by half a turn, the third pixel of the fifth row is the sixth of the second."""
    page = open_placed(context, placed, 2, 4)
    typed(page, "way").select_option(way)
    answered(page)
    page.wait_for_timeout(300)
    box = page.locator("image.dw-loupe").bounding_box()
    glass = page.locator(".dw-figure .dw-glass-round")
    expect(glass).to_be_hidden()
    page.mouse.move(box["x"] + box["width"] * (column + 0.5) / 8, box["y"] + box["height"] * (row + 0.5) / 6)
    expect(glass).to_be_visible()
    expect(glass).to_contain_text("4 times")
    seen = green_on(page, glass)
    # A pixel is larger than the loupe then, so everything but the text is green.
    assert len(seen) > 0.8 * 3.14 * 90**2
    page.mouse.move(box["x"] - 30, box["y"] - 10)
    expect(glass).to_be_hidden()


def test_keys_move_the_loupe_over_a_figure(context, placed):
    page = open_placed(context, placed)
    button = page.locator(".dw-loupe-toggle")
    button.focus()
    page.keyboard.press("Enter")
    expect(button).to_have_attribute("aria-pressed", "true")
    glass = page.locator(".dw-figure .dw-glass-round")
    expect(glass).to_be_visible()
    image = page.locator("image.dw-loupe")
    x, y = middle(image)
    assert middle(glass) == pytest.approx((x, y), abs=2)
    for _ in range(5):
        page.keyboard.press("ArrowLeft")
    page.keyboard.press("Shift+ArrowUp")
    assert middle(glass) == pytest.approx((x - 20, y - 20), abs=2)
    page.keyboard.press("Escape")
    expect(glass).to_be_hidden()
    expect(button).to_have_attribute("aria-pressed", "false")


def test_tap_and_long_press_open_the_loupe(tablet, placed):
    page = open_placed(tablet, placed)
    glass = page.locator(".dw-figure .dw-glass-round")
    x, y = middle(page.locator("image.dw-loupe"))
    page.touchscreen.tap(x, y)
    expect(glass).to_be_visible()
    page.touchscreen.tap(x, y)
    expect(glass).to_be_hidden()
    session = tablet.new_cdp_session(page)
    before = page.evaluate("scrollY")
    touch(session, "touchStart", (x, y))
    expect(glass).to_be_visible()
    across = middle(glass)[0]
    touch(session, "touchMove", (x + 10, y - 10))
    touch(session, "touchMove", (x + 30, y - 30))
    expect(glass).to_be_visible()
    page.wait_for_timeout(100)
    assert middle(glass)[0] == pytest.approx(across + 30, abs=2)
    assert page.evaluate("scrollY") == before
    touch(session, "touchEnd")
    expect(glass).to_be_hidden()


def test_the_loupe_works_on_the_worked_example(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}artwork/picture-check/")
    button = page.locator(".dw-loupe-toggle")
    button.click()
    expect(button).to_have_attribute("aria-pressed", "true")
    glass = page.locator(".dw-figure .dw-glass-round")
    expect(glass).to_be_visible()
    box = glass.bounding_box()
    seen = Image.open(BytesIO(page.screenshot(clip=box))).convert("RGB")
    assert len(seen.getcolors(box["width"] * box["height"])) > 20
    # Fully on the screen, wherever the picture was.
    assert box["y"] >= 0 and box["y"] + box["height"] <= 820
    # The text of the pressed button has contrast, even under the mouse.
    colours = button.evaluate("each => [getComputedStyle(each).color, getComputedStyle(each).backgroundColor]")
    colours = ["#{:02x}{:02x}{:02x}".format(*map(int, re.findall(r"\d+", each))) for each in colours]
    assert contrast(*colours) >= 4.5


def test_the_sheet_preview_ends_with_its_drawing(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}artwork/picture-check/")
    drawing = page.locator(".dw-figure svg").first
    beyond = drawing.evaluate("""svg => {
      const outer = svg.getBoundingClientRect();
      return [...svg.querySelectorAll("path, rect, image, text")].filter((each) => {
        const { left, right, top, bottom } = each.getBoundingClientRect();
        return left < outer.left || right > outer.right || top < outer.top || bottom > outer.bottom;
      }).length;
    }""")
    assert beyond == 0
