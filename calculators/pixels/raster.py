"""Lines of a decoded picture: a sample of its rows or columns, as lists of brightness."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from operator import add, sub

from calculators.files.picture import Picture

#: Brightness is red + 2 green + blue, so that it stays whole: this is white.
WHITE = 4 * 255

ACROSS, DOWN = "across", "down"
#: So many pixels are compared at once.
_PART = 1 << 16


@dataclass(frozen=True)
class Raster:
    """Decoded pixels: ``rgba`` holds ``height`` x ``width`` x 4 bytes, top row first, alpha straight.

    ``source`` is the digest of their file; with the size it is the key of cached findings.
    """

    rgba: bytes
    width: int
    height: int
    source: str = ""

    def length(self, axis: str) -> int:
        """Return the number of pixels of a line along ``axis``."""
        return self.width if axis == ACROSS else self.height

    def count(self, axis: str) -> int:
        """Return the number of lines along ``axis``."""
        return self.height if axis == ACROSS else self.width

    def channel(self, axis: str, line: int, start: int, stop: int, channel: int) -> bytes:
        """Return one channel (0 red to 3 alpha) of pixels ``start`` to ``stop`` of a line."""
        if axis == ACROSS:
            first = 4 * (line * self.width + start) + channel
            return self.rgba[first : 4 * (line * self.width + stop) : 4]
        step = 4 * self.width
        return self.rgba[start * step + 4 * line + channel : stop * step : step]

    def brightness(self, axis: str, line: int, start: int, stop: int, clear: bool) -> list[int]:
        """Return the brightness along a line, 0 to 1020.

        Where the picture may be ``clear`` in places the art counts with its alpha, so that a black
        shape on nothing has edges too: 0 is clear, 1020 black, 2040 white.
        """
        red, green, blue = (self.channel(axis, line, start, stop, each) for each in range(3))
        grey = list(map(add, map(add, red, blue), map(add, green, green)))
        if not clear:
            return grey
        alpha = self.channel(axis, line, start, stop, 3)
        return [part * (level + WHITE) // 255 for level, part in zip(grey, alpha, strict=True)]


def raster_of(picture: Picture) -> Raster:
    """Return the pixels of a picture that was read with them."""
    return Raster(picture.pixels, *picture.size_px, picture.digest)


def sampled_lines(raster: Raster, axis: str, *, most_lines: int, most_length: int, clear: bool) -> list[list[int]]:
    """Return up to ``most_lines`` lines along ``axis`` with the most contrast.

    All are cut to the same stretch of at most ``most_length`` pixels, so that the nth number of
    each lies in one column (or row) of the picture.
    """
    length, count = raster.length(axis), raster.count(axis)
    start, stop = 0, length
    if length > most_length:
        start = busiest(raster, axis, most_length, clear)
        stop = start + most_length
    looked_at = min(count, 3 * most_lines)
    places = [index * count // looked_at for index in range(looked_at)]
    lines = [raster.brightness(axis, place, start, stop, clear) for place in places]
    if looked_at <= most_lines:
        return lines
    contrast = [sum(map(abs, map(sub, line[1:], line))) for line in lines]
    busiest_indexes = sorted(sorted(range(looked_at), key=contrast.__getitem__)[-most_lines:])
    return [lines[index] for index in busiest_indexes]


def busiest(raster: Raster, axis: str, most_length: int, clear: bool) -> int:
    """Return the start of the stretch of ``most_length`` with the most contrast on 24 lines."""
    length, count = raster.length(axis), raster.count(axis)
    contrast = [0] * (length - 1)
    for index in range(24):
        line = raster.brightness(axis, (2 * index + 1) * count // 48, 0, length, clear)
        contrast = list(map(add, contrast, map(abs, map(sub, line[1:], line))))
    sums = list(accumulate(contrast, initial=0))
    held = list(map(sub, sums[most_length - 1 :], sums))
    return held.index(max(held))


def has_clear(raster: Raster) -> bool:
    """Return whether any pixel is not wholly opaque."""
    return any_clear(raster.rgba)


def any_clear(rgba: bytes) -> bool:
    """Return whether any of some pixels is not wholly opaque.

    Compared in parts, which takes a third of the time that counting takes, and stops at the first that is clear.
    """
    opaque = b"\xff" * _PART
    for start in range(3, len(rgba), 4 * _PART):
        alpha = rgba[start : start + 4 * _PART : 4]
        if alpha != opaque[: len(alpha)]:
            return True
    return False
