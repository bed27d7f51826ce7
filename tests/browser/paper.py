"""What a page prints on A4: its sheets as small pictures, and what is wrong with them."""

from __future__ import annotations

import io
import re
import subprocess
from pathlib import Path

import numpy
from PIL import Image
from playwright.sync_api import Page

MOST_SHEETS = 4
#: Sheets are looked at in so many pixels to the inch.
_PPI = 20


def sheets(pdf: Path) -> list[Image.Image]:
    """Return the pages of a PDF as small grey pictures."""
    subprocess.run(["pdftoppm", "-r", str(_PPI), "-gray", pdf.name, "sheet"], cwd=pdf.parent, check=True)
    found = sorted(pdf.parent.glob("sheet-*.pgm"), key=lambda path: int(re.search(r"\d+", path.stem)[0]))
    # Copied, so that no file stays open.
    return [Image.fromarray(numpy.asarray(Image.open(io.BytesIO(path.read_bytes())))) for path in found]


def filled(sheet: Image.Image) -> float:
    """Return the share of a sheet's height down to its last ink."""
    rows = numpy.flatnonzero((numpy.asarray(sheet) < 200).any(axis=1))
    return (rows[-1] + 1) / sheet.height if rows.size else 0.0


def waste_of_paper(page: Page, folder: Path) -> list[str]:
    """Return what is wrong with a printed answer: more than four sheets, or one that ends half empty before another."""
    page.pdf(path=folder / "answer.pdf", format="A4", prefer_css_page_size=True)
    printed = sheets(folder / "answer.pdf")
    number = [] if 1 <= len(printed) <= MOST_SHEETS else [f"{len(printed)} sheets"]
    shares = [filled(each) for each in printed[:-1]]
    return [*number, *(f"sheet {at} is filled to {share:.2f}" for at, share in enumerate(shares, 1) if share <= 0.5)]
