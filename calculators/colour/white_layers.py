"""The hiding power of layers that scatter light, by the theory of Kubelka and Munk.

A layer is described by its scattering power, S times X: the scattering coefficient times the thickness. Powers of
layers of
one kind add up. White film, white paint and white toner scatter and hardly absorb: their K is taken as 0.
"""

from __future__ import annotations

from math import sqrt, tanh

#: White and black over which a contrast ratio is measured (ISO 6504-3: reflectance at least 0.80, and at most 0.05).
WHITE_CARD, BLACK_CARD = 0.8, 0.0

#: Saunderson (1942): light reflected outside the surface, and inside it, of a resin with refractive index 1.5.
OUTSIDE, INSIDE = 0.04, 0.6


def over(backing: float, power: float) -> float:
    """Return the reflectance of a white layer of scattering ``power`` over a ``backing`` reflectance, with K = 0.

    Kubelka and Munk (1931), the limit of no absorption: (P (1 - Rg) + Rg) / (P (1 -
    Rg) + 1). Power 0 or more, backing 0 to 1.

    >>> over(0.0, 1.0), round(over(0.8, 1.0), 8)
    (0.5, 0.83333333)
    """
    lit = power * (1 - backing)
    return (lit + backing) / (lit + 1)


def over_absorbing(backing: float, power: float, absorbs: float) -> float:
    """Return the reflectance of a layer with K/S ``absorbs`` over a ``backing``; K/S 0 is ``over``.

    Kubelka and Munk (1931) in the hyperbolic form of Kubelka (1948): with a = 1 + K/S and b = sqrt(a^2 - 1),
    (1 - Rg (a - b coth bP)) / (a - Rg + b coth bP); here with both sides times tanh bP, which is finite at any power.

    >>> round(over_absorbing(0.8, 1.0, 0.1), 8), round(over_absorbing(0.0, 1.0, 0.25), 8)
    (0.71234729, 0.4113829)
    """
    if absorbs == 0:
        return over(backing, power)
    a = 1 + absorbs
    b = sqrt(absorbs * (2 + absorbs))
    depth = tanh(b * power)
    return (depth * (1 - a * backing) + b * backing) / (depth * (a - backing) + b)


def endless(absorbs: float) -> float:
    """Return the reflectance of a layer so thick that nothing beneath counts, with K/S ``absorbs``.

    Kubelka and Munk (1931): 1 + K/S - sqrt((K/S)^2 + 2 K/S).

    >>> round(endless(0.1), 8), endless(0.25)
    (0.64174243, 0.5)
    """
    return 1 + absorbs - sqrt(absorbs * (absorbs + 2))


def contrast_ratio(power: float, absorbs: float = 0.0) -> float:
    """Return the reflectance over black as a share of that over white (0.80): 0 is clear, 1 hides all (ISO 6504-3).

    >>> round(contrast_ratio(1.0), 8), round(contrast_ratio(1.0, 0.1), 8)
    (0.6, 0.64720345)
    """
    return over_absorbing(BLACK_CARD, power, absorbs) / over_absorbing(WHITE_CARD, power, absorbs)


def scattering_power(ratio: float) -> float:
    """Return the scattering power of a white layer (K = 0) with that contrast ``ratio``, 0 to below 1.

    The ratio of ``over`` on black and on white W, solved for P: (1 - W) P^2 + P = C W / (1 - C).

    >>> round(scattering_power(0.98), 6), scattering_power(0.0)
    (11.721463, 0.0)
    """
    if not 0 <= ratio < 1:
        raise ValueError(f"a contrast ratio lies between 0 and 1, and {ratio} does not")
    grey = 1 - WHITE_CARD
    # Of the two forms of the root, this one loses no digits for a small ratio.
    whole = ratio * WHITE_CARD / (1 - ratio)
    return 2 * whole / (1 + sqrt(1 + 4 * grey * whole))


def with_surface(inner: float, outside: float = OUTSIDE, inside: float = INSIDE) -> float:
    """Return what is measured, gloss included, of a layer whose own reflectance is ``inner``.

    Saunderson (1942): k1 + (1 - k1) (1 - k2) R / (1 - k2 R).

    >>> round(with_surface(0.5), 8)
    0.31428571
    """
    return outside + (1 - outside) * (1 - inside) * inner / (1 - inside * inner)


def without_surface(measured: float, outside: float = OUTSIDE, inside: float = INSIDE) -> float:
    """Return the layer's own reflectance from what is ``measured``: ``with_surface`` turned round.

    >>> round(without_surface(with_surface(0.5)), 12)
    0.5
    """
    through = measured - outside
    return through / ((1 - outside) * (1 - inside) + inside * through)
