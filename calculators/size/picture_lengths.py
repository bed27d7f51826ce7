"""Lengths on the real thing from points in a picture, and their uncertainty from an error of one pixel.

Source of the uncertainty: JCGM 100:2008, 4.3.7 (limits of one pixel either way have the standard
uncertainty 1 / sqrt(3) pixel), 5.1.2 (independent ones add by their squares), 6.2.1 (coverage
factor 2), from memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import dist, hypot, sqrt

from calculators.shapes.homography import drift, homography
from calculators.shapes.transforms import OnHorizon, Point, depth, jacobian, mapped

#: The corners of the known rectangle by name of field, in order round, with their places in the unit square.
CORNERS = {
    "corner_top_left": (0, 0),
    "corner_top_right": (1, 0),
    "corner_bottom_right": (1, 1),
    "corner_bottom_left": (0, 1),
}
#: The largest error of a point, in pixels across and in pixels down.
ONE_PIXEL = 1.0
COVERAGE_FACTOR = 2.0
#: Ends nearer than this, in pixels, are one point.
LEAST_PX = 1.0


class OnItsSide(ValueError):
    """The corners are named so that width and height are exchanged; ``place`` is
    where the top left one lies in the picture.
    """

    def __init__(self, place: str) -> None:
        super().__init__(place)
        self.place = place


class TooShort(ValueError):
    """The two ends of a length are one point; ``name`` is the field of the second."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


