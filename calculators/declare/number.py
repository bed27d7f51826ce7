"""Numbers: lengths, scales, counts and other measures."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from math import isfinite
from typing import Any

from calculators import messages, numbers, tables, units
from calculators.declare.field import Field, Trouble, When, declared, folded
from calculators.other_units import Other

__all__ = ["NumberField", "number", "whole_number"]

A_NUMBER, A_WHOLE_NUMBER = "a number from {low} to {high}{unit}", "a whole number from {low} to {high}{unit}"
A_LENGTH, A_RATIO = "a length from {low} to {high}{unit}", "a ratio from {low} to {high}{unit}"
RATIO, RATIO_OR_NAME = "a ratio such as 1:72", "a ratio such as 1:72, or a name such as OO"
MUST_BE_WHOLE = "You typed {typed}. Leave out the decimals."
SEVERAL_SCALES = "{typed} may be {names}. Type the ratio."

#: Words that make a text a name instead of a ratio.
_SAYS_NAME = re.compile("scale|gauge|foot", re.IGNORECASE)
_SCALE_OR_GAUGE = re.compile("^(?:scale|gauge) | (?:scale|gauge)$")


def _as_named(text: str) -> str:
    """Return ``text`` as names of scales are compared: "4mm scale" is "4 mm scale"."""
    return re.sub("(?<=[0-9])mm", " mm", folded(text))


@dataclass(frozen=True, kw_only=True)
class NumberField(Field):
    """A number between ``low`` and ``high`` inclusive, in ``unit``.

    A field in mm is a length and takes any unit of length. A field in "1:n" is a scale and may be
    named from the table ``names``.
    """

    unit: str
    low: float
    high: float
    whole: bool = False
    names: str = ""

    @property
    def kind(self) -> str:  # type: ignore[override]  # each number says whether it is whole
        return "whole" if self.whole else "number"

    @property
    def is_length(self) -> bool:
        return self.unit == "mm"

    @property
    def is_scale(self) -> bool:
        return self.unit == "1:n"

    def read(self, text: str, display: units.Display) -> float:
        """Return the number typed in digits or by name. Raises Trouble."""
        # "1 scale" is the name of a gauge, though "1" is a ratio.
        if self.names and _SAYS_NAME.search(text) and (named := self._named(text)) is not None:
            return named
        try:
            value = self._measured(text)
            trouble = None if self.low <= value <= self.high else self._out_of_range(text, display)
        except units.NotANumber as unread:
            hint = messages.NOT_READ_AS_WHOLE.format(typed=messages.quoted(text)) if self.whole else str(unread)
            trouble = self.takes_only(hint, display)
        except units.Unread as unread:
            trouble = self.takes_only(str(unread), display)
        if trouble and self.names and (named := self._named(text)) is not None:
            value, trouble = named, None
        if trouble:
            raise trouble
        if not self.whole:
            return value
        if value != int(value):
            raise self.takes_only(MUST_BE_WHOLE.format(typed=messages.quoted(text)), display)
        return int(value)

    def _measured(self, text: str) -> float:
        """Return the number typed for a length, a scale or anything else. Raises units.Unread."""
        if self.is_length:
            return units.length_mm(text)
        return units.ratio(text) if self.is_scale else units.number(text, self.unit)

    def _out_of_range(self, text: str, display: units.Display) -> Trouble:
        return self.trouble(
            messages.TAKES, messages.TYPED.format(typed=messages.quoted(text)), takes=self._in_range(display)
        )

    def accepts(self, display: units.Display) -> str:
        """Return what may be typed: an example of a scale, the range of any other number."""
        if self.is_scale:
            return RATIO_OR_NAME if self.names else RATIO
        return self._in_range(display)

    def _in_range(self, display: units.Display) -> str:
        low, high, unit = self.printed_range(display)
        what = A_LENGTH if self.is_length else A_RATIO if self.is_scale else A_WHOLE_NUMBER if self.whole else A_NUMBER
        return what.format(low=low, high=high, unit=unit)

    def _named(self, text: str) -> float | None:
        """Return the number that ``text`` names in the table of the field, or None if it names none.

        A name that stands for several numbers is a problem that lists them.
        """
        wanted = _as_named(text)
        short = _SCALE_OR_GAUGE.sub("", wanted)
        found: dict[float, str] = {}
        for row in tables.load(self.names):
            if wanted in (_as_named(row.id), _as_named(row.label)):
                ratio: float = row.ratio.value
                return ratio
            if {wanted, short} & {*map(_as_named, row.aliases)}:
                found.setdefault(row.ratio.value, row.label)
        if len(found) > 1:
            names = (label if ":" in label else f"{label} (1:{numbers.plain(value)})" for value, label in found.items())
            raise self.takes_only(SEVERAL_SCALES.format(typed=messages.quoted(text), names=", ".join(names)), units.MM)
        return next(iter(found), None)

    def restated(self, typed: Any, display: units.Display) -> str | None:
        """Return a typed length in the unit of ``display``; None where it would be longer than what can be typed."""
        if not self.is_length or not isinstance(typed, str):
            return None
        try:
            length_mm = units.length_mm(typed)
        except units.Unread:
            return None
        text = units.restated(length_mm, display) if isfinite(length_mm) else ""
        return text if 0 < len(text) <= units.MOST_CHARACTERS else None

    def others_typed(self, typed: Any) -> dict[str, Other]:
        """Return the other unit that was typed, by each that it may stand for: °F also for differences."""
        other = units.typed_unit(typed, self.unit) if isinstance(typed, str) else None
        return dict.fromkeys(other.sizes, other) if other else {}

    def text_of(self, value: float, display: units.Display) -> str:
        """Return the number as typed, a length in the unit of ``display``."""
        if self.is_scale:
            return f"1:{numbers.plain(value)}"
        return units.restated(value, display) if self.is_length else numbers.plain(value)

    def typed(self, value: float) -> str:
        """Return the number as it is typed, a length in mm with its unit."""
        return f"{self.text_of(value, units.MM)}{' mm' if self.is_length else ''}"

    def printed_range(self, display: units.Display) -> tuple[str, str, str]:
        """Return low, high and " unit" as printed; the printed limits are accepted."""
        if self.is_scale:
            return f"1:{numbers.plain(self.low)}", f"1:{numbers.plain(self.high)}", ""
        if self.is_length and display is not units.MM:
            return (
                numbers.inward(units.in_display(self.low, display), 4, up=True),
                numbers.inward(units.in_display(self.high, display), 4, up=False),
                f" {display.unit}",
            )
        unit = units.shown_unit(self.unit)
        return numbers.plain(self.low), numbers.plain(self.high), f" {unit}" if unit else ""

    def details(self) -> dict[str, Any]:
        """Return unit, limits and names."""
        by_unit = {unit: self.printed_range(display) for unit, display in units.DISPLAYS.items()}
        takes_units = self.is_length or units.takes_others(self.unit)
        ranges = {unit: f"{low} to {high}{suffix}" for unit, (low, high, suffix) in by_unit.items()}
        return {
            "unit": units.shown_unit(self.unit),
            "quantity": "length" if self.is_length else None,
            "low": self.low,
            "high": self.high,
            "range": ranges,
            "takes": ranges["mm"],
            "inputmode": "text" if self.names or takes_units else "numeric" if self.whole else "decimal",
            "suggestions": self._suggestions(),
        }

    def _suggestions(self) -> list[dict[str, str]]:
        """Return the names that the table offers, as text to type and label to read."""
        offered = [
            (f"1:{numbers.plain(row.ratio.value)}", row.label)
            for row in (tables.load(self.names) if self.names else ())
        ]
        return [{"value": ratio, "label": label if ":" in label else f"{label}, {ratio}"} for ratio, label in offered]

    def default_words(self, default: float) -> str:
        """Return the default with its unit."""
        unit = units.shown_unit(self.unit)
        return f"{self.text_of(default, units.MM)}{f' {unit}' if unit and not self.is_scale else ''}"


def number(
    label: str,
    *,
    unit: str,
    low: float,
    high: float,
    default: float | None = None,
    names: str = "",
    help: str = "",
    without: str = "",
    only_when: When = None,
) -> Any:
    """Declare a number; without ``default`` it may be left out and is then None."""
    return declared(
        NumberField(
            label=label,
            help=help,
            unit=unit,
            low=low,
            high=high,
            names=names,
            optional=default is None,
            without=without,
            only_when=only_when,
        ),
        default,
    )


def whole_number(label: str, *, low: int, high: int, default: int | None = None, **more: Any) -> Any:
    """Declare a whole number, otherwise as ``number``; without ``default`` it may be left out and is then None."""
    made = number(label, low=low, high=high, default=default, **more)
    return declared(replace(made.metadata["field"], whole=True), default)
