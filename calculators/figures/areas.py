"""A drawing of a picture with its white areas numbered, each marked by what it means: hatching, outline, shape of sign."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from itertools import combinations
from math import ceil

from calculators import messages
from calculators.pixels.connected import painted
from calculators.pixels.white_areas import WhiteArea, WhiteAreas
from calculators.pixels.white_guess import BACKGROUND, HOLE, WANTED
from calculators.values import Figure

#: What the areas mean, in the reader's words.
MEANT = {BACKGROUND: "Background", WANTED: "Wanted white", HOLE: "Hole"}
#: Width of the drawing, of the strip for numbers at either side, and the most height, in SVG units.
WIDTH, RAIL, MOST_HIGH = 520, 52, 520
#: Areas are outlined on a grid of at most so many cells a side.
GRID = 320
#: A sign reaches so far from its middle; beside the picture signs stand so far apart.
SIGN, APART = 15, 36
INK, PAPER, ACCENT, SOFT = "#1c2226", "#fffefb", "#7a2232", "#586066"
#: Fill, line and dashes of the areas by meaning; they lie on the reader's picture, so the palette leaves them alone.
_LOOKS = {
    BACKGROUND: ("url(#white-areas-dots)", SOFT, "2 5"),
    WANTED: ("url(#white-areas-hatch)", INK, ""),
    HOLE: ("url(#white-areas-cross)", ACCENT, "7 4"),
}
_PATTERNS = (
    '<defs><pattern id="white-areas-dots" width="14" height="14" patternUnits="userSpaceOnUse"><path fill="#f3f1ea" d="M0 0h14v14H0z"/>'
    '<circle cx="4" cy="4" r="1.6" fill="#8d938f"/></pattern>'
    '<pattern id="white-areas-hatch" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<path fill="#ffffff" d="M0 0h9v9H0z"/><path stroke="#1c2226" stroke-width="1.6" d="M0 0V9"/></pattern>'
    '<pattern id="white-areas-cross" width="12" height="12" patternUnits="userSpaceOnUse"><path fill="#efd9dc" d="M0 0h12v12H0z"/>'
    '<path stroke="#7a2232" stroke-width="1.4" d="M3 3l6 6M9 3l-6 6"/></pattern></defs>'
)


@dataclass(frozen=True)
class _Grid:
    """The numbers of the areas on a coarser grid: ``step`` pixels a cell, ``scale`` SVG units a cell."""

    plane: bytes
    width: int
    height: int
    step: int
    scale: float
    left: float


def areas_figure(told: WhiteAreas, source: str, words: Mapping[str, str], table: tuple[str, str]) -> Figure:
    """Return the picture with its areas; ``source`` is the attribute that brings it, ``words`` are those of the meanings.

    ``table`` names the result and the column in which the page lets a meaning be changed; an area in the drawing
    carries its number, guess and meaning for the same end.
    """
    grid = _grid(told)
    alt = _alt(told, words)
    runs = _runs(grid)
    high = grid.height * grid.scale
    inside, beside = _placed(told.areas, grid, runs)
    low = max([high, *(y + SIGN for _area, (_x, y), _leader in beside)])
    key = _key(low + 26, words) if told.areas else ""
    shapes = "".join(_shape(area, _outline(runs.get(area.number, []), grid)) for area in told.areas)
    signs = "".join(_sign(area, *at) for area, at in inside)
    leaders = "".join(f'<path stroke="{PAPER}" stroke-width="5" d="{d}"/><path stroke="{INK}" stroke-width="1.8" d="{d}"/>' for _a, _p, d in beside)
    signs += "".join(_sign(area, *at) for area, at, _d in beside)
    place = f'x="{grid.left:.2f}" y="0" width="{grid.width * grid.scale:.2f}" height="{high:.2f}"'
    carried = escape(json.dumps({"words": words, "table": table[0], "column": table[1]}), quote=True)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 {WIDTH} {low + (70 if key else 0):.1f}"'
        f' role="img" data-marks="{carried}"><title>{escape(alt)}</title>{_PATTERNS}'
        f'<rect {place} fill="#f3f1ea"/><image {source} {place} preserveAspectRatio="none"/>'
        f'{shapes}<g fill="none">{leaders}</g>{signs}{key}</svg>',
        alt,
    )


def _alt(told: WhiteAreas, words: Mapping[str, str]) -> str:
    parts = [
        f"{words[meaning]}: {', '.join(numbers)}"
        for meaning in words
        if (numbers := [str(each.number) for each in told.areas if each.meant == meaning])
    ]
    return messages.AREAS_ALT.format(areas="; ".join(parts)) if parts else messages.NO_AREAS_ALT


def _grid(told: WhiteAreas) -> _Grid:
    step = max(1, ceil(max(told.width, told.height) / GRID))
    plane = painted([each.area for each in told.areas], [each.number for each in told.areas], told.width * told.height)
    # A picture narrower than half a step has one column, or row, all the same.
    first_row, first = min(step // 2, told.height - 1), min(step // 2, told.width - 1)
    rows = range(first_row, told.height, step)
    sampled = b"".join(plane[row * told.width + first : (row + 1) * told.width : step] for row in rows)
    width = len(sampled) // len(rows)
    scale = min((WIDTH - 2 * RAIL) / width, MOST_HIGH / len(rows))
    return _Grid(sampled, width, len(rows), step, scale, (WIDTH - width * scale) / 2)


def _runs(grid: _Grid) -> dict[int, list[tuple[int, int, int]]]:
    """Return (row, start, stop) of the runs of each number."""
    runs: dict[int, list[tuple[int, int, int]]] = {}
    for row in range(grid.height):
        line = grid.plane[row * grid.width : (row + 1) * grid.width]
        for found in re.finditer(rb"([^\0])\1*", line, re.DOTALL):
            runs.setdefault(found[1][0], []).append((row, *found.span()))
    return runs


def _outline(runs: Sequence[tuple[int, int, int]], grid: _Grid) -> str:
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
        start = at = next(iter(ends))
        ring = [start]
        while True:
            following = ends[at].pop()
            if not ends[at]:
                del ends[at]
            if len(ring) > 1 and (ring[-2][0] == ring[-1][0] == following[0] or ring[-2][1] == ring[-1][1] == following[1]):
                ring.pop()
            at = following
            if at == start:
                break
            ring.append(at)
        parts.append("M" + "L".join(f"{grid.left + x * grid.scale:.4g} {y * grid.scale:.4g}" for x, y in ring) + "Z")
    return "".join(parts)


def _placed(areas: Sequence[WhiteArea], grid: _Grid, runs: Mapping[int, list[tuple[int, int, int]]]) -> tuple[list, list]:
    """Return (area, place) of signs that stand in their areas, and (area, place, leader) of those beside the picture."""
    inside, small = [], []
    for area in areas:
        x, y, room = _middle(area, grid, runs.get(area.number, []))
        at = grid.left + (x + 0.5) * grid.scale, (y + 0.5) * grid.scale
        (inside if room * grid.scale >= SIGN else small).append((area, at))
    beside = []
    high = grid.height * grid.scale
    small.sort(key=lambda each: each[1][0])
    # Where one side has no more room, those nearest to the middle go to the other: their leaders cross none.
    fit = max(ceil(high / APART), ceil(len(small) / 2))
    cut = min(fit, max(len(small) - fit, sum(at[0] < WIDTH / 2 for _area, at in small)))
    for left, some in ((True, small[:cut]), (False, small[cut:])):
        held = sorted(some, key=lambda each: each[1][1])
        lowest, places = SIGN, []
        for place, (_area, (_x, y)) in enumerate(held):
            most = max(high, len(held) * APART) - SIGN - (len(held) - 1 - place) * APART
            places.append(max(lowest, min(y, most)))
            lowest = places[-1] + APART
        sign_x = RAIL / 2 - 4 if left else WIDTH - RAIL / 2 + 4
        for (area, (x, y)), sign_y in zip(_uncrossed(held, sign_x, places), places, strict=True):
            beside.append((area, (sign_x, sign_y), f"M{x:.1f} {y:.1f}L{sign_x:.1f} {sign_y:.1f}"))
    return inside, beside


def _uncrossed(held: Sequence[tuple[WhiteArea, tuple[float, float]]], sign_x: float, places: Sequence[float]) -> list:
    """Return ``held`` in an order in which the leaders to the ``places`` of their signs do not cross.

    Where two cross, their signs change places, which makes the two shorter together: so it comes to an end.
    """
    order = list(held)
    pairs = list(combinations(range(len(order)), 2))
    for _ in order:
        crossed = False
        for one, two in pairs:
            if _cross(order[one][1], places[one], order[two][1], places[two], sign_x):
                order[one], order[two] = order[two], order[one]
                crossed = True
        if not crossed:
            break
    return order


def _cross(first: tuple[float, float], first_y: float, second: tuple[float, float], second_y: float, sign_x: float) -> bool:
    """Return whether the leaders from two places to signs at ``sign_x`` cross: the shorter one begins on the other side of the longer."""
    if abs(first[0] - sign_x) > abs(second[0] - sign_x):
        first, first_y, second, second_y = second, second_y, first, first_y
    passes = second[1] + (first[0] - second[0]) / (sign_x - second[0]) * (second_y - second[1])
    return (first[1] - passes) * (first_y - second_y) < 0


def _middle(area: WhiteArea, grid: _Grid, runs: Sequence[tuple[int, int, int]]) -> tuple[float, float, float]:
    """Return the cell in which a sign stands best, and how far it is from there to the area's edge, in cells."""
    if not runs:
        left, top, _right, _bottom = area.area.box
        return left / grid.step, top / grid.step, 0.0
    best = (0.0, 0.0, -1.0)
    for row, start, stop in sorted(runs, key=lambda run: run[1] - run[2])[:60]:
        column, room = (start + stop - 1) // 2, (stop - start) / 2
        for direction in (-1, 1):
            reach = 0
            while reach < room and 0 <= row + direction * reach < grid.height and (
                grid.plane[(row + direction * reach) * grid.width + column] == area.number
            ):
                reach += 1
            room = min(room, reach - 0.5)
        if room > best[2]:
            best = ((start + stop - 1) / 2, row, room)
    return best


