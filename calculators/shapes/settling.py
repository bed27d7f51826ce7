"""Corners close together, moved until the outline through them covers the pixels as the picture says."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import compress

from calculators.shapes.coverage import OpenOutline
from calculators.shapes.sides import Side

ROUNDS = 6
#: How far a place is moved to see what that changes, in pixels, and the most that it moves in one round.
NUDGE, MOST_MOVED = 0.02, 0.8
#: Moves below this, in pixels, end it.
ENOUGH = 0.004
#: Where a round leaves more than this share of the squares, and a pixel is off by
#: more than this, the outline is another.
STALLED, HOPELESS = 0.8, 0.11


def settled(
    tips: Sequence[complex],
    one: Side,
    two: Side,
    before: Sequence[complex],
    after: Sequence[complex],
    box: tuple[int, int, int, int],
    shares: Sequence[float],
) -> list[complex] | None:
    """Return ``tips`` moved so that the squares of what is covered wrongly add up to least.

    One tip alone is free; of several the first slides along side ``one`` and the last along side ``two``. ``shares``
    are those of the pixels of ``box``, negative where a pixel is not to count. None where nothing can be told.
    """
    reach = box[2] + box[3]
    along_before, along_after = [one.along(each) for each in before], [two.along(each) for each in after]
    far_before = before[0] - one.slope(one.along(before[0])) * reach
    far_after = after[0] - two.slope(two.along(after[0])) * reach
    alone = len(tips) == 1
    free = tips if alone else tips[1:-1]
    unknown = [part for tip in free for part in (tip.real, tip.imag)]
    if not alone:
        unknown = [one.along(tips[0]), *unknown, two.along(tips[-1])]

    def placed(values: Sequence[float]) -> list[complex]:
        ends = 0 if alone else 1
        moved = [complex(*values[at : at + 2]) for at in range(ends, len(values) - ends, 2)]
        return moved if alone else [one.point(values[0]), *moved, two.point(values[-1])]

    # By which points before and after stay. All but a few edges are the same from one trial to the next.
    opened: dict[tuple[tuple[bool, ...], tuple[bool, ...]], OpenOutline] = {}

    def drawn(values: Sequence[float]) -> list[float]:
        middle = placed(values)
        until, since = one.along(middle[0]) - 0.3, two.along(middle[-1]) - 0.3
        is_before = tuple(along < until for along in along_before)
        is_after = tuple(along < since for along in along_after)
        outline = opened.get((is_before, is_after))
        if outline is None:
            behind = [far_before, *compress(before, is_before)]
            ahead = [*reversed(list(compress(after, is_after))), far_after]
            outline = opened[is_before, is_after] = OpenOutline(behind, ahead, box)
        return outline.covered(middle)

    return _least(unknown, drawn, placed, shares, box)


def _least(
    unknown: list[float],
    drawn: Callable[[Sequence[float]], list[float]],
    placed: Callable[[Sequence[float]], list[complex]],
    shares: Sequence[float],
    box: tuple[int, int, int, int],
) -> list[complex] | None:
    width = box[2]
    now = drawn(unknown)
    edge = {place for place, each in enumerate(now) if 0.002 < each < 0.998}
    counted = sorted({near for place in edge for near in _near(place, width, len(now))})
    counted = [place for place in counted if shares[place] >= 0]
    if len(counted) < len(unknown) + 2:
        return None
    before = 0.0
    for turn in range(ROUNDS):
        off = [shares[place] - now[place] for place in counted]
        squares = sum(each * each for each in off)
        if turn and squares > STALLED * before and max(map(abs, off)) > HOPELESS:
            return None
        before = squares
        columns = []
        for at in range(len(unknown)):
            nudged = list(unknown)
            nudged[at] += NUDGE
            then = drawn(nudged)
            columns.append([(then[place] - now[place]) / NUDGE for place in counted])
        moves = _solved(
            [[sum(map(float.__mul__, a, b)) for b in columns] for a in columns],
            [sum(map(float.__mul__, a, off)) for a in columns],
        )
        if moves is None:
            return None
        unknown = [value + max(-MOST_MOVED, min(MOST_MOVED, move)) for value, move in zip(unknown, moves, strict=True)]
        now = drawn(unknown)
        if max(map(abs, moves)) < ENOUGH:
            break
    return placed(unknown)


def _near(place: int, width: int, count: int) -> list[int]:
    x = place % width
    near = [place]
    if x:
        near.append(place - 1)
    if x < width - 1:
        near.append(place + 1)
    return [each for each in (*near, place - width, place + width) if 0 <= each < count]


def _solved(square: list[list[float]], right: list[float]) -> list[float] | None:
    """Return the solution of linear equations by elimination; None where they have none."""
    count = len(right)
    rows = [[*row, value] for row, value in zip(square, right, strict=True)]
    for at in range(count):
        rows[at][at] += 1e-6
        best = max(range(at, count), key=lambda row: abs(rows[row][at]))
        if abs(rows[best][at]) < 1e-7:
            return None
        rows[at], rows[best] = rows[best], rows[at]
        for other in range(count):
            if other != at:
                factor = rows[other][at] / rows[at][at]
                rows[other] = [a - factor * b for a, b in zip(rows[other], rows[at], strict=True)]
    return [rows[at][count] / rows[at][at] for at in range(count)]
