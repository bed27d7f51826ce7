"""Two tabs on one job: neither overwrites what the other has stored without a word."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.forms import READ_JOB, wait_for_stored
from tests.browser.jobs import field, names, put, row_by_id, saved_job

JOB = [{"id": "star", "name": "Star", "width": "12 mm"}, {"id": "band", "name": "Band", "width": "30 mm"}]


@pytest.fixture
def tabs(job_page, server, tmp_path) -> tuple[Page, Page]:
    """Two tabs with the same job."""
    job_page.locator("[data-does=open]").set_input_files(saved_job(tmp_path / "pair.zip", JOB))
    expect(job_page.locator(".dw-marking")).to_have_count(2)
    other = job_page.context.new_page()
    other.goto(f"{server.url}job/")
    expect(other.locator(".dw-marking")).to_have_count(2)
    return job_page, other


def stored(page: Page, marking: int, attribute: str):
    return page.evaluate(READ_JOB)["job"]["markings"][marking].get(attribute)


def test_a_value_that_another_tab_changed_meanwhile_is_not_overwritten(tabs):
    mine, other = tabs
    width = field(row_by_id(mine, "star"), "width")
    width.fill("20 mm")
    put(row_by_id(other, "star"), "width", "14 mm")
    wait_for_stored(mine, lambda found: found["job"]["markings"][0]["width"] == "14 mm")
    # Told of it, the tab leaves alone what is being typed.
    expect(width).to_have_value("20 mm")
    width.press("Tab")
    problem = row_by_id(mine, "star").locator(".dw-job-field:has([data-attribute=width]) .dw-problem")
    expect(problem).to_contain_text("Another tab has changed this to 14 mm. What you typed is not stored.")
    expect(width).to_have_value("20 mm")
    assert stored(mine, 0, "width") == "14 mm"
    # Nor does it go when the page is loaded again.
    mine.reload()
    expect(width).to_have_value("20 mm")
    problem.get_by_role("button", name="Store mine").tap()
    expect(problem).to_be_hidden()
    expect(field(row_by_id(other, "star"), "width")).to_have_value("20 mm")
    assert stored(mine, 0, "width") == "20 mm"


def test_a_field_that_has_the_focus_shows_what_another_tab_stored(tabs):
    mine, other = tabs
    width = field(row_by_id(mine, "star"), "width")
    width.focus()
    put(row_by_id(other, "star"), "width", "14 mm")
    expect(width).to_have_value("14 mm")
    expect(width).to_be_focused()


def test_edits_of_two_tabs_in_different_places_are_both_stored(tabs):
    mine, other = tabs
    field(row_by_id(mine, "star"), "width").fill("20 mm")
    put(row_by_id(other, "star"), "name", "Sun")
    put(row_by_id(other, "band"), "width", "31 mm")
    field(row_by_id(mine, "star"), "width").press("Tab")
    for page in tabs:
        expect(field(row_by_id(page, "star"), "width")).to_have_value("20 mm")
        expect(field(row_by_id(page, "band"), "width")).to_have_value("31 mm")
        assert names(page) == ["Sun", "Band"]


def test_a_marking_that_another_tab_deletes_goes_and_a_late_edit_of_it_is_named(tabs):
    mine, other = tabs
    row = row_by_id(other, "star")
    row.locator("summary").tap()
    # The first tab has not yet been told when it stores its edit.
    mine.evaluate("dwStore.dispatchEvent = () => true")
    row.get_by_role("button", name="Delete").tap()
    expect(other.locator(".dw-marking")).to_have_count(1)
    put(row_by_id(mine, "star"), "width", "20 mm")
    expect(mine.locator(".dw-job-trouble")).to_contain_text("Another tab has changed this job")
    assert [each["id"] for each in mine.evaluate(READ_JOB)["job"]["markings"]] == ["band"]


def test_a_model_is_not_deleted_once_another_tab_puts_a_marking_onto_it(tabs):
    mine, other = tabs
    mine.locator(".dw-job-models > summary").tap()
    mine.get_by_role("button", name="Add a model").tap()
    expect(mine.locator(".dw-model")).to_have_count(1)
    row = row_by_id(other, "star")
    row.locator("summary").tap()
    mine.evaluate("dwStore.dispatchEvent = () => true")
    model = field(row, "model")
    expect(model.locator("option")).to_have_count(2)
    model.select_option(index=1)
    wait_for_stored(other, lambda found: found["job"]["markings"][0].get("model"))
    mine.get_by_role("button", name="Delete this model").tap()
    expect(mine.locator(".dw-job-trouble")).to_contain_text("Put them onto another model first")
    assert len(other.evaluate(READ_JOB)["job"]["models"]) == 1
