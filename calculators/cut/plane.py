"""Regions in mm on one grid, so that two that share a border have the same points along it, whatever was done to them.

Curves are followed by straight lines from the start: choke and spread would make lines of them anyway.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from operator import is_

from calculators.cut.room import has_room
from calculators.shapes.cubics import Piece
from calculators.shapes.cutting_order import Boundary
from calculators.shapes.grid import Grid, Rings, doubled_area, flattened, grid_for
from calculators.shapes.nesting import Part, parts
from calculators.shapes.offsets import Moved, Polygon, as_pieces, choke, chokes, spread, thinned
from calculators.shapes.parallels import ROUND
from calculators.shapes.snap_rounding import Arrangements, Node
from calculators.shapes.strokes import Pen, stroked
from calculators.shapes.windings import boundary_of, left_windings, weighted_edges

#: Rings round a region, on the grid: they neither cross nor overlap, and the region lies on their left (y up).
Flat = list[list[Node]]
#: Lines that are only measured from may leave out points within the first distance in mm, and the lines
#: at a distance from them follow arcs within the second.
MEASURED_FROM, MEASURED_TO = 5e-4, 1e-3


#: How far from lines their strokes reach in mm; more at once, and the ends of many short parts would cross too often.
STROKED = 0.1
#: Curves are followed within so many mm, and those of large drawings within this share of their longer side:
#: 5 micrometres of 400 mm. No blade cuts as closely, and with what arcs may be off it is within 0.01 mm.
FOLLOWED_MM, FOLLOWED_SHARE = 6e-4, 1.2e-5


#: Windings tell so many regions apart: floats hold whole numbers of 53 bits, and a winding has two.
HALF = 50
MOST_REGIONS = 2 * HALF


@dataclass(frozen=True)
class Line:
    """A line of points in mm; a closed one ends where it begins."""

    points: tuple[complex, ...]
    closed: bool


class Plane:
    """All regions of one job, on a grid for what lies within ``reach`` mm of ``rings``."""

    def __init__(self, rings: Rings, reach: float) -> None:
        self.grid: Grid = grid_for(rings, reach)
        points = [point for ring in rings for piece in ring for point in piece]
        across, down = [point.real for point in points] or [0.0], [point.imag for point in points] or [0.0]
        span = max(max(across) - min(across), max(down) - min(down))
        #: How closely curves are followed, in mm.
        self.followed = max(FOLLOWED_MM, span * FOLLOWED_SHARE)
        # Most regions come from others of this plane, whose edges need not be split again.
        self._arranged = Arrangements()
        # What is left of a sheet is asked for several times in a row: the regions of the last difference, and that.
        self._subtracted: tuple[Flat, ...] = ()
        self._left: Flat = []

    def flat(self, rings: Rings, *, even_odd: bool = False) -> Flat:
        """Return what ``rings`` of pieces in mm fill. Raises TooTangled."""
        placed = [(self._nodes(ring), 1 + 0j) for ring in rings if ring]
        return self._boundary(placed, (lambda winding: bool(int(winding.real) % 2)) if even_odd else bool)

    def box(self, low: complex, high: complex) -> Flat:
        """Return a rectangle between two opposite corners."""
        return self.flat([as_pieces([low, complex(high.real, low.imag), high, complex(low.real, high.imag)])])

    def join(self, *flats: Flat) -> Flat:
        """Return what lies in any of ``flats``. Raises TooTangled."""
        return self._combined(flats, (), lambda winding: winding.real > 0)

    def minus(self, first: Flat, *others: Flat) -> Flat:
        """Return what lies in ``first`` and in none of ``others``. Raises TooTangled."""
        wanted = (first, *others)
        if len(wanted) != len(self._subtracted) or not all(map(is_, wanted, self._subtracted)):
            near = _reaching(others, first)
            self._left = self._combined((first,), near, lambda winding: winding.real > 0 and not winding.imag)
            self._subtracted = wanted
        return self._left

    def common(self, first: Flat, *others: Flat) -> Flat:
        """Return what lies in ``first`` and in any of ``others``. Raises TooTangled."""
        near = _reaching(others, first)
        return self._combined((first,), near, lambda winding: winding.real > 0 and winding.imag > 0)

    def choked(self, flat: Flat, distance: float, followed: float = 0.0) -> Flat:
        """Return the points at least ``distance`` mm inside, arcs followed within ``followed`` mm if that is coarser
        than usual. Raises TooTangled.
        """
        return self._moved(choke, flat, distance, followed)

    def cores(self, flat: Flat, distances: Sequence[float], followed: float) -> list[Flat]:
        """Return what ``choked`` does for each of several distances. Raises TooTangled."""
        moved = chokes(self.rings(flat), distances, followed=max(self.followed, followed))
        return [boundary_of(self._placed(each), bool) for each in moved]

    def is_wide(self, flat: Flat, width: float) -> bool:
        """Return whether a circle ``width`` mm across lies anywhere within a region. Raises TooTangled."""
        return has_room(list(map(self.polygon, flat)), width / 2) or bool(self.choked(flat, width / 2))

    def spread(self, flat: Flat, distance: float, followed: float = 0.0) -> Flat:
        """Return the points within ``distance`` mm, arcs like those of ``choked``. Raises TooTangled."""
        return self._moved(spread, flat, distance, followed)

    def within(self, lines: Iterable[Line], distance: float) -> Flat:
        """Return the points within ``distance`` mm of ``lines``. Raises TooTangled."""
        if distance <= 0:
            return []
        first = min(distance, STROKED)
        pen = Pen(2 * first, ROUND, ROUND)
        # Each by itself, since many short parts in few places are slow to split. A spread goes the rest in steps.
        near = self.join(
            *(
                self.flat(stroked([(list(pairwise(line.points)), line.closed)], pen, MEASURED_TO))
                for line in lines
                if len(line.points) > 1
            )
        )
        return self.spread(near, distance - first)

    def edges_towards_nothing(self, one: Flat, other: Flat) -> list[Line]:
        """Return the lines along which ``one`` ends where ``other`` does not begin. Raises TooTangled."""
        return self.outer_edges([one, other])[0]

    def outer_edges(self, flats: Sequence[Flat]) -> list[list[Line]]:
        """Return for each of up to ``MOST_REGIONS`` regions, which do not overlap, the lines along which it ends and
        none of the others begins. The region lies on their left (y up). Raises TooTangled.
        """
        rings = [(ring, _bit(place)) for place, flat in enumerate(flats) for ring in flat]
        weights, _chains = weighted_edges(rings, self._arranged.split_edges)
        onward: list[defaultdict[Node, list[Node]]] = [defaultdict(list) for _flat in flats]
        for (start, end), left in left_windings(weights).items():
            right = left - weights[start, end]
            if left and not right and (place := _only(left)) is not None:
                onward[place][start].append(end)
            elif right and not left and (place := _only(right)) is not None:
                onward[place][end].append(start)
        return [[self._line(chain) for chain in _chained(each)] for each in onward]

    def parts(self, flat: Flat) -> list[Part]:
        """Return the connected parts of a region."""
        return parts(flat)

    def boundaries(self, part: Part) -> list[Boundary]:
        """Return the rings of a part in mm, to be asked by ``lies_in``."""
        return [Boundary(self.polygon(ring)) for ring in (part.outer, *part.holes)]

    def polygon(self, ring: Sequence[Node]) -> Polygon:
        """Return a ring in mm."""
        unit = self.grid.unit
        return [complex(x * unit, y * unit) for x, y in ring]

    def rings(self, flat: Flat) -> list[list[Piece]]:
        """Return a region as closed rings of straight pieces in mm."""
        return [as_pieces(self.polygon(ring)) for ring in flat]

    def area(self, flat: Flat) -> float:
        """Return an area in mm²."""
        return sum(map(doubled_area, flat)) / 2 * self.grid.unit**2

    def without_needless(self, flat: Flat, off: float) -> Flat:
        """Return a region without the points within ``off`` mm of the line between their neighbours."""
        return thinned(flat, off / self.grid.unit)

    def _combined(self, first: Sequence[Flat], others: Sequence[Flat], inside: Callable[[complex], bool]) -> Flat:
        rings = [(ring, 1 + 0j) for flat in first for ring in flat]
        rings += [(ring, 1j) for flat in others for ring in flat]
        return self._boundary(rings, inside)

    def _boundary(self, rings: Iterable[tuple[Sequence[Node], complex]], inside: Callable[[complex], bool]) -> Flat:
        return boundary_of(rings, inside, self._arranged.split_edges)

    def _moved(self, move: Callable[..., Moved], flat: Flat, distance: float, followed: float = 0.0) -> Flat:
        if not flat or not distance:
            return flat
        moved = move(self.rings(flat), distance, followed=max(self.followed, followed))
        return self._boundary(self._placed(moved), bool)

    def _placed(self, moved: Moved) -> list[tuple[list[Node], complex]]:
        return [(list(map(self.grid.node, ring)), 1 + 0j) for ring in moved.rings]

    def _nodes(self, ring: Sequence[Piece]) -> list[Node]:
        """Return a ring on the grid; a piece has the same points in either direction."""
        made: list[Node] = []
        for piece in ring:
            ahead = (piece[0].real, piece[0].imag) <= (piece[-1].real, piece[-1].imag)
            points = _points(piece if ahead else piece[::-1], self.followed)
            points = points if ahead else points[::-1]
            made += [self.grid.node(point) for point in points[:-1]]
        return made

    def _line(self, chain: list[Node]) -> Line:
        closed = chain[0] == chain[-1]
        nodes = chain
        if closed and len(chain) > 3:
            ring = self.without_needless([chain[:-1]], MEASURED_FROM)
            nodes = [*ring[0], ring[0][0]] if ring else chain
        return Line(tuple(self.polygon(nodes)), closed)


def box_of(flat: Flat) -> tuple[int, int, int, int]:
    """Return left, top, right and bottom of the box round a region, all 0 for an empty one."""
    across, down = [x for ring in flat for x, _y in ring] or [0], [y for ring in flat for _x, y in ring] or [0]
    return min(across), min(down), max(across), max(down)


def meet(one: tuple[int, int, int, int], other: tuple[int, int, int, int]) -> bool:
    """Return whether two boxes have more than an edge in common."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _reaching(others: Sequence[Flat], first: Flat) -> list[Flat]:
    """Return ``others`` without the rings outside the box round ``first``: no winding within it depends on them."""
    around = box_of(first)
    return [[ring for ring in flat if meet(box_of([ring]), around)] for flat in others]


