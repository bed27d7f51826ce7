"""The page of a job in a browser: its rows, fields and stored verdicts, for tests."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, expect

from builder.demo_job import demo_job

DEMO = demo_job()
ALL_CHECKED = "All rows are checked"


def open_demo(page: Page) -> None:
    page.get_by_role("button", name="Open the demo job").tap()
    expect(page.locator(".dw-marking")).to_have_count(len(DEMO.job.markings))
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)


def until(holds: Callable[[], bool], page: Page) -> None:
    """Wait for what no locator sees; the site's content policy forbids the browser driver's own way."""
    for _ in range(200):
        if holds():
            return
        page.wait_for_timeout(100)
    raise AssertionError("it never came")


def watch(page: Page) -> None:
    """Record what the engine is asked from now on."""
    page.evaluate(
        "() => { const ask = dwEngine.ask.bind(dwEngine); globalThis.asked = [];"
        "dwEngine.ask = (request, ...rest) => { asked.push(request); return ask(request, ...rest); }; }"
    )


def asked_of(page: Page) -> list[str]:
    return page.evaluate("asked.map(each => each.do)")


def field(row: Locator, attribute: str) -> Locator:
    return row.locator(f"[data-attribute='{attribute}']")


def names(page: Page) -> list[str]:
    return page.locator(".dw-marking [data-attribute=name]").evaluate_all("all => all.map(each => each.value)")


def row_by_id(page: Page, id: str) -> Locator:
    return page.locator(f".dw-marking[data-marking='{id}']")


def checks_all(page: Page) -> None:
    """Wait until every row has its verdicts."""
    expect(page.locator("[data-does=check]")).to_have_text(ALL_CHECKED)


def put(row: Locator, attribute: str, text: str) -> None:
    """Type a text into a field, and leave it."""
    field(row, attribute).fill(text)
    field(row, attribute).press("Tab")


def saved_job(path: Path, markings: list[dict[str, Any]], files: dict[str, bytes] | None = None, **parts: Any) -> Path:
    """Write a job as a ZIP file as another program would, with nothing measured, and return its path.

    ``parts`` are others of its parts, such as ``available``.
    """
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("job.json", json.dumps({"format": 3, "name": path.stem, "markings": markings, **parts}))
        for hash, data in (files or {}).items():
            archive.writestr(f"files/{hash}", data)
    return path


def paste(page: Page, text: str) -> None:
    page.locator(".dw-job-sheet > summary").tap()
    page.get_by_label("Rows", exact=True).fill(text)
    page.get_by_role("button", name="Read the rows").tap()
