"""Flat colours that became one near them: drawings by code with a known truth, smoothed by exact coverage."""

from __future__ import annotations

import numpy
import pytest
from PIL import Image

from calculators.pixels.fidelity import losses
from calculators.pixels.flat_colours import NONE
from calculators.pixels.merged_colours import MERGED_APART
from calculators.pixels.near_colours import VISIBLE, near_colours
from calculators.pixels.raster import Raster
from tests.calculators.pixels.test_fidelity import rgb, rgba_of
from tests.calculators.pixels.test_flat_colours import colour, drawn

WHITE, YELLOW, NEAR, DARKER, THIRD = "#ffffff", "#ffb400", "#ffc034", "#ffa800", "#f6ac04"
#: What differs by less and by more than is visible.
PAIRS = [
    ("#ffffff", "#f5f8fa", False),
    (YELLOW, NEAR, True),
    ("#1f3b6d", "#274577", True),
    ("#a5a5a0", "#9d9d98", False),
]
BAR = ("polygon", NEAR, (44, 40, 58, 40, 70, 90, 56, 90))
PANEL = ("rectangle", NEAR, (36.4, 32.4, 82.4, 82.4))
STRIPES = [("polygon", NEAR, (x, 30, x + 4.4, 30, x + 9.4, 94, x + 5, 94)) for x in (32, 44, 56, 68, 80)]


def on_disc(*shapes: tuple[str, str, tuple]) -> Image.Image:
    """Return a yellow disc on white, with shapes on it."""
    return drawn(WHITE, ("ellipse", YELLOW, (12.3, 12.6, 108.2, 108.4)), *shapes)[0]


def slanted(size: int) -> Image.Image:
    """Return yellow stripes on white, whose edges have few shades: each makes much of the picture."""
    edges = [
        ("polygon", YELLOW, (x, 0, x + 5, 0, x + 5 + size, 2 * size, x + size, 2 * size)) for x in range(-size, size, 9)
    ]
    return drawn(WHITE, *edges, size=size, times=4)[0]


def with_gradient(start: str, end: str, rows: int) -> Image.Image:
    """Return a yellow disc with a panel that goes evenly from one colour to the other over so many rows."""
    levels = numpy.asarray(on_disc()).copy()
    shares = numpy.linspace(0, 1, rows)[:, None, None]
    first = 60 - rows // 2
    levels[first : first + rows, 30:90] = numpy.round((1 - shares) * rgb(start) + shares * numpy.array(rgb(end)))
    return Image.fromarray(levels)


def repeated(image: Image.Image, times: int) -> Image.Image:
    """Return a picture with each pixel repeated."""
    return image.resize((image.width * times, image.height * times), Image.Resampling.NEAREST)


def flat_of(image: Image.Image, quality: int | None = None, now: str = YELLOW) -> set[tuple]:
    """Return what is lost of a picture whose labels are white and ``now``, as (was, now)."""
    labels = (numpy.asarray(image)[..., 2] < 128).astype(numpy.uint8).tobytes()
    lost, _near = near_colours(rgba_of(image, quality), labels, [rgb(WHITE), rgb(now)], MERGED_APART)
    return {(each.was, each.now) for each in lost}


def difference(one: str, other: str) -> float:
    """Return delta E 2000 as colour-science has it."""
    labs = [colour.XYZ_to_Lab(colour.sRGB_to_XYZ(numpy.array(rgb(each)) / 255)) for each in (one, other)]
    return float(colour.delta_E(*labs, method="CIE 2000"))


@pytest.mark.parametrize(("ground", "other", "visible"), PAIRS)
def test_a_flat_panel_of_a_near_colour_is_lost_where_it_is_visible(ground, other, visible):
    assert (difference(ground, other) >= VISIBLE) is visible
    image = drawn(ground, ("ellipse", other, (30.3, 30.6, 80.2, 80.4)))[0]
    lost = losses(rgba_of(image, None), bytes(120 * 120), [rgb(ground)])
    assert bool(lost) is visible
    (place,) = lost.flat if visible else lost.near
    assert (place.was, place.now) == (rgb(other), rgb(ground))
    assert 30 <= place.box[0] and 30 <= place.box[1] and place.box[2] <= 81 and place.box[3] <= 81
    assert not (lost.near if visible else lost.flat)


@pytest.mark.parametrize("shapes", [[BAR], STRIPES], ids=["bar", "stripes of 4 px"])
def test_a_near_colour_on_a_shape_is_lost(shapes):
    assert flat_of(on_disc(*shapes)) == {(rgb(NEAR), rgb(YELLOW))}


