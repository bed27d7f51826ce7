"""Drawings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.values import Figure

__all__ = ["FigureResult", "figure"]


@dataclass(frozen=True, kw_only=True)
class FigureResult(result.Result):
    """A ``Figure`` or None."""

    kind = "figure"
    section = result.FIGURES

    def parts(self, value: Figure, display: units.Display) -> dict[str, Any]:
        """Return the drawing and its text alternative."""
        return {"svg": value.svg, "alt": value.alt}

    def plain(self, value: Figure | None) -> dict[str, Any] | None:
        """Return the text alternative."""
        return None if value is None else {"alt": value.alt}


def figure(label: str) -> Any:
    """Declare a drawing."""
    return result.declared(FigureResult(label=label))
