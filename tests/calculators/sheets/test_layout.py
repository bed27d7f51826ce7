"""Sheets of pieces: nothing lost, nothing overlaps, sets alike, and what does not fit is named."""

import math
from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from calculators.sheets.layout import (
    BOTH_BARS,
    MOST_PIECES,
    NO_BARS,
    SHORT_ALONG,
    TOO_LARGE,
    LaidOut,
    Spacing,
    Stock,
    TooMany,
    lay_out,
)
from calculators.sheets.model import Item, Part, Placement, Rectangle, SheetLayout

#: ISO 216: A4 is 210 x 297 mm. The margin is a usual one of home printers (estimate).
A4 = Stock("a4", 210 + 297j, (5, 5, 5, 5), shortest=127)
TINY = 1e-6


def item(id: str, size: complex, **more) -> Item:
    return Item(id, id, more.pop("part", Part.COLOUR), size, id, more.pop("film", "clear"), **more)


def assert_sound(laid_out: LaidOut, items: list[Item], gap: float) -> None:
    """Every piece is on a sheet once or is named as left out, within the printer's reach and apart from all else."""
    there = Counter((each.item.id, each.copy) for sheet in laid_out.sheets for each in sheet.placements)
    assert all(count == 1 for count in there.values())
    placed = Counter(id for id, _ in there)
    for each in items:
        missing = sum(left.pieces for left in laid_out.left_out if left.item.id == each.id)
        assert placed[each.id] + missing == each.pieces
    assert [sheet.number for sheet in laid_out.sheets] == list(range(1, len(laid_out.sheets) + 1))
    for sheet in laid_out.sheets:
        left, top, right, bottom = sheet.printable
        taken = [each.footprint for each in sheet.placements]
        for box in taken:
            assert box[0] >= left - TINY and box[1] >= top - TINY
            assert box[2] <= right + TINY and box[3] <= bottom + TINY and box[3] <= sheet.used_length + TINY
        for start, end in sheet.bars:
            taken.append((start.real, start.imag, end.real, end.imag))
        for one, other in combinations(taken, 2):
            assert apart(one, other) >= gap - TINY
        assert all(each.item.film == sheet.film for each in sheet.placements)


def apart(one: Rectangle, other: Rectangle) -> float:
    return max(other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])


def turns(sheets: tuple[SheetLayout, ...], *ids: str) -> set[bool]:
    return {each.turned for sheet in sheets for each in sheet.placements if each.item.id in ids}


def test_copies_and_spares_lie_on_one_sheet_and_the_rest_is_whole():
    items = [
        item("crest", 14 + 14j, copies=2, spares=1, rim=0.5, tab=6),
        item("number", 20 + 6j, copies=4, rim=0.5, tab=6),
    ]
    found = lay_out(items, A4, Spacing(3))
    assert_sound(found, items, 3)
    (sheet,) = found.sheets
    assert Counter(each.item.id for each in sheet.placements) == {"crest": 3, "number": 4, "test-strip-clear": 1}
    assert sheet.remainder == (0, sheet.used_length, 210, 297)
    # A bar of 100 mm along the sheet, the margin above it and a gap below: nothing here needs more.
    assert sheet.used_length == pytest.approx(5 + 100 + 3)


def test_bars_are_100_mm_in_both_directions_and_short_along_where_film_counts_more():
    items = [item("crest", 14 + 14j)]
    for bars, lengths in ((BOTH_BARS, [100, 100]), (SHORT_ALONG, [100, 20]), (NO_BARS, [])):
        (sheet,) = lay_out(items, A4, Spacing(1, bars=bars)).sheets
        assert [abs(end - start) for start, end in sheet.bars] == pytest.approx(lengths)
    (small,) = lay_out(items, replace(A4, size=80 + 60j), Spacing(1)).sheets
    # Across: 80 mm less two margins, the band of the other bar and a gap.
    assert [abs(end - start) for start, end in small.bars] == pytest.approx([63, 50])


