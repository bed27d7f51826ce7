"""A picture from another app becomes the picture of the calculator that the reader chooses, and of the job."""

from __future__ import annotations

import base64
import io

import pytest
from PIL import Image
from playwright.sync_api import expect

from tests.browser.forms import answered, entries, open_calculator, typed, values, wait_for_stored

CHOSEN = "artwork/resolution/"

#: As the offline worker leaves it (builder/templates/offline-shared.js, tried in test_editions.py).
ARRIVE = """async ([bytes, name]) => {
  const cache = await caches.open("notes /");
  const headers = { "Content-Type": "image/png", "File-Name": encodeURIComponent(name) };
  const body = Uint8Array.from(atob(bytes), (each) => each.charCodeAt(0));
  await cache.put("/share/arrived", new Response(body, { headers }));
}"""
WAITS = """async () => Boolean(await (await caches.open("notes /")).match("/share/arrived"))"""


@pytest.fixture
def picture() -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (70, 40), "#7a2232").save(made, "PNG")
    return made.getvalue()


def test_the_page_says_if_no_picture_arrived(context, workbench_server):
    page = context.new_page()
    page.goto(f"{workbench_server.url}share/")
    expect(page.locator(".dw-arrived-none")).to_be_visible()
    expect(page.locator(".dw-arrived")).to_be_hidden()
    assert page.locator(".dw-arrived-for a").count() >= 7


def test_the_chosen_calculator_takes_the_picture_and_loses_nothing(context, workbench_server, picture):
    page = open_calculator(context, workbench_server.url + CHOSEN)
    typed(page, "width_mm").fill("33 mm")
    answered(page)
    wait_for_stored(page, lambda found: entries(found)["resolution"]["inputs"]["width_mm"] == "33 mm")
    page.evaluate(ARRIVE, [base64.b64encode(picture).decode(), "crest «1».png"])
    page.goto(f"{workbench_server.url}share/")
    expect(page.locator(".dw-arrived figcaption")).to_contain_text("crest «1».png")
    expect(page.locator(".dw-arrived img")).to_have_js_property("naturalWidth", 70)
    page.click(f".dw-arrived-for a[href*='{CHOSEN}']")
    expect(page.locator(".dw-drop-name")).to_have_text("crest «1».png", timeout=20_000)
    expect(typed(page, "width_px")).to_have_value("70", timeout=20_000)
    expect(typed(page, "width_mm")).to_have_value("33")
    held = wait_for_stored(page, lambda found: values(found).get("picture"))
    assert values(held)["picture"]["file"]["name"] == "crest «1».png"
    assert page.evaluate(WAITS) is False and page.evaluate("location.hash") == ""
