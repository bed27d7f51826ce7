"""Earlier enlargement and JPEG damage on photographs that nobody here took: how each was made is the truth.

The photographs ship inside scikit-image (BSD and public domain, as its data folder says). Only those of the test
half are looked at here: the thresholds were set on the others.
"""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import pytest
import skimage
from PIL import Image, ImageDraw, ImageFilter

from calculators.files.picture import Picture, read_picture
from calculators.pixels.detail import true_detail
from calculators.pixels.inspection import Inspection, inspected
from tests.corpus.drawings import RESVG, rendered
from tests.corpus.pictures import Source, sources
from tests.corpus.web_pictures import drawings

PIXELS = 160
NAMES = (
    "astronaut",
    "coffee",
    "chelsea",
    "motorcycle_left",
    "camera",
    "coins",
    "brick",
    "grass",
    "gravel",
    "rocket",
    "ihc",
    "retina",
)
CASES = [
    (1.5, "LANCZOS"),
    (1.5, "BICUBIC"),
    (2, "LANCZOS"),
    (2, "BILINEAR"),
    (2.5, "BICUBIC"),
    (2.5, "LANCZOS"),
    (3, "BICUBIC"),
    (4, "BILINEAR"),
]


@cache
def photographs() -> dict[str, Image.Image]:
    found = {}
    for name in NAMES:
        (path,) = (Path(skimage.__file__).parent / "data").glob(f"{name}.*")
        if Source(f"photograph/{name}", "photograph", None).half == "test":
            image = Image.open(path).convert("RGB")
            # Reduced three times at least, a JPEG keeps no trace of its squares.
            found[name] = image.reduce(max(3 if path.suffix == ".jpg" else 1, -(-max(image.size) // PIXELS)))
    return found


def looked_into(image: Image.Image, quality: int | None = None) -> Inspection:
    return inspected(file_of(image, quality))


def file_of(image: Image.Image, quality: int | None) -> Picture:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=quality) if quality else image.save(file, "PNG", compress_level=1)
    return read_picture("photograph", file.getvalue(), wanted=True)


def decoded(image: Image.Image, quality: int) -> Image.Image:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=quality)
    return Image.open(file).convert("RGB")


def enlarged(image: Image.Image, factor: float, kernel: str) -> Image.Image:
    return image.resize([round(side * factor) for side in image.size], Image.Resampling[kernel])


@pytest.mark.parametrize(("quality", "least"), [(None, 0.9), (85, 0.75), (70, 0.6)])
def test_the_width_before_enlarging_is_found_under_later_jpeg(quality, least):
    result = {}
    for place, (name, image) in enumerate(photographs().items()):
        for factor, kernel in CASES[place % 2 :: 2]:
            detail = looked_into(enlarged(image, factor, kernel), quality).detail
            result[name, factor, kernel] = detail.width_px / image.width
    right = [abs(share - 1) <= 0.15 for share in result.values()]
    assert len(right) >= 16
    assert sum(right) >= least * len(right), result


@pytest.mark.parametrize("factor", [1.5, 2.5])
def test_a_half_factor_is_not_doubled(factor):
    for name, image in photographs().items():
        result = looked_into(enlarged(image, factor, "BICUBIC")).detail.factor_x
        assert result < 1.5 * factor, (name, result)


@pytest.mark.parametrize("quality", [None, 95, 85, 70, 40])
def test_no_original_is_accused(quality):
    accused = {name: looked_into(image, quality).detail for name, image in photographs().items()}
    assert [name for name, detail in accused.items() if detail.enlarged] == []


@pytest.mark.parametrize("quality", [30, 50, 70, 80])
def test_jpeg_damage_is_detected_in_converted_pngs(quality):
    found = {name: looked_into(decoded(image, quality)).jpeg.found for name, image in photographs().items()}
    assert all(found.values()), found


def test_resized_lossless_pictures_are_not_called_damaged():
    for name, image in photographs().items():
        smaller = image.resize([side * 2 // 3 for side in image.size], Image.Resampling.LANCZOS)
        for lossless in (image, smaller, enlarged(image, 1.5, "LANCZOS")):
            assert not looked_into(lossless).jpeg.found, (name, lossless.size)


@pytest.mark.parametrize("quality", [None, 75])
def test_a_wholly_soft_picture_gets_a_range(quality):
    """Enlarged 3.7 times and moved by a third of a pixel: no width explains it, and
    it must not pass for an original.
    """
    for name, image in photographs().items():
        size = [round(3.7 * side) for side in image.size]
        moved = image.resize(size, Image.Resampling.BICUBIC, box=(7.3, 5.7, image.width - 8.4, image.height - 11.6))
        detail = looked_into(moved, quality).detail
        assert detail.enlarged or detail.least_width_px, name
        if detail.least_width_px:
            assert detail.least_width_px <= (image.width - 15.7) * 1.15, name


@pytest.mark.parametrize("size", [(180, 136), (300, 227), (600, 454)])
@pytest.mark.parametrize("quality", [0, 85, 50])
def test_a_cross_of_straight_edges_is_not_called_enlarged(size, quality):
    """It has so few edges that a smaller picture explains it by chance."""
    cross = Image.new("RGB", (37 * 28, 28 * 28), "#c8102e")
    draw = ImageDraw.Draw(cross)
    draw.rectangle((12 * 28, 0, 16 * 28 - 1, 28 * 28), fill="white")
    draw.rectangle((0, 12 * 28, 37 * 28, 16 * 28 - 1), fill="white")
    image = cross.resize(size, Image.Resampling.BOX).convert("RGBA")
    if quality:
        file = io.BytesIO()
        image.convert("RGB").save(file, "JPEG", quality=quality)
        image = Image.open(file).convert("RGBA")
    assert true_detail(image.tobytes(), *size).enlarged is None


def few_edges(name: str) -> Image.Image:
    """Return a drawing of the tuning half with a few straight edges, from a package with an open licence (MIT)."""
    drawing = drawings()[name]
    assert drawing.half == "tuning"
    return Image.fromarray(rendered(drawing.svg, *drawing.size(120), RESVG)).convert("RGB")


@pytest.mark.parametrize(
    ("name", "quality"), [("flag-icons/dk", 0), ("flag-icons/dk", 70), ("bootstrap-icons/arrow-down", 50)]
)
def test_few_edges_of_two_steps_are_sharp_beyond_doubt(name, quality):
    """Edges that lie alike lack some waves, but none that was blended rises within two pixels."""
    detail = looked_into(few_edges(name), quality or None).detail
    assert (detail.enlarged, detail.least_width_px) == (None, None)


@pytest.mark.parametrize("kernel", ["BILINEAR", "BICUBIC", "LANCZOS"])
@pytest.mark.parametrize("factor", [2, 3])
@pytest.mark.parametrize("name", ["flag-icons/dk", "bootstrap-icons/arrow-down"])
def test_few_edges_that_were_enlarged_are_not_taken_for_sharp(name, factor, kernel):
    detail = looked_into(enlarged(few_edges(name), factor, kernel), 70).detail
    assert detail.enlarged or detail.least_width_px


@pytest.mark.parametrize("blur", [1.0, 1.5])
def test_drawings_that_were_blurred_are_not_called_enlarged(blur):
    """They have few edges, all alike, so that a smaller picture explains them rather well by chance."""
    drawn = [each for each in sources(most_px=300) if each.kind == "flat" and each.half == "tuning"]
    assert len(drawn) >= 8
    soft = {each.name: Image.fromarray(each.pixels).filter(ImageFilter.GaussianBlur(blur)) for each in drawn}
    assert [name for name, image in soft.items() if looked_into(image).detail.enlarged] == []


def test_a_jpeg_read_from_a_png_is_judged_as_a_jpeg():
    """Nobody may ask so much of the traces of an enlargement where JPEG blurred them."""
    small = next(iter(photographs().values()))
    saved = decoded(enlarged(small, 2, "BICUBIC"), 70)
    result = looked_into(saved)
    assert result.jpeg.found
    assert result.detail.width_px / small.width == pytest.approx(1, abs=0.15)
