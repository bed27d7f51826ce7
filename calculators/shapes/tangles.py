"""Lines that cross or touch where they should not, found on a grid, so that they can be fitted more closely.

Curves may leave the points they follow by the tolerance, to either side. Where two edges run closer than that, or a
curve swings across its own neighbour, regions would overlap; this finds the lines to which that happens.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from calculators.shapes.cubics import Piece, at

#: A cubic is looked at as so many straight parts at most, a short one as fewer.
MOST_PARTS = 12
#: The side of a cell of the grid, in pixels.
CELL = 4.0

Part = tuple[complex, complex, int, int, int]


def straightened(piece: Piece, per_pixel: float = 0.5) -> list[complex]:
    """Return points along ``piece``, its ends among them; of a straight one those alone."""
    if len(piece) == 2:
        return list(piece)
    length = abs(piece[1] - piece[0]) + abs(piece[2] - piece[1]) + abs(piece[3] - piece[2])
    count = min(MOST_PARTS, 3 + int(length * per_pixel))
    return [piece[0], *(at(piece, step / count) for step in range(1, count)), piece[3]]


def tangled(lines: Sequence[Sequence[Piece]], among: Iterable[int] | None = None) -> set[int]:
    """Return the places in ``lines`` (each the pieces of one line) of those that cross another or themselves.

    Lines may meet at their ends. With ``among`` only crossings with one of those lines are looked for.
    """
    cells: dict[tuple[int, int], list[Part]] = {}
    for place, pieces in enumerate(lines):
        count = 0
        for piece in pieces:
            points = straightened(piece)
            for start, end in zip(points, points[1:]):
                part = start, end, place, count, 0
                count += 1
                for cell in _cells(start, end):
                    cells.setdefault(cell, []).append(part)
    counts = [sum(len(straightened(piece)) - 1 for piece in pieces) for pieces in lines]
    looked_at = None if among is None else set(among)
    found: set[int] = set()
    for held in cells.values():
        if len(held) < 2:
            continue
        for place, one in enumerate(held):
            for two in held[place + 1 :]:
                first, second = one[2], two[2]
                if first in found and second in found:
                    continue
                if looked_at is not None and first not in looked_at and second not in looked_at:
                    continue
                if first == second:
                    apart = abs(one[3] - two[3])
                    if apart <= 1 or apart == counts[first] - 1:
                        continue
                elif one[0] in two[:2] or one[1] in two[:2]:
                    continue
                if _cross(one[0], one[1], two[0], two[1]):
                    found |= {first, second}
    return found


def _cells(start: complex, end: complex) -> set[tuple[int, int]]:
    """Return the cells that a straight part may pass: those of its box where it is short, along it where it is long."""
    steps = int(abs(end - start) / CELL) + 1
    cells: set[tuple[int, int]] = set()
    before = start
    for step in range(1, steps + 1):
        here = start + (end - start) * (step / steps)
        left, right = sorted((int(before.real // CELL), int(here.real // CELL)))
        top, bottom = sorted((int(before.imag // CELL), int(here.imag // CELL)))
        cells.update((x, y) for x in range(left, right + 1) for y in range(top, bottom + 1))
        before = here
    return cells


def _cross(a: complex, b: complex, c: complex, d: complex) -> bool:
    """Return whether two straight parts have a point in common."""
    ab, cd = b - a, d - c
    one = _side(ab, c - a)
    two = _side(ab, d - a)
    if one > 0 < two or one < 0 > two:
        return False
    three = _side(cd, a - c)
    four = _side(cd, b - c)
    if three > 0 < four or three < 0 > four:
        return False
    if one == two == three == four == 0:
        along = ab if abs(ab) >= abs(cd) else cd
        spans = [sorted(((p * along.conjugate()).real for p in pair)) for pair in ((a, b), (c, d))]
        return spans[0][1] >= spans[1][0] and spans[1][1] >= spans[0][0]
    return True


def _side(along: complex, to: complex) -> float:
    return along.real * to.imag - along.imag * to.real
