"""Units beyond a field's own: Fahrenheit, fluid ounces, cubic feet, and metric ones of another size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Other:
    """A unit that may be typed for another: ``sizes`` has what one of it is, and its zero, in the unit of a field.

    With ``shown`` answers are in that unit as well.
    """

    names: tuple[str, ...]
    sizes: Mapping[str, tuple[Fraction, Fraction]]
    shown: str = ""

    def of(self, value: float, unit: str) -> float:
        """Return ``value``, which is in ``unit``, in this unit."""
        size, zero = self.sizes[unit]
        return (value - float(zero)) / float(size)


def _of(unit: str, size: Fraction | str | int) -> dict[str, tuple[Fraction, Fraction]]:
    return {unit: (Fraction(size), Fraction())}


_FOOT_M = Fraction("0.3048")
#: A gallon of the United States is 231 cubic inches, 128 fluid ounces; an imperial one is 4.54609 L, 160 of them.
_US_OUNCE_ML, _UK_OUNCE_ML = 231 * Fraction("2.54") ** 3 / 128, Fraction("4546.09") / 160

#: Units beyond a field's own. 32 °F is 0 °C, and 9 °F are 5 °C.
OTHERS = (
    Other(
        ("°f", "f", "deg f", "degrees f", "fahrenheit"),
        {"°C": (Fraction(5, 9), Fraction(-160, 9)), "K": (Fraction(5, 9), Fraction())},
        "°F",
    ),
    Other(("fl oz", "fl. oz", "floz", "fluid ounce", "fluid ounces"), _of("mL", _US_OUNCE_ML), "fl oz"),
    Other(("gal", "gallon", "gallons"), _of("L", 128 * _US_OUNCE_ML / 1000)),
    Other(("imp fl oz", "uk fl oz"), _of("mL", _UK_OUNCE_ML)),
    Other(("l", "litre", "litres", "liter", "liters"), {**_of("mL", 1000), **_of("m³", Fraction(1, 1000))}),
    Other(("ft3", "cu ft", "cu. ft", "cubic feet", "cubic foot"), _of("m³", _FOOT_M**3), "ft³"),
    Other(("ml",), _of("L", Fraction(1, 1000))),
    Other(("cfm", "ft3/min", "cu ft/min", "cubic feet per minute"), _of("m³/h", 60 * _FOOT_M**3), "cfm"),
    Other(("g/ml",), _of("g/mL", 1)),
    Other(("l/s",), _of("m³/h", Fraction("3.6"))),
    Other(("l/min",), _of("m³/h", Fraction("0.06"))),
    Other(("in2", "sq in", "square inches"), _of("cm²", Fraction("6.4516")), "in²"),
    Other(("m2", "sq m"), {**_of("cm²", 10_000)}),
    Other(("mm",), _of("µm", 1000)),
    Other(("thou", "mil", "mils"), _of("µm", Fraction("25.4"))),
    Other(("s", "sec", "seconds"), _of("min", Fraction(1, 60))),
    Other(("h", "hr", "hrs", "hour", "hours"), _of("min", 60)),
    Other(("min", "mins", "minute", "minutes"), {**_of("s", 60), **_of("h", Fraction(1, 60))}),
)
