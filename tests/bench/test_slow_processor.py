"""The experience of a reader with a slow tablet: a processor slowed four times.

Nothing moves under the finger, and the page is not stuck for long. Run by ``make bench``; the
median of five limits the effect of other work.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from builder.pages import front_matter
from calculators import catalogue
from tests.bench.stock import launched
from tests.browser.test_every_page import enough_to_show_all
from tests.conftest import Site

pytestmark = pytest.mark.bench

CONTENT = Path(__file__).resolve().parents[2] / "content"
SLOWED, ROUNDS = 4, 5
MOST_SHIFT, MOST_BLOCKED_MS, MOST_BLOCKED_BY_PICTURES_MS = 0.05, 300, 500
#: The longest task on home and how-tos, and on the pages of pictures; between them a tap waits.
LONGEST_MS, LONGEST_WITH_PICTURES_MS = 200, 350
#: A page that was quiet for this long is finished.
QUIET_MS = 1_500

#: Waits without looking in every frame, which would count as work of the page.
ANSWERED = """
new Promise((resolve) => {
  const answer = document.querySelector(".dw-answer");
  const look = () => answer.dataset.state === "answered" && resolve();
  new MutationObserver(look).observe(answer, { attributes: true, attributeFilter: ["data-state"] });
  look();
})
"""

#: Sums up, from the beginning on, how far what was read moved (Layout Instability API: the worst window of five
#: seconds, with gaps of under one) and how long tasks blocked the page beyond 50 ms each (Total Blocking Time as
#: Lighthouse has it, from the first paint on), how long the longest task was, and when something last happened.
WATCH = """
window.slow = { shift: 0, blocked: 0, longest: 0, last: 0, parts: [] };
let [windowShift, windowStart, windowLast] = [0, -Infinity, -Infinity];
let painted = Infinity;
new PerformanceObserver((list) => {
  const paints = list.getEntriesByName("first-contentful-paint");
  painted = Math.min(painted, ...paints.map((each) => each.startTime));
})
  .observe({ type: "paint", buffered: true });
new PerformanceObserver((list) => {
  for (const { value, startTime, hadRecentInput, sources } of list.getEntries()) {
    if (hadRecentInput) continue;
    if (startTime - windowLast > 1000 || startTime - windowStart > 5000) [windowShift, windowStart] = [0, startTime];
    windowShift += value;
    windowLast = startTime;
    slow.shift = Math.max(slow.shift, windowShift);
    slow.parts.push(`${value.toFixed(3)} of ${sources.map(({ node }) => node?.className || node?.nodeName).join(" ")}`);
  }
}).observe({ type: "layout-shift", buffered: true });
new PerformanceObserver((list) => {
  for (const { duration, startTime } of list.getEntries()) {
    slow.last = Math.max(slow.last, startTime + duration);
    slow.longest = Math.max(slow.longest, duration);
    if (startTime + duration > painted) slow.blocked += Math.max(0, duration - 50);
  }
}).observe({ type: "longtask", buffered: true });
"""


def calculator_pages() -> dict[str, bool]:
    """Return the addresses of all calculators, each with whether it takes a picture."""
    return {
        f"{each.stage}/{id}/": any(field.metadata["field"].kind == "picture" for field in fields(each.inputs))
        for id, each in sorted(catalogue.every().items())
    }


@dataclass(frozen=True)
class Visit:
    """What ``WATCH`` summed up: the layout shift, the milliseconds blocked and of the longest task, and what moved."""

    shift: float
    blocked: float
    longest: float
    parts: list[str]


def visited(browser: Browser, address: str, *, answers: bool) -> Visit:
    """Return what a first visit was like until the page is quiet."""
    context = browser.new_context(viewport={"width": 1180, "height": 820}, has_touch=True)
    page = context.new_page()
    page.add_init_script(WATCH)
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    page.goto(address, wait_until="load", timeout=60_000)
    if answers:
        page.evaluate(ANSWERED)
    while page.evaluate("performance.now() - slow.last") < QUIET_MS:
        page.wait_for_timeout(200)
    result = page.evaluate("slow")
    context.close()
    return Visit(result["shift"], result["blocked"], result["longest"], result["parts"])


def test_nothing_moves_on_pages_that_show_all_there_is(host, site_root: Site, chromium):
    listed = sorted(site_root.folder.rglob("index.html"))
    addresses = [path.parent.relative_to(site_root.folder).as_posix().removeprefix(".") for path in listed]
    whole = [
        address
        for address, path in zip(addresses, listed, strict=True)
        if 'http-equiv="refresh"' not in path.read_text()
    ]
    chosen = sorted(
        {f"{address}/".lstrip("/") for address in enough_to_show_all(site_root, whole)} | {"", *calculator_pages()}
    )
    browser = launched(chromium)
    over = {}
    for address in chosen:
        # One good visit is enough, since the machine causes no shift by chance; a page over the limit gets its median.
        visit = visited(browser, host.url + address, answers=address in calculator_pages())
        shift, parts = visit.shift, visit.parts
        if shift > MOST_SHIFT:
            again = [
                visited(browser, host.url + address, answers=address in calculator_pages()).shift
                for _ in range(ROUNDS - 1)
            ]
            shift = statistics.median([shift, *again])
        print(f"\n{address or 'home'}: layout shift {shift:.3f}, at most {MOST_SHIFT}; {'; '.join(parts[:4])}", end="")
        if shift > MOST_SHIFT:
            over[address] = round(shift, 3)
    browser.close()
    assert len(chosen) > 15
    assert over == {}


@pytest.fixture(scope="module")
def visits(host, chromium) -> Callable[[str], list[Visit]]:
    """Returns some first visits to an address, made once for all tests of it."""

    @cache
    def made(address: str) -> list[Visit]:
        browser = launched(chromium)
        answers = address in calculator_pages()
        taken = [visited(browser, host.url + address, answers=answers) for _ in range(ROUNDS)]
        browser.close()
        return taken

    return made


@pytest.mark.parametrize("address", ["", *calculator_pages()])
def test_the_page_is_not_stuck_for_long(visits, address):
    most = MOST_BLOCKED_BY_PICTURES_MS if calculator_pages().get(address) else MOST_BLOCKED_MS
    took = [each.blocked for each in visits(address)]
    print(
        f"\n{address or 'home'}: blocked {statistics.median(took):.0f} ms "
        f"({' '.join(f'{each:.0f}' for each in took)}), at most {most} ms"
    )
    assert statistics.median(took) <= most


def how_tos() -> list[str]:
    """Return the address of one how-to of each stage."""
    written = [path.relative_to(CONTENT).with_suffix("") for path in sorted(CONTENT.glob("*/*.md")) if is_how_to(path)]
    return [f"{each.as_posix()}/" for each in {each.parts[0]: each for each in reversed(written)}.values()]


def is_how_to(path: Path) -> bool:
    return front_matter(path.read_text("utf-8")).get("kind") == "how-to"


@pytest.mark.parametrize(
    "address", ["", *how_tos(), *(each for each, picture in calculator_pages().items() if picture)]
)
def test_no_task_is_long_where_a_reader_taps_at_once(visits, address):
    most = LONGEST_WITH_PICTURES_MS if address in calculator_pages() else LONGEST_MS
    took = [each.longest for each in visits(address)]
    print(
        f"\n{address or 'home'}: the longest task {statistics.median(took):.0f} ms "
        f"({' '.join(f'{each:.0f}' for each in took)}), at most {most} ms"
    )
    assert statistics.median(took) <= most
