"""The characters of the alphabet as outlines: solid, or stencilled with breaks that open each counter."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from calculators.lettering.box import Box
from calculators.lettering.figures_and_signs import SKELETONS
from calculators.shapes.cubics import Piece
from calculators.shapes.set_operations import cleaned, difference

Ring = tuple[Piece, ...]

#: All characters that are drawn. A blank is a gap and no outline.
CHARACTERS = "".join(SKELETONS)
#: The outer radius of a round corner as a share of the height, and of the width at most.
ROUND, ROUND_ACROSS = 0.28, 0.5
#: Curves are followed within this share of the height while it is decided what lies where. They stay curves.
_FOLLOWED = 5e-5


@dataclass(frozen=True)
class Style:
    """How characters look: ``rounded`` or square corners; ``stencil`` is how wide the breaks are, in the unit of the
    sizes, 0 for solid characters.
    """

    rounded: bool = True
    stencil: float = 0.0


SOLID = Style()


@lru_cache(maxsize=512)
def outline(character: str, width: float, height: float, stroke: float, style: Style = SOLID) -> tuple[Ring, ...]:
    """Return the rings of a character on the box of ``width`` and ``height``, all sizes in one unit, y down.

    They neither cross nor overlap; holes run the other way. Raises KeyError for a character that is not drawn.
    """
    radius = min(ROUND * height, ROUND_ACROSS * width) if style.rounded else 0.0
    box = Box(width, height, stroke, radius)
    SKELETONS[character](box)
    followed = _FOLLOWED * height
    rings = cleaned(box.pen.rings, followed=followed)
    if style.stencil and (breaks := _breaks(character, box, style.stencil)):
        rings = difference(rings, breaks, followed=followed)
    return tuple(tuple(ring) for ring in rings)


def _breaks(character: str, box: Box, across: float) -> list[list[Piece]]:
    """Return the breaks of a stencilled character as rings, ``across`` wide. Only counters are opened, each at two
    places: what has none holds together as it is.
    """
    if character in "AO0689":
        return [_upright(box, box.centre - across / 2, across)]
    if character in "BDPR":
        # The break of an R ends in the bowl, above the leg.
        return [_upright(box, box.stroke, across, box.at(0.53) + box.stroke / 2 if character == "R" else None)]
    if character == "4":
        # Through the beam beneath the counter: a break through the tip would leave a splinter.
        beam = box.at(0.79)
        left = box.width - 1.55 * box.stroke - across
        return [_box(complex(left, beam - 1.02 * box.stroke), complex(left + across, beam + box.stroke / 2))]
    if character == "Q":
        return [_level(box, box.at(0.45), across, box.width)]
    if character == "&":
        top = 0.44 * box.width - across / 2
        return [_upright(box, top, across, 1.02 * box.stroke), _level(box, box.at(0.75), across, 0.3 * box.width)]
    return []


def _upright(box: Box, left: float, across: float, foot: float | None = None) -> list[Piece]:
    """Return a break from above a character down to ``foot``, or through all of it."""
    return _box(complex(left, -box.stroke), complex(left + across, (foot or box.height) + box.stroke * (foot is None)))


def _level(box: Box, y: float, across: float, right: float) -> list[Piece]:
    """Return a break from left of a character to ``right``, ``y`` its middle."""
    beyond = box.stroke if right == box.width else 0.0
    return _box(complex(-box.stroke, y - across / 2), complex(right + beyond, y + across / 2))


def _box(first: complex, last: complex) -> list[Piece]:
    corners = [first, complex(last.real, first.imag), last, complex(first.real, last.imag)]
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))