def _shape(area: WhiteArea, outline: str) -> str:
    fill, line, dashes = _LOOKS[area.meant]
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path class="dw-area" data-area="{area.number}" data-guess="{area.guess}" data-meant="{area.meant}" fill="{fill}"'
        f' fill-rule="evenodd" stroke="{line}" stroke-width="2"{dashed} d="{outline}"/>'
    )


def _sign(area: WhiteArea, x: float, y: float) -> str:
    """Return the number of an area in the shape of what it means."""
    return (
        f'<g class="dw-area" data-area="{area.number}"><circle cx="{x:.1f}" cy="{y:.1f}" r="24" fill="#ffffff" fill-opacity="0"/>'
        f'{_outline_of_sign(area.meant, x, y)}'
        f'<text x="{x:.1f}" y="{y + 5.5:.1f}" font-size="15" font-weight="700" text-anchor="middle" fill="{INK}">{area.number}</text></g>'
    )


def _outline_of_sign(meaning: str, x: float, y: float) -> str:
    drawn = f'fill="{PAPER}" stroke="{_LOOKS[meaning][1]}" stroke-width="2.5"'
    if meaning == WANTED:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="14" {drawn}/>'
    if meaning == BACKGROUND:
        return f'<path d="M{x - 13:.1f} {y - 13:.1f}h26v26h-26z" {drawn}/>'
    return f'<path d="M{x:.1f} {y - 18:.1f}l18 18l-18 18l-18-18z" {drawn}/>'


def _key(top: float, words: Mapping[str, str]) -> str:
    """Return what the hatchings and the shapes of the signs mean."""
    parts, x = [], 1.0
    for meaning, said in words.items():
        fill, line, dashes = _LOOKS[meaning]
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        parts.append(f'<path d="M{x} {top}h40v36h-40z" fill="{fill}" stroke="{line}" stroke-width="2"{dashed}/>')
        parts.append(_outline_of_sign(meaning, x + 62, top + 18))
        parts.append(f'<text class="dw-label" x="{x + 86}" y="{top + 24}" font-size="15" fill="{INK}">{escape(said)}</text>')
        x += 104 + 8.2 * len(said)
    return "".join(parts)
