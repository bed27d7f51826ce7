"""Bridges that hold the islands of a loose stencil, where they show least: across the narrowest gaps.

What stays of a stencil is moved inwards by half a bridge. Each part that is left is firm by itself, and a straight
bridge between two of its points, as wide as it should be, joins them: moved inwards by half its width, it still goes
from one point to the other. So the shortest lines that join all parts hold the whole stencil, with no neck narrower
than a bridge.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import ceil, floor, inf

from calculators.cut.plane import Flat, Plane, lies_in
from calculators.shapes.cutting_order import Boundary
from calculators.shapes.nesting import Part
from calculators.shapes.offsets import as_pieces

#: A bridge is laid out this many mm narrower than it is made, for rounding.
PLAY_MM = 0.005
#: So closely, in mm, is looked for what is firm by itself: well within the play.
COARSE_MM = 2e-3
#: Bridges may take this share of the openings; a second one for an island is laid only within the other.
MOST_LOST, MOST_FOR_SECOND = 0.1, 0.06
#: An island gets a second bridge from this many bridges squared: with one it swings.
SWINGS = 9.0
#: What a bridge leaves of an opening that is narrower than so many mm, nobody paints.
NOTHING_MM = 0.1
#: How deep within a thin island a bridge begins, as a share of half its width: as deep as there is anything left.
CORES = (0.99, 0.9, 0.75, 0.5, 0.25)
#: The first radius in bridges within which neighbours are looked for; it is doubled until all are found.
FIRST_RADIUS = 3.0
#: A bridge may begin at so many places at most, besides the corners of outlines.
MOST_ANCHORS = 20_000
#: Where a bridge is moved to a place, its ends lie on either side: the cosine between them is below this.
OPPOSITE = -0.5

_NUMBER = r"(\d{1,5}(?:\.\d{1,3})?)"
_CHANGE = re.compile(rf"(?:(\d{{1,3}})\s*(off)|(?:(\d{{1,3}})|new)\s+at\s+{_NUMBER}[\s/]+{_NUMBER})", re.IGNORECASE)


class BadChange(ValueError):
    """A change of bridges that cannot be read or made: ``text`` is what was typed, ``number`` that of a bridge that
    there is not, ``place`` one with no opening, else None.
    """

    def __init__(self, text: str, number: int | None = None, place: complex | None = None) -> None:
        super().__init__(text)
        self.text, self.number, self.place = text, number, place


@dataclass(frozen=True)
class Changes:
    """What the reader changes: bridges that go, those that move, by number, and new ones, in mm."""

    off: frozenset[int] = frozenset()
    moved: Mapping[int, complex] | None = None
    new: tuple[complex, ...] = ()


@dataclass(frozen=True)
class Bridge:
    """A bridge from one point to another, in mm. The reader added it if it ``is_new``."""

    number: int
    start: complex
    end: complex
    is_new: bool = False

    @property
    def middle(self) -> complex:
        return (self.start + self.end) / 2


@dataclass(frozen=True)
class Bridged:
    """Openings without what bridges cover, 0 to 1 of them ``lost``; ``off`` are bridges that the reader took away.

    ``loose`` are parts of the stencil that fall out all the same, ``starved`` the openings that lose more than
    ``MOST_LOST`` of themselves, if all together do.
    """

    openings: Flat
    bridges: tuple[Bridge, ...]
    off: tuple[Bridge, ...]
    lost: float
    loose: list[Part]
    starved: list[Part]

    @property
    def is_refused(self) -> bool:
        return self.lost > MOST_LOST


def read_changes(text: str) -> Changes:
    """Return changes of bridges, such as "2 off, 3 at 12.5 8, new at 4 9". Raises BadChange.

    >>> read_changes("2 off; new at 4/9.5").new
    ((4+9.5j),)
    """
    off: set[int] = set()
    moved: dict[int, complex] = {}
    new: list[complex] = []
    for part in filter(str.strip, re.split(r"[,;\n]", text)):
        found = _CHANGE.fullmatch(part.strip())
        if not found:
            raise BadChange(part.strip())
        if found[2]:
            off.add(int(found[1]))
        elif found[3]:
            moved[int(found[3])] = complex(float(found[4]), float(found[5]))
        else:
            new.append(complex(float(found[4]), float(found[5])))
    return Changes(frozenset(off), moved, tuple(new))


@dataclass(frozen=True)
class Laid:
    """Bridges ``width`` mm wide that hold the islands of ``openings`` in a ``sheet``, as they were laid out first."""

    plane: Plane
    openings: Flat
    sheet: Flat
    width: float
    anchors: _Anchors
    bridges: tuple[Bridge, ...]


def laid(plane: Plane, openings: Flat, sheet: Flat, width: float, first: int = 1) -> Laid:
    """Return bridges ``width`` mm wide that hold the islands of ``openings`` in a ``sheet``, numbered from ``first``.

    Raises TooTangled.
    """
    anchors = _Anchors(plane, plane.minus(sheet, openings), width)
    whole = plane.area(openings)
    joining = list(anchors.joining())
    room = MOST_FOR_SECOND * whole - _covered(plane, openings, joining, width)
    lines = [*joining, *anchors.second_lines(joining, room)]
    lines.sort(key=lambda each: (round(_middle(each).imag, 1), each[0].real))
    bridges = tuple(Bridge(number, *line) for number, line in enumerate(lines, first))
    return Laid(plane, openings, sheet, width, anchors, bridges)


def shared_out(every: Sequence[Laid], changes_text: str) -> list[Changes]:
    """Return which of the changes of a set of stencils each has, whose bridges are numbered throughout.

    New bridges get the next numbers, and go to the stencil that is open at their place. Raises BadChange.
    """
    changes = read_changes(changes_text)
    numbers = [{each.number for each in one.bridges} for one in every]
    beyond = (changes.off | (changes.moved or {}).keys()) - set().union(*numbers)
    if beyond:
        raise BadChange(changes_text, number=min(beyond))
    moved = [{number: place for number, place in (changes.moved or {}).items() if number in own} for own in numbers]
    for number, place in enumerate(changes.new, sum(map(len, numbers)) + 1):
        open_there = (
            own
            for own, one in zip(moved, every, strict=True)
            if any(lies_in(place, one.plane.boundaries(part)) for part in one.plane.parts(one.openings))
        )
        own = next(open_there, None)
        if own is None:
            raise BadChange(changes_text, place=place)
        own[number] = place
    return [Changes(changes.off & own, places) for own, places in zip(numbers, moved, strict=True)]


def bridged(one: Laid, changes: Changes) -> Bridged:
    """Return the openings of a stencil with its bridges, and what the reader ``changes`` of them (``shared_out``).

    Raises BadChange, TooTangled.
    """
    plane, openings = one.plane, one.openings
    moved = changes.moved or {}
    numbers = {each.number for each in one.bridges}
    made = [each for each in one.bridges if each.number not in changes.off and each.number not in moved]
    for number, place in moved.items():
        line = one.anchors.across(place)
        if line is None:
            raise BadChange("", place=place)
        made.append(Bridge(number, *line, number not in numbers))
    made.sort(key=lambda each: each.number)
    left = openings
    if made:
        bars = plane.join(*(plane.flat([_bar(each.start, each.end, one.width)]) for each in made))
        left = _wide_enough(plane, plane.minus(openings, bars))
    held = sorted(plane.parts(plane.minus(one.sheet, left)), key=lambda part: -plane.area([part.outer]))
    whole = plane.area(openings)
    lost = 1 - plane.area(left) / whole if whole else 0.0
    starved = _starved(plane, openings, left) if lost > MOST_LOST else []
    off = tuple(each for each in one.bridges if each.number in changes.off)
    return Bridged(left, tuple(made), off, lost, held[1:], starved)


def _starved(plane: Plane, openings: Flat, left: Flat) -> list[Part]:
    """Return the parts of ``openings`` of which too little is ``left``."""
    made = []
    for part in plane.parts(openings):
        whole = [part.outer, *part.holes]
        if plane.area(plane.common(whole, left)) < (1 - MOST_LOST) * plane.area(whole):
            made.append(part)
    return made


#: From one point to another.
Line = tuple[complex, complex]


class _Anchors:
    """Points where bridges may begin, each of a part that is firm by itself, or of an island too thin for that."""

    def __init__(self, plane: Plane, stencil: Flat, width: float) -> None:
        self.width = width
        inwards = width / 2 - PLAY_MM
        firm = plane.parts(plane.choked(plane.without_needless(stencil, COARSE_MM), inwards, COARSE_MM))
        holders = [plane.polygon(part.outer)[0] for part in firm]
        thin = [
            core
            for part in plane.parts(stencil)
            if not _holds_any(plane.boundaries(part), holders)
            for core in plane.parts(_core(plane, part, inwards))
        ]
        #: By part: its points, how far a bridge goes on beyond them, and its area.
        self.points: list[list[complex]] = []
        self.further: list[float] = []
        self.areas: list[float] = []
        whole = [plane.polygon(ring) for part in (*firm, *thin) for ring in (part.outer, *part.holes)]
        length = sum(abs(end - start) for ring in whole for start, end in pairwise([*ring, ring[0]]))
        every = max(width / 2, length / MOST_ANCHORS)
        for parts, further in ((firm, 0.0), (thin, width / 2)):
            for part in parts:
                rings = (part.outer, *part.holes)
                self.points.append([point for ring in rings for point in _dense(plane.polygon(ring), every)])
                self.further.append(further)
                self.areas.append(plane.area([part.outer]))

    def joining(self) -> Iterator[Line]:
        """Yield the shortest lines that join all parts, in all."""
        count = len(self.points)
        group = list(range(count))
        # Between two points of an island too thin to be firm nothing holds, so all its bridges begin at one.
        begins: dict[int, complex] = {}
        is_thin = [further > 0 for further in self.further]

        def root(part: int) -> int:
            while group[part] != part:
                part = group[part]
            return part

        radius, left = FIRST_RADIUS * self.width, count - 1
        while left > 0:
            for _length, one, other, start, end in sorted(self._pairs(radius, root), key=lambda each: each[0]):
                first, second = root(one), root(other)
                if first != second:
                    group[second] = first
                    left -= 1
                    if is_thin[one]:
                        start = begins.setdefault(one, start)
                    if is_thin[other]:
                        end = begins.setdefault(other, end)
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
            if (ring - 1) * side > min(within, best[0]):
                break
            for x in range(-ring, ring + 1):
                for y in range(-ring, ring + 1) if abs(x) == ring else (-ring, ring):
                    for other, point in self._cells.get((column + x, row + y), ()):
                        if other != part and (length := abs(point - start)) < min(within, best[0]):
                            best = length, other, point
        return best

    @cached_property
    def _cells(self) -> dict[tuple[int, int], list[tuple[int, complex]]]:
        """All points by the cells of a grid."""
        return self._by_cells(FIRST_RADIUS * self.width)

    @cached_property
    def _rings(self) -> int:
        """So many rings of cells hold all of them, from wherever they are counted."""
        across, down = [x for x, _y in self._cells], [y for _x, y in self._cells]
        return 2 + max(max(across) - min(across), max(down) - min(down))

    def _by_cells(self, side: float) -> dict[tuple[int, int], list[tuple[int, complex]]]:
        cells: defaultdict[tuple[int, int], list[tuple[int, complex]]] = defaultdict(list)
        for part, points in enumerate(self.points):
            for point in points:
                cells[floor(point.real / side), floor(point.imag / side)].append((part, point))
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
        cells = self._by_cells(radius)
        for (column, row), held in cells.items():
            near = [each for x in (-1, 0, 1) for y in (-1, 0, 1) for each in cells.get((column + x, row + y), ())]
            if len({part for part, _point in near}) == 1:
                continue
            for part, point in held:
                best: dict[int, tuple[float, complex]] = {}
                for other, place in near:
                    if other > part and root(other) != root(part) and (length := abs(place - point)) <= radius:
                        if length < best.get(other, (inf, 0j))[0]:
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


def _middle(line: Line) -> complex:
    return (line[0] + line[1]) / 2


def _bar(start: complex, end: complex, width: float) -> list[tuple[complex, ...]]:
    way = end - start
    aside = 1j * way / (abs(way) or 1) * width / 2
    return as_pieces([start + aside, start - aside, end - aside, end + aside])


def _covered(plane: Plane, openings: Flat, lines: Sequence[Line], width: float) -> float:
    """Return how much of the openings bridges along ``lines`` cover, in mm²."""
    if not lines:
        return 0.0
    bars = plane.join(*(plane.flat([_bar(*line, width)]) for line in lines))
    return plane.area(plane.common(openings, bars))


def _wide_enough(plane: Plane, openings: Flat) -> Flat:
    """Return the parts of openings that are not narrower than ``NOTHING_MM`` all over."""
    return [
        ring
        for part in plane.parts(openings)
        if plane.is_wide([part.outer, *part.holes], NOTHING_MM)
        for ring in (part.outer, *part.holes)
    ]


def _holds_any(boundaries: Sequence[Boundary], points: Iterable[complex]) -> bool:
    return any(lies_in(point, boundaries) for point in points)
