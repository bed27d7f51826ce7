"""White areas are marked by finger, keys and typing, and the answer follows.

What is expected was drawn here: on white ground a maroon square, in it a white one, in that a gold dot; so area 1 is
background and area 2 wanted white.
"""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

from tests.browser.forms import open_calculator, problem, result_text, type_again, typed, visitor
from tests.browser.screen import choose
from tests.browser.test_look import axe

TOUCH_PX = 48


@pytest.fixture
def address(workbench_server):
    return f"{workbench_server.url}artwork/white-areas/"


def badge(times: int = 4) -> bytes:
    image = Image.new("RGB", (60 * times, 60 * times), "#ffffff")
    pen = ImageDraw.Draw(image)
    for colour, first, last in (("#7a2232", 10, 50), ("#ffffff", 20, 40), ("#c8993a", 28, 32)):
        pen.rectangle((first * times, first * times, last * times - 1, last * times - 1), colour)
    file = BytesIO()
    image.save(file, "PNG")
    return file.getvalue()


def test_a_table_without_rows_is_not_shown(context, address):
    page = open_badge(context, address)
    frame = page.locator(".dw-table-frame", has=page.locator("[data-result=areas]"))
    expect(frame).to_be_visible()
    file = BytesIO()
    Image.new("RGB", (60, 60), "#7a2232").save(file, "PNG")
    choose(page, file.getvalue())
    type_again(page, "width_mm", "40")
    expect(page.locator(".dw-verdict")).to_contain_text("No white in it")
    expect(frame).to_be_hidden()
    choose(page, badge())
    type_again(page, "width_mm", "40")
    expect(frame).to_be_visible()
    assert frame.locator("tbody tr").count() == 2


def open_badge(context, address: str) -> Page:
    page = open_calculator(context, address)
    choose(page, badge())
    type_again(page, "width_mm", "14")
    expect(page.locator("path.dw-area")).to_have_count(2)
    return page


def means(page: Page, area: int, meaning: str) -> None:
    """The redrawn picture from Python shows the meaning."""
    expect(page.locator(f"path.dw-area[data-area='{area}']")).to_have_attribute("data-meant", meaning)


def test_a_tap_changes_an_area_and_the_answer(browser, address):
    with visitor(browser, has_touch=True) as context:
        page = open_badge(context, address)
        sign = page.locator("g.dw-area[data-area='2']")
        box = sign.bounding_box()
        assert min(box["width"], box["height"]) >= TOUCH_PX - 4
        sign.tap()
        means(page, 2, "hole")
        expect(typed(page, "marks")).to_have_value("2 hole")
        expect(result_text(page, "wanted_mm2")).to_have_text("0.0")
        expect(page.locator(".dw-marks-status")).to_have_text("Area 2: Hole.")
        sign.tap()
        means(page, 2, "background")
        sign.tap()
        means(page, 2, "wanted")
        expect(typed(page, "marks")).to_have_value("")


def test_areas_are_marked_by_keyboard_without_losing_focus(browser, address):
    with visitor(browser) as context:
        page = open_badge(context, address)
        choice = page.get_by_role("combobox", name="What area 2 means")
        assert choice.bounding_box()["height"] >= TOUCH_PX
        choice.focus()
        page.keyboard.press("ArrowDown")
        means(page, 2, "hole")
        expect(choice).to_be_focused()
        expect(typed(page, "marks")).to_have_value("2 hole")
        page.keyboard.press("ArrowUp")
        page.keyboard.press("ArrowUp")
        means(page, 2, "background")
        expect(choice).to_be_focused()


def test_typed_marks_appear_in_drawing_and_table(browser, address):
    with visitor(browser) as context:
        page = open_badge(context, address)
        typed(page, "marks").fill("1 wanted; 2 h")
        means(page, 1, "wanted")
        means(page, 2, "hole")
        expect(page.get_by_role("combobox", name="What area 2 means")).to_have_value("hole")
        typed(page, "marks").fill("7 hole")
        expect(problem(page, "marks")).to_contain_text("There is no area 7 in this picture")
        typed(page, "marks").fill("2 hole")
        means(page, 1, "background")
        page.reload()
        means(page, 2, "hole")
        expect(typed(page, "marks")).to_have_value("2 hole")


