"""Lays pieces out on sheets: sets side by side, all packed from the leading edge so that the rest stays useful."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calculators.packing import Box, Placed, pack
from calculators.sheets.blocks import Block, blocks_of
from calculators.sheets.model import TEST_STRIP, Item, Part, Placement, Rectangle, SheetLayout
from calculators.sheets.room import free_corner

#: Length of the check bars in mm, and the band that each takes with its ends and the words beside it.
BAR_MM, BAR_BAND_MM = 100.0, 6.0
#: Shorter check bars tell a ruler's reader too little (estimate).
LEAST_BAR_MM = 20.0
#: The test strip, in mm: a patch of heavy ink beside thin lines (estimate).
STRIP_SIZE = 30 + 10j
#: More pieces, or more sheets, than anybody prints at once.
MOST_PIECES, MOST_SHEETS = 2000, 40

#: Why pieces found no room: larger than what the printer reaches on the sheet.
TOO_LARGE = "too-large"
#: Check bars: none; of full length across the sheet and short along it, which uses less film; both of full length.
NO_BARS, SHORT_ALONG, BOTH_BARS = "none", "short", "both"
#: Boxes at the leading edge that are no blocks of pieces.
ACROSS, ALONG, STRIP = "across", "along", "strip"


@dataclass(frozen=True)
class Stock:
    """The sheets there are: their size in mm, what the printer cannot reach, and the least that it feeds.

    ``marks`` is a band inside the margins for the marks of a cutter's own program. ``part_used`` has, by film, the
    length in mm that was used and cut off before: the first sheet of that film is what is left. ``shortest`` is the
    length of the printer's shortest sheet: what is left below that is no remainder.
    """

    paper: str
    size: complex
    margins: Rectangle
    marks: float = 0.0
    shortest: float = 0.0
    part_used: Mapping[str, float] | None = None


@dataclass(frozen=True)
class Spacing:
    """How far pieces lie apart in mm, which check bars it has, and whether a test strip comes with each film."""

    knife_gap: float
    bars: str = BOTH_BARS
    strip: bool = True


@dataclass(frozen=True)
class LeftOut:
    """Pieces of an item that found no room, and why."""

    item: Item
    pieces: int
    why: str


@dataclass(frozen=True)
class LaidOut:
    """The sheets in the order of printing, and what found no room."""

    sheets: tuple[SheetLayout, ...]
    left_out: tuple[LeftOut, ...]


class TooMany(ValueError):
    """More pieces or sheets than are laid out: ``pieces`` and at least ``sheets``."""

    def __init__(self, pieces: int, sheets: int) -> None:
        super().__init__(f"{pieces} pieces on {sheets} sheets")
        self.pieces, self.sheets = pieces, sheets


def lay_out(items: Sequence[Item], stock: Stock, spacing: Spacing) -> LaidOut:
    """Return the sheets for all pieces of ``items``, film by film in the order in which films first come.

    Raises TooMany before any time is spent on them.
    """
    wanted = [each for each in items if each.pieces > 0]
    _check_count(wanted, stock, spacing)
    sheets: list[SheetLayout] = []
    left_out: list[LeftOut] = []
    for film in dict.fromkeys(each.film for each in wanted):
        made, missing = _film([each for each in wanted if each.film == film], film, stock, spacing, len(sheets))
        sheets += made
        left_out += missing
        if len(sheets) > MOST_SHEETS:
            raise TooMany(sum(each.pieces for each in wanted), len(sheets))
    return LaidOut(tuple(sheets), tuple(left_out))


def _check_count(items: Sequence[Item], stock: Stock, spacing: Spacing) -> None:
    pieces = sum(each.pieces for each in items)
    sheet = _empty(stock, "", stock.size, spacing)
    left, top, right, bottom = sheet.printable
    area = max(0.0, right - left) * max(0.0, bottom - top)
    gap = complex(spacing.knife_gap, spacing.knife_gap)
    covered = sum(each.pieces * _area(each.footprint + gap) for each in items)
    sheets = math.ceil(covered / area) if area else 0
    if pieces > MOST_PIECES or sheets > MOST_SHEETS:
        raise TooMany(pieces, sheets)


def _film(
    items: list[Item], film: str, stock: Stock, spacing: Spacing, before: int
) -> tuple[list[SheetLayout], list[LeftOut]]:
    """Return the sheets of one film, numbered after those ``before``, and what found no room on them."""
    used = (stock.part_used or {}).get(film, 0.0)
    sizes = [stock.size - complex(0, used)] if used else []
    whole = _empty(stock, film, stock.size, spacing)
    waiting, large = blocks_of(items, _room(whole), spacing.knife_gap)
    left_out = [LeftOut(each, each.pieces, TOO_LARGE) for each in large]
    sheets: list[SheetLayout] = []
    while waiting and len(sheets) <= MOST_SHEETS:
        size = sizes.pop(0) if sizes else stock.size
        sheet = replace(_empty(stock, film, size, spacing), number=before + len(sheets) + 1)
        placed = (
            _with_strip(waiting, sheet, spacing) if spacing.strip and not sheets else _packed(waiting, sheet, spacing)
        )
        if placed:
            sheets.append(_sheet(sheet, waiting, placed, stock))
            waiting = _still_waiting(waiting, placed)
        elif size == stock.size:
            # Alone they would find room, but not beside the check bars.
            break
    counts: dict[str, int] = {}
    for block in waiting:
        for item, _, _ in block.pieces:
            counts[item.id] = counts.get(item.id, 0) + 1
    left_out += [LeftOut(each, counts[each.id], TOO_LARGE) for each in items if each.id in counts]
    return sheets, left_out


def _still_waiting(waiting: Sequence[Block], placed: Sequence[Placed]) -> list[Block]:
    """Return the blocks for further sheets, where they lie like those of their set that were placed."""
    there = {each.box.id: each for each in placed}
    turns = {each.box.alike: each.turned for each in placed if each.box.turnable}
    left = [each for at, each in enumerate(waiting) if str(at) not in there]
    return [each.decided(turns[each.alike]) if each.alike in turns and each.turnable else each for each in left]


def _with_strip(waiting: Sequence[Block], sheet: SheetLayout, spacing: Spacing) -> list[Placed]:
    """Return what lies on the first sheet of a film, with the test strip in a corner that is waste.

    Only where no corner is left does it take room of its own, at the leading edge.
    """
    placed = _packed(waiting, sheet, spacing)
    if not placed:
        return placed
    room, taken = _room(sheet), [(each.x, each.y, each.x + each.width, each.y + each.height) for each in placed]
    strip = Box(STRIP, STRIP_SIZE.real, STRIP_SIZE.imag)
    end, gap = max(each[3] for each in taken), spacing.knife_gap
    for height in (0.0, gap + STRIP_SIZE.imag):
        for turned in (False, True):
            size = complex(strip.height, strip.width) if turned else complex(strip.width, strip.height)
            corner = free_corner(taken, complex(room.real, min(end + height, room.imag)), size, gap)
            if corner is not None:
                return [*placed, Placed(strip, corner.real, corner.imag, turned)]
    return _packed(waiting, sheet, spacing, strip) or placed


def _packed(waiting: Sequence[Block], sheet: SheetLayout, spacing: Spacing, strip: Box | None = None) -> list[Placed]:
    """Return the blocks, by their place among ``waiting``, and the check bars as they lie on one sheet.

    All that is left is packed as short as it can be; what does not fit on the sheet waits for the next one. What is
    to be tried first lies at the leading edge with the bars, so that it is never on a later sheet.
    """
    room, gap = _room(sheet), spacing.knife_gap
    if room.real <= 0 or room.imag <= 0:
        return []
    first = [*_bar_boxes(room, spacing), *([strip] if strip else [])]
    others: list[Box] = []
    for at, block in enumerate(waiting):
        box = block.box(str(at))
        row = sum(each.width + gap for each in first) + box.width
        is_trial = any(item.part is Part.TRIAL for item, _, _ in block.pieces)
        (first if is_trial and row <= room.real and box.height <= room.imag else others).append(box)
    boxes = [*first, *others]
    if sum(each.width * each.height for each in boxes) <= _area(room):
        placed = pack(boxes, room.real, gap=gap, first=len(first))
        if len(placed) == len(boxes) and max(each.y + each.height for each in placed) <= room.imag:
            return placed
    placed = pack(boxes, room.real, gap=gap, most=room.imag, first=len(first))
    return placed if any(each.box.id not in (ACROSS, ALONG, STRIP) for each in placed) else []


def _sheet(sheet: SheetLayout, waiting: Sequence[Block], placed: Sequence[Placed], stock: Stock) -> SheetLayout:
    """Return the sheet with what was placed on it."""
    left, top, _, _ = sheet.printable
    origin = complex(left, top)
    placements: list[Placement] = []
    bars: dict[str, tuple[complex, complex]] = {}
    for each in placed:
        corner = origin + complex(each.x, each.y)
        if each.box.id in (ACROSS, ALONG):
            bars[each.box.id] = _bar(each, corner)
        elif each.box.id == STRIP:
            strip = Item(f"{TEST_STRIP}-{sheet.film}", "", Part.STRIP, STRIP_SIZE, TEST_STRIP, sheet.film)
            placements.append(Placement(strip, 1, corner, each.turned))
        else:
            placements += waiting[int(each.box.id)].placements(corner, turned=each.turned)
    ends = [each.footprint[3] for each in placements] + [max(one.imag, other.imag) for one, other in bars.values()]
    found = tuple(bars[each] for each in (ACROSS, ALONG) if each in bars)
    return _measured(replace(sheet, placements=tuple(placements), bars=found), max(ends), stock)


def _measured(sheet: SheetLayout, end: float, stock: Stock) -> SheetLayout:
    """Return the sheet with its used length, a gap beyond the last piece, and with what is left below it."""
    height = sheet.size.imag
    used = min(height, end + max(sheet.knife_gap, 1.0))
    rest = height - used
    remainder = (0.0, used, sheet.size.real, height) if rest > 0 and rest >= stock.shortest else None
    return replace(sheet, used_length=used, remainder=remainder)


def _bar_boxes(room: complex, spacing: Spacing) -> list[Box]:
    """Return the room for the check bars, the one along the sheet first: both at the leading edge."""
    if spacing.bars == NO_BARS:
        return []
    along = min(BAR_MM, room.imag)
    if spacing.bars == SHORT_ALONG:
        along = min(along, LEAST_BAR_MM)
    across = min(BAR_MM, room.real - BAR_BAND_MM - spacing.knife_gap)
    boxes = [Box(ALONG, BAR_BAND_MM, along, turnable=False)] if along >= LEAST_BAR_MM else []
    return boxes + ([Box(ACROSS, across, BAR_BAND_MM, turnable=False)] if across >= LEAST_BAR_MM else [])


def _bar(placed: Placed, corner: complex) -> tuple[complex, complex]:
    """Return the ends of a check bar, in the middle of its band."""
    if placed.box.id == ACROSS:
        start = corner + complex(0, BAR_BAND_MM / 2)
        return start, start + placed.width
    start = corner + complex(BAR_BAND_MM / 2, 0)
    return start, start + complex(0, placed.height)


def _empty(stock: Stock, film: str, size: complex, spacing: Spacing) -> SheetLayout:
    return SheetLayout(stock.paper, size, stock.margins, film, (), 0.0, knife_gap=spacing.knife_gap, marks=stock.marks)


def _room(sheet: SheetLayout) -> complex:
    """Return width and height of what may be printed on."""
    left, top, right, bottom = sheet.printable
    return complex(right - left, bottom - top)


def _area(size: complex) -> float:
    return size.real * size.imag
