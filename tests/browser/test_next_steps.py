"""The job goes on by its next steps; what goes along is labelled, and a new picture
asks again for what belonged to the old one.
"""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.forms import (
    answered,
    open_calculator,
    problem,
    result_text,
    type_again,
    typed,
    values,
    visitor,
    wait_for_stored,
)
from tests.conftest import ROOT
from tests.hostile.made import saved

CREST = ROOT / "content" / "demo" / "crest-600px-enlarged.png"


def choose(page: Page, name: str, width: int = 60) -> None:
    page.set_input_files(
        "#in-picture", {"name": name, "mimeType": "image/png", "buffer": saved("RGB", (width, 30), "PNG")}
    )
    expect(page.locator(".dw-drop-name")).to_have_text(name)


def go_on(page: Page, path: str) -> None:
    """Take the next step that leads to a page."""
    page.locator(f'.dw-next a[href$="{path}/"]').click()
    page.wait_for_url(re.compile(f"/{path}/$"))
    if page.locator(".dw-calculator").count():
        answered(page)


def origin(page: Page, field: str) -> Locator:
    """What a field says of where its value came from."""
    return page.locator(f'[id="filled-{field}"]')


def test_next_steps_lead_from_home_to_the_underlay(context, workbench_server):
    page = context.new_page()
    page.goto(workbench_server.url)
    go_on(page, "size/scale-size")
    # 500 mm at 1:50 are 10 mm. Nothing is typed twice from here on.
    typed(page, "full_size_mm").fill("500")
    typed(page, "scale").fill("1:50")
    typed(page, "printer").select_option("laser")
    expect(result_text(page, "model_size_mm")).to_have_text("10.00")
    go_on(page, "artwork/picture-check")
    expect(typed(page, "own_width_mm")).to_have_value("10.00")
    expect(origin(page, "own_width_mm")).to_have_text("From “How big is it on the model?”")
    expect(origin(page, "printer")).to_have_text("From “How big is it on the model?”")
    page.set_input_files("#in-picture", CREST)
    expect(result_text(page, "width_px")).to_have_text("600")
    expect(result_text(page, "printed_width_mm")).to_have_text("10.00")
    expect(typed(page, "own_width_mm")).to_have_value("10.00")
    go_on(page, "artwork/white-areas")
    expect(page.locator(".dw-drop-name")).to_have_text(CREST.name)
    expect(origin(page, "picture")).to_have_text("From “What does this picture really hold?”")
    expect(typed(page, "own_width_mm")).to_have_value("10.00")
    go_on(page, "underlay/underlay")
    expect(page.locator(".dw-drop-name")).to_have_text(CREST.name)
    expect(typed(page, "own_width_mm")).to_have_value("10.00")
    expect(typed(page, "printer")).to_have_value("laser")
    expect(origin(page, "own_width_mm")).to_have_text("From “How big is it on the model?”")
    expect(page.locator(".dw-next a").first).to_be_visible()


def test_the_worked_example_takes_nothing_along(at):
    page = at("size/scale-size")
    go_on(page, "artwork/picture-check")
    expect(page.locator("[data-note=shared]")).to_have_count(0)
    expect(typed(page, "width_mm")).to_be_visible()


def test_another_picture_asks_again_for_its_width(at):
    page = at("artwork/picture-check")
    choose(page, "first.png")
    type_again(page, "width_mm", "20")
    expect(result_text(page, "printed_ppi")).to_have_text("76.2")
    choose(page, "second.png", width=90)
    expect(typed(page, "width_mm")).to_have_value("")
    expect(page.locator("[data-note=again]")).to_contain_text("Printed width")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "stale")
    # What belongs to no picture stays.
    expect(typed(page, "viewing_distance_mm")).to_have_value("300")
    page.locator("[data-note=again] .dw-note-action").click()
    expect(typed(page, "width_mm")).to_have_value("20")
    expect(result_text(page, "printed_ppi")).to_have_text("114")


