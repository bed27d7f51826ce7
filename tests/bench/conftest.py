"""The site to measure, with unmodified Pyodide beside it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserType, sync_playwright

from tests.servers import Server

HERE = Path(__file__).parent
STOCK = HERE.parents[1] / "node_modules" / "pyodide"


@pytest.fixture(scope="module")
def host(site_root, tmp_path_factory) -> Iterator[Server]:
    """The finished site, and beside it the unmodified files, on one server with one compression."""
    folder = tmp_path_factory.mktemp("bench") / "site"
    shutil.copytree(site_root.folder, folder)
    shutil.copytree(STOCK, folder / "stock" / "pyodide")
    for name in ("stock.html", "stock.mjs", "stock-worker.mjs"):
        shutil.copyfile(HERE / name, folder / "stock" / name)
    with Server(folder, site_root.below, packs=True, port=site_root.port) as server:
        yield server


@pytest.fixture(scope="module")
def chromium() -> Iterator[BrowserType]:
    with sync_playwright() as driver:
        yield driver.chromium