def test_a_quarter_turn_takes_points_of_the_piece_along():
    placement = Placement(item("stripe", 30 + 4j, rim=1, tab=6), 1, 50 + 60j, turned=True)
    assert placement.on_sheet(0) == 50 + 90j  # the top left goes to the bottom left
    assert placement.on_sheet(30 + 0j) == 50 + 60j  # and the top right to the top left
    assert placement.footprint == (49, 59, 55, 97)  # the tab is at the bottom


def test_members_of_a_set_lie_together_and_alike():
    pair = [item(f"door-{side}", 30 + 8j, copies=3, set_id="door", tab=6) for side in ("left", "right")]
    series = [item(f"number-{at}", 12 + 5j, set_id="numbers", fixed_turn=True) for at in range(9)]
    others = [item(f"other-{at}", complex(10 + 7 * at, 40 - 3 * at), copies=2) for at in range(8)]
    found = lay_out([*pair, *series, *others], A4, Spacing(2))
    assert_sound(found, [*pair, *series, *others], 2)
    assert len(turns(found.sheets, "door-left", "door-right")) == 1
    assert turns(found.sheets, *(each.id for each in series)) == {False}
    for copy in (1, 2, 3):
        (one,), (other,) = (
            [
                each.footprint
                for sheet in found.sheets
                for each in sheet.placements
                if (each.item.id, each.copy) == (id, copy)
            ]
            for id in ("door-left", "door-right")
        )
        assert apart(one, other) == pytest.approx(2, abs=0.002)


def test_two_parts_of_a_set_lie_the_same_way_on_sheets_of_two_films():
    parts = [
        item("disc", 190 + 20j, set_id="disc", fixed_turn=True, crosses=True, rim=0.5, tab=6),
        item(
            "disc-white",
            190 + 20j,
            part=Part.WHITE_UNDER,
            film="white",
            set_id="disc",
            fixed_turn=True,
            crosses=True,
            tab=6,
        ),
    ]
    found = lay_out(parts, A4, Spacing(3))
    assert_sound(found, parts, 3)
    assert [sheet.film for sheet in found.sheets] == ["clear", "white"]
    # With its crosses it is 203 mm long, more than the sheet is wide within its margins: both are turned.
    assert turns(found.sheets, "disc", "disc-white") == {True}


def test_more_than_a_sheet_holds_goes_onto_further_sheets_with_the_test_pieces_on_the_first():
    items = [
        item("panel", 60 + 60j, copies=20),
        item("crest-trial", 12 + 12j, part=Part.TRIAL, tab=6),
    ]
    found = lay_out(items, A4, Spacing(3))
    assert_sound(found, items, 3)
    # 200 x 287 mm less the bars hold 3 x 4 panels at most.
    assert len(found.sheets) == 2
    parts = {each.item.part for each in found.sheets[0].placements}
    assert parts == {Part.COLOUR, Part.TRIAL, Part.STRIP}


def test_a_part_used_sheet_is_what_is_left_of_it():
    items = [item("panel", 60 + 60j, copies=12)]
    found = lay_out(items, replace(A4, part_used={"clear": 150}), Spacing(3))
    assert_sound(found, items, 3)
    assert [sheet.size for sheet in found.sheets] == [210 + 147j, 210 + 297j]


def test_a_remainder_shorter_than_the_printer_takes_is_none():
    items = [item("panel", 190 + 170j)]
    (sheet,) = lay_out(items, A4, Spacing(3, bars=NO_BARS, strip=False)).sheets
    assert 297 - sheet.used_length < 127
    assert sheet.remainder is None
    (sheet,) = lay_out(items, replace(A4, shortest=100), Spacing(3, bars=NO_BARS, strip=False)).sheets
    assert sheet.remainder is not None


