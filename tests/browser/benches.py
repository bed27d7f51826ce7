"""How-to pages for bench mode: finding them in the built site, and opening them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page

from tests.browser.forms import WITHOUT_SAVING

PORTRAIT = {"width": 820, "height": 1180}


def how_tos(site: Path) -> dict[str, str]:
    """Return the HTML of every how-to page of a built site by its address below the site's root."""
    pages = {
        path.parent.relative_to(site).as_posix() + "/": path.read_text("utf-8")
        for path in sorted(site.rglob("index.html"))
    }
    return {url: html for url, html in pages.items() if 'class="dw-bench-begin"' in html}


def how_to_with(site: Path, *patterns: str) -> str:
    """Return the address of the first how-to page that matches every pattern."""
    for url, html in how_tos(site).items():
        if all(re.search(pattern, html) for pattern in patterns):
            return url
    pytest.fail(f"no how-to page holds {patterns}")


@dataclass
class Bench:
    """A how-to page in the browser."""

    page: Page

    @property
    def next(self) -> Locator:
        return self.page.locator(".dw-bench-next")

    @property
    def place(self) -> Locator:
        return self.page.locator(".dw-bench-place")

    @property
    def step(self) -> Locator:
        """The visible step."""
        return self.page.locator(".dw-article > ol > li[data-bench-visible]")

    @property
    def count(self) -> int:
        return self.page.locator(".dw-article > ol > li").count()

    def begin(self) -> Bench:
        self.page.click(".dw-bench-begin")
        self.next.wait_for()
        return self

    def go_to_step(self, number: int) -> Bench:
        """Go forward until a step is visible."""
        for _ in range(3 * self.count):
            if self.place.text_content() == f"Step {number} of {self.count}":
                return self
            self.next.click()
        pytest.fail(f"step {number} never came")


def opened(browser, address: str, before=lambda context: None, *, saves: bool = False, **options) -> Iterator[Bench]:
    """Open a page in a fresh profile on an upright tablet; ``before`` may prepare the profile.

    ``saves`` as of ``visitor``.

    Fails if a script of the page failed or was blocked meanwhile.
    """
    context = browser.new_context(**{"viewport": PORTRAIT, "has_touch": True, **options})
    context.set_default_timeout(10_000)
    if not saves:
        context.add_init_script(WITHOUT_SAVING)
    before(context)
    page = context.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: "Content Security Policy" in message.text and wrong.append(message.text))
    page.goto(address)
    page.wait_for_load_state("load")
    yield Bench(page)
    context.close()
    assert wrong == []