def test_a_first_picture_asks_for_the_width_that_the_example_had(at):
    page = at("artwork/picture-check")
    expect(typed(page, "width_mm")).to_have_value("14")
    choose(page, "first.png")
    expect(typed(page, "width_mm")).to_have_value("")
    expect(page.locator("[data-note=again]")).to_contain_text("own picture")
    expect(page.locator("[data-note=again]")).to_contain_text("Printed width")
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "stale")
    expect(page.locator(".dw-problems")).to_be_hidden()
    expect(page.locator("[data-note=again] .dw-note-action")).to_have_count(0)
    expect(origin(page, "width_mm")).to_have_text("Type it for this picture.")
    typed(page, "width_mm").fill("14")
    expect(origin(page, "width_mm")).to_have_count(0)
    # 60 pixels on 14 mm.
    expect(result_text(page, "printed_ppi")).to_have_text("109")


def test_a_first_picture_keeps_a_width_that_the_reader_typed(at):
    page = at("artwork/picture-check")
    # Even where it is the example's own.
    typed(page, "width_mm").fill("20")
    typed(page, "width_mm").fill("14")
    choose(page, "first.png")
    expect(result_text(page, "printed_ppi")).to_have_text("109")
    expect(page.locator("[data-note=again]")).to_have_count(0)


def test_the_worked_example_returns_whole_without_a_picture(at):
    page = at("artwork/picture-check")
    choose(page, "first.png")
    expect(typed(page, "width_mm")).to_have_value("")
    page.locator(".dw-drop-remove").click()
    expect(typed(page, "width_mm")).to_have_value("14")
    expect(origin(page, "width_mm")).to_have_count(0)
    answered(page)
    choose(page, "second.png", width=90)
    expect(typed(page, "width_mm")).to_have_value("")


def test_a_removed_picture_leaves_its_width_to_no_other(at):
    page = at("artwork/picture-check")
    choose(page, "first.png")
    type_again(page, "width_mm", "20")
    expect(result_text(page, "printed_ppi")).to_have_text("76.2")
    page.locator(".dw-drop-remove").click()
    choose(page, "second.png", width=90)
    expect(typed(page, "width_mm")).to_have_value("")
    expect(page.locator("[data-note=again]")).to_contain_text("belonged to the last one: Printed width")


@pytest.mark.parametrize("path", ["artwork/white-areas", "artwork/trace", "artwork/clean-picture", "underlay/underlay"])
def test_a_new_picture_is_shown_while_its_answer_waits(at, path):
    page = at(path)
    if path == "artwork/clean-picture":
        # It needs no width, so another of its fields keeps it waiting.
        page.evaluate("document.querySelectorAll('.dw-form details').forEach(each => { each.open = true })")
        typed(page, "colours").fill("many")
        expect(page.locator(".dw-answer")).to_have_attribute("data-state", "stale")
    choose(page, "first.png", width=90)
    shown = page.locator(".dw-work-picture > .dw-awaiting")
    expect(shown).to_be_visible()
    expect(shown).to_have_attribute("src", re.compile("^blob:"))
    expect(shown).to_have_js_property("naturalWidth", 90)
    expect(page.locator(".dw-work-picture > :visible")).to_have_count(1)
    if path == "artwork/clean-picture":
        typed(page, "colours").fill("3")
    else:
        type_again(page, "width_mm", "20")
    answered(page)
    expect(shown).to_have_count(0)


def test_a_picture_carried_over_without_a_width_asks_for_it(at):
    choose(at("artwork/clean-picture"), "first.png")
    page = at("artwork/white-areas", answers=False)
    expect(page.locator(".dw-drop-name")).to_have_text("first.png")
    expect(typed(page, "width_mm")).to_have_value("")
    expect(page.locator("[data-note=unfilled]")).to_contain_text("Printed width")


def test_the_same_picture_chosen_again_asks_for_nothing(at):
    page = at("artwork/picture-check")
    choose(page, "first.png")
    type_again(page, "width_mm", "20")
    expect(result_text(page, "printed_ppi")).to_have_text("76.2")
    choose(page, "again.png")
    answered(page)
    expect(typed(page, "width_mm")).to_have_value("20")


