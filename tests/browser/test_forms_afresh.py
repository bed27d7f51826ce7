"""A form of words can be emptied and restored; unfilled fields are no problem yet."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, problem, typed, visitor

TEXTS = [
    "title",
    "see",
    "said",
    "causes[0].cause",
    "causes[0].test",
    "causes[1].now",
    "avoid",
    "never",
    "related",
    "id",
]


@pytest.fixture
def form(context, workbench_server):
    return open_calculator(context, f"{workbench_server.url}rescue/contribute/")


def emptied(page):
    page.locator(".dw-empty").click()
    expect(typed(page, "title")).to_have_value("")
    expect(page.locator("[data-note=unfilled]")).to_be_visible()
    return page


def test_an_emptied_form_has_no_problems_yet(form):
    typed(form, "stage").select_option("seal")
    emptied(form)
    for each in TEXTS:
        expect(typed(form, each)).to_have_value("")
    expect(typed(form, "stage")).to_have_value("apply")
    expect(form.locator(".dw-row")).to_have_count(2)
    expect(typed(form, "title")).to_be_focused()
    expect(form.locator(".dw-problems")).to_be_hidden()
    expect(form.locator("[data-note=unfilled]")).to_contain_text(
        "Still to fill in: Title, What you see, Cause, Test, What to do now, Next time, What not to do, See also."
    )


def test_a_field_has_problems_once_visited(form):
    emptied(form)
    typed(form, "title").fill("The marking folds at last.")
    expect(problem(form, "title")).to_contain_text("ends with a full stop")
    expect(problem(form, "see")).to_be_hidden()
    expect(form.locator(".dw-problems")).to_have_text("One field needs another look: Title.")
    typed(form, "title").fill("The marking folds at last")
    expect(form.locator(".dw-problems")).to_be_hidden()
    expect(form.locator("[data-note=unfilled]")).to_contain_text("Still to fill in: What you see,")
    typed(form, "title").press("Enter")
    expect(form.locator(".dw-problems")).to_contain_text("fields need another look. The first is What you see.")
    expect(problem(form, "see")).to_be_visible()
    expect(form.locator("[data-note=unfilled]")).to_have_count(0)


def test_emptying_a_form_can_be_undone_and_is_saved(form):
    typed(form, "title").fill("The marking folds at last")
    expect(form.locator(".dw-preview-title")).to_have_text("The marking folds at last")
    emptied(form)
    form.locator(".dw-note-action", has_text="Undo").click()
    expect(typed(form, "title")).to_have_value("The marking folds at last")
    expect(form.locator("[data-note=unfilled]")).to_have_count(0)
    answered(form)
    emptied(form)
    typed(form, "see").fill("It folds.")
    expect(form.locator("[data-note=unfilled]")).to_contain_text("Title, Cause")
    form.reload()
    expect(typed(form, "see")).to_have_value("It folds.")
    expect(typed(form, "title")).to_have_value("")


def test_a_reopened_half_filled_form_has_no_problems(form):
    emptied(form)
    typed(form, "title").fill("The marking folds at last.")
    expect(problem(form, "title")).to_contain_text("ends with a full stop")
    form.reload()
    expect(form.locator("[data-note=unfilled]")).to_contain_text(
        "Still to fill in: What you see, Cause,", timeout=20_000
    )
    expect(form.locator(".dw-problems")).to_have_text("One field needs another look: Title.")
    expect(problem(form, "title")).to_contain_text("ends with a full stop")
    expect(problem(form, "see")).to_be_hidden()
    typed(form, "see").fill("It folds.")
    expect(form.locator("[data-note=unfilled]")).to_contain_text("Still to fill in: Cause,")
    typed(form, "see").fill("")
    expect(problem(form, "see")).to_be_visible()
    expect(problem(form, "causes[0].cause")).to_be_hidden()


def test_an_emptied_form_can_be_filled_completely(form):
    emptied(form)
    words = {
        "title": "The marking folds at last",
        "see": "It folds.",
        "avoid": "Cut it narrow.",
        "never": "Do not pull.",
        "related": "silvering",
        **{
            f"causes[{place}].{part}": f"{part.title()} {place}."
            for place in range(2)
            for part in ("cause", "test", "now")
        },
    }
    for field, text in words.items():
        typed(form, field).fill(text)
    expect(form.locator("[data-note=unfilled]")).to_have_count(0)
    expect(form.locator(".dw-preview-title")).to_have_text("The marking folds at last")
    expect(form.locator(".dw-prose .dw-entry-said")).to_have_count(0)


def test_by_keyboard_alone(form):
    form.locator(".dw-empty").focus()
    form.keyboard.press("Enter")
    expect(typed(form, "title")).to_be_focused()
    form.keyboard.type("It came off")
    expect(typed(form, "title")).to_have_value("It came off")


@pytest.mark.parametrize(("width", "height"), [(1180, 820), (820, 1180)])
def test_by_touch(browser, workbench_server, width, height):
    with visitor(browser, has_touch=True) as context:
        page = open_calculator(context, f"{workbench_server.url}rescue/symptom-finder/")
        page.set_viewport_size({"width": width, "height": height})
        button = page.locator(".dw-empty")
        assert button.bounding_box()["height"] >= 48
        button.tap()
        expect(typed(page, "seen")).to_have_value("")
        expect(page.locator(".dw-problems")).to_be_hidden()
        typed(page, "seen").fill("it fell off")
        expect(page.locator("[data-result=entries] tbody a").first).to_have_text("The marking does not stick")


def test_a_form_of_numbers_offers_the_example_only(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}size/scale-size/")
    expect(page.locator(".dw-reset")).to_be_visible()
    expect(page.locator(".dw-empty")).to_have_count(0)
