"""The strip of a calculator's page: which marking it works on, and the others a tap away."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Page, expect

from calculators import catalogue
from calculators.jobs.model import read_job
from tests.browser.forms import (
    READ_JOB,
    answered,
    open_calculator,
    result_text,
    type_again,
    typed,
    visitor,
    wait_for_stored,
)
from tests.hostile.made import saved

SIZES = {"landscape": (1180, 820), "portrait": (820, 1180)}
HOSTILE = "<img src=x onerror=alert(1)>&amp;\u202e"
#: Sums up the shifts of the layout that no input explains.
COUNT_SHIFTS = """globalThis.shifts = 0;
new PerformanceObserver((list) => {
  for (const each of list.getEntries()) if (!each.hadRecentInput) shifts += each.value;
}).observe({ type: "layout-shift", buffered: true });"""


@pytest.fixture(params=SIZES)
def tablet(request, browser, workbench_server):
    with visitor(browser, has_touch=True) as context:
        context.size = dict(zip(("width", "height"), SIZES[request.param], strict=True))
        yield context


@pytest.fixture
def at(context, workbench_server):
    return lambda path: open_calculator(context, f"{workbench_server.url}{path}/")


def strip(page: Page):
    return page.locator(".dw-current-open")


def markings(page: Page):
    return page.locator(".dw-others-choose")


def tool(page: Page, name: str):
    return page.get_by_role("dialog", name="Markings of this job").get_by_role("button", name=name, exact=True)


def has_marking(page: Page, name: str) -> None:
    expect(strip(page)).to_have_accessible_name(f"Marking: {name}")


def added(page: Page, name: str) -> None:
    """Add a marking, and give it a name, by the keyboard."""
    strip(page).click()
    tool(page, "Add a marking").click()
    field = page.get_by_label("Name of the marking")
    expect(field).to_be_focused()
    field.fill(name)
    page.keyboard.press("Enter")
    expect(field).to_have_count(0)
    has_marking(page, name)
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(strip(page)).to_be_focused()


def choose(page: Page, name: str, width: int, height: int) -> None:
    page.set_input_files(
        "#in-picture", {"name": name, "mimeType": "image/png", "buffer": saved("RGB", (width, height), "PNG")}
    )
    expect(page.locator(".dw-drop-name")).to_have_text(name)


def switch(page: Page, name: str) -> None:
    strip(page).click()
    markings(page).filter(has_text=name).click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    has_marking(page, name)


def test_nothing_shows_until_something_is_typed(tablet, workbench_server):
    tablet.add_init_script(COUNT_SHIFTS)
    page = tablet.new_page()
    page.set_viewport_size(tablet.size)
    page.goto(f"{workbench_server.url}artwork/picture-check/")
    answered(page)
    assert strip(page).count() == 0
    typed(page, "width_mm").fill("20")
    has_marking(page, "Marking 1")
    page.reload()
    answered(page)
    has_marking(page, "Marking 1")
    assert page.evaluate("shifts") < 0.05


def test_two_markings_keep_their_values_apart_without_a_new_engine_start(tablet, workbench_server):
    page = tablet.new_page()
    page.set_viewport_size(tablet.size)
    page.goto(f"{workbench_server.url}artwork/resolution/")
    answered(page)
    choose(page, "crest.png", 60, 30)
    type_again(page, "width_mm", "20")
    expect(result_text(page, "printed_ppi")).to_have_text("76.2")
    boots = page.evaluate("dwEngine.boots")
    page.evaluate("globalThis.samePage = true")
    added(page, "Fleet number")
    expect(page.locator(".dw-drop-name")).not_to_have_text("crest.png")
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "printed_ppi")).to_have_text("169")
    strip(page).tap()
    expect(markings(page)).to_have_text(["Marking 1", "Fleet number"])
    expect(page.locator(".dw-others-choose[aria-current=true]")).to_have_text("Fleet number")
    expect(markings(page).first.locator("img")).to_have_js_property("naturalWidth", 60)
    for each in page.get_by_role("dialog").get_by_role("button").all():
        box = each.bounding_box()
        assert box["height"] >= 44 and box["width"] >= 44 and box["x"] >= 0, each
        assert box["x"] + box["width"] <= tablet.size["width"]
    markings(page).first.tap()
    has_marking(page, "Marking 1")
    expect(page.locator(".dw-drop-name")).to_have_text("crest.png")
    expect(typed(page, "width_mm")).to_have_value("20")
    expect(result_text(page, "printed_ppi")).to_have_text("76.2")
    assert page.evaluate("[dwEngine.boots, globalThis.samePage]") == [boots, True]
    # Next time it begins where it was.
    page.reload()
    has_marking(page, "Marking 1")
    expect(typed(page, "width_mm")).to_have_value("20")


def test_a_name_is_text_and_never_markup(at):
    page = at("artwork/resolution")
    typed(page, "width_mm").fill("20")
    has_marking(page, "Marking 1")
    strip(page).click()
    tool(page, "Rename").click()
    name = page.get_by_label("Name of the marking")
    name.fill("   ")
    page.keyboard.press("Enter")
    expect(page.locator(".dw-others-form .dw-problem")).to_have_text("The name takes 1 to 80 characters.")
    name.fill(HOSTILE)
    page.keyboard.press("Enter")
    # What turns the line cannot be stored.
    shown = HOSTILE.removesuffix("\u202e")
    expect(strip(page)).to_have_text(shown)
    expect(markings(page)).to_have_text([shown])
    assert page.locator("img[src=x]").count() == 0
    found = wait_for_stored(page, lambda found: found["job"]["markings"][0]["name"] == shown)
    read_job(found["job"])
    tool(page, "Delete").click()
    expect(page.locator(".dw-others-note")).to_contain_text(shown)
    assert page.locator("img[src=x]").count() == 0


@pytest.mark.parametrize(
    ("label", "how"),
    [("The same", "same"), ("Mirrored", "mirrored"), ("Mirrored except its text", "mirrored-but-text")],
)
def test_a_partner_is_asked_for_and_follows_until_it_is_separated(at, label, how):
    page = at("artwork/resolution")
    typed(page, "width_mm").fill("20")
    has_marking(page, "Marking 1")
    strip(page).click()
    tool(page, "Make a partner").click()
    expect(page.get_by_role("group", name="What is on the other side of “Marking 1”?")).to_be_visible()
    tool(page, label).click()
    expect(markings(page)).to_have_text(["Marking 1", "Marking 1, other sideFollows “Marking 1”"])
    page.keyboard.press("Escape")
    switch(page, "Marking 1, other side")
    expect(typed(page, "width_mm")).to_have_value("20")
    typed(page, "width_mm").fill("30")
    expect(result_text(page, "printed_ppi")).to_have_text("169")
    found = wait_for_stored(page, lambda found: found["job"]["markings"][0].get("width") == "30 mm")["job"]
    assert found["markings"][1]["partner"] == {"of": "marking-1", "how": how} and "width" not in found["markings"][1]
    strip(page).click()
    tool(page, "Separate from its partner").click()
    expect(markings(page)).to_have_text(["Marking 1", "Marking 1, other side"])
    page.keyboard.press("Escape")
    typed(page, "width_mm").fill("40")
    found = wait_for_stored(page, lambda found: found["job"]["markings"][1].get("width") == "40 mm")["job"]
    assert found["markings"][0]["width"] == "30 mm"
    read_job(found)


def test_a_deleted_marking_comes_back_with_its_picture(at):
    page = at("artwork/resolution")
    choose(page, "crest.png", 60, 30)
    added(page, "Fleet number")
    switch(page, "Marking 1")
    strip(page).click()
    tool(page, "Delete").click()
    expect(page.locator(".dw-others-note")).to_contain_text("“Marking 1” is deleted.")
    expect(markings(page)).to_have_text(["Fleet number"])
    has_marking(page, "Fleet number")
    expect(page.locator(".dw-drop-name")).not_to_have_text("crest.png")
    tool(page, "Undo").click()
    expect(markings(page)).to_have_text(["Marking 1", "Fleet number"])
    has_marking(page, "Marking 1")
    expect(page.locator(".dw-drop-name")).to_have_text("crest.png")
    assert len(page.evaluate(READ_JOB)["files"]) == 1


def test_another_picture_leaves_the_width_of_a_marking_in_a_job(at):
    page = at("artwork/resolution")
    choose(page, "crest.png", 60, 30)
    type_again(page, "width_mm", "20")
    expect(result_text(page, "printed_ppi")).to_have_text("76.2")
    added(page, "Fleet number")
    switch(page, "Marking 1")
    expect(page.locator(".dw-drop-name")).to_have_text("crest.png")
    choose(page, "better.png", 120, 60)
    expect(result_text(page, "printed_ppi")).to_have_text("152")
    expect(typed(page, "width_mm")).to_have_value("20")
    expect(typed(page, "width_px")).to_have_value("120")
    other = at("artwork/picture-check")
    has_marking(other, "Marking 1")
    expect(other.locator(".dw-drop-name")).to_have_text("better.png")
    expect(typed(other, "width_mm")).to_have_value("20")


def test_a_new_marking_starts_from_the_same_model_and_material(at):
    page = at("underlay/underlay")
    typed(page, "film").select_option("white")
    typed(page, "base_a").fill("#123456")
    answered(page)
    wait_for_stored(
        page,
        lambda found: (
            found["job"]["markings"][0].get("film") == "white"
            and found["job"]["models"][0].get("paints", [{}])[0].get("colour") == "#123456"
        ),
    )
    added(page, "Fleet number")
    expect(typed(page, "film")).to_have_value("white")
    expect(typed(page, "base_a")).to_have_value("#123456")
    found = page.evaluate(READ_JOB)["job"]
    assert [each["model"] for each in found["markings"]] == ["model-1", "model-1"] and len(found["models"]) == 1


def test_each_tab_works_on_its_own_marking(at):
    first = at("artwork/resolution")
    typed(first, "width_mm").fill("20")
    has_marking(first, "Marking 1")
    second = at("artwork/resolution")
    added(second, "Fleet number")
    typed(second, "width_mm").fill("30")
    expect(result_text(second, "printed_ppi")).to_have_text("169")
    has_marking(first, "Marking 1")
    expect(typed(first, "width_mm")).to_have_value("20")
    typed(first, "width_mm").fill("21")
    found = wait_for_stored(first, lambda found: found["job"]["markings"][0].get("width") == "21 mm")["job"]
    assert found["markings"][1]["width"] == "30 mm"
    # Deleted in the other tab, it is made anew by what is typed here, and overwrites nothing.
    strip(first).click()
    expect(markings(first)).to_have_text(["Marking 1", "Fleet number"])
    first.keyboard.press("Escape")
    second.bring_to_front()
    switch(second, "Marking 1")
    strip(second).click()
    tool(second, "Delete").click()
    expect(markings(second)).to_have_text(["Fleet number"])
    has_marking(first, "Fleet number")


def test_the_strip_never_lies_on_the_title(browser, workbench_server):
    """On the page of every calculator, at both sizes of a tablet and on a phone."""
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}artwork/resolution/")
        typed(page, "width_mm").fill("20")
        has_marking(page, "Marking 1")
        strip(page).click()
        tool(page, "Rename").click()
        page.get_by_label("Name of the marking").fill("W" * 80)
        page.keyboard.press("Enter")
        has_marking(page, "W" * 80)
        # Python does not start meanwhile: the strip comes without it.
        workbench_server.broken["^/engine/"] = 503
        places = {}
        for id, calculator in catalogue.every().items():
            page.goto(f"{workbench_server.url}{calculator.stage}/{id}/", wait_until="commit")
            for width, height in (*SIZES.values(), (390, 844)):
                page.set_viewport_size({"width": width, "height": height})
                expect(strip(page)).to_be_visible()
                places[f"{id} {width}"] = page.evaluate("""() => {
                  const title = document.createRange();
                  title.selectNodeContents(document.querySelector("h1"));
                  const strip = document.querySelector(".dw-current-open").getBoundingClientRect();
                  const lies = ({ left, right, top, bottom }) =>
                    left < strip.right && right > strip.left && top < strip.bottom && bottom > strip.top;
                  return [...title.getClientRects()].some(lies) || strip.left < 0 || strip.right > innerWidth;
                }""")
        assert not [name for name, lies in places.items() if lies], json.dumps(places)
