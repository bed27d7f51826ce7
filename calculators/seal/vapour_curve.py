"""Vapour in a room of well-mixed air: a constant release for some time, carried off by fresh air."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, expm1, inf, log

#: The litres that a mole of gas fills at 25 °C and 1 atmosphere, by which NIOSH and OSHA convert.
LITRES_PER_MOLE = 24.45
#: Below this the closed forms lose digits, and their series is exact to the last one.
_SMALL = 1e-3


def ppm_of_mass(mass_g: float, molar_mass: float, room_m3: float) -> float:
    """Return the parts per million of a mass that has evaporated into a closed room at 25 °C.

    >>> round(ppm_of_mass(7.9, 58.08, 30), 1)
    110.9
    """
    return mass_g / molar_mass * LITRES_PER_MOLE * 1000 / room_m3


def mass_of_ppm(ppm: float, molar_mass: float) -> float:
    """Return the mg/m³ of a vapour at 25 °C: ppm times molar mass / 24.45.

    >>> round(mass_of_ppm(100, 92.14), 2)
    376.85
    """
    return ppm * molar_mass / LITRES_PER_MOLE


@dataclass(frozen=True)
class Curve:
    """How much of what evaporates is in the air, as a share of all of it in the closed room.

    It is released evenly over ``release_h`` hours, and the air of the room is changed ``changes`` times an hour:
    dC/dt = release - changes C, from clean air.
    """

    release_h: float
    changes: float

    def at(self, hours: float) -> float:
        """Return the share in the air after ``hours``."""
        if hours <= self.release_h:
            return hours / self.release_h * _mean_left(self.changes * hours)
        return self.at(self.release_h) * exp(-self.changes * (hours - self.release_h))

    @property
    def peak(self) -> float:
        """The highest moment: the end of the release."""
        return self.at(self.release_h)

    def total(self, hours: float) -> float:
        """Return the integral of the share up to ``hours``."""
        if hours <= self.release_h:
            return hours * hours / self.release_h * _mean_risen(self.changes * hours)
        after = hours - self.release_h
        return self.total(self.release_h) + self.peak * after * _mean_left(self.changes * after)

    def worst_mean(self, window_h: float) -> float:
        """Return the highest mean over any ``window_h`` hours: over the window whose ends are alike.

        The curve rises to its peak and falls from there, so no other window holds more.
        """
        low, high = max(0.0, self.release_h - window_h), self.release_h
        for _ in range(100):
            middle = (low + high) / 2
            if self.at(middle) < self.at(middle + window_h):
                low = middle
            else:
                high = middle
        return (self.total(high + window_h) - self.total(high)) / window_h

    def hours_until(self, share: float) -> float:
        """Return the hours from the beginning until it has fallen to ``share`` for good; infinite if it never does."""
        if self.peak <= share:
            return 0.0
        if not self.changes or share <= 0:
            return inf
        return self.release_h + log(self.peak / share) / self.changes


def _mean_left(x: float) -> float:
    """Return (1 - exp(-x)) / x: the mean of what a decay leaves."""
    return -expm1(-x) / x if x > _SMALL else 1 - x / 2 + x * x / 6 - x**3 / 24


def _mean_risen(x: float) -> float:
    """Return (x - 1 + exp(-x)) / x²: half, where nothing is carried off."""
    return (x + expm1(-x)) / (x * x) if x > _SMALL else 0.5 - x / 6 + x * x / 24 - x**3 / 120
