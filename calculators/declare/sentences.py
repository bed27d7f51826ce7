"""Formats sentences with their values in the reader's unit."""

from __future__ import annotations

from typing import Any

from calculators import numbers, units
from calculators.values import Message

__all__ = ["sentence"]

#: Decimals of a value inside a sentence, by the unit that its name ends in; None: three digits.
_DECIMALS = {
    "mm": None,
    "ppi": 0,
    "px": 0,
    "arcmin": None,
    "percent": 0,
    "celsius": 1,
    "kelvin": 1,
    "ml": None,
    "m3": None,
    "m3h": None,
    "um": None,
}

#: What the field's unit is called where the name of a value cannot have its signs.
_AS_DECLARED = {"celsius": "°C", "kelvin": "K", "ml": "mL", "m3": "m³", "m3h": "m³/h", "um": "µm"}

#: A value with one of these words before its name has two digits: the nearest, or rounded up.
_ABOUT, _UP_TO = "about_", "up_to_"
#: A length that is rounded up is stated no finer than a micrometre.
UP_TO_DECIMALS = 3

#: An uncertain length is told no finer than with so many decimals of a millimetre.
LENGTH_DECIMALS = 2


def sentence(message: Message | str, display: units.Display) -> str:
    """Return a sentence with its values written in the reader's unit.

    >>> from calculators.values import message
    >>> sentence(message("One pixel is {pixel_mm} wide.", pixel_mm=0.127), units.MM)
    'One pixel is 0.127 mm wide.'
    >>> sentence(message("A line of about {about_mm}, {up_to_mm} at most.", about_mm=0.111, up_to_mm=0.111), units.MM)
    'A line of about 0.11 mm, 0.12 mm at most.'
    """
    if isinstance(message, str):
        return message
    return message.sentence.format(**{name: _value(name, value, display) for name, value in message.values.items()})


def _value(name: str, value: Any, display: units.Display) -> str:
    unit = name.rpartition("_")[2]
    if isinstance(value, Message):
        return sentence(value, display)
    if isinstance(value, str) or unit not in _DECIMALS:
        return str(value)
    if unit == "mm":
        value, unit = units.in_display(value, display), display.unit
    decimals = _DECIMALS.get(unit)
    if declared := _AS_DECLARED.get(unit):
        value, shown = display.shown(value, declared)
        text = numbers.significant(value) if decimals is None else numbers.at_most(value, decimals)
        return f"{text} {shown}"
    if name.startswith("plus_minus") and display.unit == unit:
        return f"{numbers.with_uncertainty(0.0, value, LENGTH_DECIMALS + display.more_decimals)[1]} {unit}"
    if name.startswith((_ABOUT, _UP_TO)):
        is_up = name.startswith(_UP_TO)
        most = {"most_decimals": UP_TO_DECIMALS + display.more_decimals} if is_up else {}
        return f"{numbers.two_digits(value, up=is_up, **most)} {units.shown_unit(unit)}"
    text = numbers.significant(value) if decimals is None else f"{value:.{decimals}f}"
    singular = unit == "arcmin" and text == "1"
    return f"{text} {'arcminute' if singular else units.shown_unit(unit)}"
