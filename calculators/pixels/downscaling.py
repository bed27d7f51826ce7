"""A picture made smaller by whole halvings, so that work on it takes bounded time and memory."""

from __future__ import annotations

from calculators.pixels.raster import Raster, has_clear

#: The most pixels of a picture under work.
MOST_WORKED = 4_000_000


def worked(raster: Raster, most: int = MOST_WORKED) -> Raster:
    """Return ``raster`` halved until it has at most ``most`` pixels, or itself if it already has.

    Each pixel of an opaque picture is the mean of four. A picture with transparency keeps every second pixel, since a
    mean would mix in invisible colours. An odd last row or column is dropped.
    """
    clear = raster.width * raster.height > most and has_clear(raster)
    while raster.width * raster.height > most and min(raster.width, raster.height) > 1:
        raster = _every_second(raster) if clear else _halved(raster)
    return raster


def thinned(raster: Raster, most: int = MOST_WORKED) -> Raster:
    """Return ``raster`` thinned to every second pixel until it has at most ``most``, or itself if it already has."""
    while raster.width * raster.height > most and min(raster.width, raster.height) > 1:
        raster = _every_second(raster)
    return raster


def _every_second(raster: Raster) -> Raster:
    width, height = raster.width // 2, raster.height // 2
    pixels = memoryview(raster.rgba).cast("I")
    rows = (pixels[row * raster.width : row * raster.width + 2 * width : 2] for row in range(0, 2 * height, 2))
    return Raster(b"".join(row.tobytes() for row in rows), width, height, raster.source)


def _halved(raster: Raster) -> Raster:
    """Add up four pixels at a time, the channels of a whole row as 16-bit parts of two numbers."""
    width, height, length = raster.width // 2, raster.height // 2, 4 * raster.width
    view = memoryview(raster.rgba)
    low = int.from_bytes(b"\xff\0" * (length // 2), "little")
    two = int.from_bytes(b"\2\0" * (length // 2), "little")
    rows = []
    for row in range(0, 2 * height, 2):
        first, second = (int.from_bytes(view[at * length : (at + 1) * length], "little") for at in (row, row + 1))
        means = 0
        for shift in (0, 8):
            sums = (first >> shift & low) + (second >> shift & low)
            means |= (sums + (sums >> 32) + two >> 2 & low) << shift
        packed = memoryview(means.to_bytes(length, "little")).cast("I")
        rows.append(packed[: 2 * width : 2].tobytes())
    return Raster(b"".join(rows), width, height, raster.source)
