"""A print file opens in the viewers of Chromium and Firefox, which show its pieces in their colours."""

from __future__ import annotations

import io
import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from calculators.sheets.print_file import PrintOptions, print_file
from calculators.values import in_one_go
from tests.calculators.sheets.printed_sheets import contents, everything
from tests.tools import program

#: Colours of outlines and of a picture with transparency.
COLOURS = {(198, 63, 43), (31, 59, 77), (47, 111, 79), (230, 120, 20)}
#: How often what a viewer shows is looked at before it is given up.
LOOKS = 60

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def file(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("printed") / "sheet.pdf"
    path.write_bytes(in_one_go(print_file([everything()], contents(), PrintOptions("Railcar 12", "2026-11-29"))))
    return path


def missing_colours(look: Callable[[], bytes]) -> set[tuple[int, int, int]]:
    """Return the colours that a viewer does not come to show."""
    missing = COLOURS
    for _look in range(LOOKS):
        image = Image.open(io.BytesIO(look())).convert("RGB")
        seen = {colour for _count, colour in image.getcolors(image.width * image.height)}
        missing = {
            each
            for each in COLOURS
            if not any(all(abs(a - b) <= 3 for a, b in zip(each, s, strict=True)) for s in seen)
        }
        if not missing:
            break
    return missing


def test_print_file_opens_in_chromium(_driver, file):  # noqa: PT019 - its value is used
    # The headless shell has no viewer.
    chromium = program("chromium", package="chromium")
    running = _driver.chromium.launch(
        executable_path=chromium, args=["--headless=new"], ignore_default_args=["--headless"]
    )
    try:
        page = running.new_page(viewport={"width": 900, "height": 900})
        page.goto(file.as_uri())
        assert not missing_colours(page.screenshot)
    finally:
        running.close()


def test_print_file_opens_in_firefox(file, tmp_path):
    firefox = program("firefox-esr", "firefox", package="firefox-esr")
    picture, task = tmp_path / "seen.png", tmp_path / "task.json"
    task.write_text(json.dumps({"program": firefox, "url": file.as_uri(), "picture": str(picture)}), "utf-8")
    script = Path(__file__).with_name("pdf_in_firefox.mjs")
    with subprocess.Popen(
        ["node", str(script), str(task)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as running:

        def look() -> bytes:
            running.stdin.write("\n")
            running.stdin.flush()
            assert running.stdout.readline() == "there\n"
            return picture.read_bytes()

        try:
            assert not missing_colours(look)
        finally:
            running.stdin.close()
