"""The light of an ink on paper if it is outside the gamut of the screen: sRGB clips its red.

A printed cyan is more cyan than any screen can show. Its red light is below 0, but the artwork has 0; that of a strong
yellow is above 1. Taken literally, the 0 transmits three times the red of the real ink, which shows over red paint. So
clipped red light is estimated from green and blue, which are not clipped.

The estimate lies between two limits: nothing was clipped, or the ink absorbs all the red that a printed solid absorbs.
``FLOOR`` is what such a solid still transmits: no ink filters completely. All four figures are estimates. The shares
were tuned for the best stacked colours of Beer-Lambert dyes over the reflectances of BabelColor Average, the 190
patches and the samples of the colour quality scale in colour-science 0.4.7. The tests use other samples.
"""

from __future__ import annotations

from math import sqrt

from calculators.colour import srgb
from calculators.colour.spectra import RED

#: What a solid print lets through in two passes where it filters most: a density of 1.5, that is 10^-1.5. Solids are
#: printed at densities of 1.2 to 1.8, that is 6 to 1.6 percent (common practice, from memory).
FLOOR = 0.03
#: The share by which red moves from 0 towards its light at the floor.
CUT_LOW = 1 / 3
#: How far red is moved above 1, as a share of green times what the ink takes from the green.
CUT_HIGH = 0.5
#: With full green and blue no surface absorbs more red: there are no spectra below -0.13.
LEAST = -0.12
#: Levels near an end count partly, so that JPEG noise does not become speckles: below 15, a step of the table of inks;
#: above 252, where more would be visible on the paper itself (delta E 2000 under 0.8).
NEAR_0, NEAR_255 = 15, 3
#: A smaller shift of red light is not worth mentioning (estimate).
WORTH_TELLING = 0.01

#: The sums of the negative and positive weights of red light: sRGB's red is their difference.
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
        # Yellow to orange: what absorbs blue also absorbs some green, and transmits all the red.
        red += near_255 * CUT_HIGH * (1 - green) * (green * green - blue * blue) / green
    return red, green, blue


def is_beyond(colour: str) -> bool:
    """Return whether an ink counts as stronger than its ``colour`` (#rrggbb), because the screen clips it.

    >>> is_beyond("#00a0c8"), is_beyond("#ffe000"), is_beyond("#e9b824")
    (True, True, False)
    """
    levels = srgb.levels_of(colour)
    return abs(light_of_ink(levels)[0] - srgb.decoded(levels[0])) > WORTH_TELLING
