"""The two sides of a corner, each a line or a parabola through clean points, carried on to where they meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from operator import mul

#: Points of a side that are used at most.
MOST_POINTS = 9
#: A side whose points lie within this many pixels of a line is one.
ON_LINE = 0.025


@dataclass(slots=True)
class Side:
    """A side that comes towards a corner: ``origin`` and unit ``direction``, and
    the heights a + b t + c t t beside it.
    """

    origin: complex
    direction: complex
    a: float
    b: float
    c: float

    def point(self, t: float) -> complex:
        """Return the point at ``t`` pixels along the direction."""
        return self.origin + self.direction * complex(t, self.a + t * (self.b + t * self.c))

    def slope(self, t: float) -> complex:
        """Return the direction of the side at ``t``, not of unit length."""
        return self.direction * complex(1.0, self.b + 2 * t * self.c)

    def along(self, point: complex) -> float:
        """Return the t whose height stands over ``point``."""
        return ((point - self.origin) * self.direction.conjugate()).real


def side_through(points: Sequence[complex], line_within: float = ON_LINE) -> Side | None:
    """Return the side through ``points``, the last of which is nearest the corner; None of fewer than two.

    A line by least squares, or a parabola where there are five points and no line fits within ``line_within``.
    """
    points = points[-MOST_POINTS:]
    count = len(points)
    if count < 2:
        return None
    origin = points[-1]
    direction = origin - points[0]
    if not direction:
        return None
    direction /= abs(direction)
    back = direction.conjugate()
    turned = [(point - origin) * back for point in points]
    # Part by part, since Pythons differ in how they add up complex numbers.
    along, aside = [each.real for each in turned], [each.imag for each in turned]
    middle, height = sum(along) / count, sum(aside) / count
    wide = slant = 0.0
    for x, y in zip(along, aside, strict=True):
        across = x - middle
        wide += across * across
        slant += across * (y - height)
    if wide < 1e-9:
        return None
    b = slant / wide
    a = height - b * middle
    if count < 5 or max([abs(y - a - b * x) for x, y in zip(along, aside, strict=True)]) <= line_within:
        return Side(origin, direction, a, b, 0.0)
    return Side(origin, direction, *_parabola(along, aside, middle))


def _parabola(along: Sequence[float], aside: Sequence[float], middle: float) -> tuple[float, float, float]:
    """Return the parabola through points by least squares, by polynomials that are orthogonal over them."""
    xs = [x - middle for x in along]
    count = len(xs)
    second = sum([x * x for x in xs]) / count
    third = sum([x * x * x for x in xs]) / count
    skew = third / second
    bent = [x * x - skew * x - second for x in xs]
    b = sum(map(mul, xs, aside)) / (second * count)
    c = sum(map(mul, bent, aside)) / max(sum(map(mul, bent, bent)), 1e-12)
    a = sum(aside) / count
    # From x about the middle to t: x = t - middle.
    b -= skew * c
    a -= second * c
    return a - b * middle + c * middle * middle, b - 2 * c * middle, c


def meeting(first: Side, second: Side) -> tuple[float, float] | None:
    """Return (t, t) where two sides that come towards a corner meet, by Newton's method; None where they do not."""
    t = s = 1.0
    for _ in range(12):
        gap = second.point(s) - first.point(t)
        one, two = first.slope(t), second.slope(s)
        turn = one.real * two.imag - one.imag * two.real
        if abs(turn) < 0.05:
            return None
        step = (gap.real * two.imag - gap.imag * two.real) / turn
        other = (gap.real * one.imag - gap.imag * one.real) / turn
        t += step
        s += other
        if abs(t) > 12 or abs(s) > 12:
            return None
        if abs(step) + abs(other) < 1e-6:
            return t, s
    return None
