"""Best fit on a skyline: the lowest gap is filled with the box that fits it best, again and again.

After E. K. Burke, G. Kendall and G. Whitwell, "A new placement heuristic for the orthogonal stock-cutting problem",
Operations Research 52 (2004), 655-671: the lowest gap first, and a box beside the higher wall. How well a box fits is
scored by what it leaves level, and boxes that fit alike are taken in an order that a short search improves.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from calculators.packing.grid import Grid, Sides, Spot, length_of

#: How much the search may do, in looks at a box. Few boxes are tried in many orders, many in a few.
LOOKS = 150_000
#: More orders are not worth their time.
MOST_ORDERS = 300
#: Orders are drawn from the same numbers each time.
_SEED = 43


@dataclass(frozen=True)
class _Kind:
    """Boxes of the same sides, by their indices in the grid."""

    sides: Sides
    indices: tuple[int, ...]


def search(grid: Grid) -> list[Spot]:
    """Return the best of several packings: those of five sorted orders, then what is shorter still.

    A shorter strip is tried with boxes of the order swapped. Of two orders that fail, the one that placed more goes on.
    """
    kinds = _kinds(grid)
    if grid.width <= 0:
        return []
    if not kinds:
        return _first(grid)
    packed = [(fill(grid, kinds, order), order) for order in _sorted_orders(kinds)]
    best, order = min(packed, key=lambda each: _rank(grid, each[0]))
    if len(best) < len(grid.boxes):
        return _with_more(grid, kinds, best, order)
    return _shortened(grid, kinds, best, order)


def _shortened(grid: Grid, kinds: Sequence[_Kind], best: list[Spot], order: list[int]) -> list[Spot]:
    """Return a packing of all boxes that is as short as the search makes it."""
    random, ideal = Random(_SEED), _ideal_length(grid)
    area = grid.area_of(best)
    step = max(1, min(min(each.sides[:2]) for each in kinds) // 4)
    placed = 0
    for _ in range(_tries(grid, kinds)):
        shorter = replace(grid, most=length_of(best) - step)
        if shorter.most is None or shorter.most < ideal:
            break
        tried = _swapped(order, random)
        spots = fill(shorter, kinds, tried, shorter.most * grid.width - area)
        if len(spots) == len(best):
            best, order, placed = spots, tried, 0
        elif (reached := grid.area_of(spots)) >= placed:
            order, placed = tried, reached
    return best


def _with_more(grid: Grid, kinds: Sequence[_Kind], best: list[Spot], order: list[int]) -> list[Spot]:
    """Return a packing that leaves out as little area as the search finds."""
    random = Random(_SEED)
    for _ in range(_tries(grid, kinds)):
        tried = _swapped(order, random)
        spots = fill(grid, kinds, tried)
        if _rank(grid, spots) <= _rank(grid, best):
            best, order = spots, tried
            if len(best) == len(grid.boxes):
                break
    return best


def _swapped(order: Sequence[int], random: Random) -> list[int]:
    swapped = list(order)
    for _ in range(random.choice((1, 1, 2, 3))):
        one, other = random.randrange(len(order)), random.randrange(len(order))
        swapped[one], swapped[other] = swapped[other], swapped[one]
    return swapped


def fill(grid: Grid, kinds: Sequence[_Kind], order: Sequence[int], most_waste: int | None = None) -> list[Spot]:
    """Return the packing of kinds taken in ``order`` where several fit alike.

    It stops once it has covered more than the area ``most_waste`` without a box.
    """
    left = [len(each.indices) for each in kinds]
    turns: dict[int, bool] = {}
    spots = _first(grid)
    start = spots[-1].right if spots else 0
    # x, y and width of each step, from left to right.
    walls = [(each.x, each.bottom, each.right - each.x) for each in spots]
    walls += [(start, 0, grid.width - start)] if start < grid.width else []
    waiting = list(order)
    while waiting:
        at = min(range(len(walls)), key=lambda place: walls[place][1])
        x, y, width = walls[at]
        before = walls[at - 1][1] - y if at else -1
        after = walls[at + 1][1] - y if at + 1 < len(walls) else -1
        found = _best(grid, kinds, waiting, turns, (width, y, before, after))
        if found is None:
            higher = [each for each in (before, after) if each >= 0]
            if not higher:
                break
            if most_waste is not None:
                most_waste -= min(higher) * width
                if most_waste < 0:
                    break
            walls[at] = (x, y + min(higher), width)
            _join(walls, at)
            continue
        kind, turned = found
        sides = kinds[kind].sides
        across, along = (sides.height, sides.width) if turned else (sides.width, sides.height)
        left[kind] -= 1
        if not left[kind]:
            waiting.remove(kind)
        if sides.alike >= 0 and sides.turnable:
            turns.setdefault(sides.alike, turned)
        # Beside the higher wall; the strip's own edges are the highest.
        at_left = before < 0 or (after >= 0 and before >= after)
        corner = x if at_left else x + width - across
        index = kinds[kind].indices[left[kind]]
        spots.append(Spot(index, corner, y, corner + across, y + along, turned))
        rest = [(x + across, y, width - across)] if at_left else [(x, y, width - across)]
        new = (corner, y + along, across)
        walls[at : at + 1] = [each for each in ([new, *rest] if at_left else [*rest, new]) if each[2]]
        _join(walls, at)
    return spots


def _first(grid: Grid) -> list[Spot]:
    """Return the boxes that lie at the beginning, side by side; those for which there is no width are left out."""
    spots: list[Spot] = []
    x = 0
    for box, sides in enumerate(grid.boxes[: grid.first]):
        if x + sides.width <= grid.width and (grid.most is None or sides.height <= grid.most):
            spots.append(Spot(box, x, 0, x + sides.width, sides.height, False))
            x += sides.width
    return spots


def _best(
    grid: Grid, kinds: Sequence[_Kind], waiting: Sequence[int], turns: dict[int, bool], gap: tuple[int, int, int, int]
) -> tuple[int, bool] | None:
    """Return the kind that fits the gap best, and whether it lies turned; None where none fits.

    The gap is its width, its place on the strip, and how far the walls beside it rise (-1: the strip's edge).
    """
    width, y, before, after = gap
    room = None if grid.most is None else grid.most - y
    best, best_score = None, -1
    for kind in waiting:
        sides = kinds[kind].sides
        across, along, turnable, alike = sides
        decided = turns.get(alike) if alike >= 0 and turnable else None
        for turned in (False, True) if turnable and decided is None else (bool(decided),):
            if turned:
                across, along = sides.height, sides.width
            if across > width or (room is not None and along > room):
                continue
            level = along in (before, after)
            score = (5 if level else 3) if across == width else (2 if level else 1)
            if score > best_score:
                best, best_score = (kind, turned), score
        if best_score == 5:
            break
    return best


def _join(walls: list[tuple[int, int, int]], at: int) -> None:
    """Join the steps round ``at`` that are level."""
    first, last = max(0, at - 1), min(len(walls), at + 3)
    joined: list[tuple[int, int, int]] = []
    for x, y, width in walls[first:last]:
        if joined and joined[-1][1] == y:
            joined[-1] = (joined[-1][0], y, joined[-1][2] + width)
        else:
            joined.append((x, y, width))
    walls[first:last] = joined


def _kinds(grid: Grid) -> list[_Kind]:
    """Return the boxes by their sides, without those that never fit."""
    found: dict[Sides, list[int]] = {}
    for index, sides in enumerate(grid.boxes[grid.first :], grid.first):
        short, long = sorted(sides[:2])
        across, along = (short, long) if sides.turnable else (sides.width, sides.height)
        if across <= grid.width and (grid.most is None or min(along, across) <= grid.most):
            found.setdefault(sides, []).append(index)
    return [_Kind(sides, tuple(reversed(indices))) for sides, indices in found.items()]


def _sorted_orders(kinds: Sequence[_Kind]) -> list[list[int]]:
    """Return the kinds by area, long side, short side, width and height, the largest first."""
    keys: tuple[Callable[[Sides], int], ...] = (
        lambda sides: sides.width * sides.height,
        lambda sides: max(sides[:2]),
        lambda sides: min(sides[:2]),
        lambda sides: sides.width,
        lambda sides: sides.height,
    )
    every = range(len(kinds))
    return [sorted(every, key=[-key(each.sides) for each in kinds].__getitem__) for key in keys]


def _tries(grid: Grid, kinds: Sequence[_Kind]) -> int:
    """Return in how many further orders the boxes are tried: less the more there are."""
    return min(MOST_ORDERS, LOOKS // (len(grid.boxes) * (len(kinds) + 8)))


def _ideal_length(grid: Grid) -> int:
    """Return a length that no packing can beat."""
    return -(-sum(each.width * each.height for each in grid.boxes) // grid.width)


def _rank(grid: Grid, spots: Sequence[Spot]) -> tuple[int, int]:
    """Return what makes a packing worse: area that finds no room, then length."""
    return -grid.area_of(spots), length_of(spots)
