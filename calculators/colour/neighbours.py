"""Colours near another one: so many steps of CIEDE2000 lighter or darker, stronger or duller, to one hue or the other.

Steps are taken in L*a*b* and then rounded to the 8-bit colour that keeps them best.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from math import atan2, cos, hypot, pi, sin

from calculators.colour.difference import delta_e
from calculators.colour.srgb import FROM_XYZ, TO_XYZ, Triple, encoded, lab_of, light_of, times

#: How far a level may lie outside 0 to 255 and still count as inside: half a step of rounding.
_HALF = 0.5 / 255
#: Where a colour is so grey that the hue cannot be turned by the wanted steps within a quarter circle, steps go along
#: the axes of L*a*b* instead.
_MOST_TURN = pi / 2
RED, YELLOW, GREEN, BLUE = "redder", "yellower", "greener", "bluer"
STRONGER, DULLER = "stronger", "duller"


@dataclass(frozen=True)
class Axes:
    """Which ways the steps of chroma and of hue lead, in words: up, down."""

    chroma: tuple[str, str]
    hue: tuple[str, str]


@dataclass(frozen=True)
class Neighbour:
    """A colour (#rrggbb) and its CIEDE2000 difference from the one that it is near to; None outside sRGB."""

    colour: str | None
    difference: float | None


def lab_of_colour(colour: str) -> Triple:
    """Return L*, a*, b* of #rrggbb."""
    return lab_of(light_of(colour))


def light_of_lab(lab: Triple) -> Triple:
    """Return the linear light of L*, a*, b* (CIE 15, D65); parts below 0 or above 1 lie outside sRGB.

    >>> [round(part, 6) for part in light_of_lab(lab_of((0.2, 0.5, 0.8)))]
    [0.2, 0.5, 0.8]
    """
    lightness, a, b = lab
    y = (lightness + 16) / 116
    shares = tuple(map(_cube, (y + a / 500, y, y - b / 200)))
    x, y, z = (share * white for share, white in zip(shares, map(sum, TO_XYZ), strict=True))
    return times(FROM_XYZ, (x, y, z))


def axes_of(colour: str, most: float) -> Axes:
    """Return which ways chroma and hue lead from ``colour``, if they are to go ``most`` far (CIEDE2000)."""
    lab = lab_of_colour(colour)
    if not _turns(lab, most):
        return Axes((YELLOW, BLUE), (RED, GREEN))
    hue = atan2(lab[2], lab[1])
    names = (YELLOW, GREEN, BLUE, RED)
    # Turned on by a quarter: from red towards yellow, from yellow towards green and so on.
    quarter = round(2 * hue / pi) % 4
    return Axes((STRONGER, DULLER), (names[quarter], names[(quarter + 2) % 4]))


def neighbour(colour: str, light: float, chroma: float, hue: float, most: float) -> Neighbour:
    """Return the colour that is ``light`` lighter, ``chroma`` stronger and ``hue`` turned on, each in CIEDE2000.

    Each may be negative. The steps are taken one after the other, each measured from where the one before it ended.
    ``most`` is the largest step of a grid, so that all its colours use the same axes.
    """
    start = lab_of_colour(colour)
    turns = _turns(start, most)
    lab = start
    for far, way in zip((light, chroma, hue), _ways(turns), strict=True):
        if far:
            stepped = _stepped(lab, far, way)
            if stepped is None:
                return Neighbour(None, None)
            lab = stepped
    rounded = _rounded(lab, start)
    return Neighbour(rounded, None if rounded is None else delta_e(start, lab_of_colour(rounded)))


#: Takes a colour along an axis by a length in L*a*b*, or by an angle.
Way = Callable[[Triple, float], Triple]


def _ways(turns: bool) -> tuple[Way, Way, Way]:
    return (_lighter, _stronger, _turned) if turns else (_lighter, _yellower, _redder)


def _lighter(lab: Triple, far: float) -> Triple:
    return lab[0] + far, lab[1], lab[2]


def _stronger(lab: Triple, far: float) -> Triple:
    chroma = hypot(lab[1], lab[2])
    share = (chroma + far) / chroma
    return lab[0], lab[1] * share, lab[2] * share


def _turned(lab: Triple, far: float) -> Triple:
    # By the arc, so that all ways take lengths of one size.
    angle = far / hypot(lab[1], lab[2])
    return lab[0], lab[1] * cos(angle) - lab[2] * sin(angle), lab[1] * sin(angle) + lab[2] * cos(angle)


def _yellower(lab: Triple, far: float) -> Triple:
    return lab[0], lab[1], lab[2] + far


def _redder(lab: Triple, far: float) -> Triple:
    return lab[0], lab[1] + far, lab[2]


def _turns(lab: Triple, most: float) -> bool:
    """Whether a colour has enough chroma for steps of chroma and hue up to ``most``."""
    chroma = hypot(lab[1], lab[2])
    if not chroma:
        return False
    duller = delta_e(lab, (lab[0], 0.0, 0.0)) > 1.5 * most
    return duller and delta_e(lab, _turned(lab, chroma * _MOST_TURN)) > 1.5 * most


def _stepped(lab: Triple, far: float, way: Way) -> Triple | None:
    """Return the colour ``far`` (CIEDE2000) from ``lab`` that way; None where there is none within L*a*b*."""
    sign = 1 if far > 0 else -1
    low, high = 0.0, 1.0
    while delta_e(lab, way(lab, sign * high)) < abs(far):
        low, high = high, 2 * high
        if high > 512:
            return None
    for _ in range(50):
        middle = (low + high) / 2
        if delta_e(lab, way(lab, sign * middle)) < abs(far):
            low = middle
        else:
            high = middle
    found = way(lab, sign * high)
    return found if 0 <= found[0] <= 100 else None


def _rounded(lab: Triple, start: Triple) -> str | None:
    """Return the 8-bit colour near ``lab`` whose difference from ``start`` is nearest to that of ``lab`` itself."""
    levels = [encoded(part) for part in light_of_lab(lab)]
    if any(not -_HALF <= level <= 1 + _HALF for level in levels):
        return None
    wanted = delta_e(start, lab)
    around = [sorted({max(0, min(255, int(255 * level) + more)) for more in (0, 1)}) for level in levels]
    best = min(product(*around), key=lambda each: _cost(each, lab, start, wanted))
    return "#" + "".join(f"{level:02x}" for level in best)


def _cost(levels: tuple[int, ...], lab: Triple, start: Triple, wanted: float) -> float:
    found = lab_of_colour("#" + "".join(f"{level:02x}" for level in levels))
    # What lies off the way matters as much as the length of the way.
    return abs(delta_e(start, found) - wanted) + delta_e(lab, found)


def _cube(root: float) -> float:
    return root**3 if root > 6 / 29 else 3 * (6 / 29) ** 2 * (root - 4 / 29)
