"""Where along a cubic curve points lie nearest: one step of Newton's method for many points at once.

A share is a parameter of the curve, 0 to 1. Points come as their x and y, since complex numbers take twice as long.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf


def moved_shares(
    piece: Sequence[complex], across_of: Sequence[float], down_of: Sequence[float], shares: Sequence[float]
) -> list[float]:
    """Return the same shares as ``nearest_shares``, and nothing else."""
    (start_x, start_y, linear_x, linear_y, square_x, square_y, cube_x, cube_y), slope = _polynomials(piece)
    twice_x, twice_y, thrice_x, thrice_y = slope
    moved = []
    for x, y, share in zip(across_of, down_of, shares, strict=True):
        right = linear_x + share * (twice_x + share * thrice_x)
        below = linear_y + share * (twice_y + share * thrice_y)
        length = right * right + below * below
        if length > 1e-12:
            across = start_x + share * (linear_x + share * (square_x + share * cube_x)) - x
            down = start_y + share * (linear_y + share * (square_y + share * cube_y)) - y
            share -= (right * across + below * down) / length
            if share < 0.0:
                share = 0.0
            elif share > 1.0:
                share = 1.0
        moved.append(share)
    return moved


def nearest_shares(
    piece: Sequence[complex],
    across_of: Sequence[float],
    down_of: Sequence[float],
    shares: Sequence[float],
    most: float = inf,
) -> tuple[list[float], float, float]:
    """Return shares moved towards the nearest places of the curve, the greatest distance, the greatest move.

    A distance over ``most`` ends it: what was moved until then, and no greatest distance or move.
    """
    (start_x, start_y, linear_x, linear_y, square_x, square_y, cube_x, cube_y), slope = _polynomials(piece)
    twice_x, twice_y, thrice_x, thrice_y = slope
    moved: list[float] = []
    worst, slid, limit = 0.0, 0.0, most * most
    # Tracing spends most of its time here: use squared distances, no calls, and floats, since complex numbers take
    # twice as long.
    for x, y, share in zip(across_of, down_of, shares, strict=True):
        across = start_x + share * (linear_x + share * (square_x + share * cube_x)) - x
        down = start_y + share * (linear_y + share * (square_y + share * cube_y)) - y
        right = linear_x + share * (twice_x + share * thrice_x)
        below = linear_y + share * (twice_y + share * thrice_y)
        length = right * right + below * below
        if length > 1e-12:
            ahead = right * across + below * down
            step = ahead / length
            ahead *= step
            if ahead > slid:
                slid = ahead
            share -= step
            if share < 0.0:
                share = 0.0
            elif share > 1.0:
                share = 1.0
            # The distance across the curve, to first order.
            apart = right * down - below * across
            apart *= apart / length
            if not -0.2 <= step <= 0.2:
                rest_x, rest_y = across - step * right, down - step * below
                apart = max(apart, rest_x * rest_x + rest_y * rest_y)
        else:
            apart = across * across + down * down
        if apart > worst:
            worst = apart
            if worst > limit:
                return moved, inf, inf
        moved.append(share)
    return moved, worst**0.5, slid**0.5


def _polynomials(piece: Sequence[complex]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the coefficients of a cubic, and those of its slope beyond the first, the same: x and y of each."""
    start, one, two, end = piece
    linear, square, cube = 3 * (one - start), 3 * (start - 2 * one + two), end - start + 3 * (one - two)
    twice, thrice = 2 * square, 3 * cube
    return (
        (start.real, start.imag, linear.real, linear.imag, square.real, square.imag, cube.real, cube.imag),
        (twice.real, twice.imag, thrice.real, thrice.imag),
    )
