"""Planes of one byte a pixel, worked on as long whole numbers: shifting one moves the picture.

The number for a large picture takes as much memory as its plane, and a few steps need many
of them. So the work goes band by band of rows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

#: The approximate number of pixels in a band.
BAND_PX = 1 << 17
#: In what ``squares`` returns: the pixel lies in a square of two by two, of three by three.
OF_TWO, OF_THREE = 1, 2
_IS_ZERO = bytes([1]) + bytes(255)


def counted(plane: bytes, values: Iterable[int]) -> Counter[int]:
    """Return the counts of a few ``values`` in a plane; much faster than counting all values.

    Counted values are removed, so a plane shrinks fast if the frequent ones come first.
    """
    counts: Counter[int] = Counter()
    for value in values:
        left = plane.translate(None, bytes([value]))
        if len(left) < len(plane):
            counts[value], plane = len(plane) - len(left), left
    return counts


class Planes:
    """Planes of ``width`` x ``height`` pixels, top row first, as bytes or as a whole number (little end first)."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height, self.size = width, height, width * height
        self._not_last = self.number((b"\1" * (width - 1) + b"\0") * height)

    def in_bands(self, work: Callable[..., int], *planes: bytes, margin: int = 0) -> bytes:
        """Return the plane whose number ``work`` makes of a ``Planes`` and of parts of the given ones, band by band.

        The value of a pixel may depend on pixels up to ``margin`` rows away. The planes
        passed in may have several bytes a pixel.
        """
        rows, made = max(1, BAND_PX // self.width), []
        for top in range(0, self.height, rows):
            bottom = min(self.height, top + rows)
            low, high = max(0, top - margin), min(self.height, bottom + margin)
            band = Planes(self.width, high - low)
            lengths = [len(plane) // self.height for plane in planes]
            parts = (plane[low * length : high * length] for plane, length in zip(planes, lengths, strict=True))
            done = band.plane(work(band, *parts))
            made.append(done[(top - low) * self.width : (bottom - low) * self.width])
        return b"".join(made)

    def both(self, one: bytes, two: bytes) -> int:
        """Return the bits that two planes share."""
        return self.number(one) & self.number(two)

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

    def squares(self, plane: bytes) -> int:
        """Return ``OF_TWO`` where a pixel belongs to a square of two by two equal ones,
        with ``OF_THREE`` to one of three by three.

        In a band this looks two rows up and down.
        """
        right, below, step = self.same_right(plane), self.same_below(plane), 8 * self.width
        corner = right & below & right >> step
        pair = corner | corner << 8
        three = corner & corner >> 8 & corner >> step & corner >> step + 8
        row = three | three << 8 | three << 16
        return (pair | pair << step) | (row | row << step | row << 2 * step) << 1

    def middles(self, plane: bytes) -> int:
        """Return 1 where a pixel equals all eight around it. In a band this looks two rows up and down."""
        right, below, step = self.same_right(plane), self.same_below(plane), 8 * self.width
        corner = right & below & right >> step
        return (corner & corner >> 8 & corner >> step & corner >> step + 8) << step + 8

    def grown(self, ones: int) -> int:
        """Return 1 where a pixel or one of its eight neighbours is 1."""
        step = 8 * self.width
        row = ones | (ones & self._not_last) << 8 | ones >> 8 & self._not_last
        return (row | row << step | row >> step) & (1 << 8 * self.size) - 1

    def _same(self, difference: int) -> int:
        return self.number(self.plane(difference).translate(_IS_ZERO))
