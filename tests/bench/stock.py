"""Empty browsers and their start of unmodified Pyodide, the measure that every ratio compares with."""

from __future__ import annotations

import shutil

from playwright.sync_api import Browser, BrowserType, Page

from tests.conftest import BROWSER_ARGUMENTS
from tests.servers import Server

#: A browser that was just launched is busy with windows of its own for a moment, which a
#: reader who types an address has behind them.
SETTLING_MS = 1_000


def launched(chromium: BrowserType) -> Browser:
    """Return a browser with a new profile."""
    return chromium.launch(executable_path=shutil.which("chromium"), args=BROWSER_ARGUMENTS)


def stock_start(host: Server, chromium: BrowserType) -> float:
    """Return the milliseconds from navigation to a first answer of unmodified Pyodide, in a browser of its own."""
    browser = launched(chromium)
    page = browser.new_page()
    page.add_init_script("window.answered = new Promise((resolve) => (window.answeredAt = resolve));")
    page.goto(f"{host.url}stock/stock.html", wait_until="commit")
    took = page.evaluate("window.answered")
    browser.close()
    return took


def wait_for_words(page: Page, selector: str, words: str) -> None:
    """Wait until an element has these words among its own, to the frame: what ``expect`` waits for it looks at once a
    second in the end.
    """
    found = "([selector, words]) => document.querySelector(selector)?.textContent.includes(words)"
    page.wait_for_function(found, arg=[selector, words], timeout=240_000)
