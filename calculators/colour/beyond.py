"""The light of an ink as it is on paper, where a screen shows less of it: sRGB cuts off what lies beyond its red.

A printed cyan is more cyan than any screen can show. Its red light lies below 0, and the artwork holds 0 instead; that
of a strong yellow lies above 1. Taken at its word, the 0 lets through three times the red that the ink does, and over
red paint that shows. So red light that was cut off is guessed from the green and the blue that were not.

The guess lies between two ends: nothing was cut off, or the ink takes out all the red that a printed solid takes out.
``FLOOR`` is what such a solid still lets through: no ink filters completely. All four figures are estimates. The shares
were set so that stacked colours came out best for Beer-Lambert dyes over the reflectances of BabelColor Average, the
190 patches and the samples of the colour quality scale in colour-science 0.4.7. The tests hold them against others.
"""

from __future__ import annotations

from math import sqrt

from calculators.colour import srgb
from calculators.colour.spectra import RED

#: What a solid print lets through in two passes where it filters most: a density of 1.5, that is 10^-1.5. Solids are
#: printed at densities of 1.2 to 1.8, that is 6 to 1.6 percent (common practice, from memory).
FLOOR = 0.03
#: How far red is moved from 0 towards the light that it has at the floor.
CUT_LOW = 1 / 3
#: How far red is moved above 1, as a share of green times what the ink takes from the green.
CUT_HIGH = 0.5
#: Beside full green and blue no surface takes out more red: the spectra have no answer below -0.13 there.
LEAST = -0.12
#: Levels near an end count in part, so that noise of a JPEG there does not show as speckles: below 15, a step of the
#: table of inks; above 252, where more would be seen on the paper itself (delta E 2000 under 0.8).
NEAR_0, NEAR_255 = 15, 3
#: Red light that is moved by less than this is not worth a word (estimate).
WORTH_TELLING = 0.01

#: All that green and blue bands take from red light, and all that red bands give to it: sRGB's red is a difference.
_NEGATIVE_SUM, _POSITIVE_SUM = -sum(min(0.0, each) for each in RED), sum(max(0.0, each) for each in RED)


def light_of_ink(levels: tuple[int, int, int]) -> srgb.Triple:
    """Return the linear light of an ink on bright white paper, from its levels of sRGB, 0 to 255; red may leave 0 to 1.

    Light between green and blue, about 500 nm, counts against red. What the ink reflects there is taken
    as the geometric mean of its green and its blue.

    >>> [round(part, 3) for part in light_of_ink((0, 160, 200))]
    [-0.058, 0.352, 0.578]
    >>> as_shown = [round(srgb.decoded(each), 3) for each in (200, 30, 40)]
    >>> [round(part, 3) for part in light_of_ink((200, 30, 40))] == as_shown
    True
    """
    red, green, blue = map(srgb.decoded, levels)
    near_0, near_255 = 1 - levels[0] / NEAR_0, 1 - (255 - levels[0]) / NEAR_255
    if near_0 > 0:
        red += near_0 * max(LEAST, CUT_LOW * min(0.0, _POSITIVE_SUM * FLOOR - _NEGATIVE_SUM * sqrt(green * blue)))
    elif near_255 > 0 and green > blue:
        # Yellow to orange: what takes out blue takes some green with it, and passes all the red.
        red += near_255 * CUT_HIGH * (1 - green) * (green * green - blue * blue) / green
    return red, green, blue


def is_beyond(colour: str) -> bool:
    """Return whether an ink is taken as stronger than its ``colour`` (#rrggbb), because a screen shows no more of it.

    >>> is_beyond("#00a0c8"), is_beyond("#ffe000"), is_beyond("#e9b824")
    (True, True, False)
    """
    levels = srgb.levels_of(colour)
    return abs(light_of_ink(levels)[0] - srgb.decoded(levels[0])) > WORTH_TELLING
