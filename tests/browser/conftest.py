"""The devices for testing the calculators."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.forms import open_calculator, visitor


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
