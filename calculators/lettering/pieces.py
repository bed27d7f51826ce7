"""Pieces of lettering laid on one sheet: the rows of a series one under the other, the copies of each side by side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calculators.lettering.effects import Letters, Region
from calculators.shapes.cubics import Piece

#: The room round each piece, which a knife needs, and how wide a sheet is before a row is continued below, in mm
#: (estimates; ISO A4 is 210 mm wide).
ROOM_MM, ACROSS_MM = 2.0, 190.0


@dataclass(frozen=True)
class Drawn:
    """A text that was drawn: its regions as they are seen and for print, and the corners of the box round them, in
    mm on the model; ``copies`` is how often it is laid.
    """

    text: str
    copies: int
    lettering: Letters
    seen: list[Region]
    printed: list[Region]
    first: complex
    last: complex

    @property
    def size(self) -> complex:
        """How large one copy is: across + down j."""
        return self.last - self.first


@dataclass(frozen=True)
class Sheet:
    """Where each copy of each text lies: the offsets of its regions in mm; ``size`` is that of all."""

    places: list[tuple[Drawn, list[complex]]]
    size: complex


def laid(texts: Sequence[Drawn]) -> Sheet:
    """Return the texts laid one under the other from the left top corner; a single piece fills its sheet."""
    across = max(ACROSS_MM, *(each.size.real for each in texts))
    places: list[tuple[Drawn, list[complex]]] = []
    width, top = 0.0, 0.0
    for each in texts:
        left, at = 0.0, []
        for number in range(each.copies):
            if number and left + each.size.real > across:
                left, top = 0.0, top + each.size.imag + ROOM_MM
            at.append(complex(left, top) - each.first)
            width = max(width, left + each.size.real)
            left += each.size.real + ROOM_MM
        places.append((each, at))
        top += each.size.imag + ROOM_MM
    return Sheet(places, complex(width, top - ROOM_MM))


def coloured(sheet: Sheet, *, printed: bool) -> list[tuple[str, list[list[Piece]]]]:
    """Return what lies on a sheet, a colour of a text after the other, the first painted first.

    ``printed`` is for print, where lower colours extend beneath the upper ones.
    """
    return [
        (region.colour, [ring for place in at for ring in _moved(region.rings, place)])
        for drawn, at in sheet.places
        for region in (drawn.printed[::-1] if printed else drawn.seen)
    ]


def _moved(rings: Iterable[Sequence[Piece]], by: complex) -> list[list[Piece]]:
    return [[tuple(point + by for point in piece) for piece in ring] for ring in rings]
