"""A how-to read at the bench: one step at a time, by tap, swipe, key or voice, with its cautions, and remembered."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.benches import PORTRAIT, Bench, how_to_with, how_tos, opened
from tests.browser.forms import answered, save_book
from tests.browser.screen import touch
from tests.browser.test_look import axe

LANDSCAPE = {"width": 1180, "height": 820}


@pytest.fixture
def plain(site_root) -> str:
    """A how-to of at least four steps that names no hazard."""
    for url, html in how_tos(site_root.folder).items():
        if "dw-cautions" not in html and html.count('"HowToStep"') >= 4:
            return url
    pytest.fail("every how-to names a hazard")


@pytest.fixture
def hazardous(site_root) -> str:
    """A how-to whose hazard is first named by a later step, and again by a step after it."""
    return how_to_with(site_root.folder, r'data-steps="[2-9]\d* \d')


@pytest.fixture
def bench(browser, server, plain):
    yield from opened(browser, server.url + plain)


@pytest.fixture
def with_cautions(browser, server, hazardous):
    yield from opened(browser, server.url + hazardous)


def is_step(bench: Bench, number: int) -> None:
    expect(bench.place).to_have_text(f"Step {number} of {bench.count}")
    expect(bench.step).to_be_visible()
    assert bench.page.locator(".dw-article > ol > li:visible").count() == 1
    assert bench.page.locator(".dw-article > ol > li").nth(number - 1).is_visible()


# -- One step fills the screen


def test_bench_mode_opens_on_a_large_first_step(bench):
    bench.begin()
    is_step(bench, 1)
    assert bench.page.url.endswith("#bench")
    assert bench.step.evaluate("step => getComputedStyle(step).fontSize") == "28.0008px"
    for hidden in (".dw-header", ".dw-rule", ".dw-footer", ".dw-beside", ".dw-lead"):
        assert not bench.page.locator(hidden).first.is_visible()


def test_its_address_opens_bench_mode(browser, server, plain):
    for bench in opened(browser, f"{server.url}{plain}#bench"):
        is_step(bench, 1)


def test_the_bar_is_at_the_lower_edge(bench):
    bench.begin()
    box = bench.next.bounding_box()
    assert box["y"] + box["height"] > PORTRAIT["height"] - 20 and box["height"] >= 72
    assert box["width"] > 0.75 * PORTRAIT["width"]
    back = bench.page.locator(".dw-bench-back").bounding_box()
    assert min(back["width"], back["height"]) >= 48 and back["y"] == box["y"]


def test_the_drawing_is_above_its_step(browser, server, site_root):
    url = how_to_with(site_root.folder, r'(?s)<ol>.*<figure class="dw-figure".*</ol>')
    for bench in opened(browser, server.url + url):
        number = bench.page.evaluate(
            "[...document.querySelectorAll('.dw-article > ol > li')].findIndex(each => "
            "each.querySelector('figure')) + 1"
        )
        bench.begin().go_to_step(number)
        drawing, words = bench.step.locator("figure").bounding_box(), bench.step.locator("p").first.bounding_box()
        assert drawing["y"] + drawing["height"] <= words["y"]


# -- Taps, keys, swipes


def test_taps_go_forward_back_and_out_at_the_end(bench):
    bench.begin()
    bench.next.click()
    is_step(bench, 2)
    bench.page.click(".dw-bench-back")
    is_step(bench, 1)
    assert bench.page.locator(".dw-bench-back").is_disabled()
    bench.go_to_step(bench.count)
    bench.next.click()
    expect(bench.page.locator(".dw-bench-end")).to_be_visible()
    bench.next.click()
    expect(bench.page.locator(".dw-bench-begin")).to_be_focused()
    assert "#" not in bench.page.url


def test_by_keys_alone(bench):
    bench.page.locator(".dw-bench-begin").focus()
    bench.page.keyboard.press("Enter")
    expect(bench.next).to_be_focused()
    press = bench.page.keyboard.press
    for key, number in (
        ("ArrowRight", 2),
        ("PageDown", 3),
        ("Enter", 4),
        ("ArrowLeft", 3),
        ("PageUp", 2),
        ("Space", 3),
    ):
        press(key)
        is_step(bench, number)
    bench.page.evaluate("document.activeElement.blur()")
    press("Space")
    is_step(bench, 4)
    press("Shift+Space")
    is_step(bench, 3)
    press("Escape")
    expect(bench.page.locator(".dw-bench-begin")).to_be_focused()
    expect(bench.page.locator(".dw-header")).to_be_visible()


def swipe(bench: Bench, start: tuple[int, int], end: tuple[int, int]) -> None:
    session = bench.page.context.new_cdp_session(bench.page)
    touch(session, "touchStart", start)
    touch(session, "touchMove", ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
    touch(session, "touchMove", end)
    touch(session, "touchEnd")
    session.detach()


def test_by_swipes(bench):
    bench.begin()
    swipe(bench, (600, 500), (300, 510))
    is_step(bench, 2)
    swipe(bench, (300, 500), (600, 510))
    is_step(bench, 1)
    swipe(bench, (400, 700), (420, 300))
    is_step(bench, 1)


def test_page_keys_scroll_a_long_step_before_advancing(bench):
    bench.page.set_viewport_size({"width": 820, "height": 360})
    bench.page.evaluate("document.documentElement.style.fontSize = '225%'")
    bench.begin()
    bench.page.keyboard.press("PageDown")
    is_step(bench, 1)
    bench.page.evaluate("document.fonts.ready.then(() => null)")  # a late font makes the page longer
    bench.page.keyboard.press("End")
    expect(bench.page.locator("html")).to_have_js_property(
        "scrollTop", bench.page.evaluate("document.scrollingElement.scrollHeight - innerHeight")
    )
    bench.page.keyboard.press("PageDown")
    is_step(bench, 2)


def test_back_or_another_page_leaves_bench_mode(bench):
    bench.begin()
    bench.page.go_back()
    expect(bench.page.locator(".dw-rule")).to_be_visible()
    bench.page.evaluate("location.hash = '#bench'")
    expect(bench.next).to_be_visible()
    bench.page.evaluate("document.querySelector('.dw-rule a').click()")
    expect(bench.page.locator(".dw-header")).to_be_visible()
    expect(bench.next).to_be_hidden()


# -- Progress


def test_done_steps_are_remembered_and_can_be_reset(bench):
    bench.begin().go_to_step(3)
    bench.page.reload()
    is_step(bench, 3)
    assert bench.page.locator(".dw-bench-ticks [data-done]").count() == 2
    bench.page.keyboard.press("Escape")
    assert bench.page.locator(".dw-article > ol > li[data-done]").count() == 2
    expect(bench.page.locator(".dw-bench-progress span")).to_have_text(f"2 of {bench.count} steps done.")
    bench.begin()
    is_step(bench, 3)
    bench.page.keyboard.press("ArrowLeft")
    assert bench.page.locator(".dw-article > ol > li[data-done]").count() == 1
    bench.page.keyboard.press("Escape")
    bench.page.click(".dw-bench-progress .dw-bench-again")
    expect(bench.page.locator(".dw-bench-progress")).to_be_hidden()
    bench.page.reload()
    bench.begin()
    is_step(bench, 1)


def test_each_how_to_has_its_own_progress(bench, server, hazardous):
    bench.begin().go_to_step(3)
    bench.page.goto(server.url + hazardous)
    expect(bench.page.locator(".dw-bench-progress")).to_be_hidden()


def test_bench_mode_works_offline(browser, book, plain):
    for bench in opened(browser, f"{book.url}artwork/resolution/", saves=True):
        answered(bench.page)
        save_book(bench.page)
        book.stop()
        bench.page.goto(book.url + plain)
        bench.begin().go_to_step(2)
        bench.page.reload()
        is_step(bench, 2)


# -- Cautions


def test_a_caution_card_precedes_the_first_step_needing_it(with_cautions):
    bench = with_cautions
    entries = bench.page.evaluate(
        "[...document.querySelectorAll('.dw-cautions [data-hazard]')].map(each => [each.dataset.hazard, "
        "each.dataset.steps ?? '1'])"
    )
    first = {int(steps.split()[0]) for _, steps in entries}
    bench.begin()
    seen = {}
    while bench.place.text_content() != "The end":
        words = bench.place.text_content()
        if words.startswith("Before"):
            step = int(re.search(r"\d+", words)[0])
            seen[step] = bench.page.eval_on_selector_all(
                ".dw-cautions li[data-bench-visible]", "all => all.map(each => each.dataset.hazard)"
            )
            card = bench.page.locator(".dw-cautions")
            expect(card).to_contain_text("local rules")
            assert card.locator("li:visible").count() == len(seen[step])
            assert bench.page.locator(".dw-article > ol").first.is_hidden()
        bench.next.click()
    assert set(seen) == first
    assert sorted(id for ids in seen.values() for id in ids) == sorted(id for id, _ in entries)


def test_later_steps_repeat_the_caution_as_a_reminder(with_cautions):
    bench = with_cautions
    hazard, steps = bench.page.evaluate("""[...document.querySelectorAll('.dw-cautions [data-steps*=" "]')]
        .map(each => [each.textContent, each.dataset.steps.split(" ").map(Number)])[0]""")
    bench.begin().go_to_step(steps[1])
    expect(bench.page.locator(".dw-bench-reminder")).to_contain_text(hazard)


# -- Wake lock and speech

WAKE = """(() => {
  globalThis.wake = { asked: 0, released: 0 };
  const request = async () => {
    wake.asked += 1;
    const lock = new EventTarget();
    lock.release = async () => { wake.released += 1; lock.dispatchEvent(new Event("release")); };
    wake.lock = lock;
    return lock;
  };
  Object.defineProperty(navigator, "wakeLock", { value: { request } });
})()"""


def test_the_wake_lock_is_renewed_after_hiding(browser, server, plain):
    for bench in opened(browser, server.url + plain, before=lambda context: context.add_init_script(WAKE)):
        assert bench.page.evaluate("wake.asked") == 0
        bench.begin()
        expect(bench.page.locator(".dw-bench-awake")).to_have_text("The screen stays on while you read here.")
        # The browser releases the lock when the page is hidden (Screen Wake Lock API, 6.2).
        bench.page.evaluate("wake.lock.dispatchEvent(new Event('release'))")
        expect(bench.page.locator(".dw-bench-awake")).not_to_have_text("The screen stays on while you read here.")
        bench.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(bench.page.locator(".dw-bench-awake")).to_have_text("The screen stays on while you read here.")
        bench.page.keyboard.press("Escape")
        assert bench.page.evaluate("wake") | {"lock": 0} == {"asked": 2, "released": 1, "lock": 0}


def test_a_missing_wake_lock_is_mentioned(browser, server, plain):
    gone = "Object.defineProperty(navigator, 'wakeLock', { value: undefined })"
    for bench in opened(browser, server.url + plain, before=lambda context: context.add_init_script(gone)):
        bench.begin()
        expect(bench.page.locator(".dw-bench-awake")).to_contain_text("cannot keep the screen on")


def test_screen_readers_announce_the_step_and_find_the_bar(bench):
    bench.begin()
    bench.next.click()
    words = bench.step.inner_text().split("\n")[0][:30]
    expect(bench.page.locator(".dw-bench-spoken[role=status]")).to_contain_text(f"Step 2 of {bench.count}. {words}")
    expect(bench.next).to_be_focused()
    tree = bench.page.locator("body").aria_snapshot()
    assert re.search(rf'heading "Step 2 of {bench.count}" \[level=2\]', tree)
    assert tree.count("listitem") == 1
    order = [tree.index(part) for part in ('heading "Step 2', "listitem", 'button "Back"', 'button "Next step"')]
    assert order == sorted(order)
    assert "banner" not in tree and "contentinfo" not in tree


def test_steps_are_read_aloud_on_request(browser, server, plain):
    spoken = """globalThis.spoken = [];
      const speaker = { speak: (words) => spoken.push(words.text), cancel() {} };
      Object.defineProperty(globalThis, "speechSynthesis", { value: speaker });"""
    for bench in opened(browser, server.url + plain, before=lambda context: context.add_init_script(spoken)):
        bench.begin()
        assert bench.page.evaluate("spoken") == []
        bench.page.click(".dw-bench-speak")
        bench.next.click()
        utterances = bench.page.evaluate("spoken")
        assert [each.split(".")[0] for each in utterances] == [f"Step 1 of {bench.count}", f"Step 2 of {bench.count}"]
        bench.page.click(".dw-bench-speak")
        bench.next.click()
        assert bench.page.evaluate("spoken.length") == 2


# -- Layout, accessibility, print


@pytest.mark.parametrize("size", [PORTRAIT, LANDSCAPE], ids=["portrait", "landscape"])
def test_bench_mode_fits_at_twice_the_text_size(browser, server, hazardous, size):
    for bench in opened(browser, server.url + hazardous, viewport=size):
        bench.page.evaluate("document.documentElement.style.fontSize = '225%'")
        bench.begin()
        while bench.place.text_content() != "The end":
            assert bench.page.evaluate("document.scrollingElement.scrollWidth") <= size["width"]
            box = bench.next.bounding_box()
            assert 0 <= box["y"] and box["y"] + box["height"] <= size["height"]
            # What is above the bar leaves room to read.
            assert box["y"] >= size["height"] / 2
            bench.next.click()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_in_bench_mode(browser, server, hazardous, scheme):
    for bench in opened(browser, server.url + hazardous, color_scheme=scheme):
        bench.begin()
        assert bench.place.text_content().startswith(("Before", "Step"))
        while bench.page.locator(".dw-cautions:visible").count() == 0:
            bench.next.click()
        assert axe(bench.page) == []
        bench.next.click()
        assert axe(bench.page) == []


def test_the_whole_how_to_is_printed(bench):
    bench.begin().go_to_step(3)
    bench.page.emulate_media(media="print")
    assert bench.page.locator(".dw-article > ol > li:visible").count() == bench.count
    for hidden in (".dw-bench-bar", ".dw-bench-top", ".dw-bench-open"):
        assert bench.page.locator(hidden).is_hidden()


def test_without_scripts_the_page_stays_as_printed(browser, server, plain):
    for bench in opened(browser, server.url + plain, java_script_enabled=False):
        assert bench.page.locator(".dw-article > ol > li:visible").count() == bench.count
        assert bench.page.locator(".dw-bench-begin").is_hidden()
