"""The page of a job: its rows are edited in place, checked, saved, opened and read; nothing leaves the device."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from calculators.jobs.archive import read_saved
from calculators.jobs.check import checked
from tests.browser.forms import visitor, wait_for_stored
from tests.browser.jobs import (
    ALL_CHECKED,
    DEMO,
    asked_of,
    field,
    names,
    open_demo,
    put,
    row_by_id,
    saved_job,
    until,
    watch,
)
from tests.browser.test_look import axe
from tests.conftest import ROOT


@pytest.fixture
def page(job_page: Page) -> Page:
    return job_page


def test_the_demo_job_opens_with_every_verdict_by_one_tap(page):
    open_demo(page)
    assert names(page) == [each.name for each in DEMO.job.markings]
    for marking, verdicts in checked(DEMO.job, DEMO.measured):
        shown = page.locator(f".dw-marking[data-marking='{marking.id}']")
        expected = [f"{each.stage}: {each.words}" for each in verdicts.stages]
        assert shown.locator(".dw-job-verdict").all_text_contents() == expected, marking.id
        expect(shown.locator(".dw-marking-next")).to_have_text(verdicts.next)


def test_home_and_header_lead_to_the_job(job_device, server):
    page = job_device.new_page()
    page.goto(server.url)
    page.get_by_role("link", name="Open the demo job").tap()
    expect(page.locator(".dw-marking")).to_have_count(len(DEMO.job.markings))
    page.locator(".dw-home").tap()
    expect(page.locator(".dw-ways-in")).to_be_visible()
    page.locator(".dw-stages a").first.tap()
    expect(page.locator(".dw-ways-in")).to_have_count(0)
    page.locator(".dw-job-link").tap()
    # The same job as before: it is not opened again.
    expect(page.locator(".dw-marking")).to_have_count(len(DEMO.job.markings))
    expect(page.locator(".dw-job-link")).to_have_attribute("aria-current", "page")
    assert page.url == f"{server.url}job/"


def test_an_edited_row_is_checked_again_alone_and_stays(page, server):
    open_demo(page)
    crest = row_by_id(page, "crest")
    watch(page)
    field(crest, "width").fill("300 mm")
    field(crest, "width").press("Tab")
    until(lambda: "job-check" in asked_of(page), page)
    # The right one follows it.
    assert page.evaluate("asked.find(each => each.do === 'job-check').only") == ["crest", "crest-right"]
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    page.reload()
    expect(field(row_by_id(page, "crest"), "width")).to_have_value("300 mm")
    expect(row_by_id(page, "crest").locator(".dw-job-verdict").first).to_be_visible()
    assert page.evaluate("dwEngine.boots") == 0


@pytest.mark.parametrize("name", ["crest-200px.png", "fleet-number.svg"])
def test_a_chosen_picture_is_measured_once_and_judged(page, name):
    page.get_by_role("button", name="Add a marking").tap()
    marking = page.locator(".dw-marking")
    field(marking, "width").fill("9 mm")
    field(marking, "width").press("Tab")
    marking.locator("summary").tap()
    marking.locator("[data-does=picture]").set_input_files(ROOT / "content" / "demo" / name)
    expect(marking.locator(".dw-marking-picture img")).to_have_count(1)
    expect(marking.locator(".dw-job-verdict")).to_have_count(2)
    expect(marking.locator(".dw-job-verdict").nth(1)).to_contain_text("artwork: ")
    # The same picture is not measured again for another width.
    watch(page)
    field(marking, "width").fill("11 mm")
    field(marking, "width").press("Tab")
    until(lambda: "job-check" in asked_of(page), page)
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    assert "measure" not in asked_of(page)


def test_a_new_row_leaves_the_focus_to_a_reader_who_is_in_a_field_already(page):
    page.evaluate(
        """() => new MutationObserver(() => document.querySelector(".dw-marking [data-attribute=width]").focus())
        .observe(document.querySelector(".dw-job-markings"), { childList: true })"""
    )
    page.get_by_role("button", name="Add a marking").tap()
    expect(page.locator(".dw-job-status")).to_have_text("Marking 1 was added.")
    expect(field(page.locator(".dw-marking"), "width")).to_be_focused()


def test_a_file_that_is_no_picture_is_named_in_its_row(page):
    page.get_by_role("button", name="Add a marking").tap()
    marking = page.locator(".dw-marking")
    field(marking, "width").fill("9 mm")
    field(marking, "width").press("Tab")
    marking.locator("summary").tap()
    file = {"name": "notes.png", "mimeType": "image/png", "buffer": b"no picture"}
    marking.locator("[data-does=picture]").set_input_files(file)
    expect(marking.locator(".dw-marking-verdicts")).to_contain_text("notes.png")


def test_a_width_without_unit_is_in_the_unit_that_the_page_shows(page):
    page.get_by_role("button", name="Add a marking").tap()
    width = field(page.locator(".dw-marking"), "width")
    width.fill("12")
    width.press("Tab")
    expect(width).to_have_value("12 mm")
    page.locator(".dw-units").tap()
    width.fill("0.5")
    width.press("Tab")
    expect(width).to_have_value("0.5 in")


def test_bad_input_gets_a_sentence_beside_its_field_and_stays(page, subtests):
    open_demo(page)
    lining = row_by_id(page, "lining")
    for attribute, typed, sentence in (
        ("width", "ten", "Width takes a length from 0.1"),
        ("copies", "-1", "Copies takes a whole number from 0 to 1000"),
        ("copies", "1.5", "Copies takes a whole number from 0 to 1000"),
        ("name", " ", "Name takes 1 to 80 characters"),
    ):
        with subtests.test(f"{attribute} {typed}"):
            before = field(lining, attribute).input_value()
            field(lining, attribute).fill(typed)
            field(lining, attribute).press("Tab")
            problem = lining.locator(f".dw-job-field:has([data-attribute='{attribute}']) .dw-problem")
            expect(problem).to_contain_text(sentence)
            expect(field(lining, attribute)).to_have_attribute("aria-invalid", "true")
            page.reload()
            expect(field(lining, attribute)).to_have_value(typed)
            expect(problem).to_contain_text(sentence)
            field(lining, attribute).fill(before)
            field(lining, attribute).press("Tab")
            expect(problem).to_be_hidden()


def test_a_name_typed_before_there_is_a_job_is_that_of_the_job(page):
    about = page.locator(".dw-job-about")
    # It is judged once Python has started; by then the marking has made the job.
    put(about, "name", "Rowanskerry")
    page.get_by_role("button", name="Add a marking").tap()
    expect(page.locator(".dw-marking")).to_have_count(1)
    wait_for_stored(page, lambda found: found["job"].get("name") == "Rowanskerry" and found["job"]["markings"])
    expect(field(about, "name")).to_have_value("Rowanskerry")


def test_three_markings_are_added_and_one_deleted_and_undone_by_keyboard(page):
    for number in range(3):
        page.get_by_role("button", name="Add a marking").focus()
        page.keyboard.press("Enter")
        expect(page.locator(".dw-marking")).to_have_count(number + 1)
        expect(page.locator(".dw-marking [data-attribute=name]").nth(number)).to_be_focused()
        page.keyboard.type(f"Sign {number}")
        page.keyboard.press("Tab")
    expect(page.get_by_role("heading", name="3 markings")).to_be_visible()
    second = page.locator(".dw-marking").nth(1)
    second.locator("summary").focus()
    page.keyboard.press("Enter")
    second.get_by_role("button", name="Delete").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="2 markings")).to_be_visible()
    assert names(page) == ["Sign 0", "Sign 2"]
    page.get_by_role("button", name="Undo").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="3 markings")).to_be_visible()
    assert names(page) == ["Sign 0", "Sign 1", "Sign 2"]


def test_a_partner_follows_until_it_is_separated(page):
    page.get_by_role("button", name="Add a marking").tap()
    first = page.locator(".dw-marking").first
    field(first, "name").fill("Star")
    field(first, "name").press("Tab")
    field(first, "width").fill("12 mm")
    field(first, "width").press("Tab")
    first.locator("summary").tap()
    first.locator("[data-part=how]").select_option("mirrored")
    first.get_by_role("button", name="Add its partner").tap()
    second = page.locator(".dw-marking").nth(1)
    expect(field(second, "width")).to_have_value("12 mm")
    expect(field(second, "width")).to_be_disabled()
    second.locator("summary").tap()
    second.get_by_role("button", name="Separate").tap()
    expect(field(second, "width")).to_be_enabled()
    expect(field(second, "width")).to_have_value("12 mm")


def test_a_saved_job_opens_on_another_device_as_it_was(page, browser, server, tmp_path):
    open_demo(page)
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save as a file").tap()
    path = tmp_path / saving.value.suggested_filename
    saving.value.save_as(path)
    assert path.name == "Rowanskerry Light Railway.zip"
    saved = read_saved(path.read_bytes(), path.name)
    assert (saved.job.markings, saved.job.models) == (DEMO.job.markings, DEMO.job.models)
    assert (saved.files, saved.measured) == (DEMO.files, DEMO.measured)
    with visitor(browser) as other:
        fresh = other.new_page()
        fresh.goto(f"{server.url}job/")
        fresh.locator("[data-does=open]").set_input_files(path)
        expect(fresh.locator(".dw-marking")).to_have_count(len(DEMO.job.markings))
        expect(fresh.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
        assert names(fresh) == names(page)


def test_a_dropped_file_that_is_no_job_is_named_and_nothing_is_lost(page):
    open_demo(page)
    page.evaluate(
        "() => { const data = new DataTransfer(); data.items.add(new File(['no'], '<b>old</b>.zip'));"
        "document.dispatchEvent(new DragEvent('drop', {dataTransfer: data, cancelable: true})); }"
    )
    expect(page.locator(".dw-job-trouble")).to_contain_text("<b>old</b>.zip is not a saved job")
    assert names(page) == [each.name for each in DEMO.job.markings]


def test_markup_in_a_name_is_shown_as_text(page):
    page.get_by_role("button", name="Add a marking").tap()
    name = "<img src=x onerror=alert(1)>"
    first = page.locator(".dw-marking").first
    field(first, "name").fill(name)
    field(first, "name").press("Tab")
    expect(first.locator("summary")).to_have_attribute("aria-label", re.compile(re.escape(name)))
    assert page.locator("img[src=x]").count() == 0


def test_jobs_are_listed_opened_copied_and_deleted_with_undo(page):
    open_demo(page)
    page.locator(".dw-job-jobs > summary").tap()
    saved = page.locator(".dw-job-saved")
    expect(saved).to_have_count(1)
    page.get_by_role("button", name="Copy Rowanskerry Light Railway").tap()
    expect(saved).to_have_count(2)
    page.get_by_role("button", name="New job").tap()
    expect(saved).to_have_count(3)
    expect(page.locator(".dw-marking")).to_have_count(0)
    page.get_by_role("button", name="Delete Rowanskerry Light Railway", exact=True).tap()
    expect(saved).to_have_count(2)
    page.get_by_role("button", name="Undo").tap()
    expect(saved).to_have_count(3)
    page.get_by_role("button", name="Open Rowanskerry Light Railway", exact=True).tap()
    expect(page.locator(".dw-marking")).to_have_count(len(DEMO.job.markings))


def test_a_changed_paint_makes_its_rows_stale_and_one_tap_redoes_them(page):
    open_demo(page)
    page.locator(".dw-job-models > summary").tap()
    scale = page.locator(".dw-model").first.locator("[data-attribute=scale]")
    scale.fill("1:87")
    scale.press("Tab")
    on_railcar = sum(
        (DEMO.job.marking(each.partner.of) if each.partner else each).model == "railcar-12"
        for each in DEMO.job.markings
    )
    expect(page.locator(".dw-marking[data-stale]")).to_have_count(on_railcar)
    page.get_by_role("button", name=f"Check {on_railcar} rows").tap()
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    expect(page.locator(".dw-marking[data-stale]")).to_have_count(0)


def test_the_next_thing_leads_to_a_calculator_that_works_on_that_marking(page):
    open_demo(page)
    lining = row_by_id(page, "lining")
    lining.locator(".dw-job-verdict").first.tap()
    page.wait_for_url("**/size/scale-size/*")
    chosen = page.evaluate("JSON.parse(sessionStorage.getItem('decalwright-current')).marking")
    assert chosen == "lining"


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_a_full_list(page, scheme):
    page.emulate_media(color_scheme=scheme)
    open_demo(page)
    page.locator(".dw-marking summary").first.tap()
    for part in ("models", "sheet", "jobs"):
        page.locator(f".dw-job-{part} > summary").tap()
    expect(page.locator(".dw-job-saved")).to_have_count(1)
    assert axe(page) == []


def test_three_hundred_markings_are_listed_and_only_rows_in_view_are_drawn(page, tmp_path):
    markings = [{"id": f"m-{at}", "name": f"M {at}", "width": "9 mm"} for at in range(300)]
    path = saved_job(tmp_path / "many.zip", markings)
    page.locator("[data-does=open]").set_input_files(path)
    expect(page.locator(".dw-marking")).to_have_count(300)
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    expect(page.locator(".dw-job-verdict")).to_have_count(300)
    drawn = page.locator(".dw-marking").evaluate_all(
        "all => all.filter(each => each.firstElementChild.checkVisibility({contentVisibilityAuto: true})).length"
    )
    assert 0 < drawn < 100
