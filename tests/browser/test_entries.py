"""Entries, the form for a new one and the symptom finder, for readers and contributors."""

from __future__ import annotations

import re
from urllib.parse import parse_qs, urlsplit

import pytest
import yaml
from playwright.sync_api import expect

from tests.browser.forms import answered, open_calculator, problem, typed

NEW_FILE = "https://host.example/owner/book/new/main/{folder}?filename={name}&value={text}"


@pytest.fixture
def form(context, workbench_server):
    """The form, on a site whose sources have a host."""
    context.grant_permissions(["clipboard-read", "clipboard-write"], origin=workbench_server.url.rstrip("/"))
    # A build names the host of the sources; here the test adds one to the page.
    context.add_init_script(f"""
      new MutationObserver((_, watch) => {{
        const told = document.getElementById("dw-config");
        if (!told || !told.textContent) return;
        watch.disconnect();
        told.textContent = JSON.stringify({{ ...JSON.parse(told.textContent), newFile: {NEW_FILE!r} }});
      }}).observe(document, {{ childList: true, subtree: true }});
    """)
    context.route(
        "https://host.example/**",
        lambda route: route.fulfill(status=200, content_type="text/html", body="<title>new</title>"),
    )
    return open_calculator(context, f"{workbench_server.url}rescue/contribute/")


def test_a_mistake_is_reported_at_its_field_without_losing_input(form):
    typed(form, "causes[0].now").fill("Wait 24 hours.")
    expect(problem(form, "causes[0].now")).to_contain_text("'What to do now' names a wait as '24 hours'")
    typed(form, "causes[0].now").fill("Leave it {soak}.")
    expect(problem(form, "causes[0].now")).to_be_hidden()
    expect(form.locator(".dw-prose .dw-cause").first).to_contain_text("Leave it 10 to 30 s.")


def test_the_preview_matches_the_final_page(form):
    """The same parts in the same order, and the same classes, as the page of a shipped entry."""
    shape = """root => [...new Set([...root.querySelectorAll('h2, h3, dt, .dw-entry-see, .dw-never, .dw-related')]
      .map(each => `${each.tagName} ${each.className} ${each.matches("h2, dt") ? each.textContent : ""}`))]"""
    preview = form.locator(".dw-prose .dw-entry").evaluate(shape)
    assert len(preview) > 8
    form.goto(form.url.replace("rescue/contribute/", "rescue/silvering/"))
    assert form.locator(".dw-entry").evaluate(shape) == preview


def test_no_text_becomes_an_element_of_the_preview(form):
    typed(form, "see").fill("It is \"<\" & '>' < 3: onerror=alert(1) .")
    expect(form.locator(".dw-prose .dw-entry-see")).to_have_text("It is \"<\" & '>' < 3: onerror=alert(1) .")
    assert form.locator(".dw-prose :is(script, img, iframe, style)").count() == 0


def test_the_entry_can_be_copied_saved_or_opened(form):
    typed(form, "title").fill("The marking folds at last")
    expect(form.locator(".dw-preview-title")).to_have_text("The marking folds at last")
    answered(form)
    form.locator(".dw-copy").click()
    expect(form.locator(".dw-propose [role=status]")).to_have_text("The text is on the clipboard.")
    text = form.evaluate("navigator.clipboard.readText()")
    assert yaml.safe_load(text)["title"] == "The marking folds at last"
    with form.expect_download() as saving:
        form.locator(".dw-save").click()
    assert saving.value.suggested_filename == "the-marking-folds-at-last.yaml"
    assert saving.value.path().read_text("utf-8") == text
    with form.context.expect_page() as opening:
        form.locator(".dw-open-new").click()
    opening.value.wait_for_load_state()
    address = urlsplit(opening.value.url)
    assert address.path == "/owner/book/new/main/data/troubleshooting"
    assert parse_qs(address.query) == {"filename": ["the-marking-folds-at-last.yaml"], "value": [text]}


def test_an_entry_too_long_for_an_address_is_copied(form):
    long = " ".join(["A sentence with signs that an address spells: äöüßéñøåçêîôûàèìòùâ."] * 4)
    for place in range(2):
        for part in ("test", "now"):
            typed(form, f"causes[{place}].{part}").fill(f"{place} {part} {long}")
    typed(form, "avoid").fill("\n".join(f"{each} {long}" for each in range(5)))
    typed(form, "never").fill("\n".join(f"Never {each} {long}" for each in range(4)))
    expect(form.locator(".dw-prose .dw-never li")).to_have_count(4)
    answered(form)
    with form.context.expect_page() as opening:
        form.locator(".dw-open-new").click()
    opening.value.wait_for_load_state()
    assert parse_qs(urlsplit(opening.value.url).query) == {"filename": ["the-marking-folds-at-its-holding-tab.yaml"]}
    expect(form.locator(".dw-propose [role=status]")).to_contain_text(
        "too long for a web address. It is on the clipboard"
    )
    assert "Never 3" in form.evaluate("navigator.clipboard.readText()")


def test_without_a_host_no_file_can_be_opened(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}rescue/contribute/")
    expect(page.locator(".dw-open-new")).to_be_hidden()
    expect(page.locator(".dw-improve")).to_have_count(0)


def test_returning_from_an_entry_keeps_the_typed_symptom(context, workbench_server):
    page = open_calculator(context, f"{workbench_server.url}rescue/symptom-finder/")
    typed(page, "seen").fill("silvry patches")
    expect(page.locator(".dw-verdict")).to_contain_text("“silvry” was read as “silvery”.")
    first = page.locator("[data-result=entries] tbody a").first
    expect(first).to_have_text(re.compile("[Ss]ilver"))
    first.click()
    expect(page.locator(".dw-causes .dw-cause").first).to_be_visible()
    page.go_back()
    expect(typed(page, "seen")).to_have_value("silvry patches")


def test_an_entry_by_keyboard_and_at_twice_the_text(context, workbench_server):
    page = context.new_page()
    page.set_viewport_size({"width": 410, "height": 590})  # 820 x 1180 at 200 %
    page.goto(f"{workbench_server.url}rescue/silvering/")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    for each in page.locator(".dw-related a").all():
        assert each.bounding_box()["height"] >= 44
    page.locator(".dw-related a").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".dw-causes")).to_be_visible()
