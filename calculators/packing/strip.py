"""Boxes on a strip of fixed width and open length, by the better of two ways."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.packing import best_fit, max_rects
from calculators.packing.grid import Grid, Spot, length_of

#: The library compares every free rectangle with every other, so its time grows with the cube of their number.
MOST_FOR_LIBRARY = 250


@dataclass(frozen=True)
class Box:
    """A rectangle of ``width`` and ``height`` in mm. ``alike``: boxes with the same text lie in the same turn."""

    id: str
    width: float
    height: float
    turnable: bool = True
    alike: str = ""


@dataclass(frozen=True)
class Placed:
    """A box with its top left corner at ``x`` and ``y`` in mm, ``turned`` by a quarter."""

    box: Box
    x: float
    y: float
    turned: bool

    @property
    def width(self) -> float:
        """Return its width as it lies."""
        return self.box.height if self.turned else self.box.width

    @property
    def height(self) -> float:
        """Return its height as it lies."""
        return self.box.width if self.turned else self.box.height


def pack(
    boxes: Sequence[Box], width: float, *, gap: float = 0.0, most: float | None = None, first: int = 0
) -> list[Placed]:
    """Return the boxes that find room on a strip of ``width``, ``gap`` apart, so that little of its length is used.

    The strip begins at y = 0, and ends at ``most`` if that is stated; boxes that find no room are then left out.
    Without it only boxes that are too wide are. All are placed on a grid of 1 µm, so that nothing overlaps by a
    rounding error.
    So many boxes as ``first`` says lie side by side at the beginning of the strip, unturned, as long as there is width.
    The same boxes give the same places every time.

    >>> [(each.x, each.y, each.turned) for each in pack([Box("a", 30, 10), Box("b", 10, 20)], 40)]
    [(0.0, 0.0, False), (30.0, 0.0, False)]
    """
    grid = Grid.of(boxes, width, gap, most, first)
    found = best_fit.search(grid)
    if len(grid.boxes) <= MOST_FOR_LIBRARY:
        found = better(grid, found, max_rects.one_pass(grid))
    return [Placed(boxes[each.box], each.x / Grid.UNITS, each.y / Grid.UNITS, each.turned) for each in found]


def better(grid: Grid, one: list[Spot], other: list[Spot]) -> list[Spot]:
    """Return the packing that leaves out less area, or else uses less of the strip; ``one`` where they are equal."""
    return min((one, other), key=lambda spots: (-grid.area_of(spots), length_of(spots)))
