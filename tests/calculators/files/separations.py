"""Plates of a PDF page as Ghostscript's separation device makes them."""

from __future__ import annotations

import io
import re
import subprocess

import pikepdf
from PIL import Image

from tests.tools import needs

ghostscript = needs("gs", "ghostscript")


def plates(data: bytes, folder, ppi: int, page: int = 1) -> dict[str, Image.Image]:
    """Return the plates of a page by their names; 0 is full ink."""
    # Asked for some pages only, Ghostscript 10.00 leaves the plates of spot colours empty.
    with pikepdf.open(io.BytesIO(data)) as file:
        del file.pages[page:], file.pages[: page - 1]
        file.save(folder / "plates.pdf")
    for old in folder.glob("plate*.tif"):
        old.unlink()
    command = "gs -q -dSAFER -dBATCH -dNOPAUSE -sDEVICE=tiffsep -dTextAlphaBits=1 -dGraphicsAlphaBits=1"
    subprocess.run(
        [*command.split(), f"-r{ppi}", "-o", "plate.tif", "plates.pdf"],
        cwd=folder,
        check=True,
        capture_output=True,
    )
    found = {}
    for file in folder.glob("plate(*).tif"):
        name = re.fullmatch(r"plate\((.*)\)\.tif", file.name)[1]
        found[name] = Image.open(file).convert("L")
    return found
