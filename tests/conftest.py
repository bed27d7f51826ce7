"""Shared fixtures: the built sites, servers of them, and one browser.

A site is built once a run, as a contributor would build it, and only if a test asks for it.
``server`` and similar fixtures start clean; settings of a test end with the test.
"""

from __future__ import annotations

import gc
import os
import pickle
import shutil
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from filelock import FileLock

from builder.offline import write_offline_worker
from builder.pages import Page as PrintedPage
from builder.pages import write_pages
from calculators import catalogue
from tests.servers import Server
from tests.tools import program

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page, Playwright

pytest_plugins = ["pytester"]

ROOT = Path(__file__).resolve().parent.parent
BUILT = ROOT / "build" / "tests"
#: Where the sites are built for; each process serves a copy at a port of its own.
_ORIGIN = "http://127.0.0.1:8000"

#: Fixtures that are slow to set up.
_SITES = frozenset({"browser", "separate_browser", "whole_browser", "site_root", "site_sub", "site_workbench"})

BROWSER_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
#: Keeps Playwright's driver from describing pages while it waits.
_UNDESCRIBED = ROOT / "tests" / "browser" / "undescribed.cjs"
#: All pages of a context in one process, which compiles Python's WebAssembly once (tests/browser/devices.py).
_ONE_PROCESS = "--renderer-process-limit=1"
#: WebAssembly is not compiled again where it runs often. That takes more time than it saves in the seconds of a test: a
#: first answer of picture-check takes 2.0 s of the processor in place of 2.7. `make bench` compiles as readers do.
_ONE_COMPILER = "--js-flags=--liftoff-only"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--slow", type=float, default=1, metavar="TIMES", help="let Chromium's pages run so many times as slowly"
    )


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the tests that need the browser, and order the files.

    A single process runs files with slow fixtures or slow tests last, so that quick failures come first. Several
    processes begin with them, so that none ends with a long one: one builds the first site, while the others run what
    is slow without a site. What that build has packed, those of the other sites need not pack again.
    """
    sites, alone = set(), set()
    for item in items:
        asked = _SITES & {*getattr(item, "fixturenames", ())}
        if asked & {"browser", "whole_browser"}:
            item.add_marker(pytest.mark.browser)
        if asked:
            sites.add(item.path)
        elif item.get_closest_marker("slow"):
            alone.add(item.path)
    if "PYTEST_XDIST_WORKER" not in os.environ:
        items.sort(key=lambda item: item.path in sites | alone)
        return
    # The test calculators are surveyed after our own, so the site without them comes first.
    plain = (item for item in items if "site_root" in getattr(item, "fixturenames", ()))
    first = next((item.path for item in plain if not item.get_closest_marker("bench")), None)
    items.sort(key=lambda item: (item.path != first, item.path not in alone - sites, item.path not in sites))


def pytest_collection_finish(session: pytest.Session) -> None:
    """Collect garbage seldom, and leave out of it what stays for the whole run: thousands of tests and their modules.

    Traces and rasters make many objects and hardly a cycle, and each collection looked at all of these.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Skip a test whose required program is missing; fail it in CI."""
    for mark in item.iter_markers("needs"):
        command, package = mark.args
        program(command, package=package)


@dataclass(frozen=True)
class Site:
    """A built site: its folder, the path and port that it is made for, and where it was built before it was moved."""

    folder: Path
    below: str
    port: int
    built: Path


def made_once(name: str, make: Callable[[], None]) -> None:
    """Make what has this name below ``BUILT``, unless a process of this run has made it already."""
    made_by = BUILT / f"{name}.run"
    run = os.environ.get("PYTEST_XDIST_TESTRUNUID", str(os.getpid()))
    BUILT.mkdir(parents=True, exist_ok=True)
    with FileLock(BUILT / f"{name}.lock"):
        if not (made_by.is_file() and made_by.read_text() == run):
            make()
            made_by.write_text(run)


def build_site(name: str, below: str, *options: str) -> Site:
    """Return a site for a free port of this machine, built once for all processes of a run.

    A failed build fails the test with the output of the build.
    """
    shared = BUILT / name
    address = ("--site-url", f"{_ORIGIN}{below}", "--out", str(shared))

    def build() -> None:
        command = [sys.executable, "-m", "builder", "build", *address, *options]
        made = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        if made.returncode:
            pytest.fail(f"{' '.join(command)}\n{made.stdout}{made.stderr}", pytrace=False)

    made_once(name, build)
    return _moved(shared, BUILT / os.environ.get("PYTEST_XDIST_WORKER", "single") / name, below)


def _moved(shared: Path, folder: Path, below: str) -> Site:
    """Return a copy of the site at another address.

    Only the list of pages names the address and is read by the page.
    """
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(shared, folder)
    listed = folder / "sitemap.xml"
    listed.write_text(listed.read_text("utf-8").replace(_ORIGIN, f"http://127.0.0.1:{port}"), "utf-8")
    write_offline_worker(folder)
    return Site(folder, below, port, shared)


def _served(site: Site) -> Iterator[Server]:
    with Server(site.folder, site.below, packs=True, port=site.port) as server:
        yield server


def _clean(server: Server) -> Iterator[Server]:
    server.clear()
    server.start()
    yield server
    server.start()
    server.clear()


@pytest.fixture(scope="session")
def printed_pages() -> tuple[Path, list[PrintedPage]]:
    """The pages of the real content as the builder prints them for mkdocs: their folder, and what they are."""
    folder, listed = BUILT / "printed", BUILT / "printed.pickle"
    made_once("printed", lambda: listed.write_bytes(pickle.dumps(write_pages(ROOT, folder))))
    return folder, pickle.loads(listed.read_bytes())


@pytest.fixture(scope="session")
def site_root() -> Site:
    """The site as published, for the top of a host."""
    return build_site("root", "/")


@pytest.fixture(scope="session")
def site_sub() -> Site:
    """The site as published, for a host that serves it below /a/b/."""
    return build_site("sub", "/a/b/")


@pytest.fixture(scope="session")
def site_workbench() -> Site:
    """The site with the test calculators of ``tests/workbench`` on top."""
    return build_site(
        "workbench", "/", "--include", str(ROOT / "tests" / "workbench"), "--scratch", str(ROOT / "build" / "workbench")
    )


@pytest.fixture(scope="session")
def _root_server(site_root: Site) -> Iterator[Server]:
    yield from _served(site_root)


@pytest.fixture(scope="session")
def _sub_server(site_sub: Site) -> Iterator[Server]:
    yield from _served(site_sub)


@pytest.fixture(scope="session")
def _workbench_server(site_workbench: Site) -> Iterator[Server]:
    yield from _served(site_workbench)


@pytest.fixture
def server(_root_server: Server) -> Iterator[Server]:
    """A usual host with the site at its root: it compresses text and lists requests."""
    yield from _clean(_root_server)


@pytest.fixture
def sub_server(_sub_server: Server) -> Iterator[Server]:
    """The same, with the site below /a/b/."""
    yield from _clean(_sub_server)


@pytest.fixture
def workbench_server(_workbench_server: Server) -> Iterator[Server]:
    """The same, with the test calculators on the site."""
    yield from _clean(_workbench_server)


@pytest.fixture(scope="session")
def _driver() -> Iterator[Playwright]:
    """The browser driver. Skips if it is missing; fails in CI."""
    program("chromium", package="chromium")
    from playwright.sync_api import expect, sync_playwright

    # Several processes share the machine: what is right comes, but not always soon.
    expect.set_options(timeout=20_000)
    with pytest.MonkeyPatch.context() as environment:
        environment.setenv("NODE_OPTIONS", f'{os.environ.get("NODE_OPTIONS", "")} --require "{_UNDESCRIBED}"')
        driver = sync_playwright().start()
    yield driver
    driver.stop()


def _launched(driver: Playwright, program: str, slow: float, *more: str) -> Iterator[Browser]:
    running = driver.chromium.launch(executable_path=program, args=[*BROWSER_ARGUMENTS, _ONE_COMPILER, *more])
    if slow > 1:
        _slow_down(running, slow)
    yield running
    running.close()


def _slow_down(browser: Browser, times: float) -> None:
    """Let each page of a browser run on a processor that is so many times as slow.

    A test that passes on a quick machine only then shows itself. Workers are not slowed.
    """
    make = browser.new_context

    def new_context(**options: Any) -> BrowserContext:
        context = make(**options)
        open_page = context.new_page

        def new_page() -> Page:
            page = open_page()
            context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": times})
            return page

        context.new_page = new_page
        return context

    browser.new_context = new_context


def _shell() -> str | None:
    return shutil.which("chromium-headless-shell") or shutil.which("chromium")


@pytest.fixture(scope="session")
def browser(_driver: Playwright, request: pytest.FixtureRequest) -> Iterator[Browser]:
    """Chromium's headless shell if installed: same pages, half the time."""
    yield from _launched(_driver, _shell(), request.config.getoption("slow"), _ONE_PROCESS)


@pytest.fixture
def separate_browser(_driver: Playwright, request: pytest.FixtureRequest) -> Iterator[Browser]:
    """The same, with a process for each tab, which can be killed alone."""
    yield from _launched(_driver, _shell(), request.config.getoption("slow"))


@pytest.fixture(scope="session")
def whole_browser(_driver: Playwright, request: pytest.FixtureRequest) -> Iterator[Browser]:
    """Full Chromium, for features beyond showing pages: offline storage, history."""
    yield from _launched(_driver, shutil.which("chromium"), request.config.getoption("slow"))


@pytest.fixture
def with_workbench(monkeypatch) -> Iterator[None]:
    """Let this process find the calculators of tests/workbench, for one test."""
    monkeypatch.setattr(catalogue, "_packages", [*catalogue._packages, "tests.workbench"])
    catalogue.refresh()
    yield
    monkeypatch.undo()
    catalogue.refresh()
