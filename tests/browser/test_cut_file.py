"""Bridges of a loose stencil are touched in their drawing, and the typed text and the answer follow.

The picture is a ring, so its stencil has one island, which two bridges hold.
"""

from __future__ import annotations

import re
from io import BytesIO

from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

from tests.browser.forms import open_calculator, type_again, typed, visitor
from tests.browser.screen import choose


def ring() -> bytes:
    """A black ring 20 mm across, 3 mm wide, of a picture 30 mm wide; within it is a hole."""
    image = Image.new("RGB", (600, 600), "#ffffff")
    pen = ImageDraw.Draw(image)
    pen.ellipse((100, 100, 499, 499), "#1c2226")
    pen.ellipse((160, 160, 439, 439), "#ffffff")
    file = BytesIO()
    image.save(file, "PNG")
    return file.getvalue()


def bridges(page: Page, count: int, off: int = 0) -> None:
    """The drawing has so many bridges, and so many that were taken away."""
    expect(page.locator(".dw-bridge:not(.dw-off)")).to_have_count(count)
    expect(page.locator(".dw-bridge.dw-off")).to_have_count(off)


def tap_ring(page: Page, across: float, down: float) -> None:
    """Touch the opening at a share of its box."""
    box = page.locator(".dw-opening").bounding_box()
    page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + down * box["height"])


def test_bridges_are_taken_away_brought_back_moved_and_added(browser, workbench_server):
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}underlay/cut-file/")
        choose(page, ring())
        type_again(page, "width_mm", "30")
        expect(typed(page, "changes")).to_be_hidden()
        page.get_by_label("Kind of stencil").select_option("loose")
        expect(typed(page, "changes")).to_be_visible()
        bridges(page, 2)
        changes, status = typed(page, "changes"), page.locator(".dw-bridges [role=status]")

        page.locator(".dw-bridge[data-bridge='1']").tap()
        expect(status).to_contain_text("Bridge 1")
        page.get_by_role("button", name="Take it away").tap()
        expect(changes).to_have_value("1 off")
        bridges(page, 1, off=1)
        page.locator(".dw-bridge.dw-off").tap()
        expect(changes).to_have_value("")
        bridges(page, 2)

        page.locator(".dw-bridge[data-bridge='1']").tap()
        # The left of the ring begins 5 mm from the edge of the picture, and the choke further in.
        tap_ring(page, 0.05, 0.5)
        expect(changes).to_have_value(re.compile(r"^1 at [56](\.\d+)? 1[45](\.\d+)?$"))
        bridges(page, 2)

        tap_ring(page, 0.95, 0.5)
        page.get_by_role("button", name=re.compile("^Add a bridge at 2[34]")).tap()
        expect(changes).to_have_value(re.compile(r", new at 2[34](\.\d+)? 1[45](\.\d+)?$"))
        bridges(page, 3)
        page.locator(".dw-bridge[data-new='0']").tap()
        page.get_by_role("button", name="Take it away").tap()
        expect(changes).to_have_value(re.compile(r"^1 at [56](\.\d+)? 1[45](\.\d+)?$"))
        bridges(page, 2)
