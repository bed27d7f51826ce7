"""The page that lays out the whole job: with no job, with the current one, and with one that changes."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.forms import READ_JOB, answered, open_calculator, typed, visitor
from tests.browser.jobs import open_demo

#: Notes, for each answer that a page asks its worker for, whether the question has the whole job.
WATCH = """() => {
  globalThis.askedWithJob = [];
  const { postMessage } = Worker.prototype;
  Worker.prototype.postMessage = function (message, ...more) {
    const asked = message.type === "ask" ? JSON.parse(message.envelope) : {};
    if (asked.do === "answer") askedWithJob.push("job" in asked.files);
    return postMessage.call(this, message, ...more);
  };
}"""
CHANGE = """async (copies) => dwStore.change((job) => { job.markings[0].copies = copies; })"""


def pieces(page: Page) -> int:
    return int(page.locator("[data-result=pieces] [data-part=shown]").inner_text())


@pytest.fixture
def page(server, browser):
    with visitor(browser, has_touch=True) as device:
        yield open_calculator(device, f"{server.url}sheet/sheet/")


def test_the_current_job_is_laid_out_and_followed_and_never_stored_in_itself(server, page):
    name, count = page.locator(".dw-whole-job-name"), page.locator(".dw-whole-job-count")
    # Without a job the demonstration stands in.
    expect(name).to_have_text("There is no job on this device yet")
    expect(page.locator("[data-result=layout] svg")).to_be_visible()
    before = pieces(page)

    page.goto(f"{server.url}job/")
    open_demo(page)
    page.add_init_script(f"({WATCH})()")
    page.goto(f"{server.url}sheet/sheet/")
    expect(name).to_have_text("Rowanskerry Light Railway")
    expect(count).to_have_text("16 markings")
    answered(page)
    assert pieces(page) == before
    # The example is not worked out before the job.
    assert page.evaluate("askedWithJob") == [True]

    # A marking that is changed elsewhere: five more copies of it, and of the partner that follows it.
    page.evaluate(CHANGE, 6)
    expect(page.locator("[data-result=pieces] [data-part=shown]")).to_have_text(str(before + 10))

    # What is typed is stored with the job; the job itself is not.
    typed(page, "tab_mm").fill("9")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered")
    page.reload()
    expect(typed(page, "tab_mm")).to_have_value("9")
    expect(name).to_have_text("Rowanskerry Light Railway")
    expect(page.locator("[data-result=pieces] [data-part=shown]")).to_have_text(str(before + 10))
    stored = page.evaluate(READ_JOB)["job"]["calculators"]["sheet"]
    assert stored["inputs"]["tab_mm"] == "9 mm"
    assert not stored.get("files")


def test_a_sheet_that_must_not_go_in_is_refused_in_sight(page):
    typed(page, "part_used").check()
    verdict = page.locator("[data-result=verdict]")
    expect(verdict).to_contain_text("This sheet must not go into the printer")
    expect(page.locator("[data-result=layout]")).to_be_hidden()
    for field in ("cut_straight", "whole_edge_first", "no_tape"):
        typed(page, field).check()
    expect(verdict).to_contain_text("All of it fits")
