"""Pictures in other pixels: turned, mirrored, resampled and slanted, over the white of the paper.

Each output pixel is the mean of source pixels weighted by a triangle over them, or over the output pixel where that is
larger. Outside of the picture is white. Rows are long whole numbers with 16 bits a sample, so that one multiplication
weighs a whole row; down first, and across the same way with rows and columns exchanged.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil, floor

from calculators.sheets.grounds import on_colour

#: Weights add up to this.
WHOLE = 256


@dataclass(frozen=True)
class Pixels:
    """Red, green and blue as planes of one byte a pixel, top row first."""

    planes: tuple[bytes, bytes, bytes]
    width: int
    height: int

    def mirrored(self) -> Pixels:
        """Return the same left for right."""
        width = self.width
        return Pixels(_each(self.planes, lambda plane: b"".join(_rows(plane[::-1], width)[::-1])), width, self.height)

    def flipped(self) -> Pixels:
        """Return the same upside down, top for bottom."""
        width = self.width
        return Pixels(_each(self.planes, lambda plane: b"".join(_rows(plane, width)[::-1])), width, self.height)

    def turned(self) -> Pixels:
        """Return the same turned by a quarter to the left."""
        width, height = self.width, self.height
        return Pixels(
            _each(self.planes, lambda plane: b"".join(plane[column::width] for column in reversed(range(width)))),
            height,
            width,
        )

    def interleaved(self) -> bytes:
        """Return three bytes a pixel."""
        made = bytearray(3 * self.width * self.height)
        made[0::3], made[1::3], made[2::3] = self.planes
        return bytes(made)


def over_white(rgba: bytes, width: int, height: int) -> Pixels:
    """Return RGBA pixels, alpha straight, as they look on white."""
    made = on_colour(rgba, None, b"\xff" * 3)
    return Pixels((made[0::4], made[1::4], made[2::4]), width, height)


@dataclass(frozen=True)
class Axis:
    """How one axis is resampled: ``count`` pixels, in which the source begins at ``start`` and a source pixel is
    ``scale`` wide.
    """

    scale: float
    start: float
    count: int


def resampled(source: Pixels, across: Axis, down: Axis, slant: float = 0.0) -> Pixels:
    """Return a picture in other pixels; each row lies ``slant`` of its number further to the right.

    >>> plain = Pixels((bytes([0] * 4),) * 3, 2, 2)
    >>> resampled(plain, Axis(1, 1, 4), Axis(1, 0, 2)).planes[0].hex()
    'ff0000ffff0000ff'
    """

    def one(plane: bytes) -> bytes:
        upright = _resampled_down(plane, source.width, source.height, down)
        flipped = _transposed(upright, source.width, down.count)
        made = _transposed(_resampled_down(flipped, down.count, source.width, across), down.count, across.count)
        return _slanted(made, across.count, slant) if slant else made

    return Pixels(_each(source.planes, one), across.count, down.count)


def _resampled_down(plane: bytes, width: int, height: int, axis: Axis) -> bytes:
    white, half, low = (int.from_bytes(pair * width, "little") for pair in (b"\xff\0", b"\x80\0", b"\xff\0"))
    spread: dict[int, int] = {}
    rows: list[bytes] = []
    for number in range(axis.count):
        first, weights = _weights(number, axis)
        total = half
        for row, weight in enumerate(weights, first):
            if 0 <= row < height:
                if row not in spread:
                    spread[row] = _lanes(plane[row * width : (row + 1) * width])
                total += weight * spread[row]
            else:
                total += weight * white
        for row in [each for each in spread if each < first]:
            del spread[row]
        rows.append((total >> 8 & low).to_bytes(2 * width, "little")[::2])
    return b"".join(rows)


def _weights(number: int, axis: Axis) -> tuple[int, list[int]]:
    """Return the first source pixel that an output pixel is made of, and the weights from it on, WHOLE in all."""
    middle = (number + 0.5 - axis.start) / axis.scale
    reach = max(1.0, 1 / axis.scale)
    first, last = ceil(middle - reach - 0.5), floor(middle + reach - 0.5)
    shares = [max(0.0, 1 - abs(each + 0.5 - middle) / reach) for each in range(first, last + 1)]
    total = sum(shares)
    # Rounded sums, so that no error adds up.
    made, done, so_far = [], 0, 0.0
    for share in shares:
        so_far += share
        upto = round(WHOLE * so_far / total)
        made.append(upto - done)
        done = upto
    return first, made


def _slanted(plane: bytes, width: int, slant: float) -> bytes:
    low, half, ends = (int.from_bytes(pair * width, "little") for pair in (b"\xff\0", b"\x80\0", b"\xff\0"))
    every = (1 << 16 * width) - 1
    rows = []
    for number, row in enumerate(_rows(plane, width)):
        off = slant * (number + 0.5)
        whole = floor(off)
        part = round(WHOLE * (off - whole))
        total = half
        for shift, weight in ((whole, WHOLE - part), (whole + 1, part)):
            # White comes in at the side.
            moved = _lanes(row) ^ ends
            moved = moved << 16 * shift if shift > 0 else moved >> -16 * shift
            total += weight * (moved & every ^ ends)
        rows.append((total >> 8 & low).to_bytes(2 * width, "little")[::2])
    return b"".join(rows)


def _lanes(row: bytes) -> int:
    """Return samples as a whole number with 16 bits for each."""
    made = bytearray(2 * len(row))
    made[::2] = row
    return int.from_bytes(made, "little")


def _transposed(plane: bytes, width: int, height: int) -> bytes:
    """Return a plane of ``width`` x ``height`` with rows and columns exchanged."""
    return b"".join(plane[column : width * height : width] for column in range(width))


def _rows(plane: bytes, width: int) -> list[bytes]:
    return [plane[at : at + width] for at in range(0, len(plane), width)]


def _each(planes: tuple[bytes, bytes, bytes], work: Callable[[bytes], bytes]) -> tuple[bytes, bytes, bytes]:
    red, green, blue = map(work, planes)
    return red, green, blue
