"""PDF files opened and drawn, and pictures to put into them, for the tests of PDF."""

import io
import subprocess
from decimal import Decimal

import pikepdf
from PIL import Image

from calculators.files.pdf import Sheet
from calculators.files.picture import read_picture
from tests.calculators.files.held import held
from tests.tools import needs

MM = Decimal(72) / Decimal("25.4")


PAPERS = {"a4": (210, 297), "letter": (215.9, 279.4), "half-a4": (148.5, 210), "half-letter": (139.7, 215.9)}


poppler = needs("pdftoppm", "poppler-utils")


def opened(data):
    held.append(pikepdf.open(io.BytesIO(data)))
    return held[-1]


def operations(data, *wanted):
    page = opened(data).pages[0]
    return [
        ([*operands], str(operator))
        for operands, operator in pikepdf.parse_content_stream(page)
        if str(operator) in wanted
    ]


def rendered(data, tmp_path, ppi, *options):
    (tmp_path / "sheet.pdf").write_bytes(data)
    subprocess.run(["pdftoppm", "-r", str(ppi), "-png", *options, "sheet.pdf", "seen"], cwd=tmp_path, check=True)
    return Image.open(next(tmp_path.glob("seen*.png"))).convert("RGB")


def seen_picture(sheet, tmp_path):
    """Return the 60 x 40 pixels of a picture placed at 1, 1 mm with 6 x 4 mm, each from the middle of its patch.

    Rendered at ten times its own resolution, at which poppler neither smooths nor drops pixels.
    """
    seen = rendered(sheet.bytes("t"), tmp_path, 2540)
    return seen.transform((60, 40), Image.Transform.AFFINE, (10, 0, 100, 0, 10, 100), Image.Resampling.NEAREST)


def written(image, kind, **options):
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def art(mode="RGBA", size=(60, 40)):
    """Return a picture with slopes in every channel and no symmetry, so that a turn is seen."""
    width, height = size
    samples = (
        (255 * x // width, 255 * y // height, 60 if x < y else 200, 255 * (x + y) // (width + height))
        for y in range(height)
        for x in range(width)
    )
    return Image.frombytes("RGBA", size, b"".join(map(bytes, samples))).convert(mode)


def sheet_with(data, *, wanted=True, place=(10, 10, 15, 10), paper=(40, 30)):
    sheet = Sheet(*paper)
    sheet.picture(read_picture("a", data, wanted=wanted), *place)
    return sheet.bytes("test")


def image_of(data):
    return opened(data).pages[0].Resources.XObject.P0
