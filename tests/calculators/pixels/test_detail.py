"""The detail estimate on pictures made here: what is right follows from how each was made."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.pixels.detail import NEAREST, SMOOTH, Detail, edges, transparency, true_detail
from calculators.pixels.repeats import repeats

Grid = list[list[int]]


def grains(width: int, height: int, seed: int = 1) -> Grid:
    """Return a picture of independent shades of grey: as much detail as its pixels can hold."""
    chance = random.Random(seed)
    return [[chance.randrange(256) for _ in range(width)] for _ in range(height)]


def repeated(grid: Grid, across: int, down: int) -> Grid:
    return [[shade for shade in row for _ in range(across)] for row in grid for _ in range(down)]


def blended(grid: Grid, factor: float) -> Grid:
    """Return the picture enlarged by straight lines between the middles of its pixels, along both axes."""
    rows = [_blended_line(row, factor) for row in grid]
    columns = [_blended_line(list(column), factor) for column in zip(*rows, strict=True)]
    return [[round(shade) for shade in row] for row in zip(*columns, strict=True)]


def _blended_line(line: list[float], factor: float) -> list[float]:
    made = []
    for place in range(round(len(line) * factor)):
        at = min(max((place + 0.5) / factor - 0.5, 0), len(line) - 1)
        left = min(int(at), len(line) - 2)
        made.append(line[left] + (at - left) * (line[left + 1] - line[left]))
    return made


def rgba(grid: Grid, alpha: int = 255) -> tuple[bytes, int, int]:
    return (
        bytes(level for row in grid for shade in row for level in (shade, shade, shade, alpha)),
        len(grid[0]),
        len(grid),
    )


def disc(side: int, *, smooth: bool) -> Grid:
    """Return a dark disc on white, each pixel dark by its middle or by the share of 16 points in it."""
    points = [(at + 0.5) / 4 for at in range(4)] if smooth else [0.5]

    def shade(x: int, y: int) -> int:
        inside = sum(
            (x + dx - side / 2) ** 2 + (y + dy - side / 2) ** 2 < (0.4 * side) ** 2 for dx in points for dy in points
        )
        return 255 - 235 * inside // len(points) ** 2

    return [[shade(x, y) for x in range(side)] for y in range(side)]


def test_full_detail_is_not_called_enlarged():
    assert true_detail(*rgba(grains(150, 120))) == Detail(150, 120)


@pytest.mark.parametrize("factors", [(2, 2), (3, 3), (2, 3), (10, 10)])
def test_repeated_pixels_are_counted_once(factors):
    detail = true_detail(*rgba(repeated(grains(60, 50), *factors)))
    assert (detail.enlarged, detail.width_px, detail.height_px) == (NEAREST, 60, 50)
    assert (detail.factor_x, detail.factor_y) == factors


@pytest.mark.parametrize("factor", [2, 2.5, 4])
def test_blended_enlargement_is_found_within_two_percent(factor):
    detail = true_detail(*rgba(blended(grains(72, 60), factor)))
    assert detail.enlarged == SMOOTH
    assert detail.width_px == pytest.approx(72, rel=0.02)
    assert detail.height_px == pytest.approx(60, rel=0.02)


def test_a_shape_on_nothing_is_judged_by_its_alpha():
    # All pixels are black: the shape is in the alpha alone.
    grid = blended(disc(80, smooth=True), 3)
    black = bytes(level for row in grid for shade in row for level in (0, 0, 0, 255 - shade))
    detail = true_detail(black, 240, 240)
    assert detail.enlarged == SMOOTH
    assert detail.width_px == pytest.approx(80, rel=0.15)


def test_a_bar_code_is_no_enlarged_picture():
    chance = random.Random(2)
    bars = [shade for _ in range(90) for shade in [chance.choice((0, 255))] * 3]
    assert true_detail(*rgba([bars] * 100)).enlarged is None


def test_a_few_large_squares_are_no_evidence():
    board = repeated([[255 * ((x + y) % 2) for x in range(8)] for y in range(8)], 25, 25)
    assert true_detail(*rgba(board)).enlarged != NEAREST


@pytest.mark.parametrize("size", [(1, 1), (1, 300), (300, 1), (2, 2), (3, 700), (64, 64)])
def test_plain_and_tiny_pictures_are_answered(size):
    width, height = size
    pixels = bytes((10, 20, 30, 255)) * (width * height)
    assert true_detail(pixels, width, height) == Detail(width, height)
    assert edges(pixels, width, height) == "soft"


@settings(max_examples=30, deadline=None)
@given(st.integers(1, 70), st.integers(1, 70), st.binary(min_size=1, max_size=40))
def test_any_pixels_are_answered(width, height, pattern):
    pixels = (pattern * (4 * width * height // len(pattern) + 1))[: 4 * width * height]
    detail = true_detail(pixels, width, height)
    assert 1 <= detail.width_px <= width
    assert 1 <= detail.height_px <= height
    assert (detail.enlarged is None) == (detail.factor_x == detail.factor_y == 1)
    assert edges(pixels, width, height) in ("hard", "soft")


def test_edges_are_hard_without_shades_between():
    assert edges(*rgba(disc(100, smooth=False))) == "hard"
    assert edges(*rgba(disc(100, smooth=True))) == "soft"
    assert edges(*rgba(repeated(disc(40, smooth=False), 3, 3))) == "hard"
    assert edges(*rgba(blended(disc(40, smooth=False), 3))) == "soft"


def test_transparency_is_counted_by_pixel():
    pixels = bytes((1, 2, 3, 0)) * 3 + bytes((1, 2, 3, 128)) + bytes((1, 2, 3, 255)) * 4
    found = transparency(pixels)
    assert (found.has_any, found.partial_share, found.clear_share) == (True, 1 / 8, 3 / 8)
    assert not transparency(bytes((1, 2, 3, 255)) * 5).has_any


def test_lines_that_change_everywhere_have_no_repeats_at_any_length():
    """A length of which a stride is a divisor once left most of the places out."""
    for count in range(12, 160):
        line = [40, 200] * (count // 2 + 1)
        assert repeats([line[: count + 1]] * 3).factor == 1.0, count
