"""Opening calculators in a browser, for the tests of forms."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, WebError, expect

from tests.browser.devices import lent

SCREEN = {"width": 1180, "height": 820}
#: As in a private window: the offline worker may not run. The reader has answered the offer to save in an earlier
#: visit.
WITHOUT_SAVING = """try { localStorage.setItem("dw-offline", "no"); } catch {}
if (globalThis.ServiceWorkerContainer) ServiceWorkerContainer.prototype.register =
  () => Promise.reject(new DOMException("not in this window", "SecurityError"));"""

#: Puts a job in the place of the current one, as another version of the site could have left it.
WRITE_JOB = """job => new Promise((done, failed) => {
  const opened = indexedDB.open("decalwright");
  opened.onsuccess = () => {
    const transaction = opened.result.transaction(["jobs", "state"], "readwrite");
    transaction.objectStore("jobs").put(job, "other");
    transaction.objectStore("state").put({job: "other", marking: null}, "present");
    sessionStorage.clear();
    transaction.oncomplete = () => { opened.result.close(); done(); };
    transaction.onerror = failed;
  };
})"""
#: Stores a job and its files as the site did that knew one marking only: layout 1. Needs a page without a database.
WRITE_OLD_JOB = """({job, files}) => new Promise((done, failed) => {
  const opened = indexedDB.open("decalwright", 1);
  opened.onupgradeneeded = () => { for (const name of ["job", "files"]) opened.result.createObjectStore(name); };
  opened.onsuccess = async () => {
    const decoded = (text) => Uint8Array.from(atob(text), (each) => each.charCodeAt(0)).buffer;
    const transaction = opened.result.transaction(["job", "files"], "readwrite");
    transaction.objectStore("job").put(job, "present");
    for (const [hash, text] of Object.entries(files)) transaction.objectStore("files").put(decoded(text), hash);
    transaction.oncomplete = () => { opened.result.close(); done(); };
    transaction.onerror = failed;
  };
  opened.onerror = failed;
})"""
#: Reads what is stored: {jobs by id, id of the current one, job, files, facts, old: the job of layout 1}.
READ_JOB = """() => new Promise(done => {
  const opened = indexedDB.open("decalwright");
  opened.onsuccess = () => {
    if (!opened.result.objectStoreNames.contains("jobs")) { opened.result.close(); done({job: null}); return; }
    const transaction = opened.result.transaction(["jobs", "state", "files", "job", "facts"]);
    const [jobs, ids] = ["getAll", "getAllKeys"].map((read) => transaction.objectStore("jobs")[read]());
    const state = transaction.objectStore("state").get("present");
    const [files, facts] = ["files", "facts"].map((name) => transaction.objectStore(name).getAllKeys());
    const old = transaction.objectStore("job").get("present");
    transaction.oncomplete = () => {
      opened.result.close();
      const byId = Object.fromEntries(ids.result.map((id, at) => [id, jobs.result[at]]));
      const id = state.result?.job ?? null;
      const known = {files: files.result, facts: facts.result, old: old.result};
      done({jobs: byId, id, marking: state.result?.marking, job: byId[id], ...known});
    };
  };
})"""


@contextmanager
def visitor(browser: Browser, *, saves: bool = False, first: bool = False, **options: Any) -> Iterator[BrowserContext]:
    """A separate device with empty storage; any script error on its pages fails the test.

    It may save the whole site only if it ``saves``, since that takes longer than most tests. It may be one that another
    test has used and that was wiped (``devices``), unless it is a ``first`` visit whose cost is measured.
    """
    options = {"viewport": SCREEN, "reduced_motion": "reduce", **options}
    with _made(browser, options) if saves or first else lent(browser, options, WITHOUT_SAVING) as context:
        if first and not saves:
            context.add_init_script(WITHOUT_SAVING)
        errors: list[str] = []

        def note(error: WebError) -> None:
            errors.append(str(error.error))

        context.on("weberror", note)
        yield context
        context.remove_listener("weberror", note)
    assert not errors


@contextmanager
def _made(browser: Browser, options: dict[str, Any]) -> Iterator[BrowserContext]:
    context = browser.new_context(**options)
    yield context
    context.close()


def open_calculator(context: BrowserContext, address: str) -> Page:
    """A page with a calculator that has answered once."""
    page = context.new_page()
    page.goto(address)
    answered(page)
    return page


def answered(page: Page) -> None:
    """Wait until the answer is up to date. On a busy machine Python takes long to start."""
    expect(page.locator(".dw-answer")).to_have_attribute("data-state", "answered", timeout=60_000)


def save_book(page: Page) -> None:
    """Choose to save the whole book, and wait until it is saved. Needs a page whose calculator has answered."""
    if page.locator(".dw-saving").is_hidden():
        page.click(".dw-offline")
    page.click(".dw-saving-begin")
    expect(page.locator(".dw-offline")).to_have_attribute("data-state", "ready", timeout=60_000)
    page.click(".dw-saving-close")


def result_text(page: Page, result: str) -> Locator:
    """The text of a result."""
    return page.locator(f"[data-result={result}] [data-part=shown]")


#: Opens what a field is folded away in, and the sheet.
UNFOLD = """id => {
  const control = document.getElementById(id);
  for (let fold = control?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  if (control && !control.checkVisibility()) document.querySelector(".dw-sheet-handle[aria-expanded=false]")?.click();
}"""


def typed(page: Page, field: str) -> Locator:
    """The control of a field, by its address, unfolded as a reader would."""
    page.evaluate(UNFOLD, f"in-{field}")
    return page.locator(f'[id="in-{field}"]')


def type_again(page: Page, field: str, text: str) -> None:
    """Type what another picture asks for again, once it has been emptied."""
    expect(typed(page, field)).to_have_value("")
    typed(page, field).fill(text)


def problem(page: Page, field: str) -> Locator:
    """The problem beneath a field."""
    return page.locator(f'[id="problem-{field}"]')


def entries(found: dict) -> dict:
    """Return what was typed into calculators, by their ids: those about the job, and those about its first marking."""
    job = found["job"]
    return job.get("calculators", {}) | next(iter(job.get("markings", [])), {}).get("calculators", {})


def values(found: dict) -> dict:
    """Return the values and files that calculators of the first marking share, by name."""
    marking = next(iter(found["job"].get("markings", [])), {})
    return marking.get("values", {}) | marking.get("files", {})


def wait_for_stored(page: Page, holds: Callable[[dict], bool]) -> dict:
    """Return the device's storage, {job, files}, once ``holds`` is true: input is stored shortly after its answer."""
    for _ in range(100):
        found = page.evaluate(READ_JOB)
        if found["job"] and holds(found):
            return found
        page.wait_for_timeout(50)
    pytest.fail(f"never kept: {found}")
