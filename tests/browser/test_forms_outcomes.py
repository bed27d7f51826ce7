"""Long work shows progress and can be stopped; failures are reported calmly, and no input is lost."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, result_text, typed


@pytest.fixture
def long_work(context, workbench_server):
    return open_calculator(context, f"{workbench_server.url}sheet/long-work/")


def card(page):
    return page.locator(".dw-outcome")


def boots(page) -> int:
    return page.evaluate("dwEngine.boots")


def test_progress_appears_and_disappears(long_work):
    typed(long_work, "step_s").fill("1")
    bar = long_work.locator(".dw-progress")
    expect(bar).to_contain_text("of 2")
    assert 0 <= long_work.locator(".dw-progress progress").evaluate("each => each.value") < 1
    expect(long_work.locator(".dw-answer")).to_have_attribute("aria-busy", "true")
    expect(bar).to_be_hidden()
    expect(long_work.locator(".dw-answer")).to_have_attribute("aria-busy", "false")


def test_work_stops_between_steps_and_resumes(long_work):
    typed(long_work, "step_s").fill("0.2")
    typed(long_work, "steps").fill("12")
    long_work.locator(".dw-stop").click()
    expect(card(long_work)).to_have_attribute("data-outcome", "stopped")
    expect(long_work.locator(".dw-answer")).to_have_attribute("data-state", "stale")
    expect(typed(long_work, "steps")).to_have_value("12")
    assert boots(long_work) == 1
    long_work.locator(".dw-again").click()
    expect(card(long_work)).to_be_hidden(timeout=8_000)
    expect(result_text(long_work, "steps")).to_have_text("12")


def test_newer_input_replaces_running_work(long_work):
    typed(long_work, "step_s").fill("0.2")
    typed(long_work, "steps").fill("25")
    expect(long_work.locator(".dw-stop")).to_be_visible()
    typed(long_work, "steps").fill("1")
    expect(result_text(long_work, "steps")).to_have_text("1", timeout=2_500)
    expect(card(long_work)).to_be_hidden()
    assert boots(long_work) == 1


def test_overlong_work_is_ended_and_reported(long_work):
    typed(long_work, "step_s").fill("30")
    expect(card(long_work)).to_have_attribute("data-outcome", "too-long", timeout=10_000)
    expect(card(long_work)).to_contain_text("after 6 seconds")
    expect(typed(long_work, "step_s")).to_have_value("30")
    typed(long_work, "step_s").fill("0")
    answered(long_work)
    expect(card(long_work)).to_be_hidden()
    assert boots(long_work) == 2


def test_a_fault_shows_its_trace_and_the_form_continues(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}rescue/fault-on-demand/")
    typed(page, "fails").check()
    expect(card(page)).to_have_attribute("data-outcome", "fault")
    page.locator(".dw-outcome summary").click()
    expect(page.locator(".dw-outcome pre")).to_contain_text("this was asked for")
    typed(page, "fails").uncheck()
    answered(page)
    expect(card(page)).to_be_hidden()
    assert boots(page) == 1


def test_a_missing_engine_is_reported_and_retried(context, workbench_server):
    workbench_server.broken["^/engine/"] = 404
    page = context.new_page()
    page.goto(f"{workbench_server.url}rescue/fault-on-demand/")
    typed(page, "width_mm").fill("30")
    expect(card(page)).to_have_attribute("data-outcome", "no-engine", timeout=20_000)
    expect(result_text(page, "width_mm")).to_have_text("25.4")
    expect(page.locator(".dw-state")).to_have_text("Worked example")
    expect(typed(page, "width_mm")).to_have_value("30")
    workbench_server.broken.clear()
    page.locator(".dw-again").click()
    answered(page)
    expect(result_text(page, "width_mm")).to_have_text("30.0")
    expect(card(page)).to_be_hidden()


def test_a_missing_stage_part_is_reported_and_retried(context, workbench_server):
    workbench_server.broken[r"^/engine/size\."] = 404
    page = context.new_page()
    page.goto(f"{workbench_server.url}size/scale-size/")
    typed(page, "full_size_mm").fill("12 in")
    expect(card(page)).to_have_attribute("data-outcome", "no-engine", timeout=20_000)
    expect(page.locator(".dw-outcome-text")).to_contain_text("The network may have failed")
    # The trace is there to be reported, but folded.
    expect(page.locator(".dw-outcome pre")).to_be_hidden()
    expect(page.locator(".dw-outcome pre")).to_contain_text("the server answered 404")
    expect(typed(page, "full_size_mm")).to_have_value("12 in")
    workbench_server.broken.clear()
    page.locator(".dw-again").click()
    answered(page)
    expect(card(page)).to_be_hidden()
    assert boots(page) == 1


def test_a_part_that_python_imports_late_is_reported_missing_and_retried(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}artwork/made-outlines/")
    workbench_server.broken[r"^/engine/outlines\."] = 404
    typed(page, "wider_mm").fill("0.5")
    expect(card(page)).to_have_attribute("data-outcome", "no-engine")
    expect(page.locator(".dw-outcome-text")).to_contain_text("The network may have failed")
    expect(typed(page, "wider_mm")).to_have_value("0.5")
    workbench_server.broken.clear()
    page.locator(".dw-again").click()
    answered(page)
    expect(card(page)).to_be_hidden()
    assert boots(page) == 1


def test_another_try_counts_while_the_same_question_is_still_asked(context, workbench_server):
    workbench_server.broken[r"^/engine/size\."] = 404
    page = context.new_page()
    page.goto(f"{workbench_server.url}size/scale-size/")
    expect(card(page)).to_have_attribute("data-outcome", "no-engine", timeout=20_000)
    workbench_server.requests.clear()
    workbench_server.delays[r"^/engine/size\."] = 2
    page.locator(".dw-again").click()
    while not workbench_server.requests:
        page.wait_for_timeout(50)
    page.locator(".dw-again").click()  # The question is on its way, and will fail.
    while not workbench_server.requests[0].status:
        page.wait_for_timeout(50)
    workbench_server.broken.clear()
    answered(page)
    expect(card(page)).to_be_hidden()


@pytest.mark.parametrize("script", ["page", "config", "calculators"])
def test_a_missing_script_is_reported_without_losing_input(context, workbench_server, script):
    workbench_server.broken[rf"/scripts/{script}\.mjs$"] = 404
    page = context.new_page()
    page.goto(f"{workbench_server.url}rescue/fault-on-demand/")
    typed(page, "width_mm").fill("30")
    expect(page.locator(".dw-outcome-title")).to_have_text("The calculator has not started")
    expect(typed(page, "width_mm")).to_have_value("30")
    workbench_server.broken.clear()
    page.locator(".dw-again").click()
    answered(page)
    expect(card(page)).to_be_hidden()
