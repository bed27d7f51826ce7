"""Converts a colour to a reflectance spectrum, and a spectrum back to its visible colour."""

from __future__ import annotations

from functools import lru_cache
from math import exp, log

from calculators.colour import srgb
from calculators.colour.observer import BANDS_NM, DAYLIGHT_XYZ
from calculators.sums import sumprod

#: Reflectance by band, in the order of ``BANDS_NM``.
Spectrum = tuple[float, ...]

COUNT = len(BANDS_NM)
#: The limits of reflectance, so that a ratio of two reflectances is always finite.
DARKEST, BRIGHTEST = 1e-4, 1 - 1e-4

#: Newton's steps are cut to this length, in the hyperbolic tangent's argument, and end when one is shorter than that.
LONGEST_STEP, SHORTEST_STEP, MOST_STEPS = 2.0, 1e-10, 60
#: A trace on the diagonal keeps the elimination away from zero; it changes the path of the steps, not their end. Where
#: short steps do not get shorter, a pivot is near zero all the same, and more is added.
TRACE, MORE_TRACE, SHORT_STEP = 1e-4, 10.0, 1e-4
#: Light within this of 0, 0, 0 or 1, 1, 1 is black or white: the curve that would reach it has no end.
EXTREME = 1e-9


def _weights() -> tuple[Spectrum, Spectrum, Spectrum]:
    """Return how much each band adds to red, green and blue light; each adds up to 1, so that white is 1, 1, 1."""
    bands = [srgb.times(srgb.FROM_XYZ, row) for row in DAYLIGHT_XYZ]
    sums = [sum(band[part] for band in bands) for part in range(3)]
    red, green, blue = (tuple(band[part] / sums[part] for band in bands) for part in range(3))
    return red, green, blue


RED, GREEN, BLUE = WEIGHTS = _weights()


def seen(spectrum: Spectrum) -> srgb.Triple:
    """Return the linear sRGB light that an eye sees of a reflectance, in daylight D65 at 2 degrees.

    >>> [round(part, 12) for part in seen((0.5,) * COUNT)]
    [0.5, 0.5, 0.5]
    """
    return sumprod(RED, spectrum), sumprod(GREEN, spectrum), sumprod(BLUE, spectrum)


@lru_cache(maxsize=256)
def reflectance(light: srgb.Triple) -> Spectrum:
    """Return the smoothest reflectance, between 0 and 1, that looks like ``light`` (linear sRGB).

    Burns (2020), "Numerical methods for smoothest reflectance reconstruction", least slope of the inverse hyperbolic
    tangent: with reflectance (tanh z + 1) / 2, the sum of the squared steps of z from band to band is least. Newton's
    method on its Lagrangian; each step is a tridiagonal system with three rows beneath.

    Holds for every colour of sRGB and for those somewhat beyond that a surface can have. Raises ``ValueError`` for
    light that no surface can reflect.

    >>> reflectance((1.0, 1.0, 1.0))[0], reflectance((0.0, 0.0, 0.0))[0]
    (0.9999, 0.0001)
    """
    if max(light) < EXTREME:
        return (DARKEST,) * COUNT
    if min(light) > 1 - EXTREME:
        return (BRIGHTEST,) * COUNT
    middle = min(0.98, max(0.02, 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2]))
    z = [0.5 * log(middle / (1 - middle))] * COUNT
    pull, trace, before = [0.0, 0.0, 0.0], TRACE, LONGEST_STEP
    for _ in range(MOST_STEPS):
        try:
            step, wanted = _newton_step(z, pull, light, trace)
        except (OverflowError, ZeroDivisionError):
            break
        longest = max(map(abs, step))
        share = min(1.0, LONGEST_STEP / longest) if longest else 1.0
        z = [here + share * each for here, each in zip(z, step, strict=True)]
        pull = [held + share * (after - held) for held, after in zip(pull, wanted, strict=True)]
        if longest < SHORTEST_STEP:
            met = _met([1 / (1 + exp(-2 * each)) for each in z], light)
            return tuple(min(BRIGHTEST, max(DARKEST, each)) for each in met)
        if longest < SHORT_STEP and longest > before / 2:
            trace *= MORE_TRACE
        before = longest
    raise ValueError(f"no surface was found that reflects {light}")


def _missing(share: list[float], light: srgb.Triple) -> srgb.Triple:
    """Return by how much the visible light of ``share`` exceeds ``light``."""
    red, green, blue = light
    return sumprod(RED, share) - red, sumprod(GREEN, share) - green, sumprod(BLUE, share) - blue


def _met(share: list[float], light: srgb.Triple) -> list[float]:
    """Return ``share`` corrected by the remaining error of the steps, so that it looks like ``light``."""
    slope = [each * (1 - each) for each in share]
    rows = [[weight * steep for weight, steep in zip(weights, slope, strict=True)] for weights in WEIGHTS]
    first, second, third = ((sumprod(row, RED), sumprod(row, GREEN), sumprod(row, BLUE)) for row in rows)
    by = srgb.times(srgb.inverse((first, second, third)), _missing(share, light))
    return [
        each - by[0] * red - by[1] * green - by[2] * blue for each, red, green, blue in zip(share, *rows, strict=True)
    ]


def _newton_step(
    z: list[float], pull: list[float], light: srgb.Triple, trace: float
) -> tuple[list[float], list[float]]:
    """Return the step of z, and the multipliers of the three conditions after it."""
    red_pull, green_pull, blue_pull = pull
    share = [1 / (1 + exp(-2 * each)) for each in z]
    slope = [2 * each * (1 - each) for each in share]
    diagonal = [
        2 + trace + 2 * steep * (1 - 2 * each) * (red_pull * red + green_pull * green + blue_pull * blue)
        for each, steep, red, green, blue in zip(share, slope, RED, GREEN, BLUE, strict=True)
    ]
    diagonal[0] -= 1
    diagonal[-1] -= 1
    # z is constant beyond its ends.
    right = [before + after - 2 * each for before, each, after in zip([z[0], *z], z, [*z[1:], z[-1]], strict=False)]
    rows = [[weight * steep for weight, steep in zip(weights, slope, strict=True)] for weights in WEIGHTS]
    free, *held = _tridiagonal(diagonal, [right, *rows])
    missing = _missing(share, light)
    red, green, blue = held
    first, second, third = ((sumprod(row, red), sumprod(row, green), sumprod(row, blue)) for row in rows)
    of_red, of_green, of_blue = (sumprod(row, free) + each for row, each in zip(rows, missing, strict=True))
    after = srgb.times(srgb.inverse((first, second, third)), (of_red, of_green, of_blue))
    step = [
        each - after[0] * one - after[1] * two - after[2] * three
        for each, one, two, three in zip(free, red, green, blue, strict=True)
    ]
    return step, list(after)


def _tridiagonal(diagonal: list[float], columns: list[list[float]]) -> list[list[float]]:
    """Return the solutions of a system with ``diagonal`` and -1 on either side of it, one for each column."""
    shares, last = [], 0.0
    for each in diagonal:
        last = 1 / (each - last)
        shares.append(last)
    backwards = shares[::-1]
    solved = []
    for column in columns:
        running, below = 0.0, []
        for each, share in zip(column, shares):  # noqa: B905  (equally long; this is where the time goes)
            running = (each + running) * share
            below.append(running)
        running, above = 0.0, []
        for each, share in zip(reversed(below), backwards):  # noqa: B905  (as above)
            running = each + running * share
            above.append(running)
        solved.append(above[::-1])
    return solved
