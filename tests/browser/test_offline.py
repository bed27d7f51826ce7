"""Once saved, the whole site works without the server.

A newer edition is announced and activated with one tap.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from time import sleep

import pytest
from playwright.sync_api import Browser, BrowserContext

from builder.offline import write_offline_worker
from calculators.messages import PAGE
from tests.browser.forms import save_book
from tests.servers import Server

ANSWERED = ".dw-answer[data-state=answered]"


@contextmanager
def desk(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 1180, "height": 820})
    made.set_default_timeout(20_000)
    yield made
    made.close()


@pytest.fixture
def context(browser):
    with desk(browser) as made:
        yield made


@pytest.fixture
def whole_context(whole_browser):
    with desk(whole_browser) as made:
        yield made


@pytest.fixture(params=["server", "sub_book"])
def host(request) -> Server:
    """The site at the top of a host, and with fewer entries below a path."""
    return request.getfixturevalue(request.param)


def save(page, host: Server, path: str = "artwork/resolution/") -> None:
    """Open a calculator, choose to save the book, and wait until the page says that it is ready offline."""
    page.goto(host.url + path)
    page.wait_for_selector(ANSWERED)
    save_book(page)


def begin(page) -> None:
    """Start or resume saving by hand."""
    if page.locator(".dw-saving").is_hidden():
        page.click(".dw-offline")
    page.click(".dw-saving-begin")


def ask(page, field: str, typed: str, result: str, expected: str) -> None:
    """Type into a field and wait for the answer."""
    page.fill(f"[name={field}]", typed)
    page.wait_for_selector(f"[data-result={result}] [data-part=shown]:text-is('{expected}')")


def test_everything_works_offline_with_every_file(whole_context, host):
    """In whole Chromium; the other tests are about our own scripts, for which the headless shell is enough."""
    page = whole_context.new_page()
    save(page, host)
    listed = re.findall(r'^\["([^"]+)"', (host.folder / "offline-worker.js").read_text("utf-8"), re.MULTILINE)
    host.stop()
    unread = page.evaluate(
        """async ([root, paths]) => {
          const unread = [];
          for (const path of paths) if (!(await fetch(root + path).catch(() => ({}))).ok) unread.push(path);
          return unread;
        }""",
        [host.url, listed],
    )
    assert len(listed) > 50 and unread == []
    # Instant navigation first, in the visit that saved; then new visits.
    page.click(".dw-rule a[href*='size/']")
    page.wait_for_url(f"{host.url}size/")
    page.goto(f"{host.url}size/scale-size/")
    # 12 in, the height of a registration mark, at 1:24 is half an inch, 12.7 mm (14 CFR 45.29).
    page.fill("[name=scale]", "1:24")
    ask(page, "full_size_mm", "12 in", "model_size_mm", "12.70")
    assert page.evaluate("dwEngine.way") == "snapshot"
    page.goto(f"{host.url}artwork/resolution/?engine=plain")
    ask(page, "width_mm", "50.8 mm", "printed_ppi", "100")
    assert page.evaluate("dwEngine.way") == "plain"
    assert whole_context.new_page().goto(host.url).status == 200


def test_saving_is_offered_once_and_fetches_nothing_twice(context, book):
    page = context.new_page()
    page.goto(f"{book.url}artwork/resolution/")
    assert page.is_hidden(".dw-saving")
    page.wait_for_selector(ANSWERED)
    page.wait_for_selector(".dw-saving:has-text('This downloads about')")
    edition = json.loads((book.folder / "edition.json").read_text("utf-8"))
    for bytes_ in (edition["fetched"], edition["bytes"]):
        assert f"{bytes_ / 1e6:.0f} MB" in page.inner_text(".dw-saving p")
    page.click(".dw-saving-close")
    page.reload()
    page.wait_for_selector(ANSWERED)
    page.wait_for_timeout(500)
    assert page.is_hidden(".dw-saving") and page.get_attribute(".dw-offline", "data-state") == "off"
    assert "/offline-worker.js" not in book.counts()
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=ready]")
    assert "/offline-worker.js" in book.counts()
    # Files of this visit come from the browser's cache, or are revalidated.
    again = Counter(
        request.path for request in book.requests if request.sent_bytes and request.path.startswith("/engine/")
    )
    assert len(again) > 4 and set(again.values()) == {1}


def test_saving_can_start_on_any_page(context, book):
    page = context.new_page()
    page.goto(book.url)
    page.wait_for_load_state("networkidle")
    assert not any(
        "offline-worker" in request.path or "engine/" in request.path
        for request in book.requests
        if not request.path.startswith("/assets/")
    )
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=ready]")


def test_stopped_saving_resumes_on_request(context, book):
    page = context.new_page()
    book.bytes_per_s = 1_500_000
    page.goto(book.url)
    begin(page)
    page.wait_for_selector(".dw-saving p:has-text(' of ')")
    page.click(".dw-saving-stop")
    page.wait_for_selector(".dw-offline[data-state=stopped]")
    page.wait_for_timeout(300)  # What was on its way may still come.
    book.requests.clear()
    page.reload()
    page.wait_for_selector(".dw-offline[data-state=stopped]")
    page.wait_for_timeout(700)
    assert not any(re.search(r"engine/|offline-worker|/reference/", request.path) for request in book.requests)
    book.clear()
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=saving]")
    # Unfinished saving resumes silently in the next visit.
    page.close()
    later = context.new_page()
    later.goto(book.url)
    later.wait_for_selector(".dw-offline[data-state=ready]")
    assert max(book.counts()[path] for path in book.counts() if path.startswith("/engine/")) == 1


def test_data_saving_devices_are_not_asked_but_can_save(context, book):
    context.add_init_script("Object.defineProperty(navigator, 'connection', { value: { saveData: true } })")
    page = context.new_page()
    page.goto(f"{book.url}size/scale-size/")
    page.wait_for_selector(ANSWERED)
    page.wait_for_timeout(500)
    assert page.is_hidden(".dw-saving")
    page.click(".dw-offline")
    assert PAGE["saving_sparing"] in page.inner_text(".dw-saving p")
    assert page.inner_text(".dw-saving-begin") == PAGE["save_now"]
    assert "/offline-worker.js" not in book.counts()


def test_a_broken_connection_is_reported_and_saving_resumes(context, book):
    page = context.new_page()
    book.broken[r"/search/"] = 503
    page.goto(book.url)
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=failed]")
    book.clear()
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=ready]")


def test_a_full_device_is_reported_and_saving_resumes(context, book):
    page = context.new_page()
    origin = {"origin": book.url.rstrip("/")}
    room = context.new_cdp_session(page)
    room.send("Storage.overrideQuotaForOrigin", {**origin, "quotaSize": 2_000_000})
    page.goto(book.url)
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=full]")
    assert page.inner_text(".dw-offline [data-part=words]") == PAGE["offline_full"]
    # The book itself still works, from the network.
    page.goto(f"{book.url}artwork/resolution/")
    page.wait_for_selector(ANSWERED)
    # Saving goes on by itself in every visit; only when that has failed too does the page offer the button.
    page.wait_for_selector(".dw-offline[data-state=full]")
    room.send("Storage.overrideQuotaForOrigin", origin)
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=ready]")


def test_a_new_version_fetches_only_changed_files(context, book):
    page, other = context.new_page(), context.new_page()
    save(page, book)
    home = book.folder / "index.html"
    home.write_text(home.read_text("utf-8").replace("<title>", "<title>Changed: "), "utf-8")
    write_offline_worker(book.folder)
    book.requests.clear()
    other.goto(book.url)
    assert "Changed" not in other.title()
    # Browsers check for a new version when a visit starts; here the test triggers it.
    other.evaluate(
        """() => {
          const late = new Promise((_, refuse) => setTimeout(refuse, 20_000, new Error("no new version came to wait")));
          const came = async () => {
            const registration = await navigator.serviceWorker.ready;
            await registration.update();
            while (!registration.waiting) await new Promise((resolve) => setTimeout(resolve, 20));
          };
          return Promise.race([came(), late]);
        }"""
    )
    fetched = [request.path for request in book.requests if request.path != "/offline-worker.js"]
    assert fetched == ["/index.html"]
    # Every open page announces it.
    for each in (page, other):
        each.wait_for_selector(".dw-edition")
    # Two pages are open: the other one keeps the version that it started with.
    other.reload()
    assert "Changed" not in other.title()
    page.close()
    other.close()
    # A new visit. The browser needs a moment to forget closed pages.
    for _ in range(20):
        visit = context.new_page()
        visit.goto(book.url)
        if "Changed" in visit.title():
            break
        visit.close()
        sleep(1)
    assert "Changed" in visit.title()
    # A later page clears the older version away, once no page can still be opening from it.
    for _ in range(20):
        versions = [name for name in visit.evaluate("caches.keys()") if name.startswith("offline")]
        if len(versions) == 1:
            break
        visit.wait_for_timeout(500)
        visit.reload()
    assert len(versions) == 1


def test_the_button_says_if_nothing_can_be_saved(browser, book):
    context = browser.new_context(service_workers="block")
    context.add_init_script("delete Navigator.prototype.serviceWorker")
    page = context.new_page()
    page.goto(f"{book.url}artwork/resolution/")
    page.wait_for_selector(ANSWERED)
    assert page.get_attribute(".dw-offline", "data-state") == "unavailable"
    assert page.inner_text(".dw-offline [data-part=words]") != ""
    context.close()


def test_saving_pauses_while_a_question_is_answered(context, workbench_book):
    page = context.new_page()
    # Slow, so that saving is still running when the question comes.
    workbench_book.delays[r"\.html$|/$"] = 0.2
    page.goto(f"{workbench_book.url}sheet/long-work/")
    page.wait_for_selector(ANSWERED)
    begin(page)
    page.wait_for_selector(".dw-offline[data-state=saving]")
    page.fill("[name=step_s]", "4")
    page.fill("[name=steps]", "1")
    page.wait_for_selector(".dw-progress:not([hidden])")
    # What was on its way may still come.
    before = -1
    while before < len(workbench_book.requests):
        before = len(workbench_book.requests)
        page.wait_for_timeout(500)
    page.wait_for_timeout(800)
    assert page.evaluate("dwEngine.working") and len(workbench_book.requests) == before
    page.wait_for_selector("[data-result=steps] [data-part=shown]:text-is('1')")
    workbench_book.clear()
    page.wait_for_selector(".dw-offline[data-state=ready]")
    assert workbench_book.requests


#: A caution in a page, and the end of its text.
CAUTION = re.compile(r"<li data-hazard[^>]*>.*?([^<>]{12,})(?:<[^<>]*>)*</li>", re.DOTALL)
CORRECTED = "CORRECTED: never near a flame."


def correct_a_caution(site: Server) -> str:
    """Change a caution in every page that has it, as in a new edition, and return one of those pages."""
    pages = {path: path.read_text("utf-8") for path in site.folder.rglob("*.html")}
    having: dict[str, list] = {}
    for path, html in sorted(pages.items()):
        for words in set(CAUTION.findall(html)):
            having.setdefault(words, []).append(path)
    # Choose a caution on few pages, to shorten the download on the slow line.
    words = min(
        (words for words, paths in having.items() if len(paths) > 1), key=lambda words: (len(having[words]), words)
    )
    for path in having[words]:
        path.write_text(pages[path].replace(words, f"{words} {CORRECTED}"), "utf-8")
    print(f"\n{len(having[words])} pages have: {words}")
    write_offline_worker(site.folder)
    return having[words][0].parent.relative_to(site.folder).as_posix() + "/"


def take_the_newer(page, field: str, typed: str) -> None:
    """Type, and tap at once: the newer edition still has the typed text."""
    page.wait_for_selector(".dw-edition")
    page.fill(f"[name={field}]", typed)
    with page.expect_navigation(timeout=20_000):
        page.click(".dw-edition-take")
    page.wait_for_selector(ANSWERED)
    assert page.input_value(f"[name={field}]") == typed
    assert page.is_hidden(".dw-edition")


def test_a_corrected_caution_reaches_an_open_tab(context, book):
    page = context.new_page()
    page.clock.install()
    save(page, book, "size/scale-size/")
    cautioned = correct_a_caution(book)
    book.bytes_per_s = 50_000  # 400 kbit/s
    page.clock.fast_forward("01:00:00")
    page.wait_for_timeout(1_000)
    book.stop()
    assert page.is_hidden(".dw-edition")
    other = context.new_page()
    other.goto(book.url + cautioned)
    assert CORRECTED not in other.content()
    book.requests.clear()
    book.start()
    page.clock.fast_forward("01:00:00")
    page.wait_for_selector(".dw-edition", timeout=60_000)
    print(f"\nfetched for it at last: {book.sent_bytes()} bytes in {len(book.requests)} requests")
    take_the_newer(page, "full_size_mm", "321")
    book.stop()
    page.goto(book.url + cautioned)
    assert CORRECTED in page.content()
    # The other tab keeps its edition until the reader updates it there too.
    assert CORRECTED not in other.content()
    other.wait_for_selector(".dw-edition")


def test_data_saving_devices_fetch_a_newer_edition_when_it_is_taken(context, book):
    context.add_init_script("Object.defineProperty(navigator, 'connection', { value: { saveData: true } })")
    page = context.new_page()
    page.clock.install()
    save(page, book, "size/scale-size/")
    page.reload()  # The offline worker learns from a page that the device saves data.
    page.wait_for_selector(".dw-offline[data-state=ready]")
    cautioned = correct_a_caution(book)
    book.requests.clear()
    page.clock.fast_forward("01:00:00")
    page.wait_for_selector(".dw-edition")
    assert page.inner_text(".dw-edition p") == PAGE["edition_unfetched"]
    # What browsers do by themselves once a page is loaded.
    page.evaluate("navigator.serviceWorker.getRegistration().then((each) => each.update()).catch(() => {})")
    page.wait_for_function(
        "navigator.serviceWorker.getRegistration().then((each) => !each.installing && !each.waiting)"
    )
    fetched = {path for path in book.counts() if path not in ("/edition.json", "/offline-worker.js")}
    assert fetched == set()
    take_the_newer(page, "full_size_mm", "321")
    book.stop()
    page.goto(book.url + cautioned)
    assert CORRECTED in page.content()


def test_a_corrected_caution_reaches_an_unsaved_reader(context, book):
    page = context.new_page()
    page.clock.install()
    page.goto(f"{book.url}size/scale-size/")
    page.wait_for_selector(ANSWERED)
    page.click(".dw-saving-close")
    with page.expect_response("**/edition.json"):
        page.clock.fast_forward("00:21")
    cautioned = correct_a_caution(book)
    assert page.is_hidden(".dw-edition")
    page.clock.fast_forward("01:00:00")
    take_the_newer(page, "full_size_mm", "321")
    page.goto(book.url + cautioned)
    assert CORRECTED in page.content()