def test_a_piece_larger_than_the_sheet_is_named_and_the_others_are_laid_out():
    items = [item("banner", 400 + 10j, copies=2), item("crest", 14 + 14j)]
    found = lay_out(items, A4, Spacing(3))
    assert_sound(found, items, 3)
    assert [(each.item.id, each.pieces, each.why) for each in found.left_out] == [("banner", 2, TOO_LARGE)]


def test_a_piece_that_fits_only_without_bars_is_left_out_for_that():
    items = [item("banner", 199 + 286j)]
    found = lay_out(items, A4, Spacing(3))
    assert (found.sheets, [each.item.id for each in found.left_out]) == ((), ["banner"])
    assert len(lay_out(items, A4, Spacing(3, bars=NO_BARS)).sheets) == 1


def test_zero_copies_need_no_sheet():
    assert lay_out([item("crest", 14 + 14j, copies=0)], A4, Spacing(3)) == LaidOut((), ())
    assert lay_out([], A4, Spacing(3)) == LaidOut((), ())


def test_ten_thousand_copies_are_refused_with_the_number_of_sheets():
    with pytest.raises(TooMany) as refused:
        lay_out([item("crest", 20 + 10j, copies=10_000)], A4, Spacing(0))
    # 2,000,000 mm² on sheets of 200 x 287 mm.
    assert (refused.value.pieces, refused.value.sheets) == (10_000, math.ceil(2_000_000 / 57_400))


def test_the_most_pieces_that_are_taken_all_lie_on_sheets():
    items = [item(f"dot-{at}", complex(3 + at % 3, 3), copies=MOST_PIECES // 50) for at in range(50)]
    found = lay_out(items, A4, Spacing(1))
    assert_sound_counts(found, items)


def assert_sound_counts(found: LaidOut, items: list[Item]) -> None:
    there = Counter(each.item.id for sheet in found.sheets for each in sheet.placements)
    assert all(there[each.id] == each.pieces for each in items)


def test_no_printable_area_places_nothing_and_loses_nothing():
    items = [item("crest", 14 + 14j, copies=2)]
    found = lay_out(items, replace(A4, margins=(110, 5, 110, 5)), Spacing(3))
    assert_sound(found, items, 3)
    assert found.sheets == ()


def test_the_band_for_the_marks_of_a_cutter_stays_empty():
    items = [item("crest", 14 + 14j, copies=30, tab=6)]
    found = lay_out(items, replace(A4, marks=12), Spacing(1))
    assert_sound(found, items, 1)
    for sheet in found.sheets:
        assert sheet.printable == (17, 17, 193, 280)


many = st.lists(
    st.builds(
        item,
        id=st.just(""),
        size=st.builds(complex, st.floats(1, 180), st.floats(1, 120)),
        copies=st.integers(0, 3),
        spares=st.integers(0, 1),
        set_id=st.sampled_from(["", "", "pair", "series"]),
        fixed_turn=st.booleans(),
        crosses=st.booleans(),
        film=st.sampled_from(["clear", "white"]),
        rim=st.sampled_from([0, 0.5, 2]),
        tab=st.sampled_from([0, 6]),
    ),
    max_size=8,
)


@given(many, st.floats(0, 5), st.sampled_from([NO_BARS, SHORT_ALONG, BOTH_BARS]))
@settings(max_examples=40, deadline=None, phases=(Phase.explicit, Phase.generate))
def test_any_items_are_laid_out_soundly(drawn, gap, bars):
    items = [replace(each, id=f"item-{at}") for at, each in enumerate(drawn)]
    found = lay_out(items, A4, Spacing(gap, bars=bars))
    assert_sound(found, items, gap)
    for name in ("pair", "series"):
        for film in ("clear", "white"):
            sheets = tuple(sheet for sheet in found.sheets if sheet.film == film)
            members = [each.id for each in items if each.set_id == name]
            assert len(turns(sheets, *members)) <= 1
