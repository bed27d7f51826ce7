"""Estimate the true detail of a picture: earlier enlargement, hard or soft edges, transparency."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import prod
from operator import sub

from calculators.pixels import enlarging
from calculators.pixels.blends import SMALL, Rhythm, blended_alone, blended_together, possible_factors, rhythm
from calculators.pixels.raster import ACROSS, DOWN, Raster, any_clear, has_clear, sampled_lines
from calculators.pixels.repeats import Repeats, repeats
from calculators.pixels.squares import Patches, finest

NEAREST, SMOOTH = "nearest", "smooth"
#: The sample along each axis: enough to judge, and bounded for large pictures.
MOST_LINES, MOST_LENGTH = 96, 1024
#: The least strength of rhythm that makes a smooth enlargement clear.
CLEAR_STRENGTH = 12.0
#: The usual factors, tried in any case because JPEG hides the rhythm.
USUAL = (1.5, 2.0, 2.5, 3.0, 4.0)
#: A dip below this share leaves no doubt.
CLEAR_DIP = 0.6
#: A rhythm counts only with a dip at least this deep.
SLIGHT_DIP = 0.95
#: The same for unaltered pixels, along both axes together (geometric mean).
FAIR_DIP = 0.7
#: Where lines change at fewer places than this, as those of stripes and crosses do, a smaller picture explains them by
#: chance. Set on the tuning half of the sample pictures: of those accused there nine in ten were such, of those told
#: rightly one in twenty-five.
FEWEST_CHANGES = 8
#: By how many of the eight kinds of waves a picture's squares hold: how many times it may have been enlarged. With all
#: eight it was not. Set on the tuning half of the sample pictures.
MAY_BE_TIMES = {7: 2.0, 6: 4.0, 5: 4.0, 4: 4.0, 3: 8.0, 2: 8.0, 1: 8.0}
#: Factors that differ by no more than this share are one factor.
SAME = 0.02
#: How certain repeats must be along each axis by itself, and along each where both tell one factor and together
#: reach twice the former.
CERTAIN_ALONE, CERTAIN_EACH = 12.0, 2.5
#: An edge is a rise or fall by this much (of 1020); it is hard if one step makes this share of it; a picture
#: is soft if more than this share of its edges is.
EDGE_RISE, ONE_STEP, SOFT_SHARE = 4 * 64, 0.9, 0.1
#: An edge that covers one pixel in part rises in two steps; blending spreads it over more. This share of at least so
#: many edges is sharp in pictures that lack waves only because their few edges lie alike. (On the tuning half: ten of
#: twelve such originals have 0.42 and more, enlarged ones 0.31 at most, that of 1.5 times by Lanczos.)
SHARP_SHARE, FEWEST_EDGES = 0.4, 24


@dataclass(frozen=True)
class Detail:
    """The detail that a picture carries, in pixels of the size at which nothing would be lost.

    ``enlarged`` is None (no evidence that it was), "nearest" (pixels repeated) or "smooth" (blended).
    ``factor_x`` and ``factor_y`` are 1 where it is None. ``confidence`` is "likely" or "clear".
    ``least_width_px`` is set if the detail is unknown because the picture is soft throughout: if it was enlarged, the
    detail has at least that many pixels across, and at most ``width_px``.
    """

    width_px: int
    height_px: int
    enlarged: str | None = None
    factor_x: float = 1.0
    factor_y: float = 1.0
    confidence: str = ""
    least_width_px: int | None = None


def true_detail(rgba: bytes, width: int, height: int, patches: Patches | None = None, *, exact: bool = True) -> Detail:
    """Return the true size of a picture in pixels, and how it was enlarged if there is evidence.

    Estimate. Holds for pictures at least 48 pixels wide and high, enlarged 1.45 to 9 times smoothly
    or 1.2 to 64 times by repeated pixels. "Enlarged" is said on positive evidence only; a drawing
    made of square blocks is evidence of that kind, since nothing tells it from an enlarged one. Without evidence and
    without fine detail, it returns the possible range. ``patches`` are those of the picture, if already found.
    ``exact``: the pixels come from a lossless file, so an enlargement left clear traces.
    """
    raster = Raster(rgba, width, height)
    patches = patches or Patches(raster)
    if min(width, height) < 2:
        return Detail(width, height)
    clear = has_clear(raster)
    across, down = (
        sampled_lines(raster, axis, most_lines=MOST_LINES, most_length=MOST_LENGTH, clear=clear)
        for axis in (ACROSS, DOWN)
    )
    lines = [*across[::3], *down[::3]]
    combs, along_x, along_y = (repeats(across), repeats(down)), rhythm(across), rhythm(down)
    if detail := _repeated(raster, *combs):
        return detail
    # In a lossless picture with few changes, any large shape looks like a repeated pixel.
    kernels = [
        kernel
        for kernel in enlarging.KERNELS
        if kernel != enlarging.NEAREST or None not in (each.factor for each in combs)
    ]
    stretch_x, stretch_y = (enlarging.stretch_of(raster, axis, clear) for axis in (ACROSS, DOWN))
    stretches = [stretch_x, stretch_y]
    if stretch_x is None or stretch_y is None or along_x is None or along_y is None:
        detail = _blended(raster, along_x, along_y)
        fits = detail and (not exact or _fits(stretches, detail, exact))
        return detail if detail and fits else _unknown(raster, patches, lines)
    if min(stretch_x.changes, stretch_y.changes) < FEWEST_CHANGES:
        return _unknown(raster, patches, lines)
    if detail := _explained(raster, (stretch_x, stretch_y), along_x, along_y, kernels, exact):
        return detail
    detail = _blended(raster, along_x, along_y)
    return detail if detail and _fits(stretches, detail, exact) else _unknown(raster, patches, lines)


def _repeated(raster: Raster, across: Repeats, down: Repeats) -> Detail | None:
    """Require both axes: a bar code has a comb across and nothing at all down."""
    if across.factor is None or down.factor is None or min(across.factor, down.factor) == 1:
        return None
    least, both = min(across.certainty, down.certainty), across.certainty + down.certainty
    is_one = abs(across.factor - down.factor) <= SAME * across.factor
    if least < CERTAIN_ALONE and not (is_one and least >= CERTAIN_EACH and both >= 2 * CERTAIN_ALONE):
        return None
    return _detail(raster, NEAREST, across.factor, down.factor, clear=least > 3 * CERTAIN_ALONE)


def _explained(
    raster: Raster,
    stretches: tuple[enlarging.Stretch, enlarging.Stretch],
    across: Rhythm,
    down: Rhythm,
    kernels: list[str],
    exact: bool,
) -> Detail | None:
    """Require a smaller picture that explains both axes."""
    factors = [(factor, True) for factor in USUAL]
    for factor in possible_factors(across, down):
        if all(abs(factor / other - 1) > SAME / 4 for other, _usual in factors):
            factors.append((factor, False))
    found = enlarging.enlargement(*stretches, factors, kernels, exact=exact)
    if not found:
        return None
    how = NEAREST if found.kernel == enlarging.NEAREST else SMOOTH
    return _detail(raster, how, found.factor, found.factor, clear=found.dip < CLEAR_DIP)


def _fits(stretches: Sequence[enlarging.Stretch | None], detail: Detail, exact: bool) -> bool:
    """Return whether widths beside the one of a rhythm explain a picture less well: blurring has rhythms too.

    An axis that was not enlarged, or that is too plain to ask, says nothing.
    """
    asked = [
        (stretch, factor)
        for stretch, factor in zip(stretches, (detail.factor_x, detail.factor_y), strict=True)
        if stretch and factor > 1
    ]
    by_kernel = [
        [_best_dip(stretch, factor, kernel) for stretch, factor in asked]
        for kernel in (enlarging.LINEAR, enlarging.CUBIC)
    ]
    if exact:
        return any(prod(dips) <= FAIR_DIP ** len(asked) for dips in by_kernel)
    return all(min(dips) <= SLIGHT_DIP for dips in zip(*by_kernel, strict=True))


def _best_dip(stretch: enlarging.Stretch, factor: float, kernel: str) -> float:
    """Return the least dip at the width before ``factor`` and one pixel to either side."""
    return min(enlarging.dip(stretch, round(stretch.whole / factor) + by, kernel) for by in (0, -1, 1))


def _unknown(raster: Raster, patches: Patches, lines: Sequence[list[int]]) -> Detail:
    times = MAY_BE_TIMES.get(finest(patches) or 8)
    least = max(1, round(raster.width / times)) if times and not _are_sharp(lines) else None
    return Detail(raster.width, raster.height, least_width_px=least)


def _are_sharp(lines: Sequence[list[int]]) -> bool:
    """Return whether many of the edges rise within two steps, as no blended one does."""
    found = [two >= ONE_STEP * rise for line in lines for rise, _one, two in _slopes(line) if rise >= EDGE_RISE]
    return len(found) >= FEWEST_EDGES and sum(found) >= SHARP_SHARE * len(found)


def _blended(raster: Raster, across: Rhythm | None, down: Rhythm | None) -> Detail | None:
    """Return an enlargement by blending; one axis is enough if its rhythm is beyond doubt.

    An axis that is too short or plain follows the other.
    """
    if across and down and (both := blended_together(across, down)):
        factor, strength = both
        return _detail(raster, SMOOTH, factor, factor, clear=strength > CLEAR_STRENGTH and factor >= SMALL)
    found_x, found_y = (blended_alone(along) if along else None for along in (across, down))
    if not found_x and not found_y:
        return None
    factor_x, factor_y = found_x[0] if found_x else 1.0, found_y[0] if found_y else 1.0
    if across is None:
        factor_x = factor_y
    if down is None:
        factor_y = factor_x
    return _detail(raster, SMOOTH, factor_x, factor_y, clear=False)


def _detail(raster: Raster, enlarged: str, factor_x: float, factor_y: float, *, clear: bool) -> Detail:
    factor_x, factor_y = _whole(factor_x), _whole(factor_y)
    return Detail(
        width_px=max(1, round(raster.width / factor_x)),
        height_px=max(1, round(raster.height / factor_y)),
        enlarged=enlarged,
        factor_x=factor_x,
        factor_y=factor_y,
        confidence="clear" if clear else "likely",
    )


def _whole(factor: float) -> float:
    """Return the factor, rounded if it cannot be distinguished from a whole number."""
    return float(round(factor)) if abs(factor - round(factor)) < 0.005 * factor else factor


@dataclass(frozen=True)
class Transparency:
    """Shares of all pixels: ``clear_share`` wholly clear, ``partial_share`` in between."""

    has_any: bool
    partial_share: float
    clear_share: float


def transparency(rgba: bytes) -> Transparency:
    """Return how much of a picture is transparent.

    >>> transparency(bytes((9, 9, 9, 0)) + bytes((9, 9, 9, 255)))
    Transparency(has_any=True, partial_share=0.0, clear_share=0.5)
    """
    if not any_clear(rgba):
        return Transparency(False, 0.0, 0.0)
    alpha = rgba[3::4]
    clear, opaque = alpha.count(0), alpha.count(255)
    partial = len(alpha) - clear - opaque
    return Transparency(clear + partial > 0, partial / len(alpha), clear / len(alpha))


def edges(rgba: bytes, width: int, height: int) -> str:
    """Return "hard" if a picture's edges go from one shade to the next in one step, else "soft".

    A picture without any edge is soft. Smoothly drawn art has straight edges without shades
    between, so a small share of soft ones is enough to be soft.
    """
    raster = Raster(rgba, width, height)
    clear = has_clear(raster)
    in_one_step = in_several = 0
    for axis in (ACROSS, DOWN):
        for line in sampled_lines(raster, axis, most_lines=MOST_LINES // 3, most_length=MOST_LENGTH, clear=clear):
            for rise, steepest, _two in _slopes(line):
                if rise >= EDGE_RISE:
                    in_one_step += steepest >= ONE_STEP * rise
                    in_several += steepest < ONE_STEP * rise
    return "hard" if in_one_step and in_several <= SOFT_SHARE * (in_one_step + in_several) else "soft"


def _slopes(line: list[int]) -> Iterator[tuple[int, int, int]]:
    """Yield (rise, steepest step, steepest two in a row) of each stretch over which a line only rises or only falls."""
    rise = steepest = two = before = 0
    for step in map(sub, line[1:], line):
        if step * rise > 0:
            rise += step
            steepest = max(steepest, abs(step))
            two = max(two, abs(step + before))
        else:
            if rise:
                yield abs(rise), steepest, two
            rise, steepest, two = step, abs(step), abs(step)
        before = step
    if rise:
        yield abs(rise), steepest, two
