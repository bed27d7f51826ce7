"""Typing: answers while typing, problems beside their fields, millimetres and inches."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, problem, result_text, typed, visitor
from tests.browser.test_look import axe


@pytest.fixture
def page(browser, workbench_server):
    with visitor(browser) as context:
        yield open_calculator(context, f"{workbench_server.url}artwork/resolution/")


def test_the_answer_follows_what_is_typed(page):
    """200 px at 25.4 mm are 200 ppi, at 50.8 mm 100 ppi: printed ppi = pixels / (mm / 25.4)."""
    expect(result_text(page, "printed_ppi")).to_have_text("200")
    typed(page, "width_mm").fill("50.8")
    expect(result_text(page, "printed_ppi")).to_have_text("100")
    typed(page, "width_mm").fill('1"')
    expect(result_text(page, "printed_ppi")).to_have_text("200")
    expect(page.locator("[data-field=width_mm] .dw-unit")).to_be_hidden()


def test_all_problems_appear_at_once_beside_the_last_answer(page):
    typed(page, "width_mm").fill("1,000")
    typed(page, "viewing_distance_mm").fill("")
    expect(problem(page, "width_mm")).to_contain_text("1,000")
    expect(problem(page, "viewing_distance_mm")).to_be_visible()
    expect(page.locator(".dw-problems")).to_have_text("2 fields need another look. The first is Printed width.")
    expect(typed(page, "width_mm")).to_have_attribute("aria-invalid", "true")
    assert "problem-width_mm" in typed(page, "width_mm").get_attribute("aria-describedby")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "stale")
    expect(result_text(page, "printed_ppi")).to_have_text("200")
    expect(page.locator(".dw-spoken")).to_have_text("2 fields need another look")

    page.locator(".dw-problems a").click()
    expect(typed(page, "width_mm")).to_be_focused()
    assert "#" not in page.url
    typed(page, "width_mm").fill("25.4")
    typed(page, "viewing_distance_mm").fill("300")
    answered(page)
    expect(page.locator(".dw-problems")).to_be_hidden()
    assert typed(page, "width_mm").get_attribute("aria-invalid") is None


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_an_outdated_answer_is_marked_and_readable(page, scheme):
    page.emulate_media(color_scheme=scheme)
    typed(page, "width_mm").fill("1,000")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "stale")
    expect(page.locator(".dw-state")).to_have_text("Answer to your earlier values")
    assert axe(page) == []


def test_a_problem_neither_shifts_the_field_nor_takes_focus(page):
    field = typed(page, "viewing_distance_mm")
    field.focus()
    before = field.bounding_box()["y"]
    page.keyboard.press("Control+A")
    page.keyboard.type("x")
    expect(page.locator(".dw-problems")).to_be_visible()
    expect(field).to_be_focused()
    assert abs(field.bounding_box()["y"] - before) < 1
    page.keyboard.press("Control+A")
    page.keyboard.type("300")
    answered(page)
    assert abs(field.bounding_box()["y"] - before) < 1


def test_sending_the_form_leads_to_the_problems(page):
    typed(page, "width_mm").fill("")
    expect(problem(page, "width_mm")).to_be_visible()
    typed(page, "width_mm").press("Enter")
    expect(page.locator(".dw-problems")).to_be_focused()


def test_an_optional_field_may_be_empty(page):
    typed(page, "height_mm").fill("50.8")
    expect(result_text(page, "printed_ppi")).to_have_text("100")
    typed(page, "height_mm").fill("")
    expect(result_text(page, "printed_ppi")).to_have_text("200")


def test_inches_are_displayed_without_changing_typed_text(page, workbench_server):
    """1 in is 25.4 mm exactly."""
    typed(page, "width_mm").fill("50.8")
    expect(result_text(page, "printed_ppi")).to_have_text("100")
    page.locator(".dw-units").click()
    expect(page.locator(".dw-units")).to_have_attribute("aria-pressed", "true")
    expect(typed(page, "width_mm")).to_have_value("2")
    expect(page.locator("[data-field=width_mm] .dw-unit")).to_have_text("in")
    expect(page.locator("[data-field=width_mm] .dw-range")).to_contain_text("in")
    expect(page.locator("[data-result=largest_good_width_mm] [data-part=unit]")).to_have_text("in")
    typed(page, "height_mm").fill("4")
    expect(result_text(page, "printed_ppi")).to_have_text("50.0")

    page.reload()
    answered(page)
    expect(page.locator(".dw-units")).to_have_attribute("aria-pressed", "true")
    expect(typed(page, "height_mm")).to_have_value("4")
    # Typed in millimetres, so its unit is included.
    expect(typed(page, "width_mm")).to_have_value("50.8 mm")
    expect(typed(page, "viewing_distance_mm")).to_have_value(
        page.locator("[data-field=viewing_distance_mm]").get_attribute("data-default-in")
    )
    page.locator(".dw-units").click()
    expect(typed(page, "width_mm")).to_have_value("50.8")
    expect(typed(page, "height_mm")).to_have_value("101.6")
    expect(typed(page, "viewing_distance_mm")).to_have_value("300")


def test_adding_the_displayed_unit_changes_no_length(page):
    """Feet keep their inches; a number without unit takes the field's."""
    for text, meant in {"1'6": "457.2", "1,5": "1.5", "1/2": "0.5", "½": "0.5", "12.": "12"}.items():
        seen = []
        for typing in (text, f"{meant} mm"):
            typed(page, "width_mm").fill("300")
            expect(result_text(page, "printed_ppi")).to_have_text("16.9")
            typed(page, "width_mm").fill(typing)
            expect(result_text(page, "printed_ppi")).not_to_have_text("16.9")
            seen.append(result_text(page, "printed_ppi").inner_text())
        assert seen[0] == seen[1], text


