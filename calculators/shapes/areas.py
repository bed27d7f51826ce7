"""The area within closed curves, and curves the other way round."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.shapes.cubics import Piece

#: Maximum distance that outlines move to correct an area, in pixels.
MOST_WIDENED = 0.3


def enclosed(pieces: Sequence[Piece]) -> float:
    """Return the area within closed pieces, positive if it is on their right (y down).

    Exact: by Green's theorem, which for a cubic gives a sum over pairs of its four points.
    """
    total = 0.0
    for piece in pieces:
        start, end = piece[0], piece[-1]
        total += start.real * end.imag - start.imag * end.real
        if len(piece) == 4:
            one, two, last = piece[1] - start, piece[2] - start, end - start
            total += 0.3 * (_cross(one, two) + _cross(one, last) + 2 * _cross(two, last))
    return total / 2


def backwards(pieces: Sequence[Piece]) -> list[Piece]:
    """Return pieces in the other direction."""
    return [piece[::-1] for piece in reversed(pieces)]


def _cross(one: complex, two: complex) -> float:
    return one.real * two.imag - one.imag * two.real


def widened(pieces: Sequence[Piece], missing: float, ring: bool) -> tuple[list[Piece], float]:
    """Return pieces moved outward, to their left, to enclose ``missing`` more
    square pixels, nearly, and how far that is.

    Each end of a piece is moved along the bisector of the two directions there, with the handle beside it; the ends
    of an open line stay.
    """
    length = sum(abs(piece[-1] - piece[0]) for piece in pieces)
    if not length:
        return list(pieces), 0.0
    out = max(-MOST_WIDENED, min(MOST_WIDENED, missing / length))
    leaves = [_unit(piece[1] - piece[0]) or _unit(piece[-1] - piece[0]) for piece in pieces]
    comes = [_unit(piece[-1] - piece[-2]) or _unit(piece[-1] - piece[0]) for piece in pieces]
    moves = []
    for before, after in zip([comes[-1], *comes[:-1]], leaves, strict=True):
        along = before + after
        # On the bisector a corner is moved further, a sharp one no more than twice as far.
        moves.append(-1j * out * along * 2 / max(abs(along) ** 2, abs(along)) if along else 0j)
    moves.append(moves[0])
    if not ring:
        moves[0] = moves[-1] = 0j
    moved = [
        (*(each + start for each in piece[: len(piece) // 2]), *(each + end for each in piece[len(piece) // 2 :]))
        for piece, start, end in zip(pieces, moves, moves[1:], strict=False)
    ]
    return moved, abs(out)


def _unit(way: complex) -> complex:
    return way / abs(way) if way else way
