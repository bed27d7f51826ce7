"""A drawing of a picture with its white areas numbered; hatching, outline and shape of the sign show their meanings.

The picture stays visible: hatching is light and only in large areas; signs of small areas are beside the
picture, with leaders to the edge of the area or of the frame round a group.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import ceil

from calculators import messages
from calculators.figures.area_grid import (
    RAIL,
    WIDTH,
    Grid,
    corner_of,
    grid_of,
    groups_of,
    middle_of,
    outline_of,
    runs_of,
)
from calculators.markup import escape
from calculators.pixels.white_areas import MOST_NUMBERED, Key, Signed, WhiteArea, WhiteAreas
from calculators.pixels.white_guess import BACKGROUND, HOLE, WANTED
from calculators.values import Figure

#: What the areas mean, in the reader's words.
MEANT = {BACKGROUND: "Background", WANTED: "Wanted white", HOLE: "Hole"}
#: Half the size of a sign, and the distance between signs beside the picture.
SIGN, APART = 15, 36
INK, PAPER, ACCENT, SOFT = "#1c2226", "#fffefb", "#7a2232", "#586066"
#: The room that an area needs for its sign, in SVG units; a smaller area is only outlined.
ROOM, HATCHED = 30, 12
#: The distance of a frame from its group.
AROUND = 5
#: Fill, line and dashes of the areas by meaning; they lie on the reader's picture, so the palette leaves them alone.
_LOOKS = {
    BACKGROUND: ("url(#white-areas-dots)", SOFT, "2 4"),
    WANTED: ("url(#white-areas-hatch)", INK, ""),
    HOLE: ("url(#white-areas-cross)", ACCENT, "6 3"),
}
_PATTERNS = (
    '<defs><pattern id="white-areas-dots" width="14" height="14" patternUnits="userSpaceOnUse">'
    '<circle cx="4" cy="4" r="1.3" fill="#a8aeab"/></pattern>'
    '<pattern id="white-areas-hatch" width="11" height="11" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)">'
    '<path stroke="#586066" stroke-width="0.9" d="M0 0V11"/></pattern>'
    '<pattern id="white-areas-cross" width="14" height="14" patternUnits="userSpaceOnUse">'
    '<path stroke="#b5707b" stroke-width="1" d="M4 4l6 6M10 4l-6 6"/></pattern></defs>'
)


def areas_figure(found: WhiteAreas, source: str, words: Mapping[str, str], table: tuple[str, str]) -> Figure:
    """Return the picture with its areas; ``source`` is the attribute that brings
    it, ``words`` are those of the meanings.

    ``table`` names the result and the column in which the reader changes a meaning on the page; for the same purpose
    each area in the drawing carries its number, guess and meaning.
    """
    grid = grid_of(found)
    alt = _alt(found, words)
    runs = runs_of(grid)
    high = grid.height * grid.scale
    spots = {each.number: middle_of(each, grid, runs.get(each.number, [])) for each in found.areas}
    signs = found.signs()
    inside, beside = _placed([_spot(each, order, grid, spots, runs) for order, each in enumerate(signs)], high)
    low = max([high, *(y + SIGN for _spot, (_x, y), _leader in beside)])
    key = _key(low + 26, words) if signs else ""
    label_of = {area.number: each.key for each in signs for area in each.areas}
    shapes = "".join(
        _shape(
            area, label_of[area.number], outline_of(runs.get(area.number, []), grid), spots[area.number][2] * grid.scale
        )
        for area in found.areas
    ) + "".join(_unnumbered(each, order, runs, grid) for order, each in enumerate(groups_of(signs)))
    frames = "".join(
        _frame(spot.frame, spot.signed.meant)
        for spot in (*inside, *(each for each, _place, _leader in beside))
        if spot.frame
    )
    leaders = "".join(
        f'<path class="dw-leader" stroke="{PAPER}" stroke-width="3" stroke-opacity="0.8" d="{d}"/>'
        f'<path stroke="{INK}" stroke-width="1" d="{d}"/>'
        for _spot, _place, d in beside
    )
    drawn = "".join(_sign(each.signed, each.x, each.y) for each in inside) + "".join(
        _sign(each.signed, *at) for each, at, _leader in beside
    )
    taken = {(spot.x, spot.y) for spot in inside}
    parts = "".join(
        _part(each, *spots[each.number][:2], grid, taken)
        for each in found.areas
        if label_of[each.number] != each.number
    )
    place = f'x="{grid.left:.2f}" y="0" width="{grid.width * grid.scale:.2f}" height="{high:.2f}"'
    carried = escape(json.dumps({"words": words, "table": table[0], "column": table[1]}), quote=True)
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 {WIDTH} '
        f'{low + (70 if key else 0):.1f}"'
        f' role="img" data-marks="{carried}"><title>{escape(alt)}</title>{_PATTERNS}'
        f'<rect {place} fill="#f3f1ea"/><image {source} {place} preserveAspectRatio="none"/>'
        f'{shapes}<g fill="none">{frames}{leaders}</g>{drawn}{parts}{key}</svg>',
        alt,
    )


def _alt(found: WhiteAreas, words: Mapping[str, str]) -> str:
    parts = [
        f"{words[meaning]}: {', '.join(numbers)}"
        for meaning in words
        if (numbers := [named(each) for each in found.signs() if each.meant == meaning])
    ]
    return messages.AREAS_ALT.format(areas="; ".join(parts)) if parts else messages.NO_AREAS_ALT


def named(signed: Signed) -> str:
    """Return the key of a sign, with the areas of its group if any: B (3 to 5, 7)."""
    return f"{signed.key} ({numbers_of(signed)})" if isinstance(signed.key, str) else str(signed.key)


def numbers_of(signed: Signed) -> str:
    """Return the numbers of the areas of a sign, those in a row by the first and the last, and how many have none."""
    numbers = sorted(each.number for each in signed.areas if each.number)
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [
        messages.NUMBERS_FROM_TO.format(first=run[0], last=run[-1]) if len(run) > 2 else ", ".join(map(str, run))
        for run in runs
    ]
    more = len(signed.areas) - len(numbers)
    return ", ".join([*parts, messages.SO_MANY_MORE.format(count=more)] if more else parts)


Place = tuple[float, float]
Frame = tuple[float, float, float, float]


@dataclass(frozen=True)
class _Spot:
    """Where a sign belongs: ``x``, ``y`` in the middle, ``room`` round it, and the frame of a group, in SVG units.

    ``ends`` is where a leader from the left ends, and one from the right.
    """

    signed: Signed
    x: float
    y: float
    room: float
    frame: Frame | None
    ends: tuple[Place, Place]


#: A spot with its sign beside the picture, the position of the sign, and the leader to it.
_Beside = tuple[_Spot, Place, str]


def _spot(
    signed: Signed,
    order: int,
    grid: Grid,
    spots: Mapping[int, tuple[float, float, float]],
    runs: Mapping[int, list[tuple[int, int, int]]],
) -> _Spot:
    """Return the spot of a sign: that of its area, or of its roomiest one, with a
    frame unless they are the background.
    """
    numbered = [each for each in signed.areas if each.number] or signed.areas
    x, y, room = max((spots.get(each.number) or corner_of(each, grid) for each in numbered), key=lambda spot: spot[2])
    frame = None
    if isinstance(signed.key, str) and not any(each.area.at_border for each in signed.areas):
        unit, around = grid.scale / grid.step, AROUND + 3 * (order % 3)
        lefts, tops, rights, bottoms = zip(*(each.box for each in signed.areas), strict=True)
        frame = (
            grid.left + min(lefts) * unit - around,
            min(tops) * unit - around,
            grid.left + max(rights) * unit + around,
            max(bottoms) * unit + around,
        )
        height = (frame[1] + frame[3]) / 2
        ends = (frame[0], height), (frame[2], height)
    else:
        every = [run for each in numbered for run in runs.get(each.number, [])] or [(int(y), int(x), int(x) + 1)]
        first, last = min(start for _row, start, _stop in every), max(stop for _row, _start, stop in every)
        left, right = (
            (grid.left + column * grid.scale, (rows[len(rows) // 2] + 0.5) * grid.scale)
            for column, rows in (
                (first, sorted(row for row, start, _ in every if start == first)),
                (last, sorted(row for row, _, stop in every if stop == last)),
            )
        )
        ends = left, right
    return _Spot(signed, grid.left + (x + 0.5) * grid.scale, (y + 0.5) * grid.scale, room * grid.scale, frame, ends)


def _placed(spots: Sequence[_Spot], high: float) -> tuple[list[_Spot], list[_Beside]]:
    """Return the spots with signs inside their areas, and (spot, place, leader) for signs beside the picture."""
    inside = [each for each in spots if not each.frame and each.room >= ROOM]
    small = sorted((each for each in spots if each not in inside), key=lambda each: each.x)
    beside = []
    # If one side is full, move the signs nearest the middle to the other side, where their leaders cross none.
    fit = max(ceil(high / APART), ceil(len(small) / 2))
    cut = min(fit, max(len(small) - fit, sum(each.x < WIDTH / 2 for each in small)))
    for left, some in ((True, small[:cut]), (False, small[cut:])):
        sign_x = RAIL / 2 - 4 if left else WIDTH - RAIL / 2 + 4
        held = sorted(((each, each.ends[0 if left else 1]) for each in some), key=lambda each: each[1][1])
        lowest: float = SIGN
        places: list[float] = []
        for place, (_spot, (_x, y)) in enumerate(held):
            most = max(high, len(held) * APART) - SIGN - (len(held) - 1 - place) * APART
            places.append(max(lowest, min(y, most)))
            lowest = places[-1] + APART
        for (spot, (x, y)), sign_y in zip(_uncrossed(held, sign_x, places), places, strict=True):
            beside.append((spot, (sign_x, sign_y), f"M{x:.1f} {y:.1f}L{sign_x:.1f} {sign_y:.1f}"))
    return inside, beside


def _uncrossed(
    held: Sequence[tuple[_Spot, Place]], sign_x: float, places: Sequence[float]
) -> list[tuple[_Spot, Place]]:
    """Return ``held`` in an order in which the leaders to the ``places`` of their signs do not cross.

    Swapping the signs of two crossing leaders shortens their total length, so the loop ends.
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


