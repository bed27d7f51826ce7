"""The devices for testing the calculators."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import BrowserContext

from tests.browser.forms import visitor


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
