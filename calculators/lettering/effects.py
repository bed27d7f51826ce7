"""Lettering as regions of colours: the letters, outlines round them, and a drop shadow.

Regions do not overlap, and where two touch they share their border: the same pieces, the other way round. Overlap comes
only where a file is written.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calculators.lettering.layout import Lettering
from calculators.shapes.cubics import Piece
from calculators.shapes.offsets import as_pieces, spread
from calculators.shapes.set_operations import cleaned, visible


@dataclass(frozen=True)
class Outline:
    """A line round the letters, ``width`` mm wide on the model, outside what is within it."""

    width: float
    colour: str


@dataclass(frozen=True)
class Shadow:
    """A drop shadow: the letters with their outlines, moved by ``offset`` (mm on the model, x + y j, y down)."""

    offset: complex
    colour: str


@dataclass(frozen=True)
class Region:
    """What is seen of one colour (#rrggbb), in mm on the model."""

    colour: str
    rings: list[list[Piece]]


def regions(
    lettering: Lettering,
    scale: float,
    colour: str,
    outlines: Sequence[Outline] = (),
    shadow: Shadow | None = None,
) -> list[Region]:
    """Return the regions of a text at 1:``scale``, letters first, in the order in which they cover each other.

    The left top corner of the text's boxes is the origin, so outlines begin left of it and above. Raises TooTangled for
    outlines so wide that they meet themselves too often.
    """
    letters = _scaled((ring for rings in lettering.rings() for ring in rings), 1 / scale)
    layers = [letters]
    reach = 0.0
    for each in outlines:
        reach += each.width
        layers.append([as_pieces(ring) for ring in spread(letters, reach).rings])
    if shadow is not None:
        layers.append([[_moved(piece, shadow.offset) for piece in ring] for ring in layers[-1]])
    colours = [colour, *(each.colour for each in outlines), *([shadow.colour] if shadow else [])]
    if len(layers) == 1:
        return [Region(colour, letters)]
    seen = visible([cleaned(each) for each in layers])
    return [Region(each, rings) for each, rings in zip(colours, seen, strict=True) if rings]


def _scaled(rings: Iterable[Sequence[Piece]], factor: float) -> list[list[Piece]]:
    return [[tuple(factor * point for point in piece) for piece in ring] for ring in rings]


def _moved(piece: Piece, by: complex) -> Piece:
    return tuple(point + by for point in piece)
