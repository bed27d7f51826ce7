"""When a colour over paint passes, shifts or fails: the limits that the calculators of this stage share."""

from __future__ import annotations

from calculators import messages, tables
from calculators.colour.seen import Side

#: Half of observers notice a difference of 0.8, and half accept one of 1.8 (a study of teeth in several centres).
ACCEPTED_DELTA_E = 1.8
#: Beyond this a colour reads as another one (estimate).
FAR_DELTA_E = 20.0
#: A marking is hard to see if it differs from its surroundings by less than the first; or by less than twice that, with
#: a difference in lightness below the last, of 100 (estimates).
LEGIBLE_DELTA_E, LEGIBLE_LIGHTNESS = 10.0, 10.0
#: The most layers in the field, and the most checked before a count is called enough for all above it.
MOST_LAYERS, LOOKED_AT = 12, 24
#: The tolerance of limits.
TINY = 1e-9
#: What these limits and the colours of ink over film and paint rest on.
SOURCES = (
    "kubelka-munk-1931",
    "burns-2020",
    "ciede2000",
    "iec-61966-2-1",
    "tooth-thresholds",
    tables.COMMON_PRACTICE,
    tables.ESTIMATE,
    tables.DRAWN_UP,
)


def hardly_legible(side: Side) -> bool:
    """Return whether a colour is hard to see against the paint around it."""
    low_in_lightness = side.lightness < LEGIBLE_LIGHTNESS and side.contrast < 2 * LEGIBLE_DELTA_E
    return side.contrast < LEGIBLE_DELTA_E or low_in_lightness


def counted(layers: int) -> str:
    """Return a number of layers in words.

    >>> counted(1), counted(3)
    ('1 layer', '3 layers')
    """
    return messages.ONE_LAYER if layers == 1 else messages.LAYERS.format(count=layers)