def _cross(
    first: tuple[float, float], first_y: float, second: tuple[float, float], second_y: float, sign_x: float
) -> bool:
    """Return whether the leaders from two places to signs at ``sign_x`` cross: the shorter
    one begins on the other side of the longer.
    """
    if abs(first[0] - sign_x) > abs(second[0] - sign_x):
        first, first_y, second, second_y = second, second_y, first, first_y
    passes = second[1] + (first[0] - second[0]) / (sign_x - second[0]) * (second_y - second[1])
    return (first[1] - passes) * (first_y - second_y) < 0


def _shape(area: WhiteArea, label: Key, outline: str, room: float) -> str:
    group = f' data-group="{area.group}"' if area.group else ""
    return (
        f'<path class="dw-area" data-area="{area.number}"{group} data-shown="{label}" data-guess="{area.guess}" '
        f'data-meant="{area.meant}"'
        f' {_painted(area.meant, room)} d="{outline}"/>'
    )


def _unnumbered(signed: Signed, order: int, runs: Mapping[int, list[tuple[int, int, int]]], grid: Grid) -> str:
    """Return the areas of a group that have no number, as one shape."""
    here = runs.get(MOST_NUMBERED + 1 + order)
    if not here:
        return ""
    return f'<path class="dw-area" data-shown="{signed.key}" {_painted(signed.meant, 0)} d="{outline_of(here, grid)}"/>'


