"""Where bridges of a loose stencil may begin, and the shortest lines that join its parts from there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from math import ceil, floor, inf

from calculators.cut.plane import Flat, Plane, lies_in
from calculators.shapes.cutting_order import Boundary
from calculators.shapes.nesting import Part

#: A bridge is laid out this many mm narrower than it is made, for rounding.
PLAY_MM = 0.005
#: What is only firm if this much less than half a bridge is taken off is joined too, in mm.
BARELY_MM = 0.016
#: So closely, in mm, is looked for what is firm by itself: well within the play.
COARSE_MM = 2e-3
#: An island gets a second bridge from this many bridges squared: with one it swings.
SWINGS = 9.0
#: How deep within a thin island a bridge begins, as a share of half its width: as deep as there is anything left.
CORES = (0.99, 0.9, 0.75, 0.5, 0.25)
#: So much of a bridge lies on an island that is too thin to be firm, in bridges.
THIN_HELD = 0.25
#: The first radius in bridges within which neighbours are looked for; it is doubled until all are found.
FIRST_RADIUS = 3.0
#: A bridge may begin at so many places at most, besides the corners of outlines.
MOST_ANCHORS = 20_000
#: Where a bridge is moved to a place, its ends lie on either side: the cosine between them is below this.
OPPOSITE = -0.5

#: From one point to another.
Line = tuple[complex, complex]
#: Points by the cells of a square grid, and in each by their parts.
_Cells = dict[tuple[int, int], dict[int, list[complex]]]


class Anchors:
    """Points where bridges may begin, each of a part that is firm by itself, or of an island too thin for that."""

    def __init__(self, plane: Plane, stencil: Flat, width: float) -> None:
        self.width = width
        inwards = width / 2 - PLAY_MM
        coarse = plane.without_needless(stencil, COARSE_MM)
        firm, barely = map(plane.parts, plane.cores(coarse, [inwards, width / 2 - BARELY_MM], COARSE_MM))
        holders = [plane.polygon(part.outer)[0] for part in firm]
        thin = [
            core
            for part in plane.parts(stencil)
            if not _holds_any(plane.boundaries(part), holders)
            for core in plane.parts(_core(plane, part, inwards))
        ]
        inner = [*holders, *(plane.polygon(core.outer)[0] for core in thin)]
        thin += [part for part in barely if not _holds_any(plane.boundaries(part), inner)]
        #: By part: its points, how far a bridge goes on beyond them, and its area.
        self.points: list[list[complex]] = []
        self.further: list[float] = []
        self.areas: list[float] = []
        whole = [plane.polygon(ring) for part in (*firm, *thin) for ring in (part.outer, *part.holes)]
        length = sum(abs(end - start) for ring in whole for start, end in pairwise([*ring, ring[0]]))
        every = max(width / 2, length / MOST_ANCHORS)
        for parts, further in ((firm, 0.0), (thin, THIN_HELD * width)):
            for part in parts:
                rings = (part.outer, *part.holes)
                self.points.append([point for ring in rings for point in _dense(plane.polygon(ring), every)])
                self.further.append(further)
                self.areas.append(plane.area([part.outer]))

    def joining(self) -> Iterator[Line]:
        """Yield the shortest lines that join all parts, in all."""
        count = len(self.points)
        group = list(range(count))
        # Between two points of an island too thin to be firm nothing holds: one bridge leads from it to what is firm.
        main = max(range(count), key=self.areas.__getitem__, default=0)
        is_thin = [further > 0 and part != main for part, further in enumerate(self.further)]
        held: set[int] = set()

        def root(part: int) -> int:
            while group[part] != part:
                part = group[part]
            return part

        radius, left = FIRST_RADIUS * self.width, count - 1
        while left > 0:
            for _length, one, other, start, end in sorted(self._pairs(radius, root), key=lambda each: each[0]):
                first, second = root(one), root(other)
                thin = {part for part in (one, other) if is_thin[part]}
                if first != second and len(thin) < 2 and not thin & held:
                    held |= thin
                    group[second] = first
                    left -= 1
                    yield self._line(one, other, start, end)
            radius *= 2

    def second_lines(self, lines: Sequence[Line], room: float) -> Iterator[Line]:
        """Yield another line for each island held by one, opposite to it, while they cover no more than ``room``."""
        main = max(range(len(self.areas)), key=self.areas.__getitem__, default=0)
        for part in sorted(range(len(self.areas)), key=lambda each: -self.areas[each]):
            if part == main or self.areas[part] < SWINGS * self.width**2:
                continue
            own = set(self.points[part])
            ends = [end for line in lines for end in line if end in own]
            if len(ends) != 1:
                continue
            middle = sum(self.points[part]) / len(self.points[part])
            best: tuple[float, int, complex, complex] = (inf, part, 0j, 0j)
            for start in self.points[part]:
                if ((start - middle) * (ends[0] - middle).conjugate()).real < 0:
                    length, other, end = self._nearest(start, part, min(best[0], room / self.width))
                    if length < best[0]:
                        best = length, other, start, end
            if best[0] * self.width <= room:
                room -= best[0] * self.width
                yield self._line(part, *best[1:])

    def _nearest(self, start: complex, part: int, within: float) -> tuple[float, int, complex]:
        """Return the nearest point of another part, and how far it is; infinity if none is nearer than ``within``."""
        side = FIRST_RADIUS * self.width
        column, row = floor(start.real / side), floor(start.imag / side)
        best: tuple[float, int, complex] = (inf, part, 0j)
        # Whatever lies in the cells of a ring is further away than all rings within it are wide.
        for ring in range(self._rings):
            if (ring - 1) * side > within:
                break
            for x in range(-ring, ring + 1):
                for y in range(-ring, ring + 1) if abs(x) == ring else (-ring, ring):
                    for other, points in self._cells.get((column + x, row + y), {}).items():
                        if other == part:
                            continue
                        for point in points:
                            if (length := abs(point - start)) < within:
                                within = length
                                best = length, other, point
        return best

    @cached_property
    def _cells(self) -> _Cells:
        """All points by the cells of a grid."""
        return self._by_cells(FIRST_RADIUS * self.width)

    @cached_property
    def _rings(self) -> int:
        """So many rings of cells hold all of them, from wherever they are counted."""
        across, down = [x for x, _y in self._cells], [y for _x, y in self._cells]
        return 2 + max(max(across) - min(across), max(down) - min(down))

    def _by_cells(self, side: float) -> _Cells:
        cells: _Cells = defaultdict(dict)
        for part, points in enumerate(self.points):
            for point in points:
                cells[floor(point.real / side), floor(point.imag / side)].setdefault(part, []).append(point)
        return cells

    def across(self, place: complex) -> Line | None:
        """Return the line through about ``place`` from one side of an opening to the other; None if there is none."""
        every = [(abs(point - place), part, point) for part, points in enumerate(self.points) for point in points]
        if not every:
            return None
        _far, one, start = min(every, key=lambda each: each[0])
        way = (start - place) or 1
        opposite = [
            each
            for each in every
            if ((each[2] - place) * way.conjugate()).real < OPPOSITE * abs(each[2] - place) * abs(way)
        ]
        if not opposite:
            return None
        _far, other, end = min(opposite, key=lambda each: each[0])
        return self._line(one, other, start, end)

    def _line(self, one: int, other: int, start: complex, end: complex) -> Line:
        way = (end - start) / (abs(end - start) or 1)
        return start - self.further[one] * way, end + self.further[other] * way

    def _pairs(self, radius: float, root: Callable[[int], int]) -> Iterator[tuple[float, int, int, complex, complex]]:
        """Yield for each point the nearest of each other part within ``radius``."""
        cells, roots = self._by_cells(radius), list(map(root, range(len(self.points))))
        for (column, row), held in cells.items():
            near = [each for x in (-1, 0, 1) for y in (-1, 0, 1) if (each := cells.get((column + x, row + y)))]
            for part, own in held.items():
                others = [
                    (other, points)
                    for each in near
                    for other, points in each.items()
                    if other > part and roots[other] != roots[part]
                ]
                for point in own if others else ():
                    best: dict[int, tuple[float, complex]] = {}
                    for other, points in others:
                        place = min(points, key=lambda each: abs(each - point))
                        length = abs(place - point)
                        if length <= radius and length < best.get(other, (inf, 0j))[0]:
                            best[other] = length, place
                    for other, (length, place) in best.items():
                        yield length, part, other, point, place


def _core(plane: Plane, part: Part, inwards: float) -> Flat:
    """Return the innermost of an island that is nowhere ``inwards`` mm deep; the island itself if it is a mere line."""
    whole = [part.outer, *part.holes]
    return next((core for share in CORES if (core := plane.choked(whole, share * inwards))), whole)


def _dense(ring: Sequence[complex], every: float) -> Iterator[complex]:
    """Yield points along a ring no further apart than ``every``."""
    for start, end in pairwise([*ring, ring[0]]):
        steps = max(1, ceil(abs(end - start) / every))
        for step in range(steps):
            yield start + (end - start) * (step / steps)


def _holds_any(boundaries: Sequence[Boundary], points: Iterable[complex]) -> bool:
    return any(lies_in(point, boundaries) for point in points)
