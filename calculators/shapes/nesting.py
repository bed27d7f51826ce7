"""Which rings are holes of which."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators.shapes.grid import doubled_area
from calculators.shapes.snap_rounding import Node


@dataclass(frozen=True, slots=True)
class Part:
    """A connected region: the ring round it, and its holes, which run the other way."""

    outer: list[Node]
    holes: tuple[list[Node], ...]


def parts(rings: Sequence[list[Node]]) -> list[Part]:
    """Return the connected regions within ``rings``, which have the inside on their left and meet at nodes only.

    >>> outer, hole = [(0, 0), (9, 0), (9, 9), (0, 9)], [(3, 3), (3, 6), (6, 6), (6, 3)]
    >>> [len(each.holes) for each in parts([hole, outer])]
    [1]
    """
    areas = [doubled_area(ring) for ring in rings]
    outers = [rings[place] for place in sorted(range(len(rings)), key=areas.__getitem__) if areas[place] > 0]
    boxes = [_box(ring) for ring in outers]
    holes: list[list[list[Node]]] = [[] for _ in outers]
    for ring, area in zip(rings, areas, strict=True):
        if area <= 0:
            for place, outer in enumerate(outers):
                if _within(ring, outer, boxes[place]):
                    holes[place].append(ring)
                    break
    return [Part(outer, tuple(inner)) for outer, inner in zip(outers, holes, strict=True)]


def _box(ring: Sequence[Node]) -> tuple[int, int, int, int]:
    across, down = [node[0] for node in ring], [node[1] for node in ring]
    return min(across), min(down), max(across), max(down)


def _within(ring: Sequence[Node], outer: Sequence[Node], box: tuple[int, int, int, int]) -> bool:
    """Return whether ``ring`` lies within ``outer``, both meeting at nodes only."""
    left, top, right, bottom = box
    first, second = ring[0], ring[1]
    # The middle of an edge lies on no other edge; twice as large it is a whole number.
    x, y = first[0] + second[0], first[1] + second[1]
    if not (2 * left < x < 2 * right and 2 * top < y < 2 * bottom):
        return False
    inside = False
    before = outer[-1]
    for node in outer:
        (ax, ay), (bx, by) = before, node
        if (2 * ay <= y) != (2 * by <= y):
            side = (bx - ax) * (y - 2 * ay) - (x - 2 * ax) * (by - ay)
            if (side > 0) == (by > ay):
                inside = not inside
        before = node
    return inside
