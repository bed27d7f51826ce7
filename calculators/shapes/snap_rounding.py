"""Splits segments on a grid of whole numbers, until they meet at their ends only.

Every crossing is rounded to a point of the grid, and every segment that enters the square of half a unit
round such a point, or round an end, is bent through it. So no segment moves by more than 0.71 units, and all decisions
are made in whole numbers, which do not round.

Source: Hobby, "Practical segment intersection with finite precision output", Computational Geometry 13 (1999), from
memory. Crossings that a bend makes anew, where squares touch, are found by looking again until there are none.

Edges that are split against one another already are not compared again: only fresh ones with each other and with them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence, Set
from itertools import chain, pairwise
from math import isqrt
from operator import sub

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
#: So few edges are split so fast that they are not remembered: they would push out what is large.
FEW = 8
#: Cells along a side of the grid that finds neighbours, at most.
MOST_CELLS = 4096


class TooTangled(ArithmeticError):
    """So many segments lie across each other that it would take too long to split them."""


def edge_of(start: Node, end: Node) -> Edge:
    """Return two nodes as an edge."""
    return (start, end) if start < end else (end, start)


def split_edges(edges: Iterable[Edge], settled: Set[Edge] = frozenset()) -> dict[Edge, list[Node]]:
    """Return the nodes along each of ``edges`` that is split, first and last included, so that no two parts cross or
    overlap unless they are equal. Raises TooTangled.

    Those of ``edges`` that are ``settled`` are known to be split against one another.

    >>> split_edges([((0, 0), (10, 10)), ((0, 10), (10, 0))])[(0, 0), (10, 10)]
    [(0, 0), (5, 5), (10, 10)]
    """
    whole = set(edges)
    fresh, settled = whole - settled, whole & settled
    chains: dict[Edge, list[Node]] = {}
    for _ in range(MOST_ROUNDS):
        found = _split_once(fresh, settled)
        if not found:
            return chains
        for edge, nodes in chains.items():
            chains[edge] = _longer(nodes, found)
        chains |= {edge: nodes for edge, nodes in found.items() if edge in whole and edge not in chains}
        # Whatever was not split in this round crosses nothing but perhaps the new parts.
        settled = (settled | fresh) - found.keys()
        fresh = {part for nodes in found.values() for part in parts_along(nodes)} - settled
    raise TooTangled("segments cross anew after every round")


def parts_along(nodes: Sequence[Node]) -> Iterator[Edge]:
    """Yield the edges from each node to the next."""
    return (edge_of(start, end) for start, end in pairwise(nodes))


def _longer(nodes: Sequence[Node], found: Mapping[Edge, list[Node]]) -> list[Node]:
    """Return the nodes along an edge with those between which its parts were split."""
    made = [nodes[0]]
    for start, end in pairwise(nodes):
        part = found.get(edge_of(start, end), (start, end))
        made += part[1:] if part[0] == start else part[-2::-1]
    return made


class Arrangements:
    """The last few sets of edges that were split, to see at once that edges from one of them are split already."""

    def __init__(self) -> None:
        # A list, whose members the cache counts.
        self._known: list[set[Edge]] = []

    def split_edges(self, edges: set[Edge]) -> dict[Edge, list[Node]]:
        """Return what ``split_edges`` does."""
        known = max(self._known, key=lambda each: len(edges & each), default=set())
        self._known = [known, *(each for each in self._known if each is not known)]
        if edges <= known:
            return {}
        chains = split_edges(edges, edges & known)
        parts = edges - chains.keys()
        parts.update(chain.from_iterable(map(parts_along, chains.values())))
        if len(parts) > FEW:
            self._known = [parts, *self._known][:MOST_KNOWN]
        return chains


def _split_once(fresh: Collection[Edge], settled: Collection[Edge]) -> dict[Edge, list[Node]]:
    """Return the nodes along each edge that is split in one round."""
    if not fresh:
        return {}
    index = _Index(fresh, settled)
    within: defaultdict[Edge, set[Node]] = defaultdict(set)
    crossings: set[Node] = set()
    for one, other in index.neighbours():
        for edge, node in _entered(one, other):
            within[edge].add(node)
        if (crossing := _crossing(one, other)) is not None:
            crossings.add(crossing)
            within[one].add(crossing)
            within[other].add(crossing)
    for edge, node in index.passed(crossings):
        within[edge].add(node)
    return {edge: nodes for edge, inner in within.items() if len(nodes := _chain(edge, inner)) > 2}


def _chain(edge: Edge, inner: Iterable[Node]) -> list[Node]:
    """Return the nodes along an edge in their order."""
    (x, y), (to_x, to_y) = edge
    across, down = to_x - x, to_y - y
    between = {node for node in inner if node not in edge}
    return [edge[0], *sorted(between, key=lambda node: ((node[0] - x) * across + (node[1] - y) * down, node)), edge[1]]


class _Index:
    """Edges by the cells of a square grid that they pass or touch: fresh ones, and settled ones in the same cells."""

    def __init__(self, fresh: Collection[Edge], settled: Collection[Edge]) -> None:
        numbers = list(chain.from_iterable(chain.from_iterable(fresh)))
        across, down = numbers[::2], numbers[1::2]
        left, right, top, bottom = min(across) - 1, max(across) + 1, min(down) - 1, max(down) + 1
        wide, high = right - left, bottom - top
        lengths = sum(across[1::2]) - sum(across[::2]) + sum(map(abs, map(sub, down[1::2], down[::2])))
        length = lengths // len(fresh)
        # Cells of about the usual length, but no more than a few to an edge.
        side = max(4, length, max(wide, high) // MOST_CELLS, isqrt(wide * high // (4 * len(fresh)) + 1) // 2)
        self.shift = shift = side.bit_length()
        self.columns, self.rows = (left >> shift, right >> shift), (top >> shift, bottom >> shift)
        self.stride = (high >> shift) + 2
        self.fresh = self._by_cells(fresh)
        near = (
            edge
            for edge in settled
            if edge[0][0] <= right
            and edge[1][0] >= left
            and (edge[0][1] <= bottom or edge[1][1] <= bottom)
            and (edge[0][1] >= top or edge[1][1] >= top)
        )
        self.settled = self._by_cells(near)
        pairs = sum(len(own) * (len(own) + 2 * len(self.settled.get(cell, ()))) for cell, own in self.fresh.items())
        if pairs > 2 * MOST_PAIRS:
            raise TooTangled("too many segments lie beside each other")

    def _by_cells(self, edges: Iterable[Edge]) -> defaultdict[int, list[Edge]]:
        """Return edges by the cells from which they may be no further than 1, in both directions."""
        shift, stride = self.shift, self.stride
        cells: defaultdict[int, list[Edge]] = defaultdict(list)
        for edge in edges:
            (x, y), (to_x, to_y) = edge
            column, row = x - 1 >> shift, (y if y < to_y else to_y) - 1 >> shift
            if column == to_x + 1 >> shift and row == (to_y if y < to_y else y) + 1 >> shift:
                cells[column * stride + row].append(edge)
            else:
                for cell in self._passed_cells(edge):
                    cells[cell].append(edge)
        return cells

    def _passed_cells(self, edge: Edge) -> Iterable[int]:
        """Return the cells from which an edge may be no further than 1, in both directions."""
        (x, y), (to_x, to_y) = edge
        shift, stride = self.shift, self.stride
        low, high = (y, to_y) if y < to_y else (to_y, y)
        first, last, lowest, highest = x - 1 >> shift, to_x + 1 >> shift, low - 1 >> shift, high + 1 >> shift
        if first == last and lowest == highest:
            return (first * stride + lowest,)
        # A settled edge may go on far beyond the fresh ones.
        first, last = max(first, self.columns[0]), min(last, self.columns[1])
        lowest, highest = max(lowest, self.rows[0]), min(highest, self.rows[1])
        if first == last or lowest == highest or x == to_x:
            return [column * stride + row for column in range(first, last + 1) for row in range(lowest, highest + 1)]
        across, down = to_x - x, to_y - y
        cells: list[int] = []
        for column in range(first, last + 1):
            begin = max(x, (column << shift) - 1)
            end = min(to_x, (column + 1 << shift) + 1)
            one = y + (begin - x) * down // across
            other = y + (end - x) * down // across
            from_y, until_y = (one - 1, other + 2) if one < other else (other - 1, one + 2)
            begins = column * stride
            cells += range(begins + max(lowest, from_y >> shift), begins + min(highest, until_y >> shift) + 1)
        return cells

    def neighbours(self) -> Iterator[tuple[Edge, Edge]]:
        """Yield each fresh edge with each edge that it may cross, or one of which may enter the square of an end."""
        for cell, edges in self.fresh.items():
            beside = list(self.settled.get(cell, ()))
            for edge in edges:
                (ax, ay), (bx, by) = edge
                low, high = (ay, by) if ay < by else (by, ay)
                across, down = bx - ax, by - ay
                reach = across + high - low
                for other in beside:
                    (cx, cy), (dx, dy) = other
                    if cx > bx or dx < ax or (cy > high and dy > high) or (cy < low and dy < low):
                        continue
                    # One lies left and the other right of the end that they share.
                    if (ax < bx == cx < dx and by == cy) or (cx < dx == ax < bx and dy == ay):
                        continue
                    start = 2 * (across * (cy - ay) - down * (cx - ax))
                    end = 2 * (across * (dy - ay) - down * (dx - ax))
                    # The other lies on one side, and so do the squares round its ends.
                    if start >= reach <= end or start <= -reach >= end:
                        continue
                    # They share one end, and neither enters the square of the other's second end.
                    if not (start and end) and (other[0] in edge or other[1] in edge):
                        if abs(start + end) >= max(reach, dx - cx + abs(dy - cy)):
                            continue
                    yield edge, other
                beside.append(edge)

    def passed(self, nodes: Iterable[Node]) -> Iterator[tuple[Edge, Node]]:
        """Yield each edge with each of ``nodes`` whose square it enters."""
        shift, stride = self.shift, self.stride
        for node in nodes:
            cell = (node[0] >> shift) * stride + (node[1] >> shift)
            for edge in chain(self.fresh.get(cell, ()), self.settled.get(cell, ())):
                if _enters(edge, node):
                    yield edge, node


def _crossing(one: Edge, other: Edge) -> Node | None:
    """Return the point where two edges cross, rounded; None if they do not or an end of one lies on the other."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    across, down = bx - ax, by - ay
    start, end = across * (cy - ay) - down * (cx - ax), across * (dy - ay) - down * (dx - ax)
    if not (start > 0 > end or start < 0 < end):
        return None
    start = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx)
    end = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
    if not (start > 0 > end or start < 0 < end):
        return None
    # Along the first the signed distance from the other goes from start to end.
    whole = start - end
    if whole < 0:
        whole, start = -whole, -start
    return ax + (2 * start * across + whole) // (2 * whole), ay + (2 * start * down + whole) // (2 * whole)


def _entered(one: Edge, other: Edge) -> Iterator[tuple[Edge, Node]]:
    """Yield each of two edges with each end of the other whose square it enters."""
    for edge, ends in ((one, other), (other, one)):
        for node in ends:
            if _enters(edge, node):
                yield edge, node


def _enters(edge: Edge, node: Node) -> bool:
    """Return whether an edge enters the square round a node that is not one of its ends."""
    (ax, ay), (bx, by) = edge
    x, y = node
    if x < ax or x > bx or (y < ay and y < by) or (y > ay and y > by) or node in edge:
        return False
    across, down = bx - ax, by - ay
    off = 2 * (across * (y - ay) - down * (x - ax))
    reach = across + abs(down)
    return -reach < off < reach
