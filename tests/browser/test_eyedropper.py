"""A colour is picked from a picture by mouse, finger and keys, and the answer follows it."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page, expect

from tests.browser.forms import answered, open_calculator, typed, visitor
from tests.browser.test_look import axe


@pytest.fixture
def context(browser, workbench_server):
    with visitor(browser, has_touch=True) as made:
        yield made


@pytest.fixture
def page(context, workbench_server) -> Page:
    return open_calculator(context, f"{workbench_server.url}underlay/seen-colour/")


def halves() -> bytes:
    """A picture with one colour on the left and another on the right."""
    picture = Image.new("RGB", (120, 80), "#24468c")
    picture.paste("#c2a878", (60, 0, 120, 80))
    held = BytesIO()
    picture.save(held, "PNG")
    return held.getvalue()


def tool(page: Page, field: str) -> Locator:
    return page.locator(f'[data-field="{field}"] .dw-eyedropper')


def open_picture(page: Page, field: str, data: bytes, name: str = "model.png") -> Locator:
    tool(page, field).locator("input").set_input_files({"name": name, "mimeType": "image/png", "buffer": data})
    return tool(page, field).locator("canvas")


def test_the_touched_colour_is_picked(page):
    canvas = open_picture(page, "base_a", halves())
    expect(canvas).to_be_visible()
    box = canvas.bounding_box()
    canvas.tap(position={"x": box["width"] * 0.25, "y": box["height"] / 2})
    expect(typed(page, "base_a")).to_have_value("#24468c")
    canvas.click(position={"x": box["width"] * 0.75, "y": box["height"] / 2})
    expect(typed(page, "base_a")).to_have_value("#c2a878")
    expect(page.locator('[data-field="base_a"] .dw-picker')).to_have_value("#c2a878")
    answered(page)
    # The swatch panel has this colour.
    expect(page.locator('[data-result=swatches] svg path[fill="#c2a878"]')).to_have_count(1)


def test_arrow_keys_move_over_the_picture(page):
    canvas = open_picture(page, "artwork_colour", halves())
    expect(canvas).to_be_focused()
    for _ in range(10):
        page.keyboard.press("ArrowLeft")
    expect(typed(page, "artwork_colour")).to_have_value("#24468c")
    for _ in range(20):
        page.keyboard.press("ArrowRight")
    expect(typed(page, "artwork_colour")).to_have_value("#c2a878")


def test_a_file_that_is_no_picture_is_reported(page):
    canvas = open_picture(page, "base_b", b"no picture at all", "notes.png")
    expect(tool(page, "base_b").locator(".dw-help")).to_contain_text("notes.png cannot be shown here")
    expect(canvas).to_be_hidden()
    expect(typed(page, "base_b")).to_have_value("#7a2232")


def test_a_colour_name_is_accepted_and_displayed_by_the_picker(page):
    typed(page, "base_a").fill("Royal blue")
    expect(page.locator('[data-field="base_a"] .dw-picker')).to_have_value("#24468c")
    answered(page)
    expect(page.locator('[data-result=swatches] svg path[fill="#24468c"]')).to_have_count(1)


@pytest.mark.parametrize(
    ("text", "colour"),
    [("  ROYAL   blue ", "#24468c"), ("royal-blue", "#24468c"), ("0AF", "#00aaff"), (" #0af ", "#00aaff")],
)
def test_the_picker_displays_every_accepted_colour(page, text, colour):
    typed(page, "base_a").fill(text)
    expect(page.locator('[data-field="base_a"] .dw-picker')).to_have_value(colour)
    answered(page)
    expect(page.locator(f'[data-result=swatches] svg path[fill="{colour}"]')).to_have_count(1)
    expect(typed(page, "base_a")).to_have_value(text)
    page.reload()
    expect(page.locator('[data-field="base_a"] .dw-picker')).to_have_value(colour)


def test_axe_finds_nothing_in_the_eyedropper(page):
    open_picture(page, "base_a", halves())
    assert axe(page) == []


def test_a_colour_in_an_added_row_is_picked(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}underlay/colour-rows/")
    page.locator(".dw-row-add").click()
    canvas = open_picture(page, "coats[2].paint", halves())
    expect(canvas).to_be_visible()
    box = canvas.bounding_box()
    canvas.tap(position={"x": box["width"] * 0.75, "y": box["height"] / 2})
    expect(typed(page, "coats[2].paint")).to_have_value("#c2a878")
    expect(typed(page, "coats[1].paint")).to_have_value("#7a2232")
    answered(page)
    expect(page.locator("[data-result=painted] tbody tr").nth(2)).to_contain_text("#c2a878")
