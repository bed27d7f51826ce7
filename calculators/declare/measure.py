"""Numbers as results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import numbers, units
from calculators.declare import result

__all__ = ["MeasureResult", "PlusMinusResult", "measure", "plus_minus"]

#: Decimals of scale ratios in the trade (1:76.2); a measured ratio is no more accurate.
SCALE_DECIMALS = 2


@dataclass(frozen=True, kw_only=True)
class MeasureResult(result.Result):
    """A finite number in ``unit`` shown with ``decimals`` places, or None: nothing to tell.

    ``uncertainty`` names the result that says how far it may be off; it is then shown no finer than it is known.
    A value that ``is_bound`` is known to two digits: it is rounded up to these, and to ``decimals`` at most.
    """

    unit: str
    decimals: int
    uncertainty: str = ""
    is_bound: bool = False
    kind = "measure"
    section = result.LINES

    def render(self, value: float | None, outputs: Any, display: units.Display) -> dict[str, Any]:
        """Return {"shown", "unit"} of a number; both None where there is none."""
        if value is None:
            return {"kind": self.kind, "shown": None, "unit": None, "plus_minus": ""}
        shown = {"kind": self.kind, "plus_minus": "", **self.parts(value, display)}
        off = getattr(outputs, self.uncertainty) if self.uncertainty else None
        return shown if off is None else {**shown, **self._known(value, off, display)}

    def _known(self, value: float, off: float, display: units.Display) -> dict[str, str]:
        """Return number and uncertainty, to the same places."""
        if self.unit == "mm":
            value, off = (units.in_display(each, display) for each in (value, off))
        more = display.more_decimals if self.unit == "mm" else 0
        shown, plus_minus = numbers.with_uncertainty(value, off, self.decimals + more)
        return {
            "shown": f"1:{shown}" if self.unit == "1:n" else shown,
            "plus_minus": f"± {plus_minus}" if plus_minus else "",
        }

    def parts(self, value: float, display: units.Display) -> dict[str, Any]:
        """Return number and unit, a length in that of ``display``."""
        if self.unit == "mm":
            decimals = self.decimals + display.more_decimals
            return {"shown": self._text(units.in_display(value, display), decimals), "unit": display.unit}
        if self.unit == "1:n":
            return {"shown": f"1:{numbers.at_most(value, max(self.decimals, SCALE_DECIMALS))}", "unit": ""}
        # Counts have no decimals, even with few digits.
        if isinstance(value, int):
            return {"shown": numbers.plain(value), "unit": units.shown_unit(self.unit)}
        value, shown_unit = display.shown(value, self.unit)
        text = self._text(value, self.decimals)
        return {"shown": text, "unit": shown_unit}

    def _text(self, value: float, decimals: int) -> str:
        # A temperature near its zero is not known to more digits than any other.
        if self.unit in ("°C", "K"):
            return numbers.at_most(value, decimals)
        if self.is_bound:
            return numbers.two_digits(value, up=True, most_decimals=decimals)
        return numbers.rounded(value, decimals)

    def details(self) -> dict[str, Any]:
        """Return the unit."""
        return {"unit": units.shown_unit(self.unit)}


@dataclass(frozen=True, kw_only=True)
class PlusMinusResult(result.Result):
    """How far another result, which names this one, may be off either way, in its unit; or None."""

    kind = "plus-minus"
    stands_alone = False


def measure(
    label: str, *, unit: str = "", decimals: int = 1, uncertainty: str = "", is_bound: bool = False, help: str = ""
) -> Any:
    """Declare a number that is answered, the result that is its ``uncertainty``, and whether it is an upper bound."""
    return result.declared(
        MeasureResult(label=label, help=help, unit=unit, decimals=decimals, uncertainty=uncertainty, is_bound=is_bound)
    )


def plus_minus(label: str) -> Any:
    """Declare how far another result may be off either way."""
    return result.declared(PlusMinusResult(label=label))
