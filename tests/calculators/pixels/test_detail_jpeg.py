"""JPEG damage on flat art saved by Pillow: the more is thrown away, the more must be found."""

from __future__ import annotations

import io

import pytest
from PIL import Image, ImageDraw

from calculators.files.picture import Picture, read_picture
from calculators.pixels.jpeg_damage import jpeg_damage, saved_quality

QUALITIES = (95, 85, 60, 30)


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


def test_lossless_art_is_not_accused():
    found = jpeg_damage(saved(flat_art(), "PNG"))
    assert (found.found, found.worst_level, found.share, found.quality) == (False, 0, 0, None)


def test_lower_quality_is_more_damage():
    found = [jpeg_damage(saved(flat_art(), "JPEG", quality=quality)) for quality in QUALITIES]
    assert all(each.found for each in found)
    worst = [each.worst_level for each in found]
    assert worst == sorted(worst) and len(set(worst)) == len(worst)
    shares = [each.share for each in found]
    assert shares == sorted(shares)
    assert shares[0] < 0.5 < shares[-1]


@pytest.mark.parametrize("quality", [85, 60, 30])
def test_a_jpeg_saved_again_without_loss_is_still_told(quality):
    jpeg = io.BytesIO()
    flat_art().save(jpeg, "JPEG", quality=quality)
    found = jpeg_damage(saved(Image.open(jpeg), "PNG"))
    assert found.found
    assert found.quality is None


@pytest.mark.parametrize("quality", [1, 10, 30, 49, 50, 51, 60, 75, 85, 90, 95])
def test_the_quality_is_read_from_the_tables(quality):
    # Pillow writes the library's own tables for a quality, so the number asked for is the right answer.
    assert saved_quality(saved(flat_art(), "JPEG", quality=quality).data) == quality


def test_a_file_cut_short_has_no_quality():
    data = saved(flat_art(), "JPEG", quality=60).data
    assert saved_quality(data[:30]) is None
    assert saved_quality(b"") is None


def test_noise_is_not_damage():
    noisy = Image.effect_noise((400, 300), 40).convert("RGB")
    assert not jpeg_damage(saved(noisy, "PNG")).found


def test_a_picture_smaller_than_a_square_is_answered():
    assert not jpeg_damage(saved(Image.new("RGB", (5, 3), "red"), "JPEG", quality=30)).found
