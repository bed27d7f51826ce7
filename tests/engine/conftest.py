"""The engine as the site has it, with the test calculators, run under node."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock

from builder.runtime import RECORD
from tests.conftest import BUILT, ROOT, made_once
from tests.engine.made import Engine, build, write_package

HERE = Path(__file__).parent
#: WebAssembly is not compiled again where it runs often: a start takes 0.5 s of the processor in place of 0.8, and the
#: longest answers take no longer.
ONE_COMPILER = "--liftoff-only"


def run_node(script: str, task: dict[str, Any], folder: Path, limit_s: int = 110) -> dict[str, Any]:
    """Run a script of this folder with ``task`` and return what it printed as JSON."""
    written = folder / f"{script}.json"
    written.write_text(json.dumps(task), "utf-8")
    command = ["node", ONE_COMPILER, str(HERE / script), str(written)]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=limit_s, check=False)
    assert ran.returncode == 0, f"{ran.stdout[-2000:]}\n{ran.stderr[-2000:]}"
    return json.loads(ran.stdout)


def config_in(page: Path) -> dict[str, Any]:
    """Return the engine configuration in a built page: the path of its worker."""
    found = re.search(r'<script[^>]*id="?dw-config"?[^>]*>(.*?)</script>', page.read_text("utf-8"), re.DOTALL)
    assert found, page
    return json.loads(unescape(found[1]))["engine"]


@pytest.fixture(scope="session")
def config(site_workbench) -> dict[str, Any]:
    """The engine configuration in the pages of the site with the test calculators."""
    return config_in(site_workbench.folder / "index.html")


@pytest.fixture(scope="session", params=["snapshot", "plain"])
def way(request) -> str:
    """Both ways to start Python."""
    return request.param


@pytest.fixture
def ask_all(site_workbench, config, way, tmp_path) -> Callable[[list[dict[str, Any]]], dict[str, Any]]:
    """Ask a new engine all of some requests and return the report of ask.mjs."""

    def ask(requests: list[dict[str, Any]]) -> dict[str, Any]:
        task = {"site": str(site_workbench.folder), "config": config, "plain": way == "plain", "requests": requests}
        report = run_node("ask.mjs", task, tmp_path)
        assert (report["way"], report["boots"]) == (way, 1)
        return report

    return ask


@pytest.fixture(scope="session")
def own_engine(site_root) -> Engine:
    """The engine that the site was built with, as the build left it."""
    folder = ROOT / "build"
    with FileLock(folder / ".lock"):
        return folder, json.loads((folder / "engine" / RECORD).read_text("utf-8"))["config"]


@pytest.fixture(scope="session")
def package() -> Path:
    """The package of the further calculators in the larger engine."""
    folder = BUILT / "package" / "further"
    made_once("package", lambda: write_package(folder))
    return folder


@pytest.fixture(scope="session")
def larger_engine(package, site_root) -> Engine:
    """An engine with further calculators, and one stage more."""
    folder = BUILT / "larger"
    made = folder / "config.json"

    def pack() -> None:
        shutil.rmtree(folder, ignore_errors=True)
        with FileLock(ROOT / "build" / ".lock"):
            shutil.copytree(ROOT / "build" / "wheel", folder / "wheel")
        made.write_text(json.dumps(build(folder, package)), "utf-8")

    made_once("larger", pack)
    return folder, json.loads(made.read_text("utf-8"))
