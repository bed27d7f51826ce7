"""Areas on a coarse grid: the position and outline of each, and the place for its sign."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from calculators.pixels.connected import painted
from calculators.pixels.white_areas import MOST_NUMBERED, Signed, WhiteArea, WhiteAreas

#: Width of the drawing, width of the strip for numbers on either side, and maximum height, in SVG units.
WIDTH, RAIL, MOST_HIGH = 520, 52, 520


#: Maximum cells per side of the grid on which areas are outlined.
GRID = 320


@dataclass(frozen=True)
class Grid:
    """The numbers of the areas on a coarser grid: ``step`` pixels a cell, ``scale`` SVG units a cell."""

    plane: bytes
    width: int
    height: int
    step: int
    scale: float
    left: float


def grid_of(found: WhiteAreas) -> Grid:
    step = max(1, ceil(max(found.width, found.height) / GRID))
    values = [(each.area, each.number) for each in found.areas]
    for order, signed in enumerate(groups_of(found.signs())):
        values += [(each.area, MOST_NUMBERED + 1 + order) for each in signed.areas if not each.number]
    plane = painted([area for area, _ in values], [value for _, value in values], found.width * found.height)
    # A picture narrower than half a step still has one column or row.
    first_row, first = min(step // 2, found.height - 1), min(step // 2, found.width - 1)
    rows = range(first_row, found.height, step)
    sampled = b"".join(plane[row * found.width + first : (row + 1) * found.width : step] for row in rows)
    width = len(sampled) // len(rows)
    scale = min((WIDTH - 2 * RAIL) / width, MOST_HIGH / len(rows))
    return Grid(sampled, width, len(rows), step, scale, (WIDTH - width * scale) / 2)


def runs_of(grid: Grid) -> dict[int, list[tuple[int, int, int]]]:
    """Return (row, start, stop) of the runs of each number."""
    runs: dict[int, list[tuple[int, int, int]]] = {}
    for row in range(grid.height):
        line = grid.plane[row * grid.width : (row + 1) * grid.width]
        for found in re.finditer(rb"([^\0])\1*", line, re.DOTALL):
            runs.setdefault(found[1][0], []).append((row, *found.span()))
    return runs


def outline_of(runs: Sequence[tuple[int, int, int]], grid: Grid) -> str:
    """Return the path round the cells of ``runs``: their edges linked, straight ones in one piece."""
    cells: dict[int, set[int]] = {}
    for row, start, stop in runs:
        cells.setdefault(row, set()).update(range(start, stop))
    ends: dict[tuple[int, int], list[tuple[int, int]]] = {}
    nothing: set[int] = set()
    for row, here in cells.items():
        above, below = cells.get(row - 1, nothing), cells.get(row + 1, nothing)
        for x in here - above:
            ends.setdefault((x, row), []).append((x + 1, row))
        for x in here - below:
            ends.setdefault((x + 1, row + 1), []).append((x, row + 1))
        for x in here:
            if x - 1 not in here:
                ends.setdefault((x, row + 1), []).append((x, row))
            if x + 1 not in here:
                ends.setdefault((x + 1, row), []).append((x + 1, row + 1))
    parts = []
    while ends:
        first = next(iter(ends))
        at = first
        ring = [first]
        while True:
            following = ends[at].pop()
            if not ends[at]:
                del ends[at]
            if len(ring) > 1 and (
                ring[-2][0] == ring[-1][0] == following[0] or ring[-2][1] == ring[-1][1] == following[1]
            ):
                ring.pop()
            at = following
            if at == first:
                break
            ring.append(at)
        parts.append("M" + "L".join(f"{grid.left + x * grid.scale:.4g} {y * grid.scale:.4g}" for x, y in ring) + "Z")
    return "".join(parts)


def middle_of(area: WhiteArea, grid: Grid, runs: Sequence[tuple[int, int, int]]) -> tuple[float, float, float]:
    """Return the best cell for a sign, and its distance from the area's edge in cells."""
    if not runs:
        return corner_of(area, grid)
    best = (0.0, 0.0, -1.0)
    for row, start, stop in sorted(runs, key=lambda run: run[1] - run[2])[:60]:
        column, room = (start + stop - 1) // 2, (stop - start) / 2
        for direction in (-1, 1):
            reach = 0
            while (
                reach < room
                and 0 <= row + direction * reach < grid.height
                and (grid.plane[(row + direction * reach) * grid.width + column] == area.number)
            ):
                reach += 1
            room = min(room, reach - 0.5)
        if room > best[2]:
            best = ((start + stop - 1) / 2, row, room)
    return best


def corner_of(area: WhiteArea, grid: Grid) -> tuple[float, float, float]:
    left, top, _right, _bottom = area.area.box
    return left / grid.step, top / grid.step, 0.0


def groups_of(signs: Sequence[Signed]) -> list[Signed]:
    return [each for each in signs if isinstance(each.key, str)]
