"""Packing against instances whose shortest strip is known, and against the library by itself."""

import csv
import statistics
import time
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rectpack import maxrects

from calculators.packing import Box, Placed, pack
from calculators.packing.strip import MOST_FOR_LIBRARY

#: E. Hopper and B. C. H. Turton, "An empirical investigation of meta-heuristic and heuristic algorithms for a 2D
#: packing problem", European Journal of Operational Research 128 (2001), 34-57: classes C1 to C7, cut from a rectangle
#: of the optimal height, so that nothing can be shorter.
PUBLISHED = Path(__file__).resolve().parents[2] / "published" / "strip_hopper_turton_c.csv"


def instances() -> list[tuple[str, int, int, list[tuple[int, int]]]]:
    with PUBLISHED.open(encoding="utf-8") as file:
        return [
            (
                row["instance"],
                int(row["strip_W"]),
                int(row["optimal_H"]),
                [(int(w), int(h)) for w, h in (each.split("x") for each in row["items(w x h)"].split())],
            )
            for row in csv.DictReader(file)
        ]


@pytest.fixture(scope="module")
def packed() -> dict[str, list[Placed]]:
    return {
        name: pack([Box(str(at), *sides) for at, sides in enumerate(items)], width)
        for name, width, _, items in instances()
    }


def length(placed: list[Placed]) -> float:
    return max(each.y + each.height for each in placed)


def assert_apart(placed: list[Placed], width: float, gap: float = 0.0) -> None:
    """Nothing overlaps, gaps are kept, and all is on the strip; 1e-9 mm is what floats are off by."""
    for each in placed:
        assert each.x >= 0 and each.y >= 0 and each.x + each.width <= width + 1e-9
    for one, other in combinations(placed, 2):
        aside = max(other.x - one.x - one.width, one.x - other.x - other.width)
        below = max(other.y - one.y - one.height, one.y - other.y - other.height)
        assert max(aside, below) >= gap - 1e-9


def test_hopper_and_turton_come_close_to_the_shortest_strip(packed):
    over = {name: length(packed[name]) / best for name, _, best, _ in instances()}
    assert len(over) == 21
    assert all(each >= 1 for each in over.values())
    assert statistics.mean(over.values()) <= 1.04
    assert max(over.values()) <= 1.07


def test_hopper_and_turton_are_packed_whole_and_apart(packed):
    for name, width, _, items in instances():
        assert sorted(int(each.box.id) for each in packed[name]) == list(range(len(items)))
        assert_apart(packed[name], width)


@pytest.mark.parametrize("fitness", ["MaxRectsBl", "MaxRectsBssf", "MaxRectsBaf", "MaxRectsBlsf"])
def test_no_instance_is_longer_than_one_pass_of_the_library_with_short_sides_first(packed, fitness):
    for name, width, best, items in instances():
        strip = getattr(maxrects, fitness)(width, 20 * best, rot=True)
        for sides in sorted(items, key=sorted, reverse=True):
            assert strip.add_rect(*sides)
        assert length(packed[name]) <= max(each.top for each in strip)


@pytest.mark.bench
def test_hopper_and_turton_take_at_most_three_seconds():
    before = time.perf_counter()
    for _, width, _, items in instances():
        pack([Box(str(at), *sides) for at, sides in enumerate(items)], width)
    took = time.perf_counter() - before
    print(f"21 instances in {took:.2f} s")
    assert took <= 3


boxes = st.lists(
    st.builds(
        Box,
        id=st.just("box"),
        width=st.floats(0.1, 150),
        height=st.floats(0.1, 150),
        turnable=st.booleans(),
        alike=st.sampled_from(["", "", "one", "two"]),
    ),
    max_size=25,
)


@given(boxes, st.floats(1, 200), st.floats(0, 5))
@settings(max_examples=60, deadline=None)
def test_any_boxes_lie_apart_and_all_that_fit_are_there(drawn, width, gap):
    submitted = [Box(str(at), each.width, each.height, each.turnable, each.alike) for at, each in enumerate(drawn)]
    placed = pack(submitted, width, gap=gap)
    assert_apart(placed, width, gap)
    there = [each.box.id for each in placed]
    assert len(set(there)) == len(there)
    assert all(each.box.turnable or not each.turned for each in placed)
    for text in ("one", "two"):
        turnable = [each for each in placed if each.box.alike == text and each.box.turnable]
        assert len({each.turned for each in turnable if each.box.width != each.box.height}) <= 1
    # A box that goes with no other is left out only if it is too wide; 2 µm is what the grid may take.
    for each in submitted:
        narrowest = min(each.width, each.height) if each.turnable else each.width
        if not each.alike and narrowest + 0.002 < width:
            assert each.id in there


@given(boxes, st.floats(20, 200), st.floats(5, 200))
@settings(max_examples=40, deadline=None)
def test_a_strip_that_ends_holds_what_it_can(drawn, width, most):
    placed = pack(drawn, width, gap=1, most=most)
    assert_apart(placed, width, 1)
    assert all(each.y + each.height <= most + 1e-9 for each in placed)


def test_the_same_boxes_lie_at_the_same_places_every_time():
    submitted = [Box(str(at), 3 + at % 7, 2 + at % 5) for at in range(40)]
    assert pack(submitted, 60, gap=1) == pack(submitted, 60, gap=1)


def test_more_boxes_than_the_library_takes_are_packed_too():
    submitted = [Box(str(at), 5, 4) for at in range(MOST_FOR_LIBRARY + 150)]
    placed = pack(submitted, 100)
    assert len(placed) == len(submitted)
    assert length(placed) == 80  # 400 boxes of 20 mm² fill 80 mm of 100 mm


@pytest.mark.parametrize("count", [0, 5, MOST_FOR_LIBRARY + 10])
def test_first_boxes_lie_side_by_side_at_the_beginning(count):
    bars = [Box("down", 5, 100), Box("across", 90, 5), Box("no width left", 30, 5)]
    placed = pack([*bars, *(Box(str(at), 8, 3) for at in range(count))], 100, gap=1, most=180, first=3)
    assert_apart(placed, 100, 1)
    assert [(each.x, each.y, each.turned) for each in placed if each.box.id in ("down", "across")] == [
        (0, 0, False),
        (6, 0, False),
    ]


def test_nothing_to_pack_is_nothing():
    assert pack([], 100) == []
    assert pack([Box("a", 5, 5)], 0) == []
