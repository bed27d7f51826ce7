"""Large pictures full of small letters are refused from a sample, at once, and worked on where
the reader asks for it; drawings are not refused.
"""

from __future__ import annotations

import io
import time
from functools import cache
from random import Random
from typing import Any

import numpy
import pytest
from PIL import Image, ImageDraw, ImageFont

from calculators import catalogue
from calculators.artwork.fine_detail import FINE
from calculators.files.picture import Picture, read_picture
from calculators.pixels.raster import Raster
from calculators.pixels.sampled_edges import sampled_edges
from calculators.shapes.planar_map import MOST_STEPS
from tests import librsvg
from tests.bench.emblem import emblem
from tests.conftest import ROOT
from tests.corpus.drawings import RESVG, Drawing, rendered
from tests.corpus.letters import FOLDER, SANS
from tests.corpus.web_pictures import drawings

#: The drawing's own colours; one row of letters may have all of them.
COLOURS = ("#7a2232", "#1f3b4d", "#c8993a", "#3d6b45", "#c63f2b", "#000000")
LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFG0123456789"
SIDE, MOST_S = 2000, 3.0
TRACE, CLEAN = "trace", "clean-picture"


@cache
def sheet(size_px: int, colours: int) -> Image.Image:
    """A sheet of words in letters of ``size_px``, each word in one of so many colours.

    A band of it is drawn and repeated: Pillow takes longer to draw the words than any calculator to look at them.
    """
    chance = Random(size_px * 100 + colours)
    font = ImageFont.truetype(FOLDER / SANS / "files" / f"{SANS}-latin-400-normal.woff", size_px)
    line = round(1.25 * size_px)
    image = Image.new("RGB", (SIDE, SIDE // 20 // line * line), "#ffffff")
    pen = ImageDraw.Draw(image)
    for top in range(2, image.height, line):
        left = 2.0
        while left < SIDE:
            word = "".join(chance.choices(LETTERS, k=chance.randrange(2, 9)))
            pen.text((left, top), word, fill=chance.choice(COLOURS[:colours]), font=font)
            left += font.getlength(f"{word} ")
    whole = Image.new("RGB", (SIDE, SIDE), "#ffffff")
    for top in range(0, SIDE, image.height):
        whole.paste(image, (0, top))
    return whole


@cache
def saved_sheet(size_px: int, colours: int) -> Picture:
    """The sheet as a PNG."""
    return saved(sheet(size_px, colours))


def saved(image: Image.Image, form: str = "PNG", **options: Any) -> Picture:
    file = io.BytesIO()
    # The pixels are the same at every level, and packing them well takes as long as tracing them.
    image.save(file, form, **({"compress_level": 1} if form == "PNG" else options))
    return read_picture(f"sheet.{form.lower()}", file.getvalue(), wanted=True)


def verdict(id: str, picture: Picture, **inputs: Any) -> tuple[str, float]:
    """The verdict, and the seconds of the processor until it is there."""
    calculator = catalogue.find(id)
    before = time.process_time()
    made = calculator.answer(calculator.inputs(picture=picture, **inputs))
    return made.verdict, time.process_time() - before


def raster(pixels: numpy.ndarray) -> Raster:
    return Raster(pixels.tobytes(), pixels.shape[1], pixels.shape[0])


def tuning() -> list[Drawing]:
    """The flat drawings that are installed and may be looked at."""
    return [each for each in drawings().values() if each.flat and each.half == "tuning"]


@pytest.mark.parametrize("colours", [1, 3, 6])
@pytest.mark.parametrize(
    ("id", "size_px"), [(TRACE, 7), (TRACE, 9), (TRACE, 12), (TRACE, 16), (TRACE, 24), (CLEAN, 7), (CLEAN, 9)]
)
def test_a_sheet_of_small_letters_is_detected_quickly(id, size_px, colours):
    level, took = verdict(id, saved_sheet(size_px, colours))
    assert level == FINE and took <= MOST_S


@pytest.mark.parametrize("options", [{"form": "JPEG", "quality": 75}, {"form": "WEBP", "quality": 80}])
def test_fine_detail_is_detected_in_a_compressed_sheet(options):
    level, took = verdict(TRACE, saved(sheet(10, 6), **options))
    assert level == FINE and took <= MOST_S


def test_the_message_names_the_remedy_and_the_field():
    calculator = catalogue.find(TRACE)
    made = calculator.answer(calculator.inputs(picture=saved_sheet(12, 3)))
    said = " ".join(each.sentence for each in made.reasons)
    assert (
        "Cut out one part" in said
        and f"“{calculator.inputs.__dataclass_fields__['fine_detail'].metadata['field'].label}”" in said
    )


def test_a_reader_can_override_the_sampled_refusal():
    # Few enough letters that the work is short, and far more edges than can be traced: the long way comes to that too.
    assert verdict(TRACE, saved_sheet(30, 2))[0] == FINE
    assert verdict(TRACE, saved_sheet(30, 2), fine_detail=True)[0] == "noise"


def test_demonstration_and_emblem_are_never_refused():
    paths = sorted((ROOT / "content" / "demo").glob("*.svg"))
    assert paths
    looked_at = 0
    for path in paths:
        drawing = Drawing(path.name, "own", "drawn here", path.read_text("utf-8"))
        for width in (1000, 2500):
            pixels = librsvg.drawn(drawing.svg, width, round(width * drawing.ratio))
            if (estimate := sampled_edges(raster(pixels))) is not None:
                looked_at += 1
                assert estimate <= MOST_STEPS
    assert looked_at > 5
    drawn = Image.open(io.BytesIO(emblem())).convert("RGBA")
    assert 0 < sampled_edges(raster(numpy.asarray(drawn))) <= MOST_STEPS


def test_no_typical_web_picture_is_refused():
    """The drawings of the tuning half as they are found, 120 to 600 pixels."""
    assert len(tuning()) > 5
    for drawing in tuning():
        for side in (120, 600):
            assert sampled_edges(raster(rendered(drawing.svg, *drawing.size(side), RESVG))) is None


def test_no_enlarged_drawing_is_refused():
    """The same drawings with 1600 pixels, where a sample is taken: none has more edges than can be traced."""
    looked_at = 0
    for drawing in tuning()[::2]:
        width, height = drawing.size(1600)
        pixels = librsvg.drawn(drawing.svg, width, height)
        if (estimate := sampled_edges(raster(pixels))) is not None:
            looked_at += 1
            assert estimate <= MOST_STEPS
    assert looked_at > 2


def test_photographs_are_left_to_the_photograph_check():
    noise = numpy.random.default_rng(1).integers(0, 256, (1200, 1200, 4), numpy.uint8)
    assert sampled_edges(raster(noise)) is None