class BeyondHorizon(ValueError):
    """A point where the panel cannot be seen; ``name`` is its field."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


@dataclass(frozen=True)
class Length:
    """A length in mm. ``slopes`` holds d ln(mm) / d(x, y) in 1/px by the field of each point it depends on."""

    mm: float
    slopes: Mapping[str, Point]

    def weighs_most(self) -> str:
        """Return the main source of its uncertainty: the ends of the "mark", the "known" or the "corners"."""
        weights = dict.fromkeys(("mark", "known", "corners"), 0.0)
        for name, slope in self.slopes.items():
            group = "corners" if name in CORNERS else "known" if name.startswith("known") else "mark"
            weights[group] += hypot(*slope) ** 2
        return max(weights, key=lambda group: weights[group])


def carried(value: float, length: Length, divided_by: Length | None = None) -> float:
    """Return the uncertainty of ``value``, which goes with ``length`` (over another), in its own unit.

    Every point is wrong by one pixel either way at most, across and down, independently; the
    result covers about 95 % of such errors. Holds to first order: for slopes well below 1 / px.

    >>> round(carried(10.0, Length(10.0, {"a": (0.3, 0.0), "b": (0.0, 0.4)})), 6)
    5.773503
    """
    slopes = dict(length.slopes)
    for name, (x, y) in (divided_by.slopes if divided_by else {}).items():
        before = slopes.get(name, (0.0, 0.0))
        slopes[name] = (before[0] - x, before[1] - y)
    spread = sqrt(sum(x * x + y * y for x, y in slopes.values()))
    return abs(value) * COVERAGE_FACTOR * ONE_PIXEL / sqrt(3) * spread


def straight(ends: Mapping[str, Point], known: Mapping[str, Point], known_mm: float) -> Length:
    """Return the length between two ``ends`` of a picture taken square on, by field of the point.

    ``known`` are the ends of a length of ``known_mm`` in the same picture. Raises TooShort.

    >>> straight({"a": (0, 0), "b": (30, 40)}, {"c": (0, 0), "d": (100, 0)}, 1000).mm
    500.0
    """
    (px, slopes), (known_px, known_slopes) = _in_pixels(ends), _in_pixels(known)
    away = {name: (-x, -y) for name, (x, y) in known_slopes.items()}
    return Length(known_mm * px / known_px, slopes | away)


def squared_up(ends: Mapping[str, Point], corners: Mapping[str, Point], width_mm: float, height_mm: float) -> Length:
    """Return the length between two ``ends`` in the plane of a rectangle seen at a slant.

    ``corners`` are those of the rectangle, named and ordered as CORNERS. Raises TooShort and
    BeyondHorizon.
    """
    _in_pixels(ends)  # raises TooShort
    to_square = homography([*corners.values()], [*CORNERS.values()])
    inside = depth(to_square, next(iter(corners.values())))
    for name, end in ends.items():
        if depth(to_square, end) * inside <= 0:
            raise BeyondHorizon(name)
    sides = (width_mm, height_mm)
    try:
        first, second = (mapped(to_square, end) for end in ends.values())
    except OnHorizon:
        raise BeyondHorizon(next(iter(ends))) from None
    across, down = ((a - b) * side for a, b, side in zip(first, second, sides, strict=True))
    length = hypot(across, down)
    # d ln(length) by a move of the first end in the unit square; the second's is the opposite.
    by_square = (across * width_mm / length**2, down * height_mm / length**2)
    slopes: dict[str, Point] = {}
    for sign, (name, end) in zip((1, -1), ends.items(), strict=True):
        x, y = _pulled_back(by_square, jacobian(to_square, end))
        slopes[name] = sign * x, sign * y
    for name, corner in corners.items():
        columns = zip(*jacobian(to_square, corner), strict=True)
        x, y = (
            # The corner is the reference, so everything else moves the other way.
            sum(
                part * (there - here)
                for part, here, there in zip(
                    by_square, drift(CORNERS[name], move, first), drift(CORNERS[name], move, second), strict=True
                )
            )
            for move in columns
        )
        slopes[name] = x, y
    return Length(length, slopes)


def mirrored(corners: Mapping[str, Point]) -> bool:
    """Tell whether ``corners`` are named from right to left or upside down, which changes no length.

    Raises OnItsSide where they are named a quarter turn on, so that the width would be taken for the height.

    >>> places = (0, 0), (9, 1), (9, 9), (0, 8)
    >>> square = dict(zip(CORNERS, places, strict=True))
    >>> mirrored(square), mirrored(dict(zip(CORNERS, [(9, 1), (0, 0), (0, 8), (9, 9)], strict=True)))
    (False, True)
    >>> mirrored(dict(zip(CORNERS, [(9, 1), (9, 9), (0, 8), (0, 0)], strict=True)))
    Traceback (most recent call last):
    calculators.size.picture_lengths.OnItsSide: top right
    """
    top_left, top_right, bottom_right, bottom_left = (corners[name] for name in CORNERS)
    across = _direction(top_left, top_right, bottom_left, bottom_right)
    down = _direction(top_left, bottom_left, top_right, bottom_right)
    if abs(across[1]) + abs(down[0]) > abs(across[0]) + abs(down[1]):
        x, y = (-(one + other) for one, other in zip(across, down, strict=True))
        raise OnItsSide(f"{'top' if y < 0 else 'bottom'} {'left' if x < 0 else 'right'}")
    return across[0] < 0 or down[1] < 0


def _direction(start: Point, end: Point, other_start: Point, other_end: Point) -> Point:
    """Return the mean direction of two opposite sides as a unit vector; (0, 0) if they cancel out."""
    x, y = ((b - a) + (d - c) for a, b, c, d in zip(start, end, other_start, other_end, strict=True))
    return (x / hypot(x, y), y / hypot(x, y)) if x or y else (0.0, 0.0)


def _in_pixels(ends: Mapping[str, Point]) -> tuple[float, dict[str, Point]]:
    """Return the distance of two points and d ln(distance) by each of them."""
    (first, start), (second, end) = ends.items()
    px = dist(start, end)
    if px < LEAST_PX:
        raise TooShort(second)
    x, y = ((a - b) / px**2 for a, b in zip(start, end, strict=True))
    return px, {first: (x, y), second: (-x, -y)}


def _pulled_back(slope: Point, by: tuple[Point, Point]) -> Point:
    """Return the slope in the picture of what has ``slope`` in the square."""
    x, y = (slope[0] * by[0][axis] + slope[1] * by[1][axis] for axis in (0, 1))
    return x, y
