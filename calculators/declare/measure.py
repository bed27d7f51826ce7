"""Numbers as results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import numbers, units
from calculators.declare import result

__all__ = ["MeasureResult", "measure"]

#: Decimals of scale ratios in the trade (1:76.2); a measured ratio is no more accurate.
SCALE_DECIMALS = 2


@dataclass(frozen=True, kw_only=True)
class MeasureResult(result.Result):
    """A finite number in ``unit`` shown with ``decimals`` places, or None: nothing to tell."""

    unit: str
    decimals: int
    kind = "measure"
    section = result.LINES

    def render(self, value: float | None, outputs: Any, display: units.Display) -> dict[str, Any]:
        """Return {"shown", "unit"} of a number; both None where there is none."""
        return {"kind": self.kind, **({"shown": None, "unit": None} if value is None else self.parts(value, display))}

    def parts(self, value: float, display: units.Display) -> dict[str, Any]:
        """Return number and unit, a length in that of ``display``."""
        if self.unit == "mm":
            decimals = self.decimals + display.more_decimals
            return {"shown": numbers.rounded(units.in_display(value, display), decimals), "unit": display.unit}
        if self.unit == "1:n":
            return {"shown": f"1:{numbers.at_most(value, max(self.decimals, SCALE_DECIMALS))}", "unit": ""}
        # Counts have no decimals, even with few digits.
        text = numbers.plain(value) if isinstance(value, int) else numbers.rounded(value, self.decimals)
        return {"shown": text, "unit": units.shown_unit(self.unit)}

    def details(self) -> dict[str, Any]:
        """Return the unit."""
        return {"unit": units.shown_unit(self.unit)}


def measure(label: str, *, unit: str = "", decimals: int = 1, help: str = "") -> Any:
    """Declare a number as a result."""
    return result.declared(MeasureResult(label=label, help=help, unit=unit, decimals=decimals))