def _points(piece: Piece, followed: float) -> list[complex]:
    return [piece[0], *flattened([piece], followed)]


def lies_in(point: complex, boundaries: Sequence[Boundary]) -> bool:
    """Return whether a point lies in a part: within its outer ring, and within none of its holes."""
    return sum(each.holds(point) for each in boundaries) % 2 == 1


def _bit(place: int) -> complex:
    """Return the weight of a region, of which a winding tells which it is."""
    if not place < MOST_REGIONS:
        raise ValueError(f"no more than {MOST_REGIONS} regions can be told apart")
    return complex(1 << place) if place < HALF else complex(0, 1 << place - HALF)


def _only(winding: complex) -> int | None:
    """Return the number of the one region that winds here, or None."""
    one, other = int(winding.real), int(winding.imag)
    if one > 0 and not other and not one & one - 1:
        return one.bit_length() - 1
    if other > 0 and not one and not other & other - 1:
        return HALF + other.bit_length() - 1
    return None


def _chained(onward: dict[Node, list[Node]]) -> Iterator[list[Node]]:
    """Yield lines along directed edges, each edge once; those that have an end come first, so that rest are closed."""
    arriving: defaultdict[Node, int] = defaultdict(int)
    for ends in onward.values():
        for end in ends:
            arriving[end] += 1
    starts = [node for node in sorted(onward) if len(onward[node]) > arriving[node]]
    for start in [*starts, *sorted(onward)]:
        while onward.get(start):
            chain = [start]
            while onward.get(chain[-1]):
                chain.append(onward[chain[-1]].pop())
                if chain[-1] == start:
                    break
            yield chain
