"""Lines of eight pixels as sums of eight waves, and back: the transform of JPEG's squares (ITU-T T.81, A.3.3)."""

from __future__ import annotations

from math import cos, pi

SIDE = 8

Plane = list[list[float]]


def turned(plane: Plane) -> Plane:
    """Return a plane with its rows as columns."""
    return [list(line) for line in zip(*plane, strict=True)]


def square_waves(square: Plane) -> Plane:
    """Return the waves of a square: in row v and column u that with u half turns across and v down."""
    return turned([waves_of(column) for column in turned([waves_of(row) for row in square])])


def square_of(waves: Plane) -> Plane:
    """Return the square that waves make."""
    return [line_of(row) for row in turned([line_of(column) for column in turned(waves)])]


def waves_of(line: list[float]) -> list[float]:
    """Return the eight waves of a line: the even ones from the sums of places that mirror
    each other, the odd ones from the differences.
    """
    a, b, c, d, e, f, g, h = line
    p, q, r, s = a + h, b + g, c + f, d + e
    t, u, v, w = a - h, b - g, c - f, d - e
    outer, inner = p + s, q + r
    p, q = p - s, q - r
    return [
        _C4 * (outer + inner),
        _C1 * t + _C3 * u + _C5 * v + _C7 * w,
        _C2 * p + _C6 * q,
        _C3 * t - _C7 * u - _C1 * v - _C5 * w,
        _C4 * (outer - inner),
        _C5 * t - _C1 * u + _C7 * v + _C3 * w,
        _C6 * p - _C2 * q,
        _C7 * t - _C5 * u + _C3 * v - _C1 * w,
    ]


def line_of(waves: list[float]) -> list[float]:
    """Return the line that eight waves make."""
    a, b, c, d, e, f, g, h = waves
    sum_, difference = _C4 * (a + e), _C4 * (a - e)
    low, high = _C2 * c + _C6 * g, _C6 * c - _C2 * g
    p, q, r, s = sum_ + low, difference + high, difference - high, sum_ - low
    t = _C1 * b + _C3 * d + _C5 * f + _C7 * h
    u = _C3 * b - _C7 * d - _C1 * f - _C5 * h
    v = _C5 * b - _C1 * d + _C7 * f + _C3 * h
    w = _C7 * b - _C5 * d + _C3 * f - _C1 * h
    return [p + t, q + u, r + v, s + w, s - w, r - v, q - u, p - t]


#: Halves of the cosines that waves are made of (T.81, A.3.3).
_C1, _C2, _C3, _C4, _C5, _C6, _C7 = (0.5 * cos(u * pi / 16) for u in range(1, SIDE))
