"""Lines that cross or touch where they should not, found on a grid, so that they can be fitted more closely.

Curves may leave the points they follow by the tolerance, to either side. Where two edges run closer than that, or a
curve swings across its own neighbour, regions would overlap; this finds the lines to which that happens.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from calculators.shapes.cubics import Piece, at

#: A cubic is looked at as straight parts that leave it by no more than so many pixels: well below a micrometre as it is
#: printed. Of two that share an end by less, since they may cross right beside it.
OFF_CURVE, OFF_FINELY = 0.004, 0.0005
MOST_PARTS = 100
#: The side of a cell of the grid, in pixels.
CELL = 12.0


def straightened(piece: Piece, finely: bool = False) -> list[complex]:
    """Return points along ``piece``, its ends among them; of a straight one those alone."""
    if len(piece) == 2:
        return list(piece)
    start, one, two, end = piece
    bent = max(abs(start - 2 * one + two), abs(one - 2 * two + end))
    count = min(MOST_PARTS, 2 + int((0.75 * bent / (OFF_FINELY if finely else OFF_CURVE)) ** 0.5))
    return [piece[0], *(at(piece, step / count) for step in range(1, count)), piece[3]]


def tangled(lines: Sequence[Sequence[Piece]], among: Iterable[int] | None = None) -> set[int]:
    """Return the places in ``lines`` (each the pieces of one line) of those that cross another or themselves.

    Lines may meet at their ends. With ``among`` only crossings with one of those lines are looked for.
    """
    cells: dict[tuple[int, int], list[int]] = {}
    pieces = [(place, piece) for place, line in enumerate(lines) for piece in line]
    boxes: list[tuple[float, float, float, float]] = []
    for index, (_place, piece) in enumerate(pieces):
        boxes.append(_box(piece))
        for cell in _cells(piece, *boxes[-1]):
            cells.setdefault(cell, []).append(index)
    looked_at = None if among is None else set(among)
    found = {place for place, piece in pieces if (looked_at is None or place in looked_at) and _loops(piece)}
    tried: set[tuple[int, int]] = set()
    for held in cells.values():
        for first, one in enumerate(held):
            place, piece = pieces[one]
            left, top, right, bottom = boxes[one]
            for two in held[first + 1 :]:
                a, b, c, d = boxes[two]
                if a > right or c < left or b > bottom or d < top or (one, two) in tried:
                    continue
                tried.add((one, two))
                other, beside = pieces[two]
                if place in found and other in found:
                    continue
                if looked_at is not None and place not in looked_at and other not in looked_at:
                    continue
                if place == other and _follows(piece, beside):
                    continue
                if _parted(piece, beside) or _parted(beside, piece):
                    continue
                if _pieces_cross(piece, beside):
                    found |= {place, other}
    return found


def _parted(piece: Piece, beside: Piece) -> bool:
    """Return whether a straight line along the chord of ``piece`` parts the two: a curve lies among its points."""
    start = piece[0]
    along = piece[-1] - start
    x, y = along.real, along.imag
    own = [x * (point.imag - start.imag) - y * (point.real - start.real) for point in piece]
    others = [x * (point.imag - start.imag) - y * (point.real - start.real) for point in beside]
    return min(others) > max(own) or max(others) < min(own)


def _follows(piece: Piece, beside: Piece) -> bool:
    """Return whether two pieces of one line follow one another and part at once, so that they cannot cross."""
    if piece[-1] != beside[0]:
        piece, beside = beside, piece
    meets = piece[-1]
    if meets != beside[0]:
        return False
    comes, leaves = meets - piece[-2], beside[1] - meets
    if not comes or not leaves:
        return False
    middle = comes / abs(comes) + leaves / abs(leaves)
    # Use floats and no generators: most pairs that are looked at follow one another.
    x, y = middle.real, middle.imag
    at_meeting = x * meets.real + y * meets.imag
    before = max([x * point.real + y * point.imag for point in piece[:-1]])
    return before < at_meeting < min([x * point.real + y * point.imag for point in beside[1:]])


def _loops(piece: Piece) -> bool:
    """Return whether a cubic crosses itself. One whose handles keep their order along its chord does not."""
    if len(piece) == 2:
        return False
    back = (piece[3] - piece[0]).conjugate()
    one, two, end = ((point - piece[0]) * back for point in piece[1:])
    if 0 <= one.real <= two.real <= end.real or _advances(piece):
        return False
    if _cross(*piece):
        return True
    points = straightened(piece)
    parts = list(itertools.pairwise(points))
    return any(
        _cross(*parts[first], *parts[second]) for first in range(len(parts)) for second in range(first + 2, len(parts))
    )


def _advances(piece: Piece) -> bool:
    """Return whether the three sides of a cubic's polygon lie within less than half a turn.

    Then some direction has a positive part in each of them, and so in every step along the curve, which cannot come
    back.
    """
    one, two, three = piece[1] - piece[0], piece[2] - piece[1], piece[3] - piece[2]
    to_second, to_third, onwards = _side(one, two), _side(one, three), _side(two, three)
    # The other two lie to the left of the first, of the second, or of the third.
    return to_second > 0 < to_third or to_second < 0 < onwards or (to_third < 0 and onwards < 0)


def _pieces_cross(piece: Piece, beside: Piece) -> bool:
    """Return whether two pieces have a point in common other than their ends."""
    finely = piece[0] in (beside[0], beside[-1]) or piece[-1] in (beside[0], beside[-1])
    first, second = straightened(piece, finely), straightened(beside, finely)
    # They cross within the box that both reach into.
    low, high = _common(first, second)
    ours, theirs = _reaching(first, low, high), _reaching(second, low, high)
    for a, b in ours:
        for c, d in theirs:
            if a != c and a != d and b != c and b != d:
                if _cross(a, b, c, d):
                    return True
            elif _doubled(a, b, c, d):
                return True
    return False


def _doubled(a: complex, b: complex, c: complex, d: complex) -> bool:
    """Return whether two straight parts that share an end lie on one another beyond it."""
    if a not in (c, d):
        a, b = b, a
    one, two = b - a, (d if a == c else c) - a
    return _side(one, two) == 0 and one.real * two.real + one.imag * two.imag > 0


def _common(first: Sequence[complex], second: Sequence[complex]) -> tuple[complex, complex]:
    """Return two opposite corners, the lower first, of the box where those round two lots of points overlap."""
    (a, b, c, d), (e, f, g, h) = _box(first), _box(second)
    return complex(max(a, e), max(b, f)), complex(min(c, g), min(d, h))


def _reaching(points: Sequence[complex], low: complex, high: complex) -> list[tuple[complex, complex]]:
    """Return the straight parts between ``points`` that may reach into a box."""
    left, top, right, bottom = low.real, low.imag, high.real, high.imag
    return [
        (a, b)
        for a, b in itertools.pairwise(points)
        if not (a.real < left > b.real or a.real > right < b.real or a.imag < top > b.imag or a.imag > bottom < b.imag)
    ]


def _cells(piece: Piece, left: float, top: float, right: float, bottom: float) -> Iterable[tuple[int, int]]:
    """Return the cells of the grid that a piece may pass: those of its box, of a long straight one those along it."""
    if len(piece) == 2 and min(right - left, bottom - top) > 2 * CELL:
        start, end = piece
        steps = int(abs(end - start) / CELL) + 1
        parts = [start + (end - start) * (step / steps) for step in range(steps + 1)]
        return {cell for one, two in itertools.pairwise(parts) for cell in _cells((one, two), *_box((one, two)))}
    from_x, to_x, from_y, to_y = int(left // CELL), int(right // CELL), int(top // CELL), int(bottom // CELL)
    if from_x == to_x and from_y == to_y:
        return ((from_x, from_y),)
    return [(x, y) for x in range(from_x, to_x + 1) for y in range(from_y, to_y + 1)]


def _box(points: Sequence[complex]) -> tuple[float, float, float, float]:
    xs, ys = [point.real for point in points], [point.imag for point in points]
    return min(xs), min(ys), max(xs), max(ys)


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
        spans = [sorted((p * along.conjugate()).real for p in pair) for pair in ((a, b), (c, d))]
        return spans[0][1] >= spans[1][0] and spans[1][1] >= spans[0][0]
    return True


def _side(along: complex, to: complex) -> float:
    return along.real * to.imag - along.imag * to.real
