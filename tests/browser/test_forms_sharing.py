"""Calculators of a job share their input without overwriting each other's."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.forms import (
    READ_JOB,
    answered,
    entries,
    problem,
    result_text,
    type_again,
    typed,
    values,
    wait_for_stored,
)
from tests.hostile.made import saved

#: Lets what is stored come a second late, as on a busy device.
LATE_STORE = """
const listen = EventTarget.prototype.addEventListener;
IDBOpenDBRequest.prototype.addEventListener = function (type, act, ...more) {
  const late = (event) => setTimeout(() => act.call(this, event), 1000);
  listen.call(this, type, type === "success" ? late : act, ...more);
};
"""


def choose(page: Page, name: str, width: int, height: int) -> None:
    page.set_input_files(
        "#in-picture", {"name": name, "mimeType": "image/png", "buffer": saved("RGB", (width, height), "PNG")}
    )
    expect(page.locator(".dw-drop-name")).to_have_text(name)


def choose_and_type(page: Page, name: str, width: int, height: int, mm: str = "14") -> None:
    """Choose a picture over the worked example, type the width that it asks for, and wait for the answer."""
    choose(page, name, width, height)
    type_again(page, "width_mm", mm)
    answered(page)


def shared_note(page: Page):
    return page.locator("[data-note=shared]")


def test_untouched_forms_take_shared_picture_and_width(at):
    first = at("artwork/resolution")
    choose(first, "crest.png", 60, 30)
    type_again(first, "width_mm", "2 in")
    expect(result_text(first, "printed_ppi")).to_have_text("30.0")
    second = at("artwork/picture-check")
    expect(shared_note(second)).to_contain_text("Picture, Printed width")
    expect(second.locator(".dw-drop-name")).to_have_text("crest.png")
    expect(typed(second, "width_mm")).to_have_value("2 in")
    expect(result_text(second, "printed_height_mm")).to_have_text("25.40")


def test_the_same_picture_chosen_early_keeps_its_width(context, at):
    choose_and_type(at("artwork/resolution"), "crest.png", 60, 30)
    context.add_init_script(LATE_STORE)
    second = at("artwork/picture-check", answers=False)
    choose(second, "crest.png", 60, 30)
    answered(second)
    expect(typed(second, "width_mm")).to_have_value("14")
    expect(second.locator("[data-note=again]")).to_have_count(0)
    found = wait_for_stored(second, lambda found: "picture-check" in entries(found))
    assert entries(found)["picture-check"]["inputs"]["width_mm"] == "14 mm"


def test_another_picture_chosen_early_can_take_the_stored_width(context, at):
    choose_and_type(at("artwork/resolution"), "crest.png", 60, 30)
    context.add_init_script(LATE_STORE)
    second = at("artwork/picture-check", answers=False)
    choose(second, "number.png", 80, 20)
    expect(typed(second, "width_mm")).to_have_value("")
    second.locator("[data-note=again] .dw-note-action").click()
    expect(typed(second, "width_mm")).to_have_value("14")
    answered(second)
    expect(result_text(second, "printed_height_mm")).to_have_text("3.50")


def test_one_press_restores_the_worked_example(at):
    choose_and_type(at("artwork/resolution"), "crest.png", 60, 30)
    second = at("artwork/picture-check")
    shared_note(second).locator(".dw-note-action").click()
    expect(second.locator(".dw-drop-name")).not_to_have_text("crest.png")
    expect(shared_note(second)).to_have_count(0)
    answered(second)


def test_own_values_stay_until_the_reader_accepts_shared_ones(at):
    typed(at("artwork/picture-check"), "width_mm").fill("20")
    own = at("artwork/resolution")
    expect(typed(own, "width_mm")).to_have_value("20")
    typed(own, "width_mm").fill("30")
    expect(result_text(own, "printed_ppi")).to_have_text("169")
    second = at("artwork/picture-check")
    expect(typed(second, "width_mm")).to_have_value("20")
    expect(shared_note(second)).to_contain_text("Printed width")
    shared_note(second).locator(".dw-note-action").click()
    expect(typed(second, "width_mm")).to_have_value("30")
    expect(result_text(second, "printed_height_mm")).to_have_text("30.00")
    second.reload()
    expect(typed(second, "width_mm")).to_have_value("30")
    expect(shared_note(second)).to_have_count(0)


def test_viewing_a_calculator_changes_no_shared_value(at):
    choose_and_type(at("artwork/picture-check"), "crest.png", 60, 30)
    own = at("artwork/resolution")
    shared_note(own).locator(".dw-note-action").click()
    typed(own, "viewing_distance_mm").fill("500")
    expect(own.locator(".dw-drop-name")).not_to_have_text("crest.png")
    answered(own)
    wait_for_stored(own, lambda found: entries(found)["resolution"]["inputs"]["viewing_distance_mm"] == "500 mm")
    assert values(own.evaluate(READ_JOB))["picture"]["file"]["name"] == "crest.png"


def test_a_generated_file_is_shared_with_other_calculators(at):
    maker = at("artwork/small-kinds")
    typed(maker, "name").fill("Otter")
    expect(result_text(maker, "shown")).to_have_text("Otter")
    maker.locator(".dw-keep").click()
    expect(shared_note(maker)).to_contain_text("label.txt")
    taker = at("underlay/colour-rows")
    expect(taker.locator(".dw-drop-name")).to_have_text("label.txt")
    expect(result_text(taker, "notes")).to_have_text("Otter\n", use_inner_text=False)


def test_generated_outlines_are_used_only_where_accepted(at):
    choose_and_type(at("artwork/resolution"), "crest.png", 60, 30)
    maker = at("artwork/made-outlines")
    maker.locator(".dw-keep").click()
    expect(shared_note(maker)).to_contain_text("square.svg")
    taker = at("underlay/underlay", answers=False)
    expect(taker.locator(".dw-drop-name")).to_have_text("square.svg")
    expect(shared_note(taker)).to_contain_text("Picture")
    # The width that was typed is that of the crest.
    type_again(taker, "width_mm", "14")
    answered(taker)
    expect(taker.locator("[data-result=colours] tbody tr")).to_have_count(1)
    expect(taker.locator("[data-result=colours] tbody th")).to_contain_text("#b82a2a")
    whites = at("artwork/white-areas")
    expect(whites.locator(".dw-drop-name")).to_have_text("square.svg")
    answered(whites)
    expect(whites.locator(".dw-verdict")).to_contain_text("For this check the outlines become")
    expect(whites.locator(".dw-figure image")).to_have_attribute("href", re.compile("^blob:"))
    # A calculator that needs pixels keeps using them.
    pixels = at("artwork/picture-check", answers=False)
    expect(pixels.locator(".dw-drop-name")).to_have_text("crest.png")


def test_the_later_of_a_picture_and_its_outlines_is_offered(at):
    own = at("underlay/underlay")
    typed(own, "markings").fill("3")
    answered(own)
    maker = at("artwork/made-outlines")
    maker.locator(".dw-keep").click()
    expect(shared_note(maker)).to_contain_text("square.svg")
    again = at("underlay/underlay")
    expect(shared_note(again)).to_contain_text("You have since changed these in another calculator: Picture")
    shared_note(again).locator(".dw-note-action").click()
    expect(again.locator(".dw-drop-name")).to_have_text("square.svg")
    type_again(again, "width_mm", "14")
    answered(again)
    # Stored, and not offered again.
    again.reload()
    expect(again.locator(".dw-drop-name")).to_have_text("square.svg")
    expect(shared_note(again)).to_have_count(0)
    choose_and_type(at("artwork/picture-check"), "later.png", 60, 30, mm="20")
    last = at("underlay/underlay")
    expect(last.locator(".dw-drop-name")).to_have_text("square.svg")
    expect(shared_note(last)).to_contain_text("Picture")
    shared_note(last).locator(".dw-note-action").click()
    expect(last.locator(".dw-drop-name")).to_have_text("later.png")
    # The width that was here is that of the outlines.
    expect(typed(last, "width_mm")).to_have_value("20")
    answered(last)
    underlay = wait_for_stored(
        last, lambda found: entries(found)["underlay"]["files"]["picture"]["name"] == "later.png"
    )
    shared = values(underlay)
    assert shared["picture"]["file"]["name"] == "later.png" and shared["outlines"]["file"]["name"] == "square.svg"
    assert shared["picture"]["at"] > shared["outlines"]["at"]


def test_dropped_outlines_are_not_shared_as_a_picture(at):
    own = at("underlay/underlay")
    svg = b'<svg width="9mm" height="9mm" viewBox="0 0 9 9"><path fill="#b82a2a" d="M1 1H8V8H1Z"/></svg>'
    own.set_input_files("#in-picture", {"name": "square.svg", "mimeType": "image/svg+xml", "buffer": svg})
    expect(own.locator(".dw-drop-name")).to_have_text("square.svg")
    type_again(own, "width_mm", "14")
    expect(own.locator("[data-result=colours] tbody th")).to_have_count(1)
    expect(own.locator("[data-result=colours] tbody th")).to_contain_text("#b82a2a")
    wait_for_stored(own, lambda found: {"outlines", "picture"} & set(values(found)) == {"outlines"})
    assert at("artwork/picture-check").locator(".dw-drop-name").inner_text() != "square.svg"
    own.locator(".dw-drop-remove").click()
    expect(own.locator(".dw-drop-name")).not_to_have_text("square.svg")
    answered(own)
    wait_for_stored(own, lambda found: not {"outlines", "picture"} & set(values(found)))


def test_a_drawing_beyond_outlines_is_reported_but_stored(at):
    own = at("underlay/underlay")
    svg = b'<svg width="9mm" height="9mm" viewBox="0 0 9 9"><text>9</text></svg>'
    own.set_input_files("#in-picture", {"name": "disc.svg", "mimeType": "image/svg+xml", "buffer": svg})
    expect(problem(own, "picture")).to_contain_text("disc.svg holds text")
    expect(own.locator(".dw-drop-name")).to_have_text("disc.svg")
