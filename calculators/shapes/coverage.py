"""How much of each pixel of a small box a region covers, exactly, given the part of
its outline that crosses the box.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import MutableMapping, MutableSequence, Sequence
from itertools import accumulate
from math import ceil, tau
from typing import Protocol

#: An outline is closed round the box at this distance from it, in pixels.
FAR = 400.0


def covered(path: Sequence[complex], left: int, top: int, width: int, height: int) -> list[float]:
    """Return for each pixel of a box, row by row, its share on the right of ``path``.

    ``path`` (x + y j, y down) enters and leaves the box; its ends lie outside. Each edge adds the signed area
    between it and the right side of its row, summed along the rows afterwards.
    """
    corner = complex(left, top)
    ring = [each - corner for each in path]
    ring += _round(ring[0], ring[-1], complex(width / 2, height / 2))
    sums = [[0.0] * (width + 2) for _ in range(height)]
    _add_path(sums, [ring[-1], *ring], width, height)
    return _shares(sums, width)


class OpenOutline:
    """An outline round a box with one stretch to come, which may be tried in several ways.

    ``before`` and ``after`` the stretch, in the order of the outline; their far ends lie outside the box. The box is
    left, top, width and height.
    """

    def __init__(self, before: Sequence[complex], after: Sequence[complex], box: tuple[int, int, int, int]) -> None:
        left, top, self.width, self.height = box
        self.corner = complex(left, top)
        behind, ahead = [each - self.corner for each in before], [each - self.corner for each in after]
        far = _round(behind[0], ahead[-1], complex(self.width / 2, self.height / 2))
        self.start, self.end = behind[-1], ahead[0]
        self.sums = [[0.0] * (self.width + 2) for _ in range(self.height)]
        _add_path(self.sums, [*ahead, *far, *behind], self.width, self.height)

    def covered(self, stretch: Sequence[complex]) -> list[float]:
        """Return what ``covered`` does, with the outline closed by ``stretch``."""
        sums = [row[:] for row in self.sums]
        corner = self.corner
        _add_path(sums, [self.start, *(each - corner for each in stretch), self.end], self.width, self.height)
        return _shares(sums, self.width)


def _add_path(sums: list[list[float]], path: Sequence[complex], width: int, height: int) -> None:
    """Add the edges of ``path`` from point to point."""
    start = path[0]
    above, below = (start.imag <= 0, start.imag >= height)
    for end in path[1:]:
        # Most edges lie above or below the box.
        y = end.imag
        start_above, start_below, above, below = above, below, y <= 0, y >= height
        if not ((start_above and above) or (start_below and below)):
            add_edge(sums, start, end, width, height)
        start = end


def _shares(sums: list[list[float]], width: int) -> list[float]:
    shares: list[float] = []
    for row in sums:
        shares += map(abs, accumulate(row[:width]))
    return shares


def _round(first: complex, last: complex, middle: complex) -> list[complex]:
    """Return far points that close a path from ``first`` to ``last`` on its right-hand side."""
    leaves, comes = phase(last - middle), phase(first - middle)
    sweep = (comes - leaves) % tau
    return [middle + rect(FAR, leaves + sweep * part / 3) for part in range(4)]


class Rows(Protocol):
    """The sums of each row, by its number: in a list, or in a mapping that makes the row that is asked for."""

    def __getitem__(self, row: int, /) -> MutableSequence[float] | MutableMapping[int, float]: ...


def add_edge(
    sums: Rows,
    start: complex,
    end: complex,
    width: int,
    height: int,
) -> None:
    """Add the signed area between the edge from ``start`` to ``end`` and the right side of each row, in pixels.

    Summed along a row, what was added is the part of each pixel that lies on the right
    of the edges. Columns may reach ``width``.
    """
    x, y, to_x, to_y = start.real, start.imag, end.real, end.imag
    if y == to_y:
        return
    sign = 1.0
    if y > to_y:
        x, y, to_x, to_y, sign = to_x, to_y, x, y, -1.0
    if to_y <= 0 or y >= height or (x > width + 1 < to_x):
        return
    slope = (to_x - x) / (to_y - y)
    if y < 0:
        x, y = x - y * slope, 0.0
    to_y = min(to_y, height)
    row = int(y)
    while y < to_y:
        below = row + 1 if row + 1 < to_y else to_y
        rise = below - y
        after = x + slope * rise
        low, high = (x, after) if x < after else (after, x)
        first = int(low)
        if 0 <= low and high <= first + 1 and high <= width:
            # Most edges stay within a pixel.
            mean, signed, parts = (low + high) / 2 - first, sign * rise, sums[row]
            parts[first] += signed * (1 - mean)
            parts[first + 1] += signed * mean
        else:
            _add_in_row(sums[row], sign * rise, low, high, width)
        x, y = after, below
        row += 1


def _add_in_row(
    row: MutableSequence[float] | MutableMapping[int, float], rise: float, low: float, high: float, width: int
) -> None:
    if low >= width:
        return
    if high <= 0:
        row[0] += rise
        return
    if low < 0 or high > width:
        # Only the part within the row's pixels is spread; what lies left counts whole.
        span = high - low
        if low < 0:
            row[0] += rise * -low / span
        inside_low, inside_high = max(low, 0.0), min(high, float(width))
        rise *= (inside_high - inside_low) / span
        low, high = inside_low, inside_high
    first = int(low)
    if high <= first + 1:
        mean = (low + high) / 2 - first
        row[first] += rise * (1 - mean)
        row[first + 1] += rise * mean
        return
    each = rise / (high - low)
    for pixel in range(first, ceil(high)):
        begin, stop = low if low > pixel else pixel, high if high < pixel + 1 else pixel + 1
        part = each * (stop - begin)
        mean = (begin + stop) / 2 - pixel
        row[pixel] += part * (1 - mean)
        row[pixel + 1] += part * mean
