"""The projective transform determined by four pairs of points, which squares up a slanted photograph.

Source: Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, chapter 4:
the direct linear transform (algorithm 4.1) with normalised points (4.4), from memory. For exactly
four pairs the last entry of the normalised matrix is set to 1 and eight equations are solved.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist, hypot, sqrt

from calculators.shapes.transforms import Matrix, NoInverse, Point, inverse, product, scaling, translation

#: Three corners are on one line if their triangle is lower than this, in the unit of the points (pixels).
NEAR_LINE = 1.0


class BadCorners(ValueError):
    """Four points that cannot show a rectangle; ``places`` (0 to 3) are the ones at fault."""

    def __init__(self, *places: int) -> None:
        super().__init__(f"corners {places}")
        self.places = places


class OnOneLine(BadCorners):
    """A corner (the only one in ``places``) and its two neighbours lie on one line."""


class Crossed(BadCorners):
    """Two opposite sides cross: ``places`` are the two corners to be swapped."""


class DentedIn(BadCorners):
    """A corner (the only one in ``places``) lies inside the triangle of the others."""


def check_corners(corners: Sequence[Point], near: float = NEAR_LINE) -> None:
    """Check that four ``corners``, in order round, can be a rectangle as a camera sees it.

    Its sides do not cross, no corner is dented in, and every triangle of three is at least ``near``
    high. Either way round will do. Raises OnOneLine, Crossed or DentedIn.

    >>> check_corners([(0, 0), (100, 10), (100, 60), (0, 70)])
    >>> check_corners([(0, 0), (100, 60), (100, 10), (0, 70)])
    Traceback (most recent call last):
    calculators.shapes.homography.Crossed: corners (1, 2)
    """
    triangles = [(corners[place - 1], corners[place], corners[(place + 1) % 4]) for place in range(4)]
    for place, triangle in enumerate(triangles):
        if _height(*triangle) < near:
            raise OnOneLine(place)
    turns = [_turn(*triangle) for triangle in triangles]
    left = [place for place, turn in enumerate(turns) if turn > 0]
    if len(left) == 2:
        # The corners on either side of a crossing turn the same way; swapping one of each pair removes it.
        raise Crossed(*((1, 2) if _cross(corners[0], corners[1], corners[2], corners[3]) else (0, 1)))
    if len(left) in (1, 3):
        raise DentedIn(left[0] if len(left) == 1 else next(place for place in range(4) if place not in left))


def homography(sources: Sequence[Point], targets: Sequence[Point]) -> Matrix:
    """Return the transform that takes four ``sources`` to four ``targets``, in order.

    No three of either may lie on one line, and the middle of the sources may not be mapped to
    infinity; ``check_corners`` makes sure of both. Raises transforms.NoInverse otherwise.
    """
    from_sources, to_sources = _normalised(sources)
    from_targets, to_targets = _normalised(targets)
    equations, right = [], []
    for (x, y), (u, v) in zip(from_sources, from_targets, strict=True):
        equations += [[x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y]]
        right += [u, v]
    a, b, c, d, e, f, g, h = _solved(equations, right)
    return product(inverse(to_targets), ((a, b, c), (d, e, f), (g, h, 1.0)), to_sources)


def drift(corner: tuple[int, int], move: Point, point: Point) -> Point:
    """Return how far ``point`` goes when one corner of the unit square goes by a small ``move``.

    The other three corners stay, and the map stays projective: the first-order term of the
    homography that does so. ``corner`` is (0 or 1, 0 or 1). Derived here: of the quadratic vector
    fields a + B p + p (c . p), which generate the projective transforms, it is the one that is
    ``move`` at the corner and zero at the other three.

    >>> drift((1, 0), (0.5, 0.25), (1, 0)), drift((1, 0), (0.5, 0.25), (1, 1))
    ((0.5, 0.25), (0.0, 0.0))
    """
    # Mirrored so that the corner is (0, 0); mirroring back undoes the signs.
    across, down = (1 - 2 * part for part in corner)
    u, v = corner[0] + across * point[0], corner[1] + down * point[1]
    x, y = across * move[0], down * move[1]
    away = (1 - u) * (1 - v)
    return across * (x * away - y * u * (1 - u)), down * (y * away - x * v * (1 - v))


def _normalised(points: Sequence[Point]) -> tuple[list[Point], Matrix]:
    """Return the points moved about the origin at a mean distance of sqrt(2), and the transform that does it."""
    x0, y0 = (sum(part) / len(points) for part in zip(*points, strict=True))
    away = sum(hypot(x - x0, y - y0) for x, y in points) / len(points)
    times = sqrt(2) / away if away else 1.0
    return [((x - x0) * times, (y - y0) * times) for x, y in points], product(
        scaling(times, times), translation(-x0, -y0)
    )


def _solved(equations: list[list[float]], right: list[float]) -> list[float]:
    """Return the solution of a square system near 1 in size, by elimination with partial pivoting."""
    rows = [[*row, value] for row, value in zip(equations, right, strict=True)]
    count = len(rows)
    for column in range(count):
        pivot = max(range(column, count), key=lambda place: abs(rows[place][column]))
        rows[column], rows[pivot] = rows[pivot], rows[column]
        if abs(rows[column][column]) < 1e-14:
            raise NoInverse("three of the points lie on one line")
        for row in rows[column + 1 :]:
            times = row[column] / rows[column][column]
            for place in range(column, count + 1):
                row[place] -= times * rows[column][place]
    found = [0.0] * count
    for place in reversed(range(count)):
        rest = sum(rows[place][other] * found[other] for other in range(place + 1, count))
        found[place] = (rows[place][count] - rest) / rows[place][place]
    return found


def _turn(first: Point, second: Point, third: Point) -> float:
    """Return twice the area of the triangle, positive where it turns left."""
    return (second[0] - first[0]) * (third[1] - first[1]) - (second[1] - first[1]) * (third[0] - first[0])


def _height(first: Point, second: Point, third: Point) -> float:
    """Return the height of the triangle over its longest side, 0 where the points are one."""
    longest = max(dist(first, second), dist(second, third), dist(third, first))
    return abs(_turn(first, second, third)) / longest if longest else 0.0


def _cross(first: Point, second: Point, third: Point, fourth: Point) -> bool:
    """Tell whether the segment from first to second crosses the one from third to fourth."""
    return (_turn(first, second, third) > 0) != (_turn(first, second, fourth) > 0) and (
        _turn(third, fourth, first) > 0
    ) != (_turn(third, fourth, second) > 0)
