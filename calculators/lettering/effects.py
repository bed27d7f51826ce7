"""Lettering as regions of colours: the letters, outlines round them, and a drop shadow.

Regions do not overlap, and where two touch they share their border: the same pieces, the other way round. Overlap comes
only where a file is written.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calculators.lettering.layout import Lettering
from calculators.shapes.cubics import Piece
from calculators.shapes.offsets import FOLLOWED, as_pieces, choke, spread
from calculators.shapes.set_operations import cleaned, difference, visible

#: How closely curves are followed, as a share of the height on the model: 2.5 µm of letters 5 mm high.
CLOSELY = 5e-4


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
    """An area of one colour (#rrggbb), in mm on the model."""

    colour: str
    rings: list[list[Piece]]
    #: How closely curves are followed where it is decided what lies where, in mm.
    followed: float = FOLLOWED


def layers(
    lettering: Lettering,
    scale: float,
    colour: str,
    outlines: Sequence[Outline] = (),
    shadow: Shadow | None = None,
) -> list[Region]:
    """Return the whole layers of a text at 1:``scale``, letters first: each lies on top of those that follow.

    The left top corner of the text's boxes is the origin, so outlines begin left of it and above. Raises TooTangled for
    outlines so wide that they meet themselves too often.
    """
    letters = _scaled((ring for rings in lettering.rings() for ring in rings), 1 / scale)
    followed = max(FOLLOWED, CLOSELY * lettering.sizes.height / scale)
    made = [Region(colour, letters, followed)]
    reach = 0.0
    for each in outlines:
        reach += each.width
        moved = spread(letters, reach, followed=followed)
        made.append(Region(each.colour, [as_pieces(ring) for ring in moved.rings], followed))
    if shadow is not None:
        cast = [[_moved(piece, shadow.offset) for piece in ring] for ring in made[-1].rings]
        made.append(Region(shadow.colour, cast, followed))
    return made


def regions(made: Sequence[Region]) -> list[Region]:
    """Return what is seen of each of ``layers``; a colour of which nothing is seen is left out."""
    if len(made) == 1:
        return list(made)
    followed = made[0].followed
    seen = visible([cleaned(each.rings, followed=followed) for each in made], followed=followed)
    return [Region(layer.colour, rings, followed) for layer, rings in zip(made, seen, strict=True) if rings]


def trapped(made: Sequence[Region], overlap: float) -> list[Region]:
    """Return ``layers`` for print: what is seen of each, and ``overlap`` mm more beneath the layers above it.

    Paint the last one first.
    """
    found = list(made[:1])
    for above, layer in pairwise(made):
        hidden = [as_pieces(ring) for ring in choke(above.rings, overlap, followed=layer.followed).rings]
        if rings := difference(layer.rings, hidden, followed=layer.followed):
            found.append(Region(layer.colour, rings, layer.followed))
    return found


def _scaled(rings: Iterable[Sequence[Piece]], factor: float) -> list[list[Piece]]:
    return [[tuple(factor * point for point in piece) for piece in ring] for ring in rings]


def _moved(piece: Piece, by: complex) -> Piece:
    return tuple(point + by for point in piece)
