"""The box round curves, exactly: where they turn back counts, not where their pieces end."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from calculators.shapes.cubics import Piece, at


def bounds(rings: Iterable[Sequence[Piece]]) -> tuple[complex, complex]:
    """Return the corners with the least and with the greatest coordinates of what rings enclose.

    Raises ValueError if there are none.

    >>> bounds([[(0j, 0 + 4j, 4 + 4j, 4 + 0j), (4 + 0j, 0j)]])
    (0j, (4+3j))
    """
    points = [place for ring in rings for piece in ring for place in (piece[0], *_turning(piece))]
    across, up = [place.real for place in points], [place.imag for place in points]
    return complex(min(across), min(up)), complex(max(across), max(up))


def _turning(piece: Piece) -> list[complex]:
    """Return the points of a cubic where it runs straight across or straight up."""
    if len(piece) == 2:
        return []
    made = []
    for parts in ([each.real for each in piece], [each.imag for each in piece]):
        start, one, two, end = parts
        cubic, square, line = end - start + 3 * (one - two), 2 * (start - 2 * one + two), one - start
        made += [at(piece, share) for share in _zeros(cubic, square, line) if 0 < share < 1]
    return made


def _zeros(square: float, linear: float, constant: float) -> list[float]:
    """Return where square x² + linear x + constant is 0."""
    if abs(square) < 1e-12 * (abs(linear) + abs(constant) + 1e-300):
        return [-constant / linear] if linear else []
    root = linear * linear - 4 * square * constant
    if root < 0:
        return []
    middle = -(linear + (root**0.5 if linear >= 0 else -(root**0.5))) / 2
    return [middle / square, *([constant / middle] if middle else [])]
