"""The corpus of hostile files, written once a run."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.conftest import BUILT, made_once
from tests.engine.conftest import config_in
from tests.hostile.corpus import corpus


@pytest.fixture(scope="session")
def written() -> Path:
    """A folder with every file of the corpus by its number, and names.json with their names."""
    folder = BUILT / "hostile"

    def write() -> None:
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        names = []
        for number, (name, data) in enumerate(corpus()):
            names.append(name)
            (folder / str(number)).write_bytes(data)
        assert len(set(names)) == len(names) > 300
        (folder / "names.json").write_text(json.dumps(names), "utf-8")

    made_once("hostile", write)
    return folder


@pytest.fixture(scope="session")
def config(site_workbench) -> dict:
    """The engine configuration in the pages of the site with the test calculators."""
    return config_in(site_workbench.folder / "index.html")
