"""The outer edge of what rings fill, and of what lies within a distance of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from calculators.shapes.areas import enclosed
from calculators.shapes.cubics import Piece
from calculators.shapes.grid import Rings
from calculators.shapes.offsets import as_pieces, spread
from calculators.shapes.set_operations import cleaned, intersection
from calculators.shapes.snap_rounding import TooTangled

Polygon = tuple[complex, ...]


def outer_edges(rings: Rings, distance: float, followed: float) -> tuple[list[Polygon], list[Polygon]] | None:
    """Return the rings round what ``rings`` fill by winding, and round what lies within ``distance``, without holes.

    Curves are followed within ``followed``. None if the rings are too tangled.

    >>> square = [(0j, 4 + 0j), (4 + 0j, 4 + 4j), (4 + 4j, 4j), (4j, 0j)]
    >>> inner = [(1 + 1j, 1 + 3j), (1 + 3j, 3 + 3j), (3 + 3j, 3 + 1j), (3 + 1j, 1 + 1j)]
    >>> [len(edges) for edges in outer_edges([square, inner], 0.5, 0.01)]
    [1, 1]
    """
    try:
        own = _without_holes(spread(rings, 0, followed=followed).rings)
        return own, _without_holes(spread(rings, distance, followed=followed).rings) if distance else own
    except TooTangled:
        return None


def shown(shapes: Iterable[tuple[Rings, bool]], size: complex, followed: float) -> list[list[Piece]] | None:
    """Return what of ``shapes``, each filled by even-odd or else by winding, lies in a rectangle from 0 to ``size``.

    None if they are too tangled.
    """
    try:
        rings = [ring for rings, even_odd in shapes for ring in cleaned(rings, even_odd=even_odd, followed=followed)]
        return intersection(rings, [_rectangle(size)], followed=followed)
    except TooTangled:
        return None


def clipped(polygons: Sequence[Polygon], size: complex) -> tuple[Polygon, ...]:
    """Return what of ``polygons`` lies in a rectangle from 0 to ``size``.

    >>> clipped([(-1 + 0j, 1 + 0j, 1 + 1j, -1 + 1j)], 5 + 5j)
    ((1j, 0j, (1+0j), (1+1j)),)
    """
    rings = intersection([as_pieces(each) for each in polygons], [_rectangle(size)])
    return tuple(tuple(piece[0] for piece in ring) for ring in rings)


def _rectangle(size: complex) -> list[Piece]:
    return as_pieces([0j, complex(size.real, 0), size, complex(0, size.imag)])


def _without_holes(rings: Iterable[list[complex]]) -> list[Polygon]:
    return [tuple(ring) for ring in rings if enclosed(as_pieces(ring)) > 0]
