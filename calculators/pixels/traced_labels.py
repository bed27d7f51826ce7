"""Traced outlines as pixels again, with the region at each pixel's middle, for comparison with the picture."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import chain, pairwise
from math import ceil, floor, sqrt

from calculators.pixels.colour_table import Rgb
from calculators.pixels.flat_colours import NONE
from calculators.pixels.small_parts import Box
from calculators.pixels.tracing import Traced
from calculators.shapes.cubics import Piece, at

#: The tolerance in pixels of straight lines along a curve.
FOLLOWED = 0.03
#: The number of lines that sample a pixel, and the transparent share of a pixel that is ignored.
LINES, NEARLY_NONE = 4, 0.02


def labels_of(found: Traced) -> tuple[bytes, tuple[Rgb, ...]]:
    """Return a byte a pixel, the place of its region in ``found``, and the colours of those places.

    The omitted ground comes after the regions; transparent pixels have ``NONE``.
    """
    colours = [region.rgb for region in found.regions]
    rest = NONE if found.ground is None else len(colours)
    plane = bytearray([rest]) * (found.width * found.height)
    for label, region in enumerate(found.regions):
        rows: defaultdict[int, list[float]] = defaultdict(list)
        for ring in region.rings:
            for piece in ring.pieces:
                _cross(rows, piece)
        for row, crossed in rows.items():
            if 0 <= row < found.height:
                _fill(plane, row * found.width, found.width, sorted(crossed), label)
    return bytes(plane), (*colours, *([found.ground] if found.ground else []))


def rendered(found: Traced, boxes: Sequence[Box]) -> list[list[tuple[float, float, float] | None]]:
    """Return what the outlines show of each box, row by row: the mean colour of
    each pixel, None where some of it is clear.

    Each pixel is sampled along ``LINES`` lines, each over its whole width.
    """
    colours = [region.rgb for region in found.regions]
    mixed = [_Mixed(box, len(colours) + 1) for box in boxes]
    wanted: defaultdict[int, list[_Mixed]] = defaultdict(list)
    for each in mixed:
        for line in range(each.box[1] * LINES, each.box[3] * LINES):
            wanted[line].append(each)
    for label, region in enumerate(found.regions):
        lines: defaultdict[int, list[float]] = defaultdict(list)
        for piece in chain.from_iterable(ring.pieces for ring in region.rings):
            low, high = min(point.imag for point in piece), max(point.imag for point in piece)
            if any(line in wanted for line in range(floor(low * LINES), ceil(high * LINES) + 1)):
                _cross(lines, piece, LINES)
        for line in lines.keys() & wanted.keys():
            crossed = sorted(lines[line])
            for each in wanted[line]:
                each.add(line, crossed, label)
    return [each.colours([*colours, found.ground]) for each in mixed]


class _Mixed:
    """The share of each pixel of a box that each label covers."""

    def __init__(self, box: Box, labels: int) -> None:
        self.box, self._width = box, box[2] - box[0]
        self._shares = [[0.0] * labels for _ in range(self._width * (box[3] - box[1]))]

    def add(self, line: int, crossed: Sequence[float], label: int) -> None:
        """Add what lies between every two places where a line is ``crossed``."""
        left, first = self.box[0], (line // LINES - self.box[1]) * self._width
        for start, stop in zip(crossed[::2], crossed[1::2], strict=False):
            start, stop = max(0.0, start - left), min(float(self._width), stop - left)
            for column in range(floor(start), ceil(stop)):
                share = min(stop, column + 1.0) - max(start, float(column))
                if share > 0:
                    self._shares[first + column][label] += share / LINES

    def colours(self, colours: Sequence[Rgb | None]) -> list[tuple[float, float, float] | None]:
        made: list[tuple[float, float, float] | None] = []
        for shares in self._shares:
            # The ground is the part without a region.
            shares[-1] = max(0.0, 1.0 - sum(shares))
            if colours[-1] is None and shares[-1] > NEARLY_NONE:
                made.append(None)
                continue
            parts = [(share, rgb) for share, rgb in zip(shares, colours, strict=True) if share and rgb]
            whole = sum(share for share, _ in parts)
            red, green, blue = (sum(share * rgb[channel] for share, rgb in parts) / whole for channel in range(3))
            made.append((red, green, blue))
        return made


def _cross(rows: defaultdict[int, list[float]], piece: Piece, times: int = 1) -> None:
    """Note where a piece crosses the middles of rows, of which a pixel has so many ``times``."""
    steps = 1
    if len(piece) == 4:
        start, one, other, end = piece
        steps = max(1, ceil(sqrt(0.75 * max(abs(start - 2 * one + other), abs(one - 2 * other + end)) / FOLLOWED)))
    for start, end in pairwise([piece[0], *(at(piece, step / steps) for step in range(1, steps)), piece[-1]]):
        if times > 1:
            start, end = complex(start.real, start.imag * times), complex(end.real, end.imag * times)
        if start.imag > end.imag:
            start, end = end, start
        first, last = ceil(start.imag - 0.5), ceil(end.imag - 0.5)
        for row in range(first, last):
            rows[row].append(start.real + (row + 0.5 - start.imag) * (end.real - start.real) / (end.imag - start.imag))


def _fill(plane: bytearray, left: int, width: int, crossed: Sequence[float], label: int) -> None:
    for start, stop in zip(crossed[::2], crossed[1::2], strict=False):
        first, last = max(0, ceil(start - 0.5)), min(width, ceil(stop - 0.5))
        if last > first:
            plane[left + first : left + last] = bytes([label]) * (last - first)
