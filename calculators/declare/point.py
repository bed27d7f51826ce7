"""Points in a picture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import messages, numbers, units
from calculators.declare.field import Field, When, declared

__all__ = ["PointField", "point"]

A_POINT = "a point such as 120, 40"
POINT_BETWEEN = "{Label} takes {low} to {high} px from the left and from the top"


@dataclass(frozen=True, kw_only=True)
class PointField(Field):
    """A point in pixels of the picture in field ``of``: x from its left edge, y from its top edge.

    Points of one ``group`` belong together: the page joins two by a line, more by an outline in order.
    """

    of: str
    group: str
    low: float = 0
    high: float = 100_000
    kind = "point"
    takes = "a point in the picture: pixels from the left, pixels from the top"

    def read(self, text: str, display: units.Display) -> tuple[float, float]:
        """Return x and y. Raises Trouble."""
        try:
            point = units.point(text)
        except units.Unread as unread:
            raise self.takes_only(str(unread), display) from None
        if not all(self.low <= part <= self.high for part in point):
            low, high = numbers.plain(self.low), numbers.plain(self.high)
            raise self.trouble(POINT_BETWEEN, messages.TYPED.format(typed=messages.quoted(text)), low=low, high=high)
        return point

    def accepts(self, display: units.Display) -> str:
        """Return an example."""
        return A_POINT

    def parsed(self, value: tuple[float, float]) -> list[float]:
        """Return [x, y]."""
        return list(value)

    def text_of(self, value: tuple[float, float], display: units.Display) -> str:
        """Return "x, y"."""
        return ", ".join(map(numbers.plain, value))

    def details(self) -> dict[str, Any]:
        """Return the picture and the points that this one goes with."""
        return {
            "unit": "px",
            "of": self.of,
            "group": self.group,
            "low": self.low,
            "high": self.high,
            "inputmode": "text",
        }

    def default_words(self, default: tuple[float, float]) -> str:
        """Return "x, y px"."""
        return f"{self.text_of(default, units.MM)} px"


def point(
    label: str, *, of: str, group: str, default: tuple[float, float], help: str = "", only_when: When = None
) -> Any:
    """Declare a point in the picture of field ``of``, in pixels from its top left corner."""
    return declared(PointField(label=label, help=help, of=of, group=group, only_when=only_when), default)
