"""Traced outlines as pixels again: which region each pixel's middle lies in, so
that they can be held against their picture.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise
from math import ceil, sqrt

from calculators.pixels.colour_table import Rgb
from calculators.pixels.flat_colours import NONE
from calculators.pixels.tracing import Traced
from calculators.shapes.cubics import Piece, at

#: Straight lines follow a curve to within this of a pixel.
FOLLOWED = 0.03


def labels_of(found: Traced) -> tuple[bytes, tuple[Rgb, ...]]:
    """Return a byte a pixel, the place of its region in ``found``, and the colours of those places.

    The ground that was left out comes after the regions; what is clear has ``NONE``.
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


def _cross(rows: defaultdict[int, list[float]], piece: Piece) -> None:
    """Note where a piece crosses the middles of rows."""
    steps = 1
    if len(piece) == 4:
        start, one, other, end = piece
        steps = max(1, ceil(sqrt(0.75 * max(abs(start - 2 * one + other), abs(one - 2 * other + end)) / FOLLOWED)))
    for start, end in pairwise([piece[0], *(at(piece, step / steps) for step in range(1, steps)), piece[-1]]):
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
