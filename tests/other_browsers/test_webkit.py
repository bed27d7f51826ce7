"""The calculators in WebKit, in one session."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.other_browsers.smoke import CALCULATORS, WAIT_MS, Smoke, check, task
from tests.tools import program

#: Runs before any script of a page, so that no error is missed.
LISTEN = "addEventListener('error', each => (globalThis.errors ??= []).push(each.message))"

#: Fields that are seldom changed are folded.
UNFOLD = "document.querySelectorAll('.dw-form details').forEach(each => { each.open = true })"
#: What a reader sees of a page that does not answer, and what its scripts know.
STATE = """const text = (of) => document.querySelector(of)?.textContent.replace(/\\s+/g, " ").trim();
return JSON.stringify([
  globalThis.dwEngine?.state, globalThis.dwEngine?.working, document.querySelector(".dw-answer")?.dataset.state,
  text(".dw-state"), text(".dw-progress:not([hidden])"), text(".dw-outcome:not([hidden])"), globalThis.errors])"""
ASK = "dwEngine.ask(arguments[0]).then(({ envelope }) => arguments[1](envelope.result))"


@pytest.fixture
def webkit(tmp_path, screen) -> Iterator[Any]:
    """WebKit's MiniBrowser on a virtual screen."""
    driver_program = program("WebKitWebDriver", package="webkit2gtk-driver")
    from selenium.webdriver import WebKitGTK, WebKitGTKOptions
    from selenium.webdriver.webkitgtk.service import Service

    browsers = sorted(Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser"))
    assert browsers, "WebKitWebDriver is there, but no MiniBrowser of webkit2gtk under /usr/lib"
    options = WebKitGTKOptions()
    options.binary_location = str(browsers[-1])
    options.add_argument("--automation")
    # Otherwise its last-tier compiler sometimes makes the start of Python several times slower.
    environment = {
        **os.environ,
        "DISPLAY": screen,
        "JSC_useOMGJIT": "0",
        "HOME": str(tmp_path),
        "LIBGL_ALWAYS_SOFTWARE": "1",
    }
    environment["WEBKIT_DISABLE_COMPOSITING_MODE"] = "1"  # without a graphics card its compositor crashes now and then
    driver = WebKitGTK(options=options, service=Service(executable_path=driver_program, env=environment))
    driver.set_page_load_timeout(WAIT_MS / 1000)
    driver.set_script_timeout(WAIT_MS / 1000)
    yield driver
    driver.quit()


@pytest.mark.browser
@pytest.mark.filterwarnings("ignore:setting remote_server_addr:DeprecationWarning")  # selenium's own
def test_the_calculators_answer_in_webkit(workbench_server, webkit, tmp_path):
    wanted = task(workbench_server.url, tmp_path)
    report: dict[str, Any] = {"pages": {}, "errors": []}
    for each in CALCULATORS:
        webkit.get(wanted["url"] + each.path)
        report["pages"][each.path] = came_of(webkit, each, wanted["picture"])
        report["errors"] += webkit.execute_script("return globalThis.errors ?? []")
    report["results"] = [webkit.execute_async_script(ASK, request) for request in wanted["asked"]]
    webkit.execute_script(
        f"if (document.querySelector('.dw-saving').hidden) {OFFLINE}.click(); "
        "document.querySelector('.dw-saving-begin').click()"
    )
    wait(webkit, lambda: webkit.execute_script(f"return {OFFLINE}.dataset.state") not in ("off", "saving"))
    report["offline"] = webkit.execute_script(
        f"return [{OFFLINE}.dataset.state, {OFFLINE}.querySelector('[data-part=words]').textContent]"
    )
    check(report)


OFFLINE = "document.querySelector('.dw-offline')"


def came_of(webkit, each: Smoke, picture: str) -> dict[str, Any]:
    """Perform ``each`` on its page and return the report."""
    from selenium.webdriver.common.by import By

    came: dict[str, Any] = {}
    webkit.execute_script(LISTEN)

    def text(of: str) -> str:
        return webkit.execute_script("return document.querySelector(arguments[0])?.textContent ?? ''", of)

    def text_of(result: str) -> str:
        return text(f"[data-result={result}] [data-part=shown]")

    def answered() -> bool:
        return webkit.execute_script("return document.querySelector('.dw-answer')?.dataset.state") == "answered"

    wait(webkit, answered)
    if each.result:
        webkit.execute_script(UNFOLD)
        field = webkit.find_element(By.ID, f"in-{each.field}")
        webkit.execute_script("arguments[0].select()", field)
        field.send_keys(each.types)
        wait(webkit, lambda: text_of(each.result) == each.shows, lambda: text_of(each.result))
        came["shown"] = each.shows
    if each.picture:
        webkit.find_element(By.ID, f"in-{each.picture}").send_keys(picture)
        wait(webkit, lambda: text(".dw-drop-name") == Path(picture).name)
        came["name"] = text(".dw-drop-name")
    if each.fills:
        name, value = each.fills
        filled = f"return document.getElementById('in-{name}').value"
        wait(webkit, lambda: webkit.execute_script(filled) == value)
        came["filled"] = webkit.execute_script(filled)
    if each.picture_shows:
        name, value = each.picture_shows
        wait(webkit, lambda: text_of(name) == value, lambda: text(".dw-calculator"))
        came["picture_shown"] = text_of(name)
    wait(webkit, answered)
    came["state"] = "answered"
    came["problems"] = webkit.execute_script(
        "return [...document.querySelectorAll('.dw-problem:not([hidden])')].map(each => each.textContent)"
    )
    return came


def wait(webkit, test, instead=lambda: "") -> None:
    """Wait until ``test()`` holds; on timeout report ``instead()`` and the state of the page."""
    from selenium.common.exceptions import TimeoutException
    from selenium.webdriver.support.ui import WebDriverWait

    try:
        WebDriverWait(webkit, WAIT_MS / 1000, 0.1).until(lambda _driver: test())
    except TimeoutException:
        found = webkit.execute_script(STATE)
        pytest.fail(f"waited in vain at {webkit.current_url}: {instead()}\n{found}", pytrace=False)
