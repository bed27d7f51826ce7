"""The regions between edges that meet at their ends only, by how often rings wind round them.

A ring that runs with its inside on the left winds once round it (anticlockwise where y points up). Windings of two sets
of rings are counted at once, as the two parts of a complex number.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from functools import cmp_to_key
from itertools import pairwise
from math import isqrt

from calculators.shapes.snap_rounding import Edge, Node, split_edges

#: What an edge adds to the winding from its right to its left, in its own direction.
Weights = Mapping[Edge, complex]


def weighted_edges(
    rings: Iterable[tuple[Sequence[Node], complex]],
    split: Callable[[set[Edge]], dict[Edge, list[Node]]] = split_edges,
) -> tuple[dict[Edge, complex], dict[Edge, list[Node]]]:
    """Return the edges of closed rings, each ring with what it adds to the winding, split where they meet, and the
    nodes along each edge that is split. ``split`` splits them.
    """
    weights: dict[Edge, complex] = {}
    for ring, weight in rings:
        back = -weight
        before = ring[-1]
        for node in ring:
            if before < node:
                edge = before, node
                weights[edge] = weights.get(edge, 0j) + weight
            elif node < before:
                edge = node, before
                weights[edge] = weights.get(edge, 0j) + back
            before = node
    chains = split(set(weights))
    whole = [(chain, weights.pop(edge)) for edge, chain in chains.items()]
    for chain, weight in whole:
        back = -weight
        for start, end in pairwise(chain):
            edge, share = ((start, end), weight) if start < end else ((end, start), back)
            weights[edge] = weights.get(edge, 0j) + share
    return {edge: weight for edge, weight in weights.items() if weight}, chains


def left_windings(weights: Weights) -> dict[Edge, complex]:
    """Return the winding on the left of each edge, seen from its first node to its last."""
    around = _neighbours(weights)
    found: dict[Edge, complex] = {}
    rays: _Rays | None = None
    seen: set[Node] = set()
    # Two nodes that are joined, the second still to be looked at, and the windings on the left and right of the way.
    waiting: list[tuple[Node, Node, complex, complex]] = []

    def look_round(node: Node, place: int, right: complex) -> None:
        """Note the edges of a node anticlockwise, from that at a ``place`` with the winding before it."""
        neighbours = around[node]
        for other in (*neighbours[place:], *neighbours[:place]):
            if node < other:
                edge = node, other
                left = right + weights[edge]
                found[edge] = left
            else:
                edge = other, node
                left = right - weights[edge]
                found[edge] = right
            if other not in seen:
                seen.add(other)
                waiting.append((node, other, left, right))
            right = left

    for first in sorted(around):
        if first in seen:
            continue
        if rays is None:
            rays = _Rays(weights)
        seen.add(first)
        # Nothing of this component is further left, so its surroundings lie before its first edge.
        look_round(first, _lowest(first, around[first]), rays.winding(first))
        while waiting:
            before, node, left, right = waiting.pop()
            # Where only two edges meet, windings go on beside the next.
            while len(neighbours := around[node]) == 2:
                after = neighbours[neighbours[0] == before]
                if node < after:
                    found[node, after] = left
                else:
                    found[after, node] = right
                if after in seen:
                    break
                seen.add(after)
                before, node = node, after
            else:
                # Seen from this end, what lies on the right of the way back is what lies on the left here.
                look_round(node, neighbours.index(before), left)
    return found


def boundary_of(
    rings: Iterable[tuple[Sequence[Node], complex]],
    inside: Callable[[complex], bool],
    split: Callable[[set[Edge]], dict[Edge, list[Node]]] = split_edges,
) -> list[list[Node]]:
    """Return what ``boundary`` does of closed rings, each with what it adds to the winding; ``split`` splits edges."""
    rings = list(rings)
    weights, chains = weighted_edges(rings, split)
    passed = [node for ring, _weight in rings for node in ring]
    if weights and not chains and len(passed) == len(set(passed)) == len(weights):
        return _chosen(rings, weights, inside)
    return boundary(weights, inside)


def _chosen(
    rings: Sequence[tuple[Sequence[Node], complex]], weights: Weights, inside: Callable[[complex], bool]
) -> list[list[Node]]:
    """Return what ``boundary`` does where no two edges meet but those of a ring at its nodes: whole rings."""
    rays = _Rays(weights) if len(rings) > 1 else None
    chosen: list[list[Node]] = []
    for ring, weight in rings:
        place = min(range(len(ring)), key=ring.__getitem__)
        first, *others = *ring[place:], *ring[:place]
        (ax, ay), (x, y), (bx, by) = others[-1], first, others[0]
        # Nothing of the ring is further left than its first node.
        inner_is_left = (x - ax) * (by - y) > (bx - x) * (y - ay)
        around = rays.winding(first) if rays else 0j
        is_in_region = inside(around + (weight if inner_is_left else -weight))
        if is_in_region != inside(around):
            chosen.append([first, *(others if is_in_region == inner_is_left else reversed(others))])
    return sorted(chosen)


def boundary(weights: Weights, inside: Callable[[complex], bool]) -> list[list[Node]]:
    """Return the rings round all regions whose winding is ``inside``, which lie on their left.

    No ring passes a node twice. Rings may meet at nodes.
    """
    return boundaries(weights, lambda winding: True if inside(winding) else None).get(True, [])


def boundaries(weights: Weights, region: Callable[[complex], Hashable | None]) -> dict[Hashable, list[list[Node]]]:
    """Return the rings of each region that ``region`` names for a winding, as ``boundary`` does; None is outside."""
    onward: defaultdict[Hashable, defaultdict[Node, list[Node]]] = defaultdict(lambda: defaultdict(list))
    named: dict[complex, Hashable | None] = {}
    for edge, left in left_windings(weights).items():
        right = left - weights[edge]
        for winding in (left, right):
            if winding not in named:
                named[winding] = region(winding)
        one, other = named[left], named[right]
        if one != other:
            if one is not None:
                onward[one][edge[0]].append(edge[1])
            if other is not None:
                onward[other][edge[1]].append(edge[0])
    return {name: _walked(ways) for name, ways in onward.items()}


def _walked(onward: dict[Node, list[Node]]) -> list[list[Node]]:
    rings: list[list[Node]] = []
    for first in sorted(onward):
        while onward[first]:
            path, place = [first], {first: 0}
            before, here = first, onward[first].pop()
            while True:
                if here in place:
                    ring = path[place[here] :]
                    rings.append(ring)
                    if here == first:
                        break
                    del path[place[here] + 1 :]
                    for node in ring[1:]:
                        del place[node]
                else:
                    place[here] = len(path)
                    path.append(here)
                choices = onward[here]
                if len(choices) == 1:
                    after = choices.pop()
                else:
                    after = _sharpest(here, before, choices)
                    choices.remove(after)
                before, here = here, after
    return rings


def _sharpest(node: Node, before: Node, choices: Sequence[Node]) -> Node:
    """Return which of ``choices`` comes first clockwise from the way back, so that the walk stays round one region."""
    order = _anticlockwise(node, [*choices, before])
    return order[order.index(before) - 1]


def _neighbours(weights: Weights) -> dict[Node, list[Node]]:
    """Return the neighbours of each node, anticlockwise."""
    around: defaultdict[Node, list[Node]] = defaultdict(list)
    for start, end in weights:
        around[start].append(end)
        around[end].append(start)
    for node, neighbours in around.items():
        if len(neighbours) > 2:
            around[node] = _anticlockwise(node, neighbours)
    return around


def _anticlockwise(node: Node, neighbours: Iterable[Node]) -> list[Node]:
    """Return ``neighbours`` by their direction, from just above the negative x axis round."""
    x, y = node

    def compared(one: Node, other: Node) -> int:
        across, down, to_x, to_y = one[0] - x, one[1] - y, other[0] - x, other[1] - y
        half, other_half = (down > 0 or (down == 0 and across > 0)), (to_y > 0 or (to_y == 0 and to_x > 0))
        if half != other_half:
            return 1 if half else -1
        turn = across * to_y - down * to_x
        return -1 if turn > 0 else 1 if turn < 0 else 0

    return sorted(neighbours, key=cmp_to_key(compared))


def _lowest(node: Node, neighbours: Sequence[Node]) -> int:
    """Return the place of the first neighbour anticlockwise from the negative x axis, none of them being left of
    ``node``.
    """
    order = _anticlockwise(node, neighbours)
    # Straight down comes first, straight up last; the half that begins with the positive x axis comes after the other.
    return neighbours.index(order[0])


class _Rays:
    """Edges by bands of y, to count those left of a node."""

    def __init__(self, weights: Weights) -> None:
        self.weights = weights
        down = [y for edge in weights for _x, y in edge]
        self.low = low = min(down)
        self.band = step = max(1, (max(down) - low) // (4 * isqrt(len(weights)) + 1))
        self.bands: defaultdict[int, list[Edge]] = defaultdict(list)
        for edge in weights:
            y, to_y = edge[0][1], edge[1][1]
            first, last = (y - low) // step, (to_y - low) // step
            if first != last:
                for band in range(first, last + 1) if first < last else range(last, first + 1):
                    self.bands[band].append(edge)
            elif y != to_y:
                self.bands[first].append(edge)

    def winding(self, node: Node) -> complex:
        """Return the winding just left of ``node``, the leftmost of its component."""
        x, y = node
        total = 0j
        for edge in self.bands.get((y - self.low) // self.band, ()):
            (ax, ay), (bx, by) = edge
            if ax >= x:
                continue
            if ay <= y < by:
                # An edge that goes up has its left on the side from where the ray comes.
                if (bx - ax) * (y - ay) < (x - ax) * (by - ay):
                    total -= self.weights[edge]
            elif by <= y < ay and (bx - ax) * (ay - y) < (x - ax) * (ay - by):
                total += self.weights[edge]
        return total
