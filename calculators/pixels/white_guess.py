"""What a white area is guessed to mean, from what lies round it.

Background: it reaches the border of a picture whose ground is white. A hole: it is the inside of a ring or a
letter, rounded, in one stroke of one colour that stands on the background. Anything else that colour encloses
was drawn white on purpose, so white is wanted there. Thresholds were set on one half of the pictures in tests/corpus.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import gcd, pi

from calculators import messages
from calculators.pixels.connected import Area

BACKGROUND, WANTED, HOLE = "background", "wanted", "hole"
#: Values in the plane: white and clear; those below are the labels of colours.
WHITE, CLEAR = 254, 255

#: A white ground makes more than this share of the border, or so many corners of the picture.
GROUND_BORDER, GROUND_CORNERS = 0.5, 3
#: Ringed by one colour: at least this share of the sides round it is of that colour.
ONE_COLOUR = 0.9
#: A letter has at most so many counters; what encloses more is a panel.
MOST_COUNTERS = 2
#: The inside of a letter fills at least this share of its convex hull.
ROUNDED = 0.88
#: A stroke thinner than this share of what it encloses is the outline of a white shape; a thicker one than this is a panel.
THIN, THICK = 0.055, 1.2


def guessed(
    found: Sequence[Area], wanted: Sequence[Area], plane: bytes, width: int, height: int
) -> list[tuple[str, str]]:
    """Return (meaning, reason) of each area of ``wanted``, which are among all those ``found`` in ``plane``."""
    guessing = _Guessing(found, wanted, plane, width, height)
    return [guessing.guess(each) for each in wanted]


class _Guessing:
    def __init__(self, found: Sequence[Area], wanted: Sequence[Area], plane: bytes, width: int, height: int) -> None:
        self.found, self.plane, self.width, self.height = found, plane, width, height
        border = 2 * (width + height)
        bare = [each for each in wanted if each.at_border]
        self.has_clear = any(each.value == CLEAR for each in wanted)
        ground = CLEAR if any(each.value == CLEAR for each in bare) else WHITE
        at_border = sum(each.at_border for each in bare if each.value == ground)
        corners = sum(each.corners for each in bare if each.value == ground)
        self.ground = ground if at_border > GROUND_BORDER * border or corners >= GROUND_CORNERS else None
        self.within: dict[int, list[Area]] = {}
        for each in wanted:
            if each.outside is not None:
                self.within.setdefault(each.outside, []).append(each)
        self.holds = {each.outside for each in found if each.value < WHITE and each.size >= 4}
        self.place = {id(each): place for place, each in enumerate(found)}
        self.known: dict[int, tuple[str, str]] = {}

    def guess(self, area: Area) -> tuple[str, str]:
        """Return the meaning of ``area`` and why; that of an area round it comes first."""
        place = self.place[id(area)]
        if place not in self.known:
            self.known[place] = self._guess(area, place)
        return self.known[place]

    def _guess(self, area: Area, place: int) -> tuple[str, str]:
        if area.at_border and area.value == self.ground:
            return BACKGROUND, messages.WHITE_AT_BORDER
        if area.value == CLEAR:
            return HOLE, messages.WHITE_IS_CLEAR
        if self.has_clear:
            return WANTED, messages.WHITE_ON_CLEAR
        if area.at_border:
            return WANTED, messages.WHITE_FILLS_BORDER
        if place in self.holds:
            return WANTED, messages.WHITE_HOLDS_COLOUR
        around = self._around(area)
        if around is None:
            return WANTED, messages.WHITE_BETWEEN_COLOURS
        return self._in_one_colour(area, self.found[around], self.within.get(around, []))

    def _in_one_colour(self, area: Area, stroke: Area, beside: list[Area]) -> tuple[str, str]:
        """Return the meaning of an area that one piece of one colour encloses, with those ``beside`` it."""
        ground = self.found[stroke.outside] if stroke.outside is not None else None
        if ground is None or ground.value < WHITE:
            return WANTED, messages.WHITE_ON_COLOUR
        if self.guess(ground)[0] == WANTED:
            return WANTED, messages.WHITE_ON_WHITE
        if len(beside) > MOST_COUNTERS or any(_filled(each, self.width) < ROUNDED for each in beside):
            return WANTED, messages.WHITE_ON_COLOUR
        ratio = _thickness(stroke) / (2 * _thickness(area))
        if ratio < THIN:
            return WANTED, messages.WHITE_IN_OUTLINE
        if ratio > THICK:
            return WANTED, messages.WHITE_ON_COLOUR
        return HOLE, messages.WHITE_IN_RING

    def _around(self, area: Area) -> int | None:
        """Return the place of the one piece of colour that encloses ``area``, None where several colours do."""
        counts: Counter[int] = Counter()
        for start, stop in area.runs:
            for shift in (-self.width, self.width):
                counts.update(self.plane[start + shift : stop + shift])
            counts.update((self.plane[start - 1], self.plane[stop]))
        counts.pop(area.value, None)
        most = max(counts.values())
        stroke = self.found[area.outside]
        return area.outside if most >= ONE_COLOUR * counts.total() and counts[stroke.value] == most else None


def _thickness(area: Area) -> float:
    """Return twice the area over the perimeter: how thick a stroke is, or half of how wide a disc is.

    The sides of pixels overstate the perimeter of what is round by 4 / pi.
    """
    return 2 * area.size / (area.sides * pi / 4)


def _filled(area: Area, width: int) -> float:
    """Return the share of the pixels in its convex hull that ``area`` has.

    How many lie in the hull is by G. Pick's theorem (1899, from memory): area plus half of those on its edge plus 1.
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
        while len(hull) > 1 and (hull[-1][0] - hull[-2][0]) * (y - hull[-2][1]) <= (hull[-1][1] - hull[-2][1]) * (x - hull[-2][0]):
            hull.pop()
        hull.append((x, y))
    return hull
