"""Devices for tests: contexts of a browser, wiped and used again where a test left nothing else behind.

Most of what a page with a calculator costs is that Chromium compiles Python's WebAssembly. It shares the compiled code
among all pages of one process, and a process never serves two contexts. So a device that is wiped holds on to the code
that its first page compiled (``_HOLD_CODE``), and ``conftest.py`` asks the browser for one process a context.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import urlsplit
from weakref import WeakKeyDictionary

from playwright.sync_api import Browser, BrowserContext, Error, Page, Request

_CODE = re.compile(r"/engine/wasm\.\w+\.packed$")
#: What changes a context for good; a device on which it is called is not used again.
_LASTING = ("add_init_script", "expose_binding", "expose_function", "route", "set_default_timeout", "set_geolocation")
#: Compiles the code of Python as the page does, and holds on to it. It is shared with every page of the process.
_HOLD_CODE = """async (address) => {
  const packed = await fetch(address);
  const unpacked = packed.body.pipeThrough(new DecompressionStream("gzip"));
  globalThis.code = await WebAssembly.compileStreaming(
    new Response(unpacked, { headers: { "Content-Type": "application/wasm" } }));
}"""
#: Clears what a page stored while it was closed, and counts what else there is.
_LEFT = """async () => {
  localStorage.clear();
  const kinds = [indexedDB.databases(), caches.keys(), navigator.serviceWorker.getRegistrations()];
  return (await Promise.all(kinds)).reduce((sum, { length }) => sum + length, 0);
}"""
#: A page that is closed stores what was typed last, which may come after the device was emptied.
_TIMES_EMPTIED = 5


class Device:
    """A context, and what it takes to wipe it."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.is_marked = False
        self._origins: set[str] = set()
        self._code = ""
        self._holder: Page | None = None
        self._holds_code = False
        context.on("request", self._note)
        for name in _LASTING:
            setattr(context, name, self._marking(getattr(context, name)))

    def _marking(self, method: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **options: Any) -> Any:
            self.is_marked = True
            return method(*args, **options)

        return call

    def _note(self, request: Request) -> None:
        if request.url.startswith("http:"):
            self._origins.add(_origin(request.url))
            if _CODE.search(request.url):
                self._code = request.url

    def wipe(self) -> bool:
        """Make the device as new; return whether that was possible."""
        if self.is_marked or not self._origins:
            return False
        try:
            if self._code and not self._holds_code:
                self._hold(self._code)
            elif self._holder is None:
                self._hold()
            for page in self.context.pages:
                if page is not self._holder:
                    page.close()
            self.context.set_offline(False)
            self.context.clear_permissions()
            is_empty = any(self._forget() for _ in range(_TIMES_EMPTIED))
            self._origins.clear()
        except Error:
            return False
        return is_empty

    def _hold(self, code: str = "") -> None:
        """Open an empty page that keeps the process, and the compiled ``code`` if there is some."""
        holder = self._empty_page(_origin(code) if code else min(self._origins))
        if code:
            holder.evaluate(_HOLD_CODE, code)
        self._holder, self._holds_code = holder, bool(code)

    def _empty_page(self, origin: str) -> Page:
        page = self.context.new_page()
        address = f"{origin}/nothing"
        page.route(address, lambda route: route.fulfill(body="", content_type="text/html"))
        page.goto(address)
        page.unroute(address)
        return page

    def _left(self, origin: str) -> int:
        """Return how much is stored for an origin."""
        if self._holder and _origin(self._holder.url) == origin:
            return self._holder.evaluate(_LEFT)
        page = self._empty_page(origin)
        left = page.evaluate(_LEFT)
        page.close()
        return left

    def _forget(self) -> bool:
        """Empty what is stored, and what is cached on the disk and in the process; return whether all is gone."""
        session = self.context.new_cdp_session(self._holder)
        for origin in sorted(self._origins):
            session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
        session.send("Network.enable")
        session.send("Network.clearBrowserCookies")
        session.send("Network.clearBrowserCache")
        for is_off in (True, False):
            session.send("Network.setCacheDisabled", {"cacheDisabled": is_off})
        session.detach()
        return sum(map(self._left, sorted(self._origins))) == 0


def _origin(address: str) -> str:
    parts = urlsplit(address)
    return f"{parts.scheme}://{parts.netloc}"


#: How many wiped devices a browser has at most. Each is a process.
_MOST = 4
#: The devices of each browser that are wiped and not lent, by their options.
_wiped: WeakKeyDictionary[Browser, dict[str, Device]] = WeakKeyDictionary()


@contextmanager
def lent(browser: Browser, options: dict[str, Any], script: str) -> Iterator[BrowserContext]:
    """Lend a device with these options and this first script: a wiped one if there is one.

    No test may set the clock of a lent device, since that can neither be seen nor undone.
    """
    shelf = _wiped.setdefault(browser, {})
    key = repr((sorted(options.items()), script))
    device = shelf.pop(key, None)
    if device is None:
        context = browser.new_context(**options)
        context.add_init_script(script)
        device = Device(context)
    try:
        yield device.context
    finally:
        if key not in shelf and device.wipe():
            shelf[key] = device
            if len(shelf) > _MOST:
                shelf.pop(next(iter(shelf))).context.close()
        else:
            device.context.close()
