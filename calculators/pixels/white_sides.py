"""The surroundings of a white area: the colours on its four sides, and the object around it with its pieces."""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from functools import cached_property
from math import gcd, pi

from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import Rgb, lab
from calculators.pixels.connected import Area, connected
from calculators.pixels.lines import Box
from calculators.values import in_one_go

#: The first value in a plane that is white or clear; those below are the labels of colours.
BARE_FROM = 254
#: Sides with this mean difference of colour (delta E 2000) are not alike at all.
FAR = 25.0
#: The number of pixels of each colour above, below, left and right.
Sides = tuple[Counter[int], Counter[int], Counter[int], Counter[int]]


class Surroundings:
    """Looks round the areas ``found`` in ``plane``."""

    def __init__(self, found: Sequence[Area], plane: bytes, width: int, height: int) -> None:
        self.found, self.plane, self.width, self.height = found, plane, width, height
        self._started = {area.runs[0][0]: place for place, area in enumerate(found)}

    @cached_property
    def _objects(self) -> list[Area]:
        """The areas of the picture as if all colours were one."""
        plane = self.plane.translate(bytes(BARE_FROM) + bytes(range(BARE_FROM, 256)))
        return in_one_go(connected(plane, self.width, self.height, by_corners=(0,)))

    @cached_property
    def _object_at(self) -> dict[int, Area]:
        return {area.runs[0][0]: area for area in self._objects}

    def object_round(self, area: Area) -> Area | None:
        """Return the drawn object round a white area, whatever its colours."""
        outside = self._object_at[area.runs[0][0]].outside
        return None if outside is None else self._objects[outside]

    def held(self) -> dict[int, list[Area]]:
        """Return the objects by the place of the white area that they stand on."""
        held: dict[int, list[Area]] = {}
        for drawn in self._objects:
            if drawn.value == 0 and (ground := self.ground_of(drawn)) is not None:
                held.setdefault(ground, []).append(drawn)
        return held

    def ground_of(self, drawn: Area) -> int | None:
        """Return the place of the white area beneath an object."""
        return None if drawn.outside is None else self._started[self._objects[drawn.outside].runs[0][0]]

    def sides(self, area: Area, box: Box | None = None) -> Sides:
        """Return the colours beside a white area, only of what lies in ``box`` if there is one."""
        plane, width, last = self.plane, self.width, len(self.plane)
        sides: Sides = Counter(), Counter(), Counter(), Counter()
        above, below, before, after = sides
        left, top, right, bottom = box or (0, 0, width, self.height)
        runs = area.runs
        if box:
            runs = runs[bisect_left(runs, ((top - 1) * width, 0)) : bisect_right(runs, ((bottom + 1) * width, 0))]
        for start, stop in runs:
            row = start // width * width
            start, stop = max(start, row + left - 1), min(stop, row + right + 1)
            if start >= stop:
                continue
            if row:
                above.update(plane[start - width : stop - width])
            if row + width < last:
                below.update(plane[start + width : stop + width])
            if start > row:
                before[plane[start - 1]] += 1
            if stop < row + width:
                after[plane[stop]] += 1
        for side in sides:
            for bare in range(BARE_FROM, 256):
                side.pop(bare, None)
        return sides

    @cached_property
    def _pieces(self) -> tuple[array[int], array[int]]:
        """The first pixel of each run of colour, in order, and the place of its area."""
        runs = sorted(
            (start, place) for place, area in enumerate(self.found) if area.value < BARE_FROM for start, _ in area.runs
        )
        return array("l", (start for start, _ in runs)), array("l", (place for _, place in runs))

    def parts(self) -> dict[int, list[int]]:
        """Return the places of the pieces of one colour, by the ``id`` of the object that each is part of."""
        runs = sorted(
            (start, stop, each)
            for each, drawn in enumerate(self._objects)
            if drawn.value == 0
            for start, stop in drawn.runs
        )
        parts: dict[int, list[int]] = {id(drawn): [] for drawn in self._objects}
        for place, area in enumerate(self.found):
            if area.value < BARE_FROM:
                _start, _stop, drawn = runs[bisect_right(runs, (area.runs[0][0], len(self.plane), 0)) - 1]
                parts[id(self._objects[drawn])].append(place)
        return parts

    def piece_round(self, area: Area) -> int:
        """Return the place of the piece of one colour that lies beside most rows of a white area."""
        starts, places = self._pieces
        beside = Counter(
            places[bisect_right(starts, pixel) - 1]
            for start, stop in area.runs
            for pixel in (start - 1, stop)
            if self.plane[pixel] < BARE_FROM
        )
        return max(beside, key=lambda place: (beside[place], -place))


def alike(one: Sides, other: Sides, colours: Sequence[Rgb]) -> float:
    """Return the match, 0 to 1, of the colours on each side of ``one`` with the same side of ``other``.

    A stroke with outline and shadow looks the same from inside and outside a letter. Compression splits one colour into
    several, so a side also matches if its colours do so on average.
    """
    shares, whole = 0.0, 0
    for mine, theirs in zip(one, other, strict=True):
        ours, all_theirs = mine.total(), theirs.total()
        whole += ours
        if ours and all_theirs:
            same = sum(min(count / ours, theirs[value] / all_theirs) for value, count in mine.items())
            if same < 1 and colours:
                same = max(same, 1 - delta_e(_mean(mine, colours), _mean(theirs, colours)) / FAR)
            shares += ours * same
    return shares / whole if whole else 0.0


def _mean(side: Counter[int], colours: Sequence[Rgb]) -> tuple[float, float, float]:
    red, green, blue = (
        round(sum(colours[value][channel] * count for value, count in side.items()) / side.total())
        for channel in range(3)
    )
    return lab((red, green, blue))


def main_colour(sides: Sides) -> tuple[int, float]:
    """Return the most frequent colour beside an area, and its share."""
    counts = sum(sides, Counter())
    value, count = max(counts.items(), key=lambda item: item[1], default=(0, 0))
    return value, count / max(1, counts.total())


def thickness(area: Area) -> float:
    """Return twice the area over the perimeter: the thickness of a stroke, or half the width of a disc.

    The sides of pixels overstate the perimeter of what is round by 4 / pi.
    """
    return 2 * area.size / (area.sides * pi / 4)


def filled(area: Area, width: int) -> float:
    """Return the share of its convex hull that ``area`` fills.

    G. Pick's theorem (1899, from memory) gives the pixels in the hull: area plus half of those on its edge plus 1.
    """
    ends = sorted({divmod(place, width)[::-1] for start, stop in area.runs for place in (start, stop - 1)})
    hull = _half_hull(ends)[:-1] + _half_hull(ends[::-1])[:-1]
    if len(hull) < 3:
        return 1.0
    edges = list(zip(hull, hull[1:] + hull[:1], strict=True))
    doubled = abs(sum(x * next_y - next_x * y for (x, y), (next_x, next_y) in edges))
    on_edge = sum(gcd(next_x - x, next_y - y) for (x, y), (next_x, next_y) in edges)
    return area.size / (doubled / 2 + on_edge / 2 + 1)


def _half_hull(points: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return one side of the convex hull of sorted points (A. Andrew's monotone chain, 1979, from memory)."""
    hull: list[tuple[int, int]] = []
    for x, y in points:
        while len(hull) > 1 and (hull[-1][0] - hull[-2][0]) * (y - hull[-2][1]) <= (hull[-1][1] - hull[-2][1]) * (
            x - hull[-2][0]
        ):
            hull.pop()
        hull.append((x, y))
    return hull
