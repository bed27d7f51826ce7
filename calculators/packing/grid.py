"""The strip and its boxes in whole numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, NamedTuple, Protocol


class Rectangle(Protocol):
    """What packing needs to know of a box; lengths in mm."""

    @property
    def width(self) -> float: ...

    @property
    def height(self) -> float: ...

    @property
    def turnable(self) -> bool: ...

    @property
    def alike(self) -> str: ...


class Sides(NamedTuple):
    """A box in units, gap included; ``alike`` as a number, -1 for a box that lies as it likes."""

    width: int
    height: int
    turnable: bool
    alike: int


class Spot(NamedTuple):
    """Where the box of that place among the boxes lies, in units; ``right`` and ``bottom`` are its far edges."""

    box: int
    x: int
    y: int
    right: int
    bottom: int
    turned: bool


@dataclass(frozen=True)
class Grid:
    """Boxes and strip in whole units. Each box has the gap at its right and below it, and so has the strip.

    So many boxes as ``first`` says lie side by side at the beginning, unturned, before any other is placed.
    """

    boxes: tuple[Sides, ...]
    width: int
    most: int | None
    first: int = 0

    #: Units in a millimetre.
    UNITS: ClassVar[int] = 1000

    @classmethod
    def of(cls, boxes: Sequence[Rectangle], width: float, gap: float, most: float | None, first: int = 0) -> Grid:
        """Return the grid of boxes in mm: boxes rounded up, the strip down, both to 1 µm."""
        classes: dict[str, int] = {}
        sides = tuple(
            Sides(
                max(1, _up(each.width + gap)),
                max(1, _up(each.height + gap)),
                each.turnable,
                classes.setdefault(each.alike, len(classes)) if each.alike else -1,
            )
            for each in boxes
        )
        return cls(sides, _down(width + gap), None if most is None else _down(most + gap), first)

    def area_of(self, spots: Sequence[Spot]) -> int:
        """Return the area of the placed boxes."""
        return sum(self.boxes[each.box].width * self.boxes[each.box].height for each in spots)


def length_of(spots: Sequence[Spot]) -> int:
    """Return how much of the strip is used."""
    return max((each.bottom for each in spots), default=0)


def _up(mm: float) -> int:
    """Return units, rounded up; what a float is off by does not count."""
    return math.ceil(mm * Grid.UNITS - 1e-6)


def _down(mm: float) -> int:
    return math.floor(mm * Grid.UNITS + 1e-6)