def _painted(meant: str, room: float) -> str:
    """Return the attributes of an area: hatched if large. Other areas can be touched too."""
    fill, line, dashes = _LOOKS[meant]
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    wide = 1.4 if room >= HATCHED else 0.9
    fill = f'fill="{fill}"' if room >= HATCHED else 'fill="#ffffff" fill-opacity="0"'
    return f'{fill} fill-rule="evenodd" stroke="{line}" stroke-width="{wide}"{dashed} pointer-events="all"'


def _frame(frame: Frame, meant: str) -> str:
    left, top, right, bottom = frame
    line = _LOOKS[meant][1]
    rect = f'x="{left:.1f}" y="{top:.1f}" width="{right - left:.1f}" height="{bottom - top:.1f}" rx="4"'
    return (
        f'<rect {rect} stroke="{PAPER}" stroke-width="3" stroke-opacity="0.8"/>'
        f'<rect {rect} stroke="{line}" stroke-width="1" stroke-dasharray="3 3"/>'
    )


def _sign(signed: Signed, x: float, y: float) -> str:
    """Return the number of an area, or the letter of a group, in the shape of what it means."""
    return (
        f'<g class="dw-area" data-area="{signed.key}" data-shown="{signed.key}" '
        f'data-guess="{signed.areas[0].guess}" data-meant="{signed.meant}">'
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="24" fill="#ffffff" fill-opacity="0"/>'
        f"{_outline_of_sign(signed.meant, x, y)}"
        f'<text x="{x:.1f}" y="{y + 5.5:.1f}" font-size="15" font-weight="700" text-anchor="middle" fill="{INK}">'
        f"{signed.key}</text></g>"
    )


