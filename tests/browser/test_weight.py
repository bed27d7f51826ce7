"""The weight of pages as usual hosts send them: a first visit to each kind of page, and all offline files."""

from __future__ import annotations

from urllib.parse import unquote

import pytest

from builder.offline import offline_files
from calculators import catalogue
from tests.browser.forms import answered, visitor
from tests.servers import served_bytes

#: One page of each stage, and the heaviest that takes a picture.
CALCULATORS = [
    "size/scale-size/",
    "size/lettering/",
    "artwork/resolution/",
    "artwork/trace/",
    "underlay/underlay/",
    "underlay/cut-file/",
    "sheet/print-error/",
    "sheet/sheet/",
    "print/charts/",
    "seal/vapour/",
    "apply/which-fluid/",
    "finish/coats-needed/",
    "rescue/symptom-finder/",
]


@pytest.fixture
def page(browser):
    with visitor(browser, first=True) as device:
        yield device.new_page()


def loaded(page, server, path: str) -> tuple[int, int]:
    """Return the bytes and the number of requests of a first visit, once nothing more is asked."""
    server.requests.clear()
    page.goto(server.url + path, wait_until="networkidle")
    if path in CALCULATORS:
        answered(page)
    # An idle browser must not start fetching either.
    page.wait_for_timeout(500)
    print(f"\n{path or 'home'}: {server.sent_bytes() / 1e6:.3f} MB in {len(server.requests)} requests")
    return server.sent_bytes(), len(server.requests)


@pytest.mark.parametrize(
    "path", ["", "seal/seal-a-sheet/", "rescue/silvering/", "reference/drying-times/", "tutorial/"]
)
def test_reading_pages_take_350_kb_in_25_requests(page, server, path):
    sent, requests = loaded(page, server, path)
    assert 50_000 < sent <= 350_000
    assert requests <= 25


@pytest.mark.parametrize("path", CALCULATORS)
def test_a_calculator_page_takes_at_most_six_megabytes_in_35_requests(page, server, path):
    sent, requests = loaded(page, server, path)
    assert 4_000_000 < sent <= 6_000_000
    assert requests <= 35


def test_pages_of_every_stage_are_weighed():
    assert {path.split("/")[0] for path in CALCULATORS} == {each.stage for each in catalogue.every().values()}


def test_offline_files_take_at_most_14_5_megabytes(site_root):
    # 12 MB for the book and its first twelve calculators. Jobs of many markings add 0.4: what their requests need of
    # Python, their page and the demo job. Reading the SVG files of drawing programs adds 0.2, since pictures and jobs
    # both need it. The four calculators of air, coats, vapour and fluids add 0.2.
    # What makes, judges and writes pieces for a cutter adds 0.2, with its page.
    # Lettering adds 0.3: its calculator, three tables, and a page for each of its rules. What reads fonts adds 0.6: the
    # library for that (0.4), three fonts (0.05) and the decoder for WOFF2 (0.1).
    # The sheet adds 0.8: packing with its library, files for printer and cutter, what the printer does to a length, and
    # charts; and copies of the small files that this further stage shares. A better packer took 0.3 off all of it.
    total = sum(served_bytes(site_root.folder / unquote(address)) for address, _, _ in offline_files(site_root.folder))
    print(f"\n{total / 1e6:.2f} MB")
    assert total <= 14_500_000
