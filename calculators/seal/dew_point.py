"""Dew point and humidity of air by the Magnus formula, and what errors of the instruments make of them."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log

#: WMO-No. 8, annex 4.B: saturation over water, for -45 to 60 °C. The factor 6.112 hPa cancels out here.
SLOPE, ZERO_CELSIUS = 17.62, 243.12
#: The range of the formula, in °C.
COLDEST, WARMEST = -45.0, 60.0


def dew_point_celsius(air_celsius: float, humidity_percent: float) -> float:
    """Return the temperature at which water settles from air, in °C.

    Magnus over water with the constants of WMO-No. 8, annex 4.B, for air from -45 to 60 °C and humidity up to 100 %.
    Raises ValueError outside that range.

    >>> round(dew_point_celsius(20, 50), 2), round(dew_point_celsius(20, 85), 2)
    (9.26, 17.4)
    """
    if not (COLDEST <= air_celsius <= WARMEST and 0 < humidity_percent <= 100):
        raise ValueError(f"no dew point of air at {air_celsius} °C and {humidity_percent} %")
    share = log(humidity_percent / 100) + SLOPE * air_celsius / (ZERO_CELSIUS + air_celsius)
    return ZERO_CELSIUS * share / (SLOPE - share)


def humidity_percent(air_celsius: float, dew_celsius: float) -> float:
    """Return the relative humidity of air with that dew point: the same formula the other way.

    >>> round(humidity_percent(20, 9.26), 1)
    50.0
    """
    return 100 * exp(
        SLOPE * dew_celsius / (ZERO_CELSIUS + dew_celsius) - SLOPE * air_celsius / (ZERO_CELSIUS + air_celsius)
    )


@dataclass(frozen=True)
class Air:
    """What the instruments read, and how far each may be off either way."""

    air_celsius: float
    humidity_percent: float
    surface_celsius: float
    air_error: float = 0.0
    humidity_error: float = 0.0
    surface_error: float = 0.0

    @property
    def dew_celsius(self) -> float:
        """The dew point as read."""
        return dew_point_celsius(self.air_celsius, self.humidity_percent)

    @property
    def worst_humidity(self) -> float:
        """The most humid that the air may be; no air holds more than 100 %."""
        return min(100.0, self.humidity_percent + self.humidity_error)

    @property
    def worst_dew_celsius(self) -> float:
        """The highest that the dew point may be: it rises with temperature and with humidity."""
        return dew_point_celsius(self.air_celsius + self.air_error, self.worst_humidity)

    @property
    def margin(self) -> float:
        """How far the surface is above the dew point, as read."""
        return self.surface_celsius - self.dew_celsius

    @property
    def worst_margin(self) -> float:
        """The same at the bad end of all errors."""
        return self.surface_celsius - self.surface_error - self.worst_dew_celsius

    @property
    def coldest_celsius(self) -> float:
        """The colder of air and surface, at the bad end."""
        return min(self.air_celsius - self.air_error, self.surface_celsius - self.surface_error)

    def highest_humidity(self, needed_margin: float) -> float | None:
        """Return the highest reading that leaves ``needed_margin`` at the bad end, in %; None if none does."""
        dew_celsius = self.surface_celsius - self.surface_error - needed_margin
        if dew_celsius <= COLDEST:
            return None
        most = humidity_percent(self.air_celsius + self.air_error, dew_celsius)
        if most >= 100:
            return 100.0
        return most - self.humidity_error if most > self.humidity_error else None
