"""Edges that were split once are not split again, and are the same as if they were."""

from __future__ import annotations

import random
import sys

import pytest
import shapely

from calculators.cache import size_bytes
from calculators.shapes import snap_rounding
from calculators.shapes.snap_rounding import Arrangements, edge_of, parts_along, split_edges

SIDE = 1000


@pytest.fixture
def splits(monkeypatch) -> list[int]:
    """The numbers of edges that were split, one for each time."""
    counts: list[int] = []

    def counted(edges, settled=frozenset()):
        counts.append(len(edges))
        return split_edges(edges, settled)

    monkeypatch.setattr(snap_rounding, "split_edges", counted)
    return counts


def crossing_edges(count: int, seed: int, side: int = SIDE) -> set:
    drawn = random.Random(seed)
    ends = [(drawn.randrange(side), drawn.randrange(side)) for _ in range(2 * count)]
    return {edge_of(one, other) for one, other in zip(ends[::2], ends[1::2], strict=True) if one != other}


def parts_of(edges: set, chains: dict) -> set:
    return {part for edge in edges for part in parts_along(chains.get(edge, edge))}


def split_parts(arranged: Arrangements, edges: set) -> set:
    return parts_of(edges, arranged.split_edges(edges))


def touch_at_ends_only(parts: set) -> bool:
    """Return whether edges do, by another library."""
    tree = shapely.STRtree([shapely.LineString(part) for part in parts])
    ones, others = tree.query(tree.geometries, predicate="intersects")
    shared = shapely.intersection(tree.geometries[ones[ones < others]], tree.geometries[others[ones < others]])
    ends = {node for part in parts for node in part}
    return all(each.geom_type == "Point" and (each.x, each.y) in ends for each in shared)


@pytest.mark.parametrize("seed", range(5))
def test_parts_of_an_arrangement_are_not_split_again(splits, seed):
    arranged = Arrangements()
    parts = split_parts(arranged, crossing_edges(40, seed))
    assert touch_at_ends_only(parts)
    some = set(random.Random(seed).sample(sorted(parts), len(parts) // 2))
    assert arranged.split_edges(some) == split_edges(some) == {}
    assert len(splits) == 1


def test_parts_of_two_arrangements_are_split_where_they_cross(splits):
    arranged = Arrangements()
    one, other = (split_parts(arranged, crossing_edges(20, seed)) for seed in (1, 2))
    both = one | other
    assert arranged.split_edges(both) == split_edges(both)
    assert len(splits) == 3
    assert split_edges(both)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize(("count", "side"), [(1, SIDE), (30, SIDE), (30, 100), (60, 20)])
def test_fresh_edges_among_settled_ones_are_split_as_all_are(seed, count, side):
    settled = split_parts(Arrangements(), crossing_edges(40, seed))
    drawn = random.Random(seed)
    corner = drawn.randrange(SIDE), drawn.randrange(SIDE)
    # In a small square many of their ends and crossings are rounded to the same points.
    fresh = {
        edge_of(*((corner[0] + x, corner[1] + y) for x, y in edge)) for edge in crossing_edges(count, seed + 100, side)
    }
    split = split_edges(settled | fresh, settled)
    assert split == split_edges(settled | fresh)
    assert touch_at_ends_only(parts_of(settled | fresh, split))


def test_settled_edges_are_split_at_ends_and_crossings_of_fresh_ones():
    settled = {((0, 0), (1000, 0)), ((0, 500), (1000, 500))}
    fresh = {((300, 0), (300, 600)), ((900, 700), (900, 900))}
    assert split_edges(settled | fresh, settled) == {
        ((0, 0), (1000, 0)): [(0, 0), (300, 0), (1000, 0)],
        ((0, 500), (1000, 500)): [(0, 500), (300, 500), (1000, 500)],
        ((300, 0), (300, 600)): [(300, 0), (300, 500), (300, 600)],
    }


def test_an_arrangement_stays_known_while_its_edges_come_back(splits):
    arranged = Arrangements()
    first = split_parts(arranged, crossing_edges(10, 0))
    for seed in range(1, 2 * snap_rounding.MOST_KNOWN):
        arranged.split_edges(crossing_edges(10, seed))
        assert arranged.split_edges(first) == {}
    assert len(splits) == 2 * snap_rounding.MOST_KNOWN


def test_the_cache_counts_what_is_known():
    arranged = Arrangements()
    before = size_bytes(arranged)
    parts = split_parts(arranged, crossing_edges(40, 0))
    # An edge has two nodes of two whole numbers each.
    assert size_bytes(arranged) - before >= len(parts) * sys.getsizeof((0, 0))


def test_an_arrangement_is_forgotten_after_several_others(splits):
    arranged = Arrangements()
    first = split_parts(arranged, crossing_edges(10, 0))
    for seed in range(1, snap_rounding.MOST_KNOWN + 1):
        arranged.split_edges(crossing_edges(10, seed))
    arranged.split_edges(first)
    assert len(splits) == snap_rounding.MOST_KNOWN + 2