def test_a_form_is_filled_by_the_keyboard_alone(page):
    """From the first field on by Tab, with a choice made by an arrow key."""
    page.locator("#in-picture").focus()
    for _ in range(4):
        page.keyboard.press("Tab")
    expect(typed(page, "width_mm")).to_be_focused()
    page.keyboard.press("Control+A")
    page.keyboard.type("50.8")
    expect(result_text(page, "printed_ppi")).to_have_text("100")
    typed(page, "edges").focus()
    for _ in range(2):
        page.keyboard.press("ArrowDown")
    expect(typed(page, "edges")).to_have_value("hard")
    expect(page.locator(".dw-verdict [data-part=reasons]")).to_contain_text("hard steps")
    page.locator(".dw-reset").focus()
    page.keyboard.press("Enter")
    expect(typed(page, "edges")).to_have_value("seen")


def test_input_before_the_engine_loads_is_answered_and_saved(browser, workbench_server):
    workbench_server.delays["^/engine/"] = 0.5
    with visitor(browser) as context:
        page = context.new_page()
        page.goto(f"{workbench_server.url}artwork/resolution/")
        expect(page.locator(".dw-state")).to_contain_text("Starting")
        typed(page, "width_mm").fill("50.8")
        expect(page.locator(".dw-answer")).to_have_attribute("data-state", "example")
        expect(result_text(page, "printed_ppi")).to_have_text("200")
        answered(page)
        expect(result_text(page, "printed_ppi")).to_have_text("100")
        expect(typed(page, "width_mm")).to_have_value("50.8")


def test_one_engine_serves_the_whole_visit(browser, workbench_server):
    with visitor(browser) as context:
        page = open_calculator(context, f"{workbench_server.url}artwork/resolution/")
        page.locator(".dw-rule a", has_text="size").click()
        page.locator("a[href$='size/scale-size/']").first.click()
        expect(page.locator(".dw-calculator")).to_have_attribute("data-calculator", "scale-size")
        answered(page)
        assert page.evaluate("dwEngine.boots") == 1
        typed(page, "scale").fill("1:72")
        expect(page.locator(".dw-spoken")).not_to_have_text("")


def test_without_javascript_the_page_is_a_worked_example(browser, workbench_server):
    with visitor(browser, java_script_enabled=False) as context:
        page = context.new_page()
        page.goto(f"{workbench_server.url}artwork/resolution/")
        expect(result_text(page, "printed_ppi")).to_have_text("200")
        expect(page.locator(".dw-state")).to_have_text("Worked example")
        expect(page.locator("noscript .dw-note")).to_contain_text("JavaScript")
        expect(page.locator("[data-result=steps] svg")).to_be_visible()
