"""A whole job by touch, by keyboard alone and without a network: nothing of it leaves the device."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, FileChooser, Locator, Page, expect

from tests.browser.forms import open_calculator, save_book, visitor
from tests.browser.jobs import ALL_CHECKED, field, names, until
from tests.browser.test_look import axe
from tests.conftest import ROOT
from tests.jobs.typed import TYPED
from tests.servers import Server

SIZES = {"landscape": (1180, 820), "portrait": (820, 1180)}
SIGNS = {"Star": "12 mm", "Band": "30 mm", "Number 7": "9 mm"}
PARTNER = "Star, other side"
#: The worker that searches is told which of the site's scripts it takes.
STATIC = re.compile(r"/search-worker\.mjs\?search\.\w+\.min\.js$")
#: What a page could send by besides requests. Each use is recorded, and does nothing.
NOTE_CHANNELS = """globalThis.channels = [];
for (const name of ["WebSocket", "EventSource", "RTCPeerConnection", "WebTransport"]) {
  globalThis[name] = class { constructor(...rest) { channels.push([name, String(rest[0])]); } };
}
navigator.sendBeacon = (address) => { channels.push(["beacon", String(address)]); return true; };"""


@contextmanager
def watched(context: BrowserContext, server: Server) -> Iterator[list[str]]:
    """Note every request of a device, also those of its workers: each asks for a file of the site, and says no more."""
    asked: list[str] = []
    sockets: list[str] = []
    context.on("request", lambda request: asked.append(f"{request.method} {request.url}"))
    context.on("page", lambda page: page.on("websocket", lambda socket: sockets.append(socket.url)))
    context.add_init_script(NOTE_CHANNELS)
    yield asked
    for each in asked:
        method, url = each.split(" ", 1)
        assert method == "GET", each
        if not url.startswith(("data:", f"blob:{server.url}")):
            assert url.startswith(server.url), each
            address = urlsplit(url)
            assert (server.folder / address.path.lstrip("/")).exists(), each
            assert not address.query or STATIC.search(url), each
    assert sockets == []
    # A device that is used again also holds an empty page from before.
    shown = [page for page in context.pages if page.url.startswith(server.url)]
    assert shown and all(page.evaluate("channels") == [] for page in shown)


def row(page: Page, name: str) -> Locator:
    return page.get_by_role("listitem", name=name, exact=True)


def has_all(page: Page) -> None:
    """The list has the three signs and the partner of the first, checked."""
    expect(page.get_by_role("heading", name="4 markings")).to_be_visible()
    assert names(page) == ["Star", PARTNER, "Band", "Number 7"]
    expect(field(row(page, "Star"), "width")).to_have_value("14 mm")
    expect(field(row(page, PARTNER), "width")).to_have_value("14 mm")
    expect(field(row(page, PARTNER), "width")).to_be_disabled()
    expect(field(row(page, "Band"), "width")).to_have_value("30 mm")


def reads_well(page: Page) -> None:
    """What a screen reader is told of the list: how long it is, and the name, fields and fold of each row."""
    tree = page.locator(".dw-job").aria_snapshot()
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    folds = {each["name"]["value"] for each in nodes if each.get("role", {}).get("value") == "DisclosureTriangle"}
    assert 'heading "4 markings" [level=2]' in tree
    for name, width in (("Star", "14 mm"), (PARTNER, "14 mm"), ("Band", "30 mm"), ("Number 7", "9 mm")):
        there = row(page, name).aria_snapshot()
        assert f'textbox "Name": {name}' in there
        disabled = " [disabled]" if name == PARTNER else ""
        assert f'textbox "Width"{disabled}: {width}' in there
        assert 'textbox "Copies"' in there
        assert [each for each in folds if each.startswith(f"More about {name}: ")]
    for button in ("Save as a file", "Open a file", "Add a marking"):
        assert f'button "{button}"' in tree, tree
    assert axe(page) == []


@pytest.fixture(params=SIZES)
def tablet(request, browser, server) -> Iterator[BrowserContext]:
    width, height = SIZES[request.param]
    with visitor(browser, has_touch=True, viewport={"width": width, "height": height}) as context:
        yield context


def test_a_job_is_made_saved_and_opened_by_touch_and_nothing_leaves_the_device(tablet, server, tmp_path):
    with watched(tablet, server) as asked:
        page = tablet.new_page()
        page.goto(f"{server.url}job/")
        work_by_touch(page, tmp_path)
        # The watch sees the worker that runs Python.
        assert any("/engine/" in each for each in asked)
    # Nor did the server get any other.
    assert {f"GET {server.url}{each.path[1:]}" for each in server.requests} - {*asked} == set()


def work_by_touch(page: Page, folder: Path) -> None:
    """Add three markings, pair the first, change its size, delete one and take that back, save, and open."""
    for at, (name, width) in enumerate(SIGNS.items()):
        page.get_by_role("button", name="Add a marking").tap()
        expect(page.locator(".dw-marking")).to_have_count(at + 1)
        for attribute, text in (("name", name), ("width", width)):
            control = field(page.locator(".dw-marking").nth(at), attribute)
            control.tap()
            control.fill(text)
        page.locator(".dw-job h2").tap()
        expect(row(page, name)).to_be_visible()
    star = row(page, "Star")
    star.locator(".dw-marking-more > summary").tap()
    star.get_by_label("Partner").select_option("mirrored")
    star.get_by_role("button", name="Add its partner").tap()
    expect(row(page, PARTNER)).to_be_visible()
    field(star, "width").tap()
    field(star, "width").fill("14 mm")
    page.locator(".dw-job h2").tap()
    expect(field(row(page, PARTNER), "width")).to_have_value("14 mm")
    band = row(page, "Band")
    band.locator(".dw-marking-more > summary").tap()
    band.get_by_role("button", name="Delete").tap()
    expect(page.get_by_role("heading", name="3 markings")).to_be_visible()
    reachable(page, page.get_by_role("button", name="Undo"))
    page.get_by_role("button", name="Undo").tap()
    has_all(page)
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save as a file").tap()
    saving.value.save_as(folder / "signs.zip")
    with page.expect_file_chooser() as choosing:
        page.locator("[data-does=open]").tap()
    choosing.value.set_files(folder / "signs.zip")
    is_open(page)


def is_open(page: Page) -> None:
    """The saved job is open beside the first, with every verdict."""
    expect(page.locator(".dw-job-status")).to_contain_text("is open. The jobs that were here are still in the list.")
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    has_all(page)
    assert len(page.evaluate("dwStore.jobs()")) == 2


def reachable(page: Page, control: Locator) -> None:
    """The control is big enough for a finger, and on the screen once it is scrolled to."""
    control.scroll_into_view_if_needed()
    box, size = control.bounding_box(), page.viewport_size
    assert box and size
    assert box["width"] >= 44 and box["height"] >= 44
    assert 0 <= box["x"] and box["x"] + box["width"] <= size["width"]


@pytest.fixture
def desk(browser, server) -> Iterator[BrowserContext]:
    with visitor(browser) as context:
        yield context


def tab_to(page: Page, control: Locator, *, back: bool = False) -> None:
    """Press the tab key until a control has the focus, as a reader without a mouse does."""
    for _ in range(120):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        if control.count() and control.evaluate("one => one === document.activeElement"):
            return
    raise AssertionError(f"the tab key never reached {control}")


def test_a_job_is_made_saved_and_opened_by_keyboard_alone(desk, server, tmp_path):
    with watched(desk, server):
        page = desk.new_page()
        page.goto(f"{server.url}job/")
        expect(page.locator(".dw-job-empty")).to_be_visible()
        work_by_keyboard(page, tmp_path)
        is_open(page)
        # Each field and button has its name in the tree.
        delete_and_undo(page, "Band")
        reads_well(page)


def work_by_keyboard(page: Page, folder: Path) -> None:
    """Do what ``work_by_touch`` does with keys only."""
    # Asked for before any key is pressed: the driver takes a moment until it sees choosers.
    choosers: list[FileChooser] = []

    def note(chooser: FileChooser) -> None:
        choosers.append(chooser)

    page.on("filechooser", note)
    add = page.get_by_role("button", name="Add a marking")
    for at, (name, width) in enumerate(SIGNS.items()):
        tab_to(page, add, back=at > 0)
        page.keyboard.press("Enter")
        # Its name has the focus, and all of it is selected.
        expect(field(page.locator(".dw-marking").nth(at), "name")).to_be_focused()
        page.keyboard.type(name)
        page.keyboard.press("Tab")
        page.keyboard.type(width)
        page.keyboard.press("Tab")
        expect(row(page, name)).to_be_visible()
    star = row(page, "Star")
    tab_to(page, star.locator(".dw-marking-more > summary"), back=True)
    page.keyboard.press("Enter")
    tab_to(page, star.get_by_label("Partner"))
    page.keyboard.press("ArrowDown")
    expect(star.get_by_label("Partner")).to_have_value("mirrored")
    tab_to(page, star.get_by_role("button", name="Add its partner"))
    page.keyboard.press("Enter")
    expect(row(page, PARTNER)).to_be_visible()
    tab_to(page, field(star, "width"), back=True)
    page.keyboard.press("Control+A")
    page.keyboard.type("14 mm")
    page.keyboard.press("Tab")
    expect(field(row(page, PARTNER), "width")).to_have_value("14 mm")
    delete_and_undo(page, "Band")
    has_all(page)
    tab_to(page, page.get_by_role("button", name="Save as a file"), back=True)
    with page.expect_download() as saving:
        page.keyboard.press("Enter")
    saving.value.save_as(folder / "signs.zip")
    tab_to(page, page.locator("[data-does=open]"))
    page.keyboard.press("Enter")
    until(lambda: bool(choosers), page)
    choosers[0].set_files(folder / "signs.zip")


def delete_and_undo(page: Page, name: str) -> None:
    """Delete a marking with keys, and take that back."""
    one = row(page, name)
    tab_to(page, one.locator(".dw-marking-more > summary"))
    if not one.locator(".dw-marking-more").evaluate("one => one.open"):
        page.keyboard.press("Enter")
    tab_to(page, one.get_by_role("button", name="Delete"))
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="3 markings")).to_be_visible()
    tab_to(page, page.get_by_role("button", name="Undo"), back=True)
    page.keyboard.press("Enter")
    expect(row(page, name)).to_be_visible()


def test_a_saved_book_needs_no_network_for_a_whole_job(browser, server, tmp_path):
    with visitor(browser, saves=True, has_touch=True) as context:
        page = open_calculator(context, f"{server.url}size/scale-size/")
        save_book(page)
        page.goto(f"{server.url}job/")
        expect(page.locator(".dw-job-empty")).to_be_visible()
        context.set_offline(True)
        server.clear()
        work_by_touch(page, tmp_path)
        # The browser itself asks whether there is another offline worker.
        assert {each.path for each in server.requests} <= {"/offline-worker.js"}


def test_a_job_that_an_earlier_page_saved_opens_with_all_that_was_typed(job_page, server):
    """Made by the program of its day: tests/jobs/README.md."""
    job_page.locator("[data-does=open]").set_input_files(ROOT / "tests" / "jobs" / "format-3" / "job.zip")
    expect(job_page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)
    expect(job_page.locator(".dw-job-verdict")).to_have_text([re.compile("^size: "), re.compile("^artwork: ")])
    for path, texts, picture in TYPED:
        job_page.goto(f"{server.url}{path}/")
        for name, text in texts.items():
            stored = job_page.locator(f"[id='in-{name}']")
            # A length in the unit that the page shows stands without it.
            expect(stored).to_have_value(re.compile(f"^{re.escape(text.removesuffix(' mm'))}( mm)?$"))
        if picture:
            expect(job_page.locator(".dw-drop-name").first).to_have_text(picture)
