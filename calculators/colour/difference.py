"""How different two colours look: CIEDE2000."""

from __future__ import annotations

from math import atan2, cos, exp, hypot, pi, sin, sqrt

from calculators.colour.srgb import Triple

#: 25 to the seventh power, where the correction of small chroma turns.
_TURN = 25.0**7
#: A degree in radians, and a radian in degrees.
_DEGREE, _RADIAN = pi / 180, 180 / pi


def delta_e(first: Triple, second: Triple) -> float:
    """Return the CIEDE2000 difference of two colours in L*a*b*, with all three parametric factors 1.

    ISO/CIE 11664-6; computed as in Sharma, Wu and Dalal (2005), "The CIEDE2000 color-difference formula:
    implementation notes". Symmetric. Made for differences up to about 5; above that it still orders colours.

    >>> round(delta_e((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485)), 4)
    2.0425
    """
    (light_1, a_1, b_1), (light_2, a_2, b_2) = first, second
    chroma_power = ((hypot(a_1, b_1) + hypot(a_2, b_2)) / 2) ** 7
    stretch = 1 + 0.5 * (1 - sqrt(chroma_power / (chroma_power + _TURN)))
    a_1, a_2 = stretch * a_1, stretch * a_2
    chroma_1, chroma_2 = hypot(a_1, b_1), hypot(a_2, b_2)
    # All is written out here, since this is asked some ten thousand times of a picture.
    hue_1 = atan2(b_1, a_1) * _RADIAN % 360 if a_1 or b_1 else 0.0
    hue_2 = atan2(b_2, a_2) * _RADIAN % 360 if a_2 or b_2 else 0.0

    both_coloured = chroma_1 * chroma_2 != 0
    turn = hue_2 - hue_1
    if not both_coloured:
        turn = 0.0
    elif turn > 180:
        turn -= 360
    elif turn < -180:
        turn += 360
    by_light, by_chroma = light_2 - light_1, chroma_2 - chroma_1
    by_hue = 2 * sqrt(chroma_1 * chroma_2) * sin(turn / 2 * _DEGREE)

    light, chroma = (light_1 + light_2) / 2, (chroma_1 + chroma_2) / 2
    hue = hue_1 + hue_2
    if both_coloured:
        far = abs(hue_1 - hue_2) > 180
        hue = (hue + (360 if hue < 360 else -360) if far else hue) / 2
    uneven = (
        1
        - 0.17 * cos((hue - 30) * _DEGREE)
        + 0.24 * cos(2 * hue * _DEGREE)
        + 0.32 * cos((3 * hue + 6) * _DEGREE)
        - 0.20 * cos((4 * hue - 63) * _DEGREE)
    )
    from_middle = (light - 50) ** 2
    by_light /= 1 + 0.015 * from_middle / sqrt(20 + from_middle)
    by_chroma /= 1 + 0.045 * chroma
    by_hue /= 1 + 0.015 * chroma * uneven
    power = chroma**7
    rotation = -2 * sqrt(power / (power + _TURN)) * sin(60 * exp(-(((hue - 275) / 25) ** 2)) * _DEGREE)
    return sqrt(max(0.0, by_light**2 + by_chroma**2 + by_hue**2 + rotation * by_chroma * by_hue))
