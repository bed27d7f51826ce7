"""What an eye resolves: one arcminute, the limit for hard steps (ISO 8596, from memory: acuity 1.0)."""

from math import atan, degrees, radians, tan

from calculators.units import MM_PER_INCH

#: The angle under which full acuity tells two lines apart, in arcminutes (ISO 8596, from memory).
EYE_ARCMIN = 1.0
#: Soft, anti-aliased edges pass up to about this angle (common practice, an estimate).
SOFT_ARCMIN = 2.0

#: Viewing distances of models, in mm (common practice).
IN_THE_HAND_MM = 300.0
MAGNIFIER_MM = 100.0
SHELF_MM = 800.0


def resolved_mm(distance_mm: float, angle_arcmin: float = EYE_ARCMIN) -> float:
    """Return the size in mm that fills ``angle_arcmin`` at ``distance_mm``: 2 d tan(angle / 2).

    >>> round(resolved_mm(300), 5)
    0.08727
    """
    return 2 * distance_mm * tan(radians(angle_arcmin / 120))


def resolved_ppi(distance_mm: float, angle_arcmin: float = EYE_ARCMIN) -> float:
    """Return the pixels per inch whose pixel fills ``angle_arcmin`` at ``distance_mm``.

    >>> round(resolved_ppi(300), 2)
    291.06
    """
    return MM_PER_INCH / resolved_mm(distance_mm, angle_arcmin)


def angle_arcmin(size_mm: float, distance_mm: float) -> float:
    """Return the angle in arcminutes that ``size_mm`` fills at ``distance_mm``.

    >>> round(angle_arcmin(0.127, 300), 4)
    1.4553
    """
    return 120 * degrees(atan(size_mm / (2 * distance_mm)))