def test_a_width_of_another_picture_is_not_carried_over(at):
    first = at("artwork/picture-check")
    choose(first, "first.png")
    type_again(first, "width_mm", "20")
    expect(result_text(first, "printed_ppi")).to_have_text("76.2")
    # A calculator that asks for no width takes the first picture, and is given another.
    cleaner = at("artwork/clean-picture")
    expect(cleaner.locator(".dw-drop-name")).to_have_text("first.png")
    choose(cleaner, "second.png", width=90)
    wait_for_stored(cleaner, lambda found: values(found)["picture"]["file"]["name"] == "second.png")
    # One that was never used takes the second picture and asks for its width; one that
    # was used does so on the reader's word.
    fresh = at("artwork/white-areas", answers=False)
    expect(fresh.locator(".dw-drop-name")).to_have_text("second.png")
    expect(typed(fresh, "width_mm")).to_have_value("")
    again = at("artwork/picture-check")
    expect(typed(again, "width_mm")).to_have_value("20")
    again.locator("[data-note=shared] .dw-note-action").click()
    expect(again.locator(".dw-drop-name")).to_have_text("second.png")
    expect(typed(again, "width_mm")).to_have_value("")


def test_shared_values_name_their_source_until_typed_here(at):
    typed(at("size/scale-size"), "scale").fill("1:76")
    page = at("size/full-size")
    expect(typed(page, "scale")).to_have_value("1:76")
    expect(origin(page, "scale")).to_have_text("From “How big is it on the model?”")
    page.reload()
    expect(origin(page, "scale")).to_have_text("From “How big is it on the model?”")
    typed(page, "scale").fill("1:87")
    expect(origin(page, "scale")).to_have_count(0)


def test_a_series_is_drawn_and_kept_as_the_rows_of_its_marking(browser, server):
    with visitor(browser) as device:
        page = open_calculator(device, f"{server.url}size/lettering/")
        typed(page, "draw").select_option("series")
        typed(page, "series").fill("33 84 4796 100 to 33 84 4796 102, 12 é")
        expect(problem(page, "series")).to_contain_text("These characters are not drawn: é. The alphabet has A to Z")
        typed(page, "rule").select_option("uic-number")
        typed(page, "height_mm").fill("120")
        typed(page, "series").fill("33 84 4796 100 to 33 84 4796 102\n33 84 4796 103-2 x 3")
        # UIC 438, from memory: the check digit of 33 84 4796 100 is 8.
        expect(page.locator("[data-result=texts]")).to_contain_text("33 84 4796 100-8")
        answered(page)
        step = page.locator('.dw-next a[href$="job/"]')
        expect(step).to_have_text("Keep these 4 texts as the rows of this marking")
        step.click()
        expect(page.locator(".dw-job-undo")).to_contain_text("4 texts are now the series of")
        rows = wait_for_stored(page, lambda found: found["job"]["markings"][0].get("rows"))["job"]["markings"][0][
            "rows"
        ]
        assert (rows[0]["text"], rows[3]) == ("33 84 4796 100-8", {"text": "33 84 4796 103-2", "copies": 3})


def test_a_measured_error_goes_along_to_every_sheet(at):
    page = at("sheet/print-error")
    read = {"across_mm": "178.7", "down_mm": "180.7", "falling_mm": "254.6", "rising_mm": "253.7"}
    for place in (0, 1):
        for name, text in read.items():
            typed(page, f"prints[{place}].{name}").fill(text)
    expect(result_text(page, "down")).to_have_text("1.0039")
    errors = result_text(page, "errors").inner_text()
    assert errors.startswith("inkjet-pigment on clear: 0.99278 across, 1.00389 down")
    page.locator(".dw-next a[data-carries]").click()
    page.wait_for_url(re.compile("/sheet/sheet/$"))
    expect(typed(page, "errors")).to_have_value(errors)
    # A second film is added to what the job knows by now.
    page.go_back()
    expect(typed(page, "known")).to_have_value(errors)
    expect(page.locator("[data-note=shared]")).to_have_count(0)
