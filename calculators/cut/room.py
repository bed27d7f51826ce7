"""Whether a circle fits anywhere into a region, looked for in a few places: most regions are wide somewhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from calculators.shapes.offsets import Polygon

#: Level lines on which places are looked for, and the most places that are tried.
LINES, MOST_TRIED = 15, 12


def has_room(rings: Sequence[Polygon], radius: float) -> bool:
    """Return whether a circle was found that lies within ``rings``, by even-odd. False may mean that none was found.

    >>> square = [0j, 4 + 0j, 4 + 4j, 4j]
    >>> has_room([square], 1.9), has_room([square], 2.1)
    (True, False)
    """
    edges = [edge for ring in rings for edge in pairwise([*ring, ring[0]])]
    down = [point.imag for ring in rings for point in ring]
    top, bottom = min(down), max(down)
    if bottom - top < 2 * radius:
        return False
    spans = sorted(
        (
            (end - start, complex((start + end) / 2, y))
            for step in range(1, LINES + 1)
            for y in (top + step * (bottom - top) / (LINES + 1),)
            for start, end in _spans(edges, y)
        ),
        key=lambda each: -each[0],
    )
    tried = [middle for length, middle in spans if length >= 2 * radius][:MOST_TRIED]
    return any(_is_clear(edges, middle, radius) for middle in tried)


def _spans(edges: Sequence[tuple[complex, complex]], y: float) -> Iterator[tuple[float, float]]:
    """Yield from where to where a level line lies within."""
    crossed = sorted(
        start.real + (y - start.imag) / (end.imag - start.imag) * (end.real - start.real)
        for start, end in edges
        if (start.imag <= y) != (end.imag <= y)
    )
    yield from zip(crossed[::2], crossed[1::2], strict=False)


def _is_clear(edges: Sequence[tuple[complex, complex]], middle: complex, radius: float) -> bool:
    """Return whether no edge comes nearer to ``middle`` than ``radius``."""
    left, right, top, bottom = middle.real - radius, middle.real + radius, middle.imag - radius, middle.imag + radius
    for start, end in edges:
        if start.real < left > end.real or start.real > right < end.real:
            continue
        if start.imag < top > end.imag or start.imag > bottom < end.imag:
            continue
        way = end - start
        whole = way.real**2 + way.imag**2
        share = ((middle - start) * way.conjugate()).real / whole if whole else 0.0
        if abs(start + max(0.0, min(1.0, share)) * way - middle) < radius:
            return False
    return True