def test_shades_to_either_side_of_a_colour_are_lost():
    assert difference(YELLOW, DARKER) >= VISIBLE
    image = on_disc(BAR, ("rectangle", DARKER, (30.4, 45.4, 41.4, 75.4)))
    assert flat_of(image) == {(rgb(NEAR), rgb(YELLOW)), (rgb(DARKER), rgb(YELLOW))}


@pytest.mark.parametrize("shapes", [[PANEL], []], ids=["panel", "none"])
def test_edges_to_nothing_are_no_noise(shapes):
    """Renderers multiply colours by their cover and divide again, in whole levels."""
    cover = numpy.asarray(drawn("#000000", ("ellipse", WHITE, (12.3, 12.6, 108.2, 108.4)))[0])[..., :1].astype(int)
    mixed = numpy.asarray(drawn(YELLOW, *shapes)[0]) * cover // 255
    levels = numpy.minimum(mixed * 255 // numpy.maximum(cover, 1), 255)
    raster = Raster(numpy.concatenate([levels, cover], -1).astype(numpy.uint8).tobytes(), 120, 120)
    labels = numpy.where(cover < 128, NONE, 0).astype(numpy.uint8).tobytes()
    lost, _near = near_colours(raster, labels, [rgb(YELLOW)], MERGED_APART)
    assert [(each.was, each.now) for each in lost] == ([(rgb(NEAR), rgb(YELLOW))] if shapes else [])


def test_a_third_shade_hides_no_near_colour():
    """It differs from the first by less than is visible."""
    assert difference(YELLOW, THIRD) < VISIBLE
    slanted_third = [("polygon", THIRD, (x, 60, x + 6, 60, x + 12, 100, x + 6, 100)) for x in range(30, 80, 9)]
    assert flat_of(on_disc(("rectangle", NEAR, (40.4, 26.4, 80.4, 50.4)), *slanted_third)) == {(rgb(NEAR), rgb(YELLOW))}


def test_two_near_colours_drawn_as_their_mean_are_lost():
    mean = "#ffba1a"
    assert max(difference(mean, each) for each in (YELLOW, NEAR)) < VISIBLE <= difference(YELLOW, NEAR)
    assert flat_of(on_disc(PANEL), now=mean) == {(rgb(NEAR), rgb(mean)), (rgb(YELLOW), rgb(mean))}


def test_a_colour_drawn_a_little_off_is_not_taken_as_another():
    """The picture has no second colour with which it could be mixed up."""
    assert difference(YELLOW, DARKER) >= VISIBLE
    assert not flat_of(on_disc(), now=DARKER)


@pytest.mark.parametrize("times", [2, 3])
def test_a_near_colour_is_lost_where_pixels_are_repeated(times):
    assert flat_of(repeated(on_disc(BAR), times)) == {(rgb(NEAR), rgb(YELLOW))}


@pytest.mark.parametrize("times", [1, 2, 3, 4, 8])
def test_shades_of_edges_are_no_colours_of_their_own(times):
    """Repeated pixels make squares of each shade."""
    assert not flat_of(repeated(slanted(64), times))
    assert not flat_of(repeated(on_disc(), times))


@pytest.mark.parametrize("rows", [80, 52, 39])
def test_steps_of_a_gradient_are_no_colours_of_their_own(rows):
    """One has steps of a row or two, and the other, of 12 levels, of several rows."""
    assert not flat_of(with_gradient(YELLOW, NEAR, rows))
    assert not flat_of(with_gradient(YELLOW, DARKER, rows))


@pytest.mark.parametrize("quality", [95, 85, 70, 50])
def test_a_compressed_picture_shows_no_colours_of_their_own(quality):
    assert not flat_of(on_disc(PANEL), quality)
    assert not flat_of(on_disc(), quality)


def test_a_pattern_of_two_near_colours_is_none():
    levels = numpy.asarray(on_disc()).copy()
    rows, columns = numpy.mgrid[:120, :120]
    levels[((rows + columns) % 2 == 0) & (abs(rows - 60) < 25) & (abs(columns - 60) < 25)] = rgb(NEAR)
    assert not flat_of(Image.fromarray(levels))


def test_a_speck_of_a_near_colour_is_no_loss():
    assert not flat_of(on_disc(("rectangle", NEAR, (50, 50, 54, 54))))


def test_near_colours_are_one_where_a_reader_raised_the_tolerance():
    image = drawn(YELLOW, ("ellipse", NEAR, (30.3, 30.6, 80.2, 80.4)))[0]
    lost = losses(rgba_of(image, None), bytes(120 * 120), [rgb(YELLOW)], apart=8)
    assert not lost and [each.was for each in lost.near] == [rgb(NEAR)]
