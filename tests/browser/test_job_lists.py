"""Rows from a spreadsheet on the page of a job: read, named by row and column where they cannot be, and written."""

from __future__ import annotations

import csv
import io
import re

import pytest
from playwright.sync_api import Page, expect

from calculators.jobs.lists import headings
from tests.browser.jobs import DEMO, field, names, open_demo, paste, put
from tests.calculators.jobs.test_lists import mistaken


@pytest.fixture
def page(job_page: Page) -> Page:
    return job_page


def test_pasted_rows_are_read_and_mistakes_named_by_row_and_column(page):
    rows = [["Name", "Width", "Copies"], ["Star", "12,5 mm", "2"], ["Band", "wide", "1"], ["Bar", "3 mm", "many"]]
    paste(page, "\n".join("\t".join(each) for each in rows))
    problems = page.locator(".dw-job-problems li")
    expect(problems).to_have_count(2)
    assert [re.match(r"row \d, \w+", each)[0] for each in problems.all_inner_texts()] == [
        "row 3, Width",
        "row 4, Copies",
    ]
    page.get_by_role("button", name="Put 1 marking into the job").tap()
    expect(page.locator(".dw-marking")).to_have_count(1)
    assert names(page) == ["Star"]
    left = page.get_by_label("Rows", exact=True).input_value().split("\n")
    assert [each.split("\t") for each in left] == [rows[0], *rows[2:]]


def test_columns_of_other_names_are_chosen_on_the_page(page):
    paste(page, "Sign;Wide\nStar;12 mm\n")
    page.get_by_label("The column Sign is").select_option("Name")
    page.get_by_label("The column Wide is").select_option("Width")
    page.get_by_role("button", name="Put 1 marking into the job").tap()
    expect(field(page.locator(".dw-marking"), "width")).to_have_value("12 mm")


def test_the_list_is_saved_as_csv_that_opens_to_the_same_list(page, tmp_path):
    open_demo(page)
    page.locator(".dw-job-sheet > summary").tap()
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save the list as CSV").tap()
    path = tmp_path / "list.csv"
    saving.value.save_as(path)
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8-sig"))))
    assert rows[0] == headings() and len(rows) == 1 + len(DEMO.job.markings)
    page.locator("[data-does=open-csv]").set_input_files(path)
    expect(page.locator("[data-part=read]")).to_have_text(f"{len(DEMO.job.markings)} rows were read.")


@pytest.mark.parametrize("encoding", ["utf-8-sig", "cp1252"])
def test_twenty_mistakes_in_300_rows_are_named_on_the_page(page, encoding):
    text, places = mistaken()
    # Without a letter beyond ASCII the two would be the same.
    file = {
        "name": "livery.csv",
        "mimeType": "text/csv",
        "buffer": text.replace("Marking", "Türschild").encode(encoding),
    }
    page.locator("[data-does=open-csv]").set_input_files(file)
    expect(page.locator("[data-part=read]")).to_have_text("280 rows were read. 20 problems:")
    problems = page.locator(".dw-job-problems li").all_inner_texts()
    assert sorted(each.split(":")[0] for each in problems) == sorted(places)
    page.get_by_role("button", name="Put 280 markings into the job").tap()
    expect(page.locator(".dw-marking")).to_have_count(280)
    lines = list(csv.reader(io.StringIO(text), delimiter=";"))[1:]
    wrong = {int(each.split(",")[0].removeprefix("row ")) for each in places}
    right = [row[0] for number, row in enumerate(lines, 2) if number not in wrong]
    assert names(page) == [each.replace("Marking", "Türschild") for each in right]
    # The others are still there to be mended.
    left = page.get_by_label("Rows", exact=True).input_value().split("\n")
    assert len(left) == 21 and left[1].startswith("Türschild 7\t")


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_each_separator_and_decimal_commas_are_read_on_the_page(page, between):
    made = io.StringIO()
    csv.writer(made, delimiter=between).writerows([["Name", "Width"], ["=1+1", "12,5"]])
    paste(page, made.getvalue())
    page.get_by_role("button", name="Put 1 marking into the job").tap()
    row = page.locator(".dw-marking")
    expect(field(row, "width")).to_have_value("12,5")
    assert names(page) == ["=1+1"]


def test_rows_are_not_put_into_a_job_that_another_tab_has_changed(page, server):
    paste(page, "Name;Width\nStar;12 mm\n")
    take = page.get_by_role("button", name="Put 1 marking into the job")
    expect(take).to_be_visible()
    other = page.context.new_page()
    other.goto(f"{server.url}job/")
    other.get_by_role("button", name="Add a marking").tap()
    put(other.locator(".dw-marking"), "name", "Band")
    expect(page.locator(".dw-marking [data-attribute=name]")).to_have_value("Band")
    page.bring_to_front()
    take.tap()
    expect(page.locator(".dw-job-trouble")).to_contain_text("Another tab has changed this job")
    assert names(page) == ["Band"]
    assert page.get_by_label("Rows", exact=True).input_value() == "Name;Width\nStar;12 mm\n"
