"""Planes of one byte a pixel, worked on as one long whole number: shifting it moves the picture."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

_IS_ZERO = bytes([1]) + bytes(255)


def counted(plane: bytes, values: Iterable[int]) -> Counter[int]:
    """Return how often each of a few ``values`` stands in a plane; far quicker than to count all that does."""
    return Counter({value: found for value in values if (found := plane.count(value))})


class Planes:
    """Planes of ``width`` x ``height`` pixels, top row first, as bytes or as a whole number (little end first)."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height, self.size = width, height, width * height
        self._not_last = self.number((b"\1" * (width - 1) + b"\0") * height)

    def number(self, plane: bytes) -> int:
        """Return a plane as a whole number."""
        return int.from_bytes(plane, "little")

    def plane(self, number: int) -> bytes:
        """Return a whole number as a plane."""
        return number.to_bytes(self.size, "little")

    def where(self, plane: bytes, value: int) -> int:
        """Return 1 a byte where ``plane`` is ``value``, else 0."""
        return self.number(plane.translate(bytes(value) + b"\1" + bytes(255 - value)))

    def whole(self, ones: int) -> int:
        """Return 255 a byte where ``ones`` is 1."""
        return (ones << 8) - ones

    def same_right(self, plane: bytes) -> int:
        """Return 1 where a pixel equals the one right of it."""
        number = self.number(plane)
        return self._same(number ^ number >> 8) & self._not_last

    def same_below(self, plane: bytes) -> int:
        """Return 1 where a pixel equals the one below it."""
        number = self.number(plane)
        step = 8 * self.width
        same = self._same((number ^ number >> step) & (1 << step * (self.height - 1)) - 1)
        return same & (1 << step * (self.height - 1)) - 1

    def solid(self, plane: bytes) -> tuple[int, int]:
        """Return 1 where a pixel belongs to a square of two by two equal ones, and the same for three by three."""
        right, below, step = self.same_right(plane), self.same_below(plane), 8 * self.width
        corner = right & below & right >> step
        pair = corner | corner << 8
        three = corner & corner >> 8 & corner >> step & corner >> step + 8
        row = three | three << 8 | three << 16
        return pair | pair << step, row | row << step | row << 2 * step

    def grown(self, ones: int) -> int:
        """Return 1 where a pixel or one of its eight neighbours is 1."""
        step = 8 * self.width
        row = ones | (ones & self._not_last) << 8 | ones >> 8 & self._not_last
        return (row | row << step | row >> step) & (1 << 8 * self.size) - 1

    def _same(self, difference: int) -> int:
        return self.number(self.plane(difference).translate(_IS_ZERO))
