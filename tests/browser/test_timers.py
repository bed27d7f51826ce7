"""Timers of waits: correct after reload and sleep, several at once, audible, visible, and stored on the device."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Locator, Page, expect

from calculators import tables
from tests.browser.benches import Bench, how_to_with, opened
from tests.browser.forms import answered
from tests.browser.test_look import axe

#: Noon of a Monday in Oslo, in winter an hour ahead of UTC.
NOON = datetime(2026, 3, 2, 11, 0, 0, tzinfo=UTC)
SOAK = tables.row("drying-times", "soak")

#: Counts sounds and vibrations.
HEARD = """(() => {
  globalThis.heard = { tones: 0, shakes: 0 };
  navigator.vibrate = () => (heard.shakes += 1);
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...when) { heard.tones += 1; return start.apply(this, when); };
})()"""


def prepare(context) -> None:
    context.add_init_script(HEARD)
    context.clock.install(time=NOON - timedelta(minutes=1))
    context.clock.pause_at(NOON)


@pytest.fixture
def soak_page(site_root) -> str:
    """A how-to with the wait in the water."""
    return how_to_with(site_root.folder, 'data-wait="soak"')


@pytest.fixture
def bench(browser, server, soak_page):
    yield from opened(browser, server.url + soak_page, prepare, timezone_id="Europe/Oslo")


def wait_button(page: Page, wait: str = "soak") -> Locator:
    return page.locator(f".dw-wait[data-wait={wait}] .dw-wait-start").first


def start(page: Page, wait: str = "soak") -> Locator:
    """Start a timer and return its row in the strip."""
    before = page.locator(".dw-timer").count()
    wait_button(page, wait).click()
    expect(page.locator(".dw-timer")).to_have_count(before + 1)
    return page.locator(".dw-timer").last


def announcement(bench: Bench) -> Locator:
    """The line that is read aloud."""
    return bench.page.locator(".dw-timers-spoken")


def part(row: Locator, name: str) -> Locator:
    return row.locator(f".dw-timer-{name}")


def test_a_timer_takes_its_wait_from_the_table(bench):
    # The row of the table: every test below depends on it.
    assert (SOAK.usual.low, SOAK.usual.high, SOAK.usual.unit) == (10, 30, "s")
    expect(wait_button(bench.page)).to_have_accessible_name(f"Start a timer: {SOAK.label}, 10 to 30\N{NO-BREAK SPACE}s")


def test_a_tap_starts_a_timer_with_both_end_times(bench):
    row = start(bench.page)
    expect(part(row, "name")).to_have_text(SOAK.label)
    expect(part(row, "left")).to_have_text("0:10")
    expect(part(row, "when")).to_have_text("Ends about 12:00:10 to 12:00:30.")
    expect(bench.page.locator(".dw-timers-spoken[role=status]")).to_have_text(
        f"Timer started: {SOAK.label}. Ends about 12:00:10 to 12:00:30."
    )
    bench.page.clock.run_for(4_000)
    expect(part(row, "left")).to_have_text("0:06")


def test_a_timer_rings_at_both_ends_and_says_why(bench):
    row = start(bench.page)
    assert bench.page.evaluate("heard") == {"tones": 0, "shakes": 0}
    bench.page.clock.run_for(10_500)
    expect(row).to_have_attribute("data-state", "ready")
    expect(part(row, "when")).to_have_text(f"It may be ready. {SOAK.ends}")
    expect(part(row, "left")).to_have_text("0:20")
    expect(announcement(bench)).to_contain_text("It may be ready.")  # written after the ring
    low = bench.page.evaluate("heard")
    assert low["shakes"] == 1 and low["tones"] > 0
    bench.page.clock.run_for(20_000)
    expect(row).to_have_attribute("data-state", "over")
    expect(part(row, "when")).to_have_text(f"The usual time has passed. {SOAK.ends}")
    expect(announcement(bench)).to_contain_text("The usual time has passed.")
    high = bench.page.evaluate("heard")
    assert high["shakes"] == 2 and high["tones"] > 2 * low["tones"]
    bench.page.clock.run_for(60_000)
    assert bench.page.evaluate("heard") == high


def test_a_timer_is_correct_after_the_device_slept(bench):
    row = start(bench.page)
    # Due timers of the page fire at most once, as after closing the lid.
    bench.page.clock.fast_forward("05:00")
    expect(row).to_have_attribute("data-state", "over")
    expect(part(row, "when")).to_have_text(
        f"The usual time has passed. {SOAK.ends} It rang at 12:00:30, while you were away."
    )
    expect(bench.page.locator(".dw-timers-spoken")).to_contain_text("It rang at 12:00:30, while you were away.")


def test_a_timer_survives_a_reload(bench):
    start(bench.page)
    bench.page.clock.run_for(3_000)
    bench.page.reload()
    row = bench.page.locator(".dw-timer")
    expect(part(row, "when")).to_have_text("Ends about 12:00:10 to 12:00:30.")
    expect(part(row, "left")).to_have_text("0:07")
    bench.page.clock.run_for(8_000)
    expect(row).to_have_attribute("data-state", "ready")


def test_a_ring_while_the_page_was_closed_is_reported(bench, server):
    start(bench.page)
    bench.page.goto("about:blank")
    bench.page.clock.fast_forward("02:00:00")
    bench.page.goto(server.url)
    row = bench.page.locator(".dw-timer")
    expect(row).to_have_attribute("data-state", "over")
    expect(part(row, "when")).to_contain_text("It rang at 12:00:30, while you were away.")
    bench.page.reload()
    expect(part(bench.page.locator(".dw-timer"), "when")).to_contain_text("It rang at 12:00:30, while you were away.")


def test_several_timers_run_independently(browser, server, site_root):
    url = how_to_with(site_root.folder, 'data-wait="soak"', 'data-wait="rest-out-of-water"')
    rest = tables.row("drying-times", "rest-out-of-water").usual
    assert (rest.low, rest.high, rest.unit) == (1, 2, "min")
    for bench in opened(browser, server.url + url, prepare):
        page = bench.page
        start(page)
        page.clock.run_for(5_000)
        start(page)
        start(page, "rest-out-of-water")
        rows = page.locator(".dw-timer")
        assert [text.strip() for text in rows.locator(".dw-timer-left").all_inner_texts()] == ["0:05", "0:10", "1:00"]
        page.clock.run_for(6_000)
        states = [rows.nth(place).get_attribute("data-state") for place in range(3)]
        assert states == ["ready", "running", "running"]


def test_a_removed_timer_can_be_restored(bench):
    page, row = bench.page, start(bench.page)
    page.clock.run_for(2_000)
    row.get_by_role("button").click()
    expect(page.locator(".dw-timer")).to_have_count(0)
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_be_focused()
    page.clock.run_for(3_000)
    undo.click()
    expect(part(page.locator(".dw-timer"), "left")).to_have_text("0:05")
    expect(undo).to_be_hidden()
    page.locator(".dw-timer button").click()
    expect(undo).to_be_visible()
    page.clock.run_for(16_000)
    expect(page.locator(".dw-timers")).to_be_hidden()
    page.reload()
    expect(page.locator(".dw-timers")).to_be_hidden()


def test_the_timer_strip_stays_above_the_bar_on_other_pages(bench):
    page = bench.page
    bench.begin()
    while not wait_button(page).is_visible():
        bench.next.click()
    row = start(page)
    bar = page.locator(".dw-bench-bar").bounding_box()
    strip = page.locator(".dw-timers").bounding_box()
    assert strip["y"] + strip["height"] <= bar["y"] + 1
    page.keyboard.press("Escape")
    page.clock.run_for(100)  # the theme asks for the list of pages in a task of its own,
    page.wait_for_load_state("networkidle")  # and without that list a link loads its page
    page.evaluate("window.sameVisit = true")
    page.click(".dw-rule a >> nth=0")
    page.clock.run_for(2_000)
    expect(page.locator("h1")).not_to_contain_text("How to")
    assert page.evaluate("window.sameVisit") is True
    expect(row).to_be_visible()
    box = page.locator(".dw-timers").bounding_box()
    assert box["y"] + box["height"] == pytest.approx(page.viewport_size["height"], abs=1)


#: The sheet ends where the timers begin, and these at the lower edge of the screen.
SHEET_ON_TIMERS = """() => {
  const [sheet, timers] = [".dw-on-picture > .dw-form", ".dw-timers"].map((each) =>
    document.querySelector(each).getBoundingClientRect());
  return Math.abs(sheet.bottom - timers.top) <= 1 && Math.abs(timers.bottom - innerHeight) <= 1;
}"""


def test_timers_stay_reachable_beside_the_sheet_of_a_picture_page(browser, server, soak_page):
    for bench in opened(browser, server.url + soak_page):
        page = bench.page
        start(page)
        page.goto(f"{server.url}artwork/clean-picture/")
        answered(page)
        handle = page.locator(".dw-sheet-handle")
        cancel = page.locator(".dw-timer button")
        for state in ("false", "true"):
            expect(handle).to_have_attribute("aria-expanded", state)
            cancel.tap(trial=True)
            page.wait_for_function(SHEET_ON_TIMERS)
            handle.tap()
        cancel.tap()
        expect(page.locator(".dw-timer")).to_have_count(0)


def test_a_wait_of_days_shows_its_days(browser, server, site_root):
    days = {row.id: row.usual for row in tables.load("drying-times") if row.usual.unit == "d"}
    url = how_to_with(site_root.folder, f'data-wait="({"|".join(days)})"')
    for bench in opened(browser, server.url + url, prepare, timezone_id="Europe/Oslo"):
        named = bench.page.locator(", ".join(f".dw-wait[data-wait={id}]" for id in days)).first
        wait = named.get_attribute("data-wait")
        row = start(bench.page, wait)
        names = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
        low, high = (f"{names[int(end) % 7]} {2 + int(end)} Mar, 12:00" for end in (days[wait].low, days[wait].high))
        expect(part(row, "when")).to_have_text(f"Ends about {low} to {high}.")
        expect(part(row, "left")).to_have_text(f"{int(days[wait].low)} d 0 h")


def test_one_of_two_tabs_rings(bench, soak_page, server):
    other = bench.page.context.new_page()
    other.goto(server.url + soak_page)
    start(bench.page)
    expect(other.locator(".dw-timer")).to_have_count(1)
    bench.page.clock.run_for(10_500)
    for page in (bench.page, other):
        expect(page.locator(".dw-timer")).to_have_attribute("data-state", "ready")
    # The ringing tab announces it; the browser decides which of the two rings.
    for _ in range(50):
        if any(
            page.locator(".dw-timers-spoken").text_content().count("It may be ready.") for page in (bench.page, other)
        ):
            break
        bench.page.wait_for_timeout(100)
    assert bench.page.evaluate("heard.shakes") + other.evaluate("heard.shakes") == 1


def test_after_a_reload_a_timer_asks_for_a_tap(bench):
    start(bench.page)
    bench.page.reload()
    note = bench.page.locator(".dw-timers-note")
    expect(note).to_have_text("Touch the page once so that you can hear the timers.")
    bench.page.mouse.click(400, 300)
    bench.page.clock.run_for(1_000)
    expect(note).to_be_hidden()


def test_without_storage_timers_last_the_visit_and_say_so(browser, server, soak_page):
    def closed(context) -> None:
        prepare(context)
        context.add_init_script("indexedDB.open = () => { throw new DOMException('', 'SecurityError'); }")

    for bench in opened(browser, server.url + soak_page, closed):
        row = start(bench.page)
        expect(bench.page.locator(".dw-timers-note")).to_contain_text("stores nothing for this site")
        bench.page.clock.run_for(10_500)
        expect(row).to_have_attribute("data-state", "ready")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_with_timers_in_each_state(browser, server, soak_page, scheme):
    for bench in opened(browser, server.url + soak_page, prepare, color_scheme=scheme):
        start(bench.page)
        bench.page.clock.run_for(25_000)
        start(bench.page)
        bench.page.clock.run_for(15_000)
        start(bench.page)
        states = bench.page.eval_on_selector_all(".dw-timer", "rows => rows.map(row => row.dataset.state)")
        assert states == ["over", "ready", "running"]
        bench.page.clock.resume()
        assert axe(bench.page) == []


def test_timers_leave_room_at_twice_the_text_size(bench):
    bench.page.evaluate("document.documentElement.style.fontSize = '225%'")
    for _ in range(3):
        start(bench.page)
    assert bench.page.evaluate("document.scrollingElement.scrollWidth") <= bench.page.viewport_size["width"]
    assert bench.page.locator(".dw-timers").bounding_box()["height"] <= 0.4 * bench.page.viewport_size["height"]


def test_paper_shows_ranges_instead_of_timers(bench: Bench):
    start(bench.page)
    bench.page.emulate_media(media="print")
    assert bench.page.locator(".dw-timers").is_hidden()
    expect(wait_button(bench.page)).to_be_visible()