def test_a_tap_continues_from_the_parsed_mark(browser, address, subtests):
    """After hole comes background."""
    with visitor(browser, has_touch=True) as context:
        page = open_badge(context, address)
        for text in ("2:hole", "2=HOLE", "02 h", "2 wanted; 2 ho", "2hole\n"):
            with subtests.test(text):
                typed(page, "marks").fill(text)
                means(page, 2, "hole")
                page.locator("g.dw-area[data-area='2']").tap()
                means(page, 2, "background")
                expect(typed(page, "marks")).to_have_value("2 background")


def test_a_tap_preserves_unreadable_marks(browser, address):
    with visitor(browser, has_touch=True) as context:
        page = open_badge(context, address)
        typed(page, "marks").fill("1 hole, the middle too")
        expect(problem(page, "marks")).to_contain_text("the middle too")
        for text in ("2 hole", "2 background"):
            page.locator("g.dw-area[data-area='2']").tap()
            expect(typed(page, "marks")).to_have_value(f"1 hole, the middle too, {text}")
        typed(page, "marks").fill("1 hole, 2 background")
        means(page, 1, "hole")
        means(page, 2, "background")


def test_marks_leave_with_their_picture_and_can_be_restored(browser, address):
    with visitor(browser) as context:
        page = open_badge(context, address)
        typed(page, "marks").fill("2 hole")
        means(page, 2, "hole")
        choose(page, badge(3), "other.png")
        expect(page.locator("[data-note=points]")).to_contain_text("were removed: 2 hole")
        expect(typed(page, "marks")).to_have_value("")
        type_again(page, "width_mm", "40")
        means(page, 2, "wanted")
        page.get_by_role("button", name="Undo").click()
        means(page, 2, "hole")


def lettered() -> bytes:
    """White ground and five black rings in a row: area 1 is the ground, areas 2 to 6 are holes in one line, group A."""
    image = Image.new("RGB", (360, 90), "#ffffff")
    pen = ImageDraw.Draw(image)
    for left in range(20, 320, 64):
        pen.ellipse((left, 20, left + 50, 70), "#1c2226")
        pen.ellipse((left + 12, 32, left + 38, 58), "#ffffff")
    file = BytesIO()
    image.save(file, "PNG")
    return file.getvalue()


def test_taps_mark_a_line_or_a_single_letter(browser, address):
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, address)
        choose(page, lettered())
        type_again(page, "width_mm", "14")
        expect(page.locator("[data-result=areas] tbody tr")).to_have_count(2)
        page.locator("g.dw-area[data-area='A']").tap()
        means(page, 4, "background")
        expect(typed(page, "marks")).to_have_value("A background")
        page.get_by_label("Mark single areas of a group").check()
        expect(page.locator("svg .dw-part")).to_have_count(5)
        expect(page.locator("svg .dw-part").first).to_be_visible()
        page.locator("path.dw-area[data-area='4']").tap()
        means(page, 4, "wanted")
        means(page, 3, "background")
        expect(typed(page, "marks")).to_have_value("A background, 4 wanted")
        expect(page.locator("[data-result=areas] tbody tr")).to_have_count(3)
        page.get_by_role("combobox", name="What area 4 means").select_option("background")
        expect(typed(page, "marks")).to_have_value("A background")
        expect(page.locator("[data-result=areas] tbody tr")).to_have_count(2)


def test_ungrouped_areas_have_no_single_area_box(context, address):
    expect(open_badge(context, address).get_by_label("Mark single areas of a group")).to_be_hidden()


def test_axe_finds_nothing_in_the_marks(browser, address):
    with visitor(browser) as context:
        page = open_badge(context, address)
        assert axe(page) == []
