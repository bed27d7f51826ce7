"""Affine and projective transforms of the plane as 3 x 3 matrices, rows as tuples.

A point (x, y) stands as the column (x, y, 1); a transform maps it to (u / w, v / w). Affine ones
have the last row (0, 0, 1).

Source: Hartley and Zisserman, Multiple View Geometry in Computer Vision, 2nd edition, chapter 2
(from memory).
"""

from __future__ import annotations

from math import cos, radians, sin

Point = tuple[float, float]
Row = tuple[float, float, float]
Matrix = tuple[Row, Row, Row]

IDENTITY: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


class NoInverse(ValueError):
    """The transform flattens the plane, so that it cannot be undone."""


class OnHorizon(ValueError):
    """The point is mapped to infinity."""


def translation(x: float, y: float) -> Matrix:
    """Return the transform that moves by (``x``, ``y``)."""
    return ((1.0, 0.0, x), (0.0, 1.0, y), (0.0, 0.0, 1.0))


def scaling(x: float, y: float) -> Matrix:
    """Return the transform that stretches by ``x`` across and ``y`` down, about the origin."""
    return ((x, 0.0, 0.0), (0.0, y, 0.0), (0.0, 0.0, 1.0))


def rotation(degrees: float) -> Matrix:
    """Return the turn about the origin that takes the x axis towards the y axis.

    >>> tuple(round(part, 12) for part in mapped(rotation(90), (1, 0)))
    (0.0, 1.0)
    """
    turned = radians(degrees)
    return ((cos(turned), -sin(turned), 0.0), (sin(turned), cos(turned), 0.0), (0.0, 0.0, 1.0))


def product(*matrices: Matrix) -> Matrix:
    """Return the transform that does the last of ``matrices`` first.

    >>> mapped(product(translation(1, 0), scaling(2, 2)), (3, 4))
    (7.0, 8.0)
    """
    made = IDENTITY
    for right in matrices:
        columns = tuple(zip(*right, strict=True))
        first, second, third = (
            [sum(a * b for a, b in zip(row, column, strict=True)) for column in columns] for row in made
        )
        made = (first[0], first[1], first[2]), (second[0], second[1], second[2]), (third[0], third[1], third[2])
    return made


def determinant(matrix: Matrix) -> float:
    """Return the determinant."""
    (a, b, c), (d, e, f), (g, h, i) = matrix
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)


def inverse(matrix: Matrix) -> Matrix:
    """Return the transform that undoes ``matrix``. Raises NoInverse.

    >>> mapped(inverse(scaling(2, 4)), (2, 4))
    (1.0, 1.0)
    """
    (a, b, c), (d, e, f), (g, h, i) = matrix
    size = determinant(matrix)
    largest = max(abs(part) for row in matrix for part in row)
    if abs(size) <= 1e-15 * largest**3:
        raise NoInverse("the transform flattens the plane")
    cofactors = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    first, second, third = ((x / size, y / size, z / size) for x, y, z in cofactors)
    return first, second, third


def mapped(matrix: Matrix, point: Point) -> Point:
    """Return where ``matrix`` takes ``point``. Raises OnHorizon."""
    u, v, w = _homogeneous(matrix, point)
    return u / w, v / w


def depth(matrix: Matrix, point: Point) -> float:
    """Return w of the mapped point: points on one side of the horizon share its sign."""
    x, y = point
    g, h, i = matrix[2]
    return g * x + h * y + i


def jacobian(matrix: Matrix, point: Point) -> tuple[Point, Point]:
    """Return ((du/dx, du/dy), (dv/dx, dv/dy)) of the map at ``point``. Raises OnHorizon.

    >>> jacobian(scaling(2, 3), (10, 10))
    ((2.0, 0.0), (0.0, 3.0))
    """
    u, v, w = _homogeneous(matrix, point)
    (a, b, _), (d, e, _), (g, h, _) = matrix
    return ((a - g * u / w) / w, (b - h * u / w) / w), ((d - g * v / w) / w, (e - h * v / w) / w)


def _homogeneous(matrix: Matrix, point: Point) -> Row:
    x, y = point
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix)
    if abs(w) <= 1e-15 * sum(abs(part * place) for part, place in zip(matrix[2], (x, y, 1), strict=True)):
        raise OnHorizon("the point is mapped to infinity")
    return u, v, w
