"""The devices for testing the calculators, and smaller sites."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect

from builder.offline import write_offline_worker
from tests.browser.forms import open_calculator, visitor
from tests.conftest import Site
from tests.servers import Server

#: How far a page's engine is, and what the page says.
_STATE = """() => `engine: ${globalThis.dwEngine?.state}\n${document.querySelector("main")?.innerText}`"""
#: A page that is on its way to another, or hangs, says nothing: so long is waited for it.
_MOST_WAITED_MS = 3_000
#: So much of a page's text is reported.
_MOST_CHARACTERS = 4000


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo) -> Iterator[None]:
    """Add to a failed test what its pages say: a sentence for the reader often names the reason."""
    report = yield
    if report.when == "call" and report.failed:
        for browser in [each for each in item.funcargs.values() if isinstance(each, Browser)]:
            for page in [page for context in browser.contexts for page in context.pages]:
                report.sections.append((page.url, _words_of(page)))
    return report


def _words_of(page: Page) -> str:
    try:
        words = page.wait_for_function(_STATE, timeout=_MOST_WAITED_MS).json_value()
    except Error as error:
        return str(error)
    return words[:_MOST_CHARACTERS]


@pytest.fixture
def context(browser, workbench_server) -> Iterator[BrowserContext]:
    """A desk with a mouse."""
    with visitor(browser) as made:
        yield made


@pytest.fixture
def saving(browser, workbench_server) -> Iterator[BrowserContext]:
    """The same, with the site saved for when there is no network."""
    with visitor(browser, saves=True) as made:
        yield made


@pytest.fixture
def tablet(browser, workbench_server) -> Iterator[BrowserContext]:
    """A touch tablet."""
    with visitor(browser, has_touch=True) as made:
        yield made


@pytest.fixture
def at(context, workbench_server) -> Callable[..., Page]:
    """Opens the calculator at a path, and waits for its answer unless told not to."""

    def opened(path: str, *, answers: bool = True) -> Page:
        if answers:
            return open_calculator(context, f"{workbench_server.url}{path}/")
        page = context.new_page()
        page.goto(f"{workbench_server.url}{path}/")
        return page

    return opened


@pytest.fixture
def job_device(browser, server) -> Iterator[BrowserContext]:
    """A touch tablet with nothing on it, for the page of a job."""
    with visitor(browser, has_touch=True) as made:
        yield made


@pytest.fixture
def job_page(job_device, server) -> Page:
    """The page of a job, without one."""
    made = job_device.new_page()
    made.goto(f"{server.url}job/")
    expect(made.locator(".dw-job-empty")).to_be_visible()
    return made


def _fewer(folder: str, names: list[str]) -> list[str]:
    """Return the pages of long lists, all but five each, and the texts of the licences."""
    many = Path(folder).name in ("reference", "rescue", "licences")
    return [name for name in sorted(names) if "." not in name][5:] if many else []


def _small_book(site: Site, folder: Path) -> Iterator[Server]:
    """Serve a copy of a site with a third of its files, saved in a third of the time. A test may change it."""
    shutil.copytree(site.folder, folder, ignore=_fewer)
    write_offline_worker(folder)
    with Server(folder, site.below, packs=True) as server:
        yield server


@pytest.fixture
def book(site_root, tmp_path) -> Iterator[Server]:
    """The site with fewer entries."""
    yield from _small_book(site_root, tmp_path / "site")


@pytest.fixture
def sub_book(site_sub, tmp_path) -> Iterator[Server]:
    """The site below a path, with fewer entries."""
    yield from _small_book(site_sub, tmp_path / "site")


@pytest.fixture
def workbench_book(site_workbench, tmp_path) -> Iterator[Server]:
    """The site with the test calculators and fewer entries."""
    yield from _small_book(site_workbench, tmp_path / "site")
