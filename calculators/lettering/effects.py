"""Lettering as regions of colours: the letters, outlines round them, and a drop shadow.

Regions do not overlap, and where two touch they share their border: the same pieces, the other way round. Overlap comes
only where a file is written.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Protocol

from calculators.lettering.layout import Placed
from calculators.shapes.areas import backwards
from calculators.shapes.cubics import Piece
from calculators.shapes.offsets import FOLLOWED, as_pieces, choke, spread
from calculators.shapes.set_operations import cleaned, difference, union, visible

#: How closely curves are followed, as a share of the height on the model: 2.5 µm of letters 5 mm high. Outlines are
#: followed within a share of their width too.
CLOSELY, OF_OUTLINES = 5e-4, 0.05
#: Outlines narrower than this, in mm, would be lost in how closely curves are followed.
LEAST_OUTLINE = 0.01


class Letters(Protocol):
    """A text that is laid out, by a rule or in a font; lengths are mm at full size."""

    @property
    def placed(self) -> Sequence[Placed]:
        """Its characters, each with its width."""

    @property
    def length(self) -> float:
        """How long the text is."""

    @property
    def height(self) -> float:
        """How high all lines are together."""

    @property
    def letter_height(self) -> float:
        """How high the letters are."""

    def rings(self) -> Sequence[Sequence[Sequence[Piece]]]:
        """Return the outlines of each character, in its place."""


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
    #: A shadow crosses the borders of what lies above it. Every other layer holds all that lies above it.
    cast: bool = False


def layers(
    lettering: Letters,
    scale: float,
    colour: str,
    outlines: Sequence[Outline] = (),
    shadow: Shadow | None = None,
) -> list[Region]:
    """Return the whole layers of a text at 1:``scale``, letters first: each lies on top of those that follow.

    The left top corner of the text's boxes is the origin, so outlines begin left of it and above. Raises TooTangled for
    outlines so wide that they meet themselves too often.
    """
    letters = [_scaled(rings, 1 / scale) for rings in lettering.rings()]
    closely = min([CLOSELY * lettering.letter_height / scale, *(OF_OUTLINES * each.width for each in outlines)])
    followed = max(FOLLOWED, closely)
    made = [Region(colour, _together(letters, followed), followed)]
    for each in outlines:
        # Two spreads are one by their sum.
        moved = spread(made[-1].rings, each.width, followed=followed, clean=True)
        made.append(Region(each.colour, [as_pieces(ring) for ring in moved.rings], followed))
    if shadow is not None:
        thrown = [[_moved(piece, shadow.offset) for piece in ring] for ring in made[-1].rings]
        made.append(Region(shadow.colour, thrown, followed, cast=True))
    return _merged(made)


def _merged(made: Sequence[Region]) -> list[Region]:
    """Return layers without borders between two of one colour, which would show as a hair."""
    joined = list(made[:1])
    for layer in made[1:]:
        above = joined[-1]
        if layer.colour != above.colour:
            joined.append(layer)
        elif layer.cast:
            joined[-1] = replace(above, rings=union(above.rings, layer.rings, followed=layer.followed))
        else:
            joined[-1] = layer
    return joined


def regions(made: Sequence[Region]) -> list[Region]:
    """Return what is seen of each of ``layers``; a colour of which nothing is seen is left out."""
    whole = [each.rings for each in made]
    if made[-1].cast:
        # Where the two borders cross, both are parted.
        whole[-2:] = visible(whole[-2:], followed=made[0].followed)
    seen = list(whole[:1])
    for above, layer, rings in zip(whole, made[1:], whole[1:], strict=False):
        seen.append(rings if layer.cast else _between(above, rings))
    return [replace(layer, rings=rings) for layer, rings in zip(made, seen, strict=True) if rings]


def trapped(made: Sequence[Region], overlap: float) -> list[Region]:
    """Return ``layers`` for print: what is seen of each, and ``overlap`` mm more beneath the layers above it.

    Paint the last one first.
    """
    found = list(made[:1])
    for above, layer in pairwise(made):
        left = choke(above.rings, overlap, followed=layer.followed, clean=True).rings
        hidden = [as_pieces(ring) for ring in left]
        if layer.cast:
            rings = difference(layer.rings, hidden, followed=layer.followed)
        else:
            rings = _between(hidden, layer.rings)
        if rings:
            found.append(replace(layer, rings=rings))
    return found


def _between(inner: Sequence[list[Piece]], outer: Sequence[list[Piece]]) -> list[list[Piece]]:
    """Return the rings round what lies within ``outer`` and not within ``inner``, all of which it holds."""
    return [*outer, *map(backwards, inner)]


def _together(letters: Sequence[list[list[Piece]]], followed: float) -> list[list[Piece]]:
    """Return the rings of all letters, joined where two of them touch."""
    rings = [ring for each in letters for ring in each]
    boxes = [_box(each) for each in letters if each]
    near = 2 * followed
    for number, (left, top, right, foot) in enumerate(boxes):
        for other in boxes[:number]:
            if left - other[2] < near and other[0] - right < near and top - other[3] < near and other[1] - foot < near:
                return cleaned(rings, followed=followed)
    return rings


def _box(rings: Iterable[Sequence[Piece]]) -> tuple[float, float, float, float]:
    points = [point for ring in rings for piece in ring for point in piece]
    across, down = [point.real for point in points], [point.imag for point in points]
    return min(across), min(down), max(across), max(down)


def _scaled(rings: Iterable[Sequence[Piece]], factor: float) -> list[list[Piece]]:
    return [[tuple(factor * point for point in piece) for piece in ring] for ring in rings]


def _moved(piece: Piece, by: complex) -> Piece:
    return tuple(point + by for point in piece)
