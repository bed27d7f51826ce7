"""Sixty markings, half of them pictures, as the file for the printer: time and memory in the page.

Run by ``make bench``.
"""

from __future__ import annotations

import io
import statistics
import time
from hashlib import sha256
from pathlib import Path

import numpy
import pikepdf
import pytest
from PIL import Image, ImageDraw, ImageFilter
from playwright.sync_api import Page, expect

from calculators.jobs.archive import Saved, saved_bytes
from calculators.jobs.model import Job, Marking, SharedFile, StoredFile
from calculators.sheet.sheet import SheetInputs, sheet
from calculators.values import NamedFile, in_one_go
from tests.bench.stock import launched, stock_start
from tests.bench.test_photographs import renderer_mb
from tests.conftest import ROOT

pytestmark = pytest.mark.bench

PICTURES, DRAWINGS = 30, 30
ROUNDS = 5
MOST_STARTS, MOST_MB = 3, 700


def picture(number: int) -> bytes:
    """A picture of 1 to 2 megapixels: an emblem with soft edges and alpha, a drawing without, or a photograph."""
    drawn = numpy.random.default_rng(number)
    width = round((1e6 * (1 + number / PICTURES) * 4 / 3) ** 0.5)
    height = width * 3 // 4
    image = Image.new("RGBA", (width, height), (0, 0, 0, 0) if number % 3 == 0 else (250, 240, 220, 255))
    pen = ImageDraw.Draw(image)
    for _ in range(14):
        x, y, radius = drawn.integers(0, width), drawn.integers(0, height), drawn.integers(40, 300)
        pen.ellipse((x - radius, y - radius, x + radius, y + radius), (*drawn.integers(0, 256, 3), 255))
    image = image.filter(ImageFilter.GaussianBlur(1))
    file = io.BytesIO()
    if number % 3 == 2:
        grain = drawn.normal(0, 10, (height, width, 3))
        pixels = numpy.clip(numpy.asarray(image.convert("RGB")) + grain, 0, 255)
        Image.fromarray(pixels.astype(numpy.uint8)).save(file, "JPEG", quality=90)
    else:
        image.save(file, "PNG")
    return file.getvalue()


def job_of_sixty() -> bytes:
    """A saved job of 30 pictures and 30 drawings of the demonstration, 40 mm wide, one copy each."""
    drawings = sorted((ROOT / "content" / "demo").glob("*-left.svg"))
    named = [(f"picture-{at}.{'jpg' if at % 3 == 2 else 'png'}", picture(at), "picture") for at in range(PICTURES)]
    named += [
        (f"{at}-{drawings[at % len(drawings)].name}", drawings[at % len(drawings)].read_bytes(), "outlines")
        for at in range(DRAWINGS)
    ]
    files, markings = {}, []
    for name, data, kind in named:
        hash = sha256(data).hexdigest()
        files[hash] = data
        stored = SharedFile(file=StoredFile(hash=hash, name=name, size=len(data)), at=1)
        id = name.partition(".")[0]
        markings.append(Marking(id=id, name=id, kind=kind, width="40 mm", film="clear", files={kind: stored}))
    return saved_bytes(Saved(Job(name="Sixty", markings=tuple(markings)), files, {}))


#: Whether the page has answered for the job: its worked example has 44 pieces.
ANSWERED = """() => {
  const pieces = document.querySelector("[data-result=pieces] [data-part=shown]")?.textContent.trim();
  return pieces && pieces !== "44" && document.querySelector(".dw-answer").dataset.state === "answered";
}"""


def opened(page: Page, url: str, saved: bytes) -> None:
    """Open a saved job, and stop the check of its rows, which is not what is measured."""
    page.goto(f"{url}job/")
    page.locator("[data-does=open]").set_input_files(
        {"name": "sixty.zip", "mimeType": "application/zip", "buffer": saved}
    )
    expect(page.locator(".dw-marking")).to_have_count(PICTURES + DRAWINGS, timeout=120_000)


def objects_of(data: bytes) -> list[bytes]:
    """Return what the streams of a PDF file hold, unpacked: another zlib may pack otherwise."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return sorted(
            each.read_raw_bytes() if each.get("/Filter") == "/DCTDecode" else each.read_bytes()
            for each in pdf.objects
            if isinstance(each, pikepdf.Stream)
        )


def printed(host, chromium, saved: bytes) -> tuple[float, float, bytes]:
    """Return the milliseconds from the page's address to the files, the renderer's memory in MB, and the file."""
    browser = launched(chromium)
    page = browser.new_page(viewport={"width": 1180, "height": 820})
    opened(page, host.url, saved)
    before = time.perf_counter()
    page.goto(f"{host.url}sheet/sheet/")
    page.wait_for_function(ANSWERED, timeout=240_000)
    took = 1000 * (time.perf_counter() - before)
    held = renderer_mb(browser)
    with page.expect_download() as download:
        page.locator("[data-result=print_clear]").click()
    made = Path(download.value.path()).read_bytes()
    browser.close()
    return took, held, made


def test_the_file_of_sixty_markings_takes_at_most_three_stock_starts(host, chromium):
    saved = job_of_sixty()
    stock, took, held = [], [], []
    for turn in range(ROUNDS + 1):
        started = stock_start(host, chromium)
        taken, most, made = printed(host, chromium, saved)
        held.append(most)
        if turn:
            stock.append(started)
            took.append(taken)
    starts = statistics.median(took) / statistics.median(stock)
    print(
        f"\nstock {statistics.median(stock):.0f} ms; sheets {statistics.median(took):.0f} ms: {starts:.2f} starts, "
        f"at most {MOST_STARTS}; {max(held):.0f} MB, at most {MOST_MB}"
    )
    native = in_one_go(sheet(SheetInputs(job=NamedFile("sixty.zip", "", saved)))).print_clear
    assert objects_of(made) == objects_of(native.data)
    assert max(held) <= MOST_MB
    assert starts <= MOST_STARTS
