"""Splits segments on a grid of whole numbers, until they meet at their ends only.

Every crossing is rounded to a point of the grid, and every segment that enters the square of half a unit
round such a point, or round an end, is bent through it. So no segment moves by more than 0.71 units, and all decisions
are made in whole numbers, which do not round.

Source: Hobby, "Practical segment intersection with finite precision output", Computational Geometry 13 (1999), from
memory. Crossings that a bend makes anew, where squares touch, are found by looking again until there are none.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import isqrt

#: A point of the grid.
Node = tuple[int, int]
#: Two points of the grid, the lesser first.
Edge = tuple[Node, Node]
#: Rounds after which an arrangement is given up; two are usual.
MOST_ROUNDS = 30
#: Maximum pairs of segments that are compared in one round, which takes about 2 s.
MOST_PAIRS = 20_000_000
#: Arrangements in which edges are looked for before they are split.
MOST_KNOWN = 4
#: Cells along a side of the grid that finds neighbours, at most.
MOST_CELLS = 4096


class TooTangled(ArithmeticError):
    """So many segments lie across each other that it would take too long to split them."""


def edge_of(start: Node, end: Node) -> Edge:
    """Return two nodes as an edge."""
    return (start, end) if start < end else (end, start)


def split_edges(edges: Iterable[Edge]) -> dict[Edge, list[Node]]:
    """Return the nodes along each of ``edges``, first and last included, so that no two parts cross or overlap
    unless they are equal. Raises TooTangled.

    >>> split_edges([((0, 0), (10, 10)), ((0, 10), (10, 0))])[(0, 0), (10, 10)]
    [(0, 0), (5, 5), (10, 10)]
    """
    chains = {each: list(each) for each in edges}
    waiting = set(chains)
    for _ in range(MOST_ROUNDS):
        found = _split_once(list(waiting))
        if not any(len(chain) > 2 for chain in found.values()):
            return chains
        for edge, chain in chains.items():
            longer = [chain[0]]
            for start, end in pairwise(chain):
                part = found[edge_of(start, end)]
                longer += part[1:] if part[0] == start else part[-2::-1]
            chains[edge] = longer
        waiting = {edge_of(start, end) for chain in chains.values() for start, end in pairwise(chain)}
    raise TooTangled("segments cross anew after every round")


class Arrangements:
    """The last few sets of edges that were split, to see at once that edges from one of them are split already."""

    def __init__(self) -> None:
        # A list, whose members the cache counts.
        self._known: list[set[Edge]] = []

    def split_edges(self, edges: set[Edge]) -> dict[Edge, list[Node]]:
        """Return what ``split_edges`` does."""
        if any(edges <= known for known in self._known):
            return {each: list(each) for each in edges}
        chains = split_edges(edges)
        parts = {edge_of(start, end) for chain in chains.values() for start, end in pairwise(chain)}
        self._known = [parts, *self._known][:MOST_KNOWN]
        return chains


def _split_once(edges: list[Edge]) -> dict[Edge, list[Node]]:
    """Return the nodes along each edge after one round."""
    if not edges:
        return {}
    index = _Index(edges)
    within: defaultdict[int, set[Node]] = defaultdict(set)
    hot = {node for edge in edges for node in edge}
    for one, other, node in index.crossings():
        hot.add(node)
        within[one].add(node)
        within[other].add(node)
    for number, node in index.passed(hot):
        within[number].add(node)
    return {edge: _chain(edge, within.get(number, ())) for number, edge in enumerate(edges)}


def _chain(edge: Edge, inner: Iterable[Node]) -> list[Node]:
    """Return the nodes along an edge in their order."""
    if not inner:
        return list(edge)
    (x, y), (to_x, to_y) = edge
    across, down = to_x - x, to_y - y
    between = {node for node in inner if node not in edge}
    return [edge[0], *sorted(between, key=lambda node: ((node[0] - x) * across + (node[1] - y) * down, node)), edge[1]]


class _Index:
    """Edges by the cells of a square grid that they pass."""

    def __init__(self, edges: list[Edge]) -> None:
        self.edges = edges
        left = min(edge[0][0] for edge in edges)
        top = min(min(a[1], b[1]) for a, b in edges)
        wide = max(edge[1][0] for edge in edges) - left
        high = max(max(a[1], b[1]) for a, b in edges) - top
        length = sum(b[0] - a[0] + abs(b[1] - a[1]) for a, b in edges) // len(edges)
        # Cells of about the usual length, but no more than a few to an edge.
        side = max(4, length, max(wide, high) // MOST_CELLS, isqrt(wide * high // (4 * len(edges)) + 1) // 2)
        self.shift = side.bit_length()
        self.left, self.top = left, top
        self.cells: defaultdict[int, list[int]] = defaultdict(list)
        self.stride = (high >> self.shift) + 3
        for number, edge in enumerate(edges):
            for cell in self._passed_cells(edge):
                self.cells[cell].append(number)
        if sum(len(numbers) ** 2 for numbers in self.cells.values()) > 2 * MOST_PAIRS:
            raise TooTangled("too many segments lie beside each other")

    def _passed_cells(self, edge: Edge) -> Iterator[int]:
        """Yield the cells that an edge may pass."""
        (x, y), (to_x, to_y) = edge
        shift, stride = self.shift, self.stride
        x, to_x, y, to_y = x - self.left, to_x - self.left, y - self.top, to_y - self.top
        first, last = x >> shift, to_x >> shift
        low, high = (y, to_y) if y < to_y else (to_y, y)
        if first == last or low >> shift == high >> shift:
            for column in range(first, last + 1):
                for row in range(low >> shift, (high >> shift) + 1):
                    yield column * stride + row
            return
        across, down = to_x - x, to_y - y
        for column in range(first, last + 1):
            begin = max(x, column << shift)
            end = min(to_x, (column + 1) << shift)
            one = y + (begin - x) * down // across
            other = y + (end - x) * down // across
            from_y, until_y = (one, other + 1) if one < other else (other, one + 1)
            for row in range(max(low, from_y) >> shift, (min(high, until_y) >> shift) + 1):
                yield column * stride + row

    def crossings(self) -> Iterator[tuple[int, int, Node]]:
        """Yield the numbers of two edges that cross at a point that is an end of neither, and that point, rounded."""
        edges = self.edges
        for numbers in self.cells.values():
            for place, number in enumerate(numbers):
                (ax, ay), (bx, by) = edges[number]
                low, high = (ay, by) if ay < by else (by, ay)
                abx, aby = bx - ax, by - ay
                for other in numbers[:place]:
                    (cx, cy), (dx, dy) = edges[other]
                    if cx > bx or dx < ax or (cy > high and dy > high) or (cy < low and dy < low):
                        continue
                    one = abx * (cy - ay) - aby * (cx - ax)
                    two = abx * (dy - ay) - aby * (dx - ax)
                    if not (one > 0 > two or one < 0 < two):
                        continue
                    cdx, cdy = dx - cx, dy - cy
                    three = cdx * (ay - cy) - cdy * (ax - cx)
                    four = cdx * (by - cy) - cdy * (bx - cx)
                    if not (three > 0 > four or three < 0 < four):
                        continue
                    # From a to b the signed distance goes from three to four.
                    whole = three - four
                    if whole < 0:
                        whole, three = -whole, -three
                    yield (
                        number,
                        other,
                        (ax + (2 * three * abx + whole) // (2 * whole), ay + (2 * three * aby + whole) // (2 * whole)),
                    )

    def passed(self, hot: Iterable[Node]) -> Iterator[tuple[int, Node]]:
        """Yield the number of each edge, and each of the ``hot`` points whose square it enters."""
        edges, cells, shift, stride, left, top = self.edges, self.cells, self.shift, self.stride, self.left, self.top
        mask = (1 << shift) - 1
        for node in hot:
            px, py = node
            inside_x, inside_y = px - left, py - top
            cell = (inside_x >> shift) * stride + (inside_y >> shift)
            near = [cell]
            # A square at the border of a cell reaches into the next.
            if not inside_x & mask:
                near.append(cell - stride)
            if not inside_y & mask:
                near += [each - 1 for each in near]
            for each in near:
                for number in cells.get(each, ()):
                    (ax, ay), (bx, by) = edges[number]
                    if px < ax or px > bx or (py < ay and py < by) or (py > ay and py > by):
                        continue
                    across, down = bx - ax, by - ay
                    off = 2 * (across * (py - ay) - down * (px - ax))
                    reach = across + (down if down > 0 else -down)
                    if -reach < off < reach and node != (ax, ay) and node != (bx, by):
                        yield number, node
