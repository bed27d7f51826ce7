"""JPEG damage on flat art and on photographs saved by Pillow, held to what scikit-image says was lost."""

from __future__ import annotations

import io

import numpy
import pytest
from PIL import Image, ImageDraw

from calculators.files.jpeg_coding import coding_of
from calculators.files.picture import Picture, read_picture
from calculators.pixels.jpeg_damage import jpeg_damage
from tests.corpus.measures import damaged_share
from tests.corpus.web_pictures import originals
from tests.noise import noise

QUALITIES = (95, 85, 60, 30)
SUBSAMPLINGS = {0: (1, 1), 1: (2, 1), 2: (2, 2)}


def flat_art() -> Image.Image:
    """Return discs, bars and slanted edges in flat colours, drawn at four times the size for smooth edges."""
    image = Image.new("RGB", (1600, 1200), "#f4efe2")
    draw = ImageDraw.Draw(image)
    draw.ellipse((200, 180, 900, 880), fill="#7a2232")
    draw.ellipse((380, 360, 720, 700), fill="#f4efe2")
    draw.polygon([(1000, 150), (1450, 420), (1130, 980)], fill="#1d3b2a")
    draw.rectangle((150, 980, 1450, 1090), fill="#203a5c")
    return image.reduce(4)


def saved(image: Image.Image, kind: str, **how: object) -> Picture:
    file = io.BytesIO()
    image.save(file, kind, **how)
    return read_picture(f"art.{kind.lower()}", file.getvalue(), wanted=True)


def lost(image: Image.Image, picture: Picture) -> float:
    """Return the share of the area that differs by more than CIEDE2000 3 from ``image``, by scikit-image."""
    pixels = numpy.frombuffer(picture.rgba, numpy.uint8).reshape(picture.height_px, picture.width_px, 4)
    return damaged_share(pixels, numpy.asarray(image.convert("RGBA")))


def test_lossless_art_is_not_accused():
    found = jpeg_damage(saved(flat_art(), "PNG"))
    assert (found.found, found.share) == (False, None)


def test_lower_quality_is_more_damage():
    found = [jpeg_damage(saved(flat_art(), "JPEG", quality=quality)) for quality in QUALITIES]
    shares = [each.share for each in found]
    assert shares == sorted(shares) and len(set(shares)) == len(shares)


@pytest.mark.parametrize("subsampling", SUBSAMPLINGS)
@pytest.mark.parametrize("quality", [85, 60, 30])
def test_damage_is_within_three_times_the_loss(quality, subsampling):
    picture = saved(flat_art(), "JPEG", quality=quality, subsampling=subsampling)
    true, estimate = lost(flat_art(), picture), jpeg_damage(picture).share
    assert true / 3 <= estimate <= 3 * true


@pytest.mark.parametrize("quality", [40, 75])
def test_damage_of_photographs_is_within_three_times_the_loss(quality):
    photographs = [pixels for name, pixels in originals().items() if name.startswith("skimage/")][:8]
    assert len(photographs) == 8
    for image in map(Image.fromarray, photographs):
        picture = saved(image.convert("RGB"), "JPEG", quality=quality)
        true, estimate = lost(image, picture), jpeg_damage(picture).share
        assert true / 3 - 0.01 <= estimate <= 3 * true + 0.01


def test_a_visually_lossless_jpeg_is_not_accused():
    """A soft picture fits into few waves: at the best quality nothing of it is off by more than is unseen."""
    soft = flat_art().reduce(8).resize((400, 300), Image.Resampling.BILINEAR)
    picture = saved(soft, "JPEG", quality=95, subsampling=0)
    assert lost(soft, picture) < 0.005
    assert not jpeg_damage(picture).found


@pytest.mark.parametrize("quality", [85, 60, 30])
def test_damage_is_still_detected_after_lossless_saving(quality):
    jpeg = io.BytesIO()
    flat_art().save(jpeg, "JPEG", quality=quality)
    assert jpeg_damage(saved(Image.open(jpeg), "PNG")).found


@pytest.mark.parametrize("quality", [1, 10, 30, 49, 50, 51, 60, 75, 85, 90, 95])
@pytest.mark.parametrize("subsampling", SUBSAMPLINGS)
def test_the_coding_is_read_as_pillow_reads_it(quality, subsampling):
    picture = saved(flat_art(), "JPEG", quality=quality, subsampling=subsampling)
    coding, read = coding_of(picture.data), Image.open(io.BytesIO(picture.data)).quantization
    assert (coding.luma, coding.chroma) == (tuple(read[0]), tuple(read[1]))
    assert (coding.wide, coding.high) == SUBSAMPLINGS[subsampling]


def test_a_grey_file_has_no_chroma():
    picture = saved(flat_art().convert("L"), "JPEG", quality=30)
    assert coding_of(picture.data).chroma is None
    assert jpeg_damage(picture).found


def test_a_file_cut_short_has_no_coding():
    data = saved(flat_art(), "JPEG", quality=60).data
    assert [coding_of(data[:length]) for length in (0, 2, 30, 90, 170)] == [None] * 5


def test_noise_is_not_damage():
    noisy = noise((400, 300), 40).convert("RGB")
    assert not jpeg_damage(saved(noisy, "PNG")).found


def test_a_picture_smaller_than_a_square_is_answered():
    assert not jpeg_damage(saved(Image.new("RGB", (5, 3), "red"), "JPEG", quality=30)).found
