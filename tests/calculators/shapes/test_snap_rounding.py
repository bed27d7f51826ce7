"""Edges that were split once are not split again, and are the same as if they were."""

from __future__ import annotations

import random
import sys
from itertools import pairwise

import pytest
import shapely

from calculators.cache import size_bytes
from calculators.shapes import snap_rounding
from calculators.shapes.snap_rounding import Arrangements, edge_of, split_edges

SIDE = 1000


@pytest.fixture
def splits(monkeypatch) -> list[int]:
    """The numbers of edges that were split, one for each time."""
    counts: list[int] = []

    def counted(edges):
        counts.append(len(edges))
        return split_edges(edges)

    monkeypatch.setattr(snap_rounding, "split_edges", counted)
    return counts


def crossing_edges(count: int, seed: int) -> set:
    drawn = random.Random(seed)
    ends = [(drawn.randrange(SIDE), drawn.randrange(SIDE)) for _ in range(2 * count)]
    return {edge_of(one, other) for one, other in zip(ends[::2], ends[1::2], strict=True) if one != other}


def parts_of(chains: dict) -> set:
    return {edge_of(start, end) for chain in chains.values() for start, end in pairwise(chain)}


@pytest.mark.parametrize("seed", range(5))
def test_parts_of_an_arrangement_are_not_split_again(splits, seed):
    arranged = Arrangements()
    parts = parts_of(arranged.split_edges(crossing_edges(40, seed)))
    # By another library: they touch at their ends only.
    tree = shapely.STRtree([shapely.LineString(part) for part in parts])
    assert not len(tree.query(tree.geometries, predicate="crosses")[0])
    some = set(random.Random(seed).sample(sorted(parts), len(parts) // 2))
    assert arranged.split_edges(some) == split_edges(some) == {part: list(part) for part in some}
    assert len(splits) == 1


def test_parts_of_two_arrangements_are_split_where_they_cross(splits):
    arranged = Arrangements()
    one, other = (parts_of(arranged.split_edges(crossing_edges(20, seed))) for seed in (1, 2))
    both = one | other
    assert arranged.split_edges(both) == split_edges(both)
    assert len(splits) == 3
    assert max(map(len, split_edges(both).values())) > 2


def test_the_cache_counts_what_is_known():
    arranged = Arrangements()
    before = size_bytes(arranged)
    parts = parts_of(arranged.split_edges(crossing_edges(40, 0)))
    # An edge has two nodes of two whole numbers each.
    assert size_bytes(arranged) - before >= len(parts) * sys.getsizeof((0, 0))


def test_an_arrangement_is_forgotten_after_several_others(splits):
    arranged = Arrangements()
    first = parts_of(arranged.split_edges(crossing_edges(10, 0)))
    for seed in range(1, snap_rounding.MOST_KNOWN + 1):
        arranged.split_edges(crossing_edges(10, seed))
    arranged.split_edges(first)
    assert len(splits) == snap_rounding.MOST_KNOWN + 2
