"""Spread and choke: outlines moved outwards or inwards by a distance.

A spread covers all points within the distance of what is filled, so convex corners become round. A choke leaves the
points that are at least so far inside: convex corners stay sharp, inward ones become round.

Each edge gets a rectangle as deep as the distance, on the outer or the inner side, and each corner that opens to that
side a sector of a circle. Those are what is added or taken away, and nothing else: the nearest point of an outline is
on an edge or at such a corner. The line along all of them (``parallels.py``) winds round each point once for what was
filled, and once more, or less, for each of them that covers it. So a positive winding is the region looked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, sqrt

from calculators.shapes.cubics import Piece
from calculators.shapes.grid import Grid, Rings, doubled_area, flattened, grid_for
from calculators.shapes.nesting import parts
from calculators.shapes.parallels import Corner, arc_step, parallel
from calculators.shapes.snap_rounding import Node
from calculators.shapes.windings import boundary_of

#: How far straight lines may lie from curves, in the unit of the outlines (mm): a tenth of a micrometre.
FOLLOWED = 2e-4
#: A distance of more than so many median edges is gone in several steps, since the lines at tight bends would cross too
#: often: a spread by a and then b is one by a + b, and a choke likewise. But in no more than so many steps.
MOST_EDGES, MOST_STEPS = 4.0, 40.0

#: Between steps nodes are dropped within this share of what curves are followed by, no more than so many in a row.
THINNED_SHARE, MOST_DROPPED = 0.5, 40
#: A ring that encloses less, in squares of what curves are followed by, is rounding: 1 square micrometre.
LEAST_AREA = 25

Polygon = list[complex]
#: What came of rings, by the distances of the steps in which they were moved.
_Steps = dict[tuple[float, ...], list[list[Node]]]


@dataclass(frozen=True)
class Moved:
    """Outlines that were moved: closed rings of straight lines, the inside on their left (y up), so holes run
    the other way round.

    ``vanished`` are the rings of the parts of which a choke leaves nothing, and of the holes that a spread closes.
    """

    rings: list[Polygon]
    vanished: list[Polygon]


def spread(
    rings: Rings, distance: float, *, even_odd: bool = False, followed: float = FOLLOWED, clean: bool = False
) -> Moved:
    """Return all points within ``distance`` of what ``rings`` fill, both in the same unit.

    ``clean`` says that they neither cross nor overlap, as ``cleaned`` returns them, which saves time.
    Raises ValueError for a distance below 0, and TooTangled for outlines that lie across each other too often.
    """
    if distance < 0:
        raise ValueError("a spread is never negative")
    grid = grid_for(rings, distance)
    whole = _whole(rings, grid, even_odd, followed, clean)
    made = _offset(whole, distance / grid.unit, followed / grid.unit, {})
    left = [ring for ring in made if doubled_area(ring) < 0]
    closed = [hole for hole in whole if doubled_area(hole) < 0 and not _any_within(left, hole)]
    return Moved(_placed(made, grid), _placed(closed, grid))


def choke(
    rings: Rings, distance: float, *, even_odd: bool = False, followed: float = FOLLOWED, clean: bool = False
) -> Moved:
    """Return all points at least ``distance`` inside what ``rings`` fill, both in the same unit, as ``spread`` does.

    Raises ValueError for a distance below 0, and TooTangled for outlines that lie across each other too often.
    """
    return chokes(rings, [distance], even_odd=even_odd, followed=followed, clean=clean)[0]


def chokes(
    rings: Rings,
    distances: Sequence[float],
    *,
    even_odd: bool = False,
    followed: float = FOLLOWED,
    clean: bool = False,
) -> list[Moved]:
    """Return what ``choke`` does for each of several distances."""
    if min(distances, default=0) < 0:
        raise ValueError("a choke is never negative")
    grid = grid_for(rings)
    # What is nearest to a point of one part is never the border of another.
    wholes = [[part.outer, *part.holes] for part in parts(_whole(rings, grid, even_odd, followed, clean))]
    taken: list[_Steps] = [{} for _whole in wholes]
    chosen: list[Moved] = []
    for distance in distances:
        rests = [
            _offset(whole, -distance / grid.unit, followed / grid.unit, steps)
            for whole, steps in zip(wholes, taken, strict=True)
        ]
        made = [ring for rest in rests for ring in rest]
        vanished = [ring for whole, rest in zip(wholes, rests, strict=True) if not rest for ring in whole]
        chosen.append(Moved(_placed(made, grid), _placed(vanished, grid)))
    return chosen


def _whole(rings: Rings, grid: Grid, even_odd: bool, followed: float, clean: bool) -> list[list[Node]]:
    """Return the rings round what is filled, on the grid."""
    if clean:
        placed = ([grid.node(point) for point in flattened(ring, followed)] for ring in rings)
        whole = [
            [node for before, node in zip([ring[-1], *ring], ring, strict=False) if node != before] for ring in placed
        ]
        # On a grid, a ring may come to pass a node twice.
        if all(len(ring) > 2 and len(set(ring)) == len(ring) for ring in whole):
            return whole
    return filled_nodes(rings, grid, even_odd=even_odd, followed=followed)


def filled_nodes(rings: Rings, grid: Grid, *, even_odd: bool, followed: float) -> list[list[Node]]:
    """Return the rings round what is filled, on the grid, that neither cross nor overlap."""
    placed = [([grid.node(point) for point in flattened(ring, followed)], 1 + 0j) for ring in rings if ring]
    return boundary_of(placed, (lambda winding: bool(int(winding.real) % 2)) if even_odd else bool)


def _any_within(rings: Sequence[list[Node]], hole: list[Node]) -> bool:
    return bool(parts([hole[::-1], *rings])[-1].holes) if rings else False


def _placed(rings: Sequence[Sequence[Node]], grid: Grid) -> list[Polygon]:
    return [[grid.place(node) for node in ring] for ring in rings]


def _offset(rings: Sequence[list[Node]], distance: float, followed: float, steps: _Steps) -> list[list[Node]]:
    """Return rings moved outwards by ``distance``, or inwards where it is below 0, in units of the grid.

    ``steps`` are those that were taken with the same rings; they are not taken again.
    """
    made, left = list(rings), distance
    moved: tuple[float, ...] = ()
    while left and made:
        # Bends that became tighter need fewer lines. Without that, the lines at their centres would cross too often.
        made = thinned(made, followed * THINNED_SHARE)
        if not made:
            break
        length = min(sorted(map(dist, ring, ring[1:]))[len(ring) // 2 - 1] for ring in made)
        reach = min(abs(left), max(MOST_EDGES * length, abs(distance) / MOST_STEPS))
        moved = (*moved, reach if distance > 0 else -reach)
        if moved not in steps:
            steps[moved] = _step(made, moved[-1], followed)
        made = steps[moved]
        left -= moved[-1]
    return [ring for ring in made if abs(doubled_area(ring)) > 2 * LEAST_AREA * followed**2]


def _step(rings: list[list[Node]], distance: float, followed: float) -> list[list[Node]]:
    """Return rings moved by a ``distance`` that is short enough for their bends."""
    corner = Corner(arc_step(abs(distance), followed))
    lines = [parallel([complex(*node) for node in ring], distance, corner) for ring in _without_small(rings, distance)]
    placed = [([(round(point.real), round(point.imag)) for point in line], 1 + 0j) for line in lines]
    return thinned(boundary_of(placed, lambda winding: winding.real > 0), 1.0)


def _without_small(rings: list[list[Node]], distance: float) -> list[list[Node]]:
    """Return rings without the holes that surely close, or the parts that surely vanish: no point within a ring is
    further from it than half the shorter side of the box round it.
    """
    if distance > 0:
        return [ring for ring in rings if doubled_area(ring) > 0 or _half_side(ring) > distance]
    if all(_half_side(ring) > -distance for ring in rings if doubled_area(ring) > 0):
        return rings
    return [ring for part in parts(rings) if _half_side(part.outer) > -distance for ring in (part.outer, *part.holes)]


def _half_side(ring: list[Node]) -> float:
    across, down = [node[0] for node in ring], [node[1] for node in ring]
    return min(max(across) - min(across), max(down) - min(down)) / 2


def thinned(rings: list[list[Node]], off: float) -> list[list[Node]]:
    """Return rings on a grid without the nodes within ``off`` units of it of the line between their neighbours, except
    where rings meet.
    """
    seen: set[Node] = set()
    shared: set[Node] = set()
    for ring in rings:
        for node in ring:
            (shared if node in seen else seen).add(node)
    return [made for ring in rings if len(made := _without_needless(ring, shared, off)) > 2]


def _without_needless(ring: list[Node], shared: set[Node], off: float) -> list[Node]:
    made = [ring[0]]
    dropped: list[Node] = []
    for node, after in zip(ring[1:], [*ring[2:], ring[0]], strict=True):
        dropped.append(node)
        if node in shared or len(dropped) > MOST_DROPPED or not _all_near(dropped, made[-1], after, off):
            made.append(node)
            dropped = []
    return made


def _all_near(nodes: list[Node], start: Node, end: Node, off: float) -> bool:
    """Return whether all ``nodes`` lie beside the line from ``start`` to ``end``, no further than ``off`` from it."""
    (ax, ay), (bx, by) = start, end
    across, down = bx - ax, by - ay
    square = across * across + down * down
    most = off * sqrt(square)
    for x, y in nodes:
        along, aside = x - ax, y - ay
        if abs(across * aside - down * along) > most or not 0 <= across * along + down * aside <= square:
            return False
    return True


def as_pieces(polygon: Sequence[complex]) -> list[Piece]:
    """Return a closed polygon as straight pieces."""
    return list(zip(polygon, [*polygon[1:], *polygon[:1]], strict=True))
