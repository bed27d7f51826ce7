"""The border of two paints: a straight line across a picture, the first paint on
one side and the second on the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, radians, sin

Polygon = list[tuple[float, float]]


@dataclass(frozen=True)
class Border:
    """A line across a picture of ``width`` x ``height``.

    At 0 degrees it is level, with the first paint above; more degrees turn it clockwise. ``percent`` is its position
    on the way from where it first touches the picture to where it leaves it.
    """

    width: float
    height: float
    percent: float
    degrees: float

    @property
    def normal(self) -> tuple[float, float]:
        """The direction from the first paint to the second, of length 1."""
        angle = radians(self.degrees)
        return -sin(angle), cos(angle)

    @property
    def limit(self) -> float:
        """Points whose product with the normal is less lie on the first paint."""
        across, down = self.normal
        reach = [x * across + y * down for x in (0, self.width) for y in (0, self.height)]
        return min(reach) + (max(reach) - min(reach)) * self.percent / 100

    def first(self, row: int) -> tuple[int, int]:
        """Return from and to which column, exclusive, the pixels of a ``row`` lie on the first paint.

        >>> Border(10, 10, 50, 0).first(4), Border(10, 10, 50, 0).first(5), Border(10, 10, 30, 90).first(0)
        ((0, 10), (0, 0), (7, 10))
        """
        across, down = self.normal
        left = self.limit - down * (row + 0.5)
        width = int(self.width)
        if abs(across) < 1e-12:
            return (0, width) if left > 0 else (0, 0)
        column = min(width, max(0, ceil(left / across - 0.5 - 1e-9)))
        return (0, column) if across > 0 else (column, width)

    def split(self, plane: bytes, size: int = 1) -> tuple[bytes, bytes]:
        """Return the parts of a ``plane``, with ``size`` bytes a pixel, on the first paint and on the second."""
        row_length = int(self.width) * size
        one, other = [], []
        for row in range(int(self.height)):
            start, stop = (row * row_length + column * size for column in self.first(row))
            begin, end = row * row_length, (row + 1) * row_length
            one.append(plane[start:stop])
            other += [plane[begin:start], plane[stop:end]]
        return b"".join(one), b"".join(other)

    def joined(self, first: bytes, second: bytes, size: int) -> bytes:
        """Return one picture of two: ``first`` on the first paint, else ``second``."""
        row_length = int(self.width) * size
        rows = []
        for row in range(int(self.height)):
            start, stop = (row * row_length + column * size for column in self.first(row))
            begin, end = row * row_length, (row + 1) * row_length
            rows += [second[begin:start], first[start:stop], second[stop:end]]
        return b"".join(rows)

    def sides(self, box: tuple[float, float, float, float], wide: float = 0.0) -> tuple[Polygon, Polygon, Polygon]:
        """Return the parts of ``box`` (left, top, right, bottom) on either paint,
        and that within ``wide`` of the line.
        """
        left, top, right, bottom = box
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        across, down = self.normal
        back = (-across, -down)
        band = _clipped(_clipped(corners, (across, down), self.limit + wide), back, wide - self.limit)
        return _clipped(corners, (across, down), self.limit), _clipped(corners, back, -self.limit), band


def _clipped(polygon: Polygon, normal: tuple[float, float], limit: float) -> Polygon:
    """Return the part of a convex polygon whose points have a product with ``normal`` of at most ``limit``."""
    clipped: Polygon = []
    for place, here in enumerate(polygon):
        before = polygon[place - 1]
        was, now = (each[0] * normal[0] + each[1] * normal[1] - limit for each in (before, here))
        if (was <= 0) != (now <= 0):
            share = was / (was - now)
            clipped.append((before[0] + share * (here[0] - before[0]), before[1] + share * (here[1] - before[1])))
        if now <= 0:
            clipped.append(here)
    return clipped
