"""Pictures as they are seen on paint: the fast way against the slow one, and what must hold of any picture."""

from collections.abc import Sequence

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.colour import inks, spectra, srgb
from calculators.colour.stack import ink_of
from calculators.pixels import rendering
from calculators.pixels.raster import Raster
from calculators.pixels.rendering import Ground, rendered
from tests.calculators.pixels.reference import differences, flat_art, photograph, raster_of

IVORY, MAROON = "#efe4c4", "#7a2232"
#: Bare, on white film as it hides least, and over much white.
POWERS = (0.0, 0.96, 9.0)
GROUNDS = [Ground(paint, power) for power in POWERS for paint in (IVORY, MAROON, "#1d1d1f", "#ffffff")]
MEAN, WORST = 0.5, 2.0


def made(raster: Raster, covered: bytes | None = None, grounds: Sequence[Ground] = GROUNDS) -> list[bytes]:
    steps = rendered(raster, covered, grounds)
    while True:
        try:
            next(steps)
        except StopIteration as stop:
            return stop.value


@pytest.mark.parametrize("picture", [flat_art, photograph])
def test_fast_and_slow_rendering_agree(picture):
    raster = raster_of(picture())
    for ground, fast in zip(GROUNDS, made(raster), strict=True):
        found = differences(raster, None, ground.paint, ground.power, fast)
        assert found.mean() <= MEAN, ground
        assert found.max() <= WORST, ground


@pytest.mark.parametrize(("steps", "mean", "worst"), [((127,), MEAN, WORST), ((127, 63), 2 * MEAN, 2 * WORST)])
def test_a_picture_of_very_many_colours_agrees_too(monkeypatch, steps, mean, worst):
    """The second, of nothing but grain, is beyond what was asked for."""
    monkeypatch.setattr(rendering, "MANY_COLOURS", 40)
    monkeypatch.setattr(rendering, "COARSER", steps)
    raster = raster_of(photograph())
    for ground, fast in zip(GROUNDS, made(raster), strict=True):
        found = differences(raster, None, ground.paint, ground.power, fast)
        assert found.mean() <= mean, ground
        assert found.max() <= worst, ground


def test_any_colours_agree():
    """Colours from anywhere: the worst is one that no screen can show, beside one that it can."""
    levels = numpy.random.default_rng(7).integers(0, 256, (40, 40, 4), "u1")
    raster = Raster(levels.tobytes(), 40, 40)
    for ground, fast in zip(GROUNDS, made(raster), strict=True):
        found = differences(raster, None, ground.paint, ground.power, fast)
        assert found.mean() <= MEAN, ground
        assert found.max() <= 1.5 * WORST, ground


@pytest.mark.parametrize(("opaque", "worst"), [(True, 1.5 * WORST), (False, 2 * WORST)])
def test_inks_beyond_the_screen_agree(opaque, worst):
    """Red near its ends, where an ink is stronger than its colour: the table goes straight where the slow way bends.

    Where such an ink covers a pixel in part, its light is cut off to what a screen shows before it is mixed.
    """
    random = numpy.random.default_rng(11)
    levels = random.integers(0, 256, (40, 40, 4), "u1")
    levels[..., 0] = numpy.where(random.random((40, 40)) < 0.5, levels[..., 0] % 16, 255 - levels[..., 0] % 16)
    if opaque:
        levels[..., 3] = 255
    raster = Raster(levels.tobytes(), 40, 40)
    for ground, fast in zip(GROUNDS, made(raster), strict=True):
        found = differences(raster, None, ground.paint, ground.power, fast)
        assert found.mean() <= MEAN, ground
        assert found.max() <= worst, ground


def test_unprinted_areas_show_the_paint():
    raster = Raster(bytes([200, 30, 40, 255] * 6), 3, 2)
    covered = bytes([0, 1, 2, 2, 1, 0])
    (bare,) = made(raster, covered, [Ground(MAROON)])
    assert bare[:4] == bare[-4:] == bytes.fromhex(MAROON[1:]) + b"\xff"
    assert bare[4:8] == bare[8:12] != bare[:4]


@settings(max_examples=60, deadline=None)
@given(pixel=st.binary(min_size=4, max_size=4), paint=st.from_regex(r"#[0-9a-f]{6}", fullmatch=True))
def test_partly_covered_lies_between_bare_and_covered(pixel, paint):
    whole = Raster(pixel[:3] + b"\xff", 1, 1)
    part = Raster(pixel, 1, 1)
    (over,), (mixed,) = made(whole, None, [Ground(paint)]), made(part, None, [Ground(paint)])
    bare = bytes.fromhex(paint[1:])
    for low, high, level in zip(bare, over[:3], mixed[:3], strict=True):
        assert min(low, high) <= level <= max(low, high)
    assert mixed[3] == 255


@settings(max_examples=40, deadline=None)
@given(paint=st.from_regex(r"#[0-9a-f]{6}", fullmatch=True))
def test_white_ink_on_nothing_is_the_paint(paint):
    (bare,) = made(Raster(b"\xff" * 4, 1, 1), None, [Ground(paint)])
    assert all(abs(a - b) <= 1 for a, b in zip(bare[:3], bytes.fromhex(paint[1:]), strict=True))


def test_the_table_of_inks_matches_the_spectra():
    curves = numpy.array(inks.curves())
    for red, green, blue in numpy.random.default_rng(5).integers(0, inks.SIDE, (60, 3)).tolist():
        place = (red * inks.SIDE + green) * inks.SIDE + blue
        colour = "#" + bytes(inks.STEP * each for each in (red, green, blue)).hex()
        passes = numpy.array(inks.shares(place)) @ curves
        for paint in (IVORY, MAROON, "#24468c"):
            base = numpy.array(spectra.reflectance(srgb.light_of(paint)))
            weights = numpy.array(spectra.WEIGHTS)
            from_table, from_spectrum = (
                (each * base) @ weights.T for each in (passes, numpy.array(ink_of(colour).passes))
            )
            assert numpy.abs(from_table - from_spectrum).max() < 0.004
