"""Find… answers a question as a person would ask it, with the calculator, the how-to or the
entry among the first three; also without a network.
"""

from __future__ import annotations

from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from tests.browser.forms import answered, save_book, typed

#: A question, and pages of which at least one must be among the first three results.
QUESTIONS = {
    "how big is it on my model": "size/scale-size/",
    "is my picture good enough to print": "artwork/resolution/ artwork/picture-check/",
    "will the paint show through the marking": "underlay/seen-colour/ underlay/underlay/",
    "how large is it in this photograph": "size/drawing-size/",
    "how do I clean up a scan": "artwork/clean-a-scan/ artwork/clean-picture/",
    "which white goes beneath": "underlay/underlay/ underlay/seen-colour/",
    "why is there silver under the film": "rescue/silvering/ rescue/treat-silvering/",
    "the colour leaves the print in water": "rescue/ink-washes-out-in-water/",
    "my film will not leave the backing paper": "rescue/will-not-leave-backing/",
    "the seal turned milky": "rescue/seal-turns-milky/",
    "the film bridges over rivets": "rescue/bridges-over-rivets/",
    "what went wrong": "rescue/symptom-finder/",
    "the clear coat wrinkles the paint": "rescue/clear-wrinkles-paint/",
    "how do I add an entry": "rescue/contribute/",
    "what is the coated side": "print/find-the-coated-side/",
    "how long to let ink dry": "seal/judge-the-ink/ reference/drying-times/",
    "is it safe to spray indoors?": "safety/",
    "how to remove a decal": "rescue/remove-from-gloss/ rescue/remove-from-flat-paint/",
    "what resolution do I need": "artwork/resolution-and-the-eye/ artwork/resolution/",
    "can I use inkjet film in a laser printer?": (
        "print/ reference/substrates/clear-inkjet/ reference/substrates/ reference/printers/"
    ),
    "how do I save the book for offline": "about/",
    # in words that only an entry's phrases contain
    "jaggies": "rescue/stepped-edges/",
    "won't stick": "rescue/slides-about-when-dry/",
    "it fell off": "rescue/slides-about-when-dry/",
}


def ask(page: Page, question: str, *, pasted: bool = False) -> list[str]:
    """Type a question as a person does, or paste it, and return the pages found, the best first."""
    field, line = page.locator(".dw-search-input"), page.locator(".md-search-result__meta")
    field.fill("")
    expect(line).not_to_contain_text("these words")
    if pasted:
        field.fill(question)
    else:
        field.press_sequentially(question)
    expect(line).to_contain_text("these words", timeout=20_000)
    # Results follow the typing; once stable they are those of the whole question.
    found, before = [], None
    while found != before:
        page.wait_for_timeout(350)
        before, found = (
            found,
            page.locator(".md-search-result__link").evaluate_all("each => each.map(({ href }) => href)"),
        )
    return list(dict.fromkeys(urlsplit(each).path.lstrip("/") for each in found))


@pytest.fixture
def search(context, workbench_server) -> Page:
    page = context.new_page()
    page.goto(workbench_server.url)
    page.click(".dw-find")
    return page


def test_a_question_finds_its_page_among_the_first_three(search):
    """Every sixth is typed letter by letter, with an answer after each; that of the whole question is the same."""
    missed = {
        question: first
        for number, (question, right) in enumerate(QUESTIONS.items())
        if not set(first := ask(search, question, pasted=number % 6 > 0)[:3]) & set(right.split())
    }
    assert missed == {}


@pytest.mark.parametrize("late", [r"/search/\w+\.json$", r"/search-worker\.mjs"])
def test_early_search_input_is_answered_once_ready(context, workbench_server, late):
    workbench_server.delays[late] = 1.5
    page = context.new_page()
    page.goto(workbench_server.url)
    page.click(".dw-find")
    page.locator(".dw-search-input").press_sequentially("silvery patches")
    expect(page.locator(".md-search-result__item")).to_have_count(0)
    expect(page.locator(".md-search-result__link").first).to_contain_text(
        "Silvery patches under the clear film", timeout=10_000
    )
    expect(page.locator(".dw-search-input")).to_have_value("silvery patches")


def hand_over(page: Page, description: str) -> None:
    """Type a fault, and pass it to the symptom finder."""
    page.click(".dw-find")
    # The theme closes the search again, an eighth of a second after the address has changed.
    page.wait_for_timeout(400)
    if page.locator(".dw-search-panel").is_hidden():
        page.click(".dw-find")
    page.locator(".dw-search-input").fill(description)
    line = page.locator(".dw-search-finder a")
    expect(line).to_contain_text(f"“{description}”")
    line.click()
    expect(page.locator(".dw-article h1")).to_have_text("What went wrong?")
    expect(page.locator(".dw-search-panel")).to_be_hidden()
    expect(page.locator("#in-seen")).to_have_value(description)


def test_a_described_fault_is_passed_to_the_symptom_finder(context, workbench_server):
    page = context.new_page()
    page.goto(f"{workbench_server.url}apply/why/")
    page.click(".dw-find")
    expect(page.locator(".dw-search-finder a")).to_have_attribute(
        "href", f"{workbench_server.url}rescue/symptom-finder/"
    )
    page.keyboard.press("Escape")
    hand_over(page, "decal fell off & broke")
    found = page.locator("[data-result=entries] tbody a")
    expect(found.first).to_be_visible(timeout=20_000)
    # Ask again from the finder itself, and from a page loaded by instant navigation.
    hand_over(page, "it fell off")
    expect(found.first).to_have_text("The marking does not stick", timeout=20_000)
    page.locator(".dw-rule a", has_text="size").click()
    expect(page.locator(".dw-article h1")).to_have_text("Size")
    hand_over(page, "the seal turned milky")
    expect(found.first).to_have_text("The seal coat turns milky or frosty (blush)", timeout=20_000)


def test_search_and_symptom_finder_work_offline(saving, workbench_server):
    """The finder first, where the book was saved; then what the search passes to it, and pages."""
    page = saving.new_page()
    page.goto(f"{workbench_server.url}rescue/symptom-finder/")
    answered(page)
    save_book(page)
    saving.set_offline(True)
    workbench_server.broken["."] = 503
    page.reload()
    typed(page, "seen").fill("ink smears when I touch it")
    link = page.locator("[data-result=entries] tbody a", has_text="The ink smears when it is touched")
    expect(link).to_be_visible(timeout=30_000)
    link.click()
    expect(page.locator("h1")).to_have_text("The ink smears when it is touched")
    page.goto(f"{workbench_server.url}rescue/")
    hand_over(page, "it fell off")
    expect(page.locator("[data-result=entries] tbody a").first).to_have_text(
        "The marking does not stick", timeout=20_000
    )
    page.click(".dw-find")
    assert "rescue/silvering/" in ask(page, "why is there silver under the film")[:3]
    page.locator(".md-search-result__link", has_text="Silvery patches under the clear film").first.click()
    expect(page.locator(".dw-article h1")).to_have_text("Silvery patches under the clear film")
