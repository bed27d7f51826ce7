"""Wet and dry films of a coat, its spreading rate, and what thinning does to them."""

from __future__ import annotations

#: A litre spread over a square metre lies 1 mm high.
UM_OF_LITRE_ON_SQUARE_METRE = 1000.0


def dry_um(wet_um: float, solids_percent: float, thinner_percent: float = 0.0) -> float:
    """Return what is left of a wet film in µm, of which ``solids_percent`` by volume stays.

    ``thinner_percent`` is the thinner added to 100 parts of the coat, by volume.

    >>> round(dry_um(176, 71)), round(dry_um(125, 30, 50), 6)
    (125, 25.0)
    """
    return wet_um * solids_percent / (100 + thinner_percent)


def wet_um(dry: float, solids_percent: float, thinner_percent: float = 0.0) -> float:
    """Return the wet film in µm that leaves ``dry`` µm: dry film times (100 + thinner) / solids.

    >>> round(wet_um(125, 71)), wet_um(25, 30, 50)
    (176, 125.0)
    """
    return dry * (100 + thinner_percent) / solids_percent


def spreading_rate(dry: float, solids_percent: float) -> float:
    """Return the square metres that a litre covers at ``dry`` µm, nothing being lost.

    >>> round(spreading_rate(125, 71), 2)
    5.68
    """
    return 10 * solids_percent / dry


def wet_um_of_rate(rate_m2_per_l: float) -> float:
    """Return the wet film in µm of a coat that is spread at so many square metres a litre.

    >>> wet_um_of_rate(10)
    100.0
    """
    return UM_OF_LITRE_ON_SQUARE_METRE / rate_m2_per_l


def volume_ml(area_cm2: float, wet: float, lost_share: float) -> float:
    """Return the millilitres that lay ``wet`` µm on an area, where a share of what is sprayed misses it.

    >>> round(volume_ml(100, 50, 0.5), 6)
    1.0
    """
    return area_cm2 * wet * 1e-4 / (1 - lost_share)