def _part(area: WhiteArea, column: float, row: float, grid: Grid, taken: set[tuple[float, float]]) -> str:
    """Return the small number of an area of a group, which the page shows while areas are
    marked one by one; below a sign that has its place.
    """
    x, y = grid.left + (column + 0.5) * grid.scale, (row + 0.5) * grid.scale
    down = SIGN + 15 if (x, y) in taken else 4
    return (
        f'<text class="dw-part" display="none" x="{x:.1f}" y="{y + down:.1f}" font-size="12" font-weight="700" '
        'text-anchor="middle"'
        f' fill="{INK}" stroke="{PAPER}" stroke-width="3" paint-order="stroke" pointer-events="none">'
        f"{area.number}</text>"
    )


def _outline_of_sign(meaning: str, x: float, y: float) -> str:
    drawn = f'fill="{PAPER}" stroke="{_LOOKS[meaning][1]}" stroke-width="2"'
    if meaning == WANTED:
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="14" {drawn}/>'
    if meaning == BACKGROUND:
        return f'<path d="M{x - 13:.1f} {y - 13:.1f}h26v26h-26z" {drawn}/>'
    return f'<path d="M{x:.1f} {y - 18:.1f}l18 18l-18 18l-18-18z" {drawn}/>'


def _key(top: float, words: Mapping[str, str]) -> str:
    """Return what the hatchings and the shapes of the signs mean."""
    parts, x = [], 1.0
    for meaning, caption in words.items():
        fill, line, dashes = _LOOKS[meaning]
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        parts.append(
            f'<path d="M{x} {top}h40v36h-40z" fill="{PAPER}"/>'
            f'<path d="M{x} {top}h40v36h-40z" fill="{fill}" stroke="{line}" stroke-width="1.4"{dashed}/>'
        )
        parts.append(_outline_of_sign(meaning, x + 62, top + 18))
        parts.append(
            f'<text class="dw-label" x="{x + 86}" y="{top + 24}" font-size="15" fill="{INK}">{escape(caption)}</text>'
        )
        x += 104 + 8.2 * len(caption)
    return "".join(parts)
