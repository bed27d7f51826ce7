"""What a job has available, and the series of its markings, on the page of a job."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page, expect

from calculators.jobs.model import read_job
from tests.browser.forms import READ_JOB, wait_for_stored
from tests.browser.jobs import checks_all, field, put, row_by_id, saved_job

ERRORS = "laser on clear: 0.99300 across, 1.00400 down, 0.200° slant"


@pytest.fixture
def page(job_page: Page, tmp_path) -> Page:
    """A job of one marking, checked, in which a printer was measured."""
    marking = {"id": "number", "name": "Number", "width": "12 mm"}
    path = saved_job(tmp_path / "fleet.zip", [marking], available={"printer_errors": ERRORS})
    job_page.locator("[data-does=open]").set_input_files(path)
    expect(job_page.locator(".dw-marking")).to_have_count(1)
    checks_all(job_page)
    return job_page


@pytest.fixture
def series(page: Page) -> Locator:
    """The unfolded series of the marking."""
    row = row_by_id(page, "number")
    row.locator(".dw-marking-more > summary").tap()
    row.locator(".dw-marking-series > summary").tap()
    return row.locator(".dw-marking-series")


def add(series: Locator, text: str, copies: str = "1") -> Locator:
    """Add one to a series, whose text then has the focus."""
    rows = series.locator(".dw-series-row")
    count = rows.count()
    series.get_by_role("button", name="Add one to the series").tap()
    expect(rows).to_have_count(count + 1)
    expect(field(rows.nth(count), "text")).to_be_focused()
    put(rows.nth(count), "text", text)
    put(rows.nth(count), "copies", copies)
    return rows.nth(count)


def stored(page: Page, holds) -> dict:
    """Return the marking once it is stored so."""
    found = wait_for_stored(page, lambda found: holds(found["job"]["markings"][0]))
    read_job(found["job"])
    return found["job"]["markings"][0]


def test_a_series_is_added_counted_and_stays(page, series):
    add(series, "12")
    second = add(series, "13", "2")
    put(second, "bench.printed", "1")
    row = row_by_id(page, "number")
    expect(row.locator(".dw-marking-more > summary")).to_contain_text("2 in the series · 1 of 3 printed")
    # Copies and counts are those of the series now.
    expect(field(row.locator(".dw-marking-line"), "copies")).to_have_value("3")
    expect(field(row.locator(".dw-marking-line"), "copies")).to_be_disabled()
    expect(row.locator(".dw-marking-bench")).to_be_hidden()
    rows = stored(page, lambda marking: marking["rows"][1].get("bench"))["rows"]
    assert rows[0]["text"] == "12" and rows[1] == {"text": "13", "copies": 2, "bench": {"printed": 1}}
    page.reload()
    expect(row.locator(".dw-marking-more > summary")).to_contain_text("2 in the series · 1 of 3 printed")
    row.locator(".dw-marking-more > summary").tap()
    row.get_by_role("button", name="Add its partner").tap()
    partner = page.locator(".dw-marking").nth(1)
    summary = partner.locator(".dw-marking-more > summary")
    expect(summary).to_contain_text("2 in the series · 0 of 3 printed")
    summary.tap()
    put(partner.locator(".dw-marking-bench"), "bench.printed", "2")
    expect(summary).to_contain_text("2 in the series · 2 of 3 printed")
    partner.get_by_role("button", name="Separate").tap()
    expect(field(partner, "width")).to_be_enabled()
    expect(summary).to_contain_text("2 in the series · 2 of 3 printed")
    expect(row.locator(".dw-marking-more > summary")).to_contain_text("1 of 3 printed")


def test_what_a_series_does_not_take_stays_beside_its_sentence_and_follows_its_row(page, series):
    add(series, "12")
    wrong = add(series, "13", "many")
    sentence = wrong.locator(".dw-job-field:has([data-attribute=copies]) .dw-problem")
    expect(sentence).to_contain_text("Copies takes a whole number from 0 to 1000")
    series.get_by_role("button", name="Remove 12 from the series").tap()
    rows = series.locator(".dw-series-row")
    expect(rows).to_have_count(1)
    page.reload()
    row = row_by_id(page, "number")
    row.locator(".dw-marking-more > summary").tap()
    expect(field(rows.first, "text")).to_have_value("13")
    expect(field(rows.first, "copies")).to_have_value("many")
    expect(rows.first.locator(".dw-problem:not([hidden])")).to_contain_text("Copies takes a whole number")


def test_a_removed_one_of_a_series_comes_back_in_its_place(page, series):
    for text in ("12", "13", "14"):
        add(series, text)
    series.get_by_role("button", name="Remove 13 from the series").tap()
    expect(series.locator(".dw-series-row")).to_have_count(2)
    page.get_by_role("button", name="Undo").tap()
    expect(series.locator(".dw-series-row")).to_have_count(3)
    assert [each["text"] for each in stored(page, lambda marking: len(marking["rows"]) == 3)["rows"]] == [
        "12",
        "13",
        "14",
    ]


def test_a_partner_shows_the_series_of_its_twin_and_changes_nothing_in_it(page, series):
    add(series, "12")
    row = row_by_id(page, "number")
    row.get_by_role("button", name="Add its partner").tap()
    partner = page.locator(".dw-marking").nth(1)
    partner.locator(".dw-marking-more > summary").tap()
    partner.locator(".dw-marking-series > summary").tap()
    expect(field(partner.locator(".dw-series-row"), "text")).to_have_value("12")
    expect(field(partner.locator(".dw-series-row"), "text")).to_be_disabled()
    expect(partner.get_by_role("button", name="Add one to the series")).to_be_disabled()


def test_what_there_is_to_work_with_is_chosen_and_stays(page):
    page.locator(".dw-job-available > summary").tap()
    there = page.locator(".dw-job-available")
    # Pages that judge it change it.
    expect(field(there, "available.printer_errors")).to_have_value(ERRORS)
    expect(field(there, "available.printer_errors")).not_to_be_editable()
    for label in ("Laser", "Inkjet, dye ink", "White film", "White paint by brush"):
        there.get_by_label(label, exact=True).tap()
    put(there, "available.viewing_distance", "far away")
    problem = there.locator(".dw-job-grid .dw-problem")
    expect(problem).to_be_visible()
    put(there, "available.viewing_distance", "50 cm")
    expect(problem).to_be_hidden()
    there.get_by_label("Inkjet, dye ink", exact=True).tap()
    expected = {
        "printers": ["laser"],
        "films": ["white"],
        "whites": ["white-paint-brush"],
        "viewing_distance": "50 cm",
        "printer_errors": ERRORS,
    }
    wait_for_stored(page, lambda found: found["job"].get("available") == expected)
    read_job(page.evaluate(READ_JOB)["job"])
    page.reload()
    there.locator("summary").tap()
    expect(there.get_by_label("Laser", exact=True)).to_be_checked()
    expect(there.get_by_label("Inkjet, dye ink", exact=True)).not_to_be_checked()
    expect(field(there, "available.viewing_distance")).to_have_value("50 cm")


def test_a_calculator_starts_from_the_printer_that_there_is(page, server):
    page.locator(".dw-job-available > summary").tap()
    page.locator(".dw-job-available").get_by_label("Laser", exact=True).tap()
    wait_for_stored(page, lambda found: found["job"].get("available", {}).get("printers") == ["laser"])
    page.goto(f"{server.url}size/scale-size/")
    expect(page.locator("#in-printer")).to_have_value("laser")


def test_texts_carried_from_their_drawing_become_the_series(job_page: Page, tmp_path):
    rows = [{"text": "12", "copies": 1, "bench": {"printed": 1}}, {"text": "30", "copies": 4}]
    carried = {"rows": {"text": '[["12",2],["13",1]]'}}
    marking = {"id": "number", "name": "Number", "width": "12 mm", "rows": rows, "values": carried}
    job_page.locator("[data-does=open]").set_input_files(saved_job(tmp_path / "fleet.zip", [marking]))
    undo = job_page.locator(".dw-job-undo")
    expect(undo).to_contain_text("2 texts are now the series of Number")
    (stored,) = read_job(job_page.evaluate(READ_JOB)["job"]).markings
    assert [(row.text, row.copies, row.bench.printed) for row in stored.rows] == [("12", 2, 1), ("13", 1, 0)]
    assert "rows" not in stored.values
    undo.get_by_role("button").tap()
    wait_for_stored(
        job_page, lambda found: [row["text"] for row in found["job"]["markings"][0]["rows"]] == ["12", "30"]
    )
