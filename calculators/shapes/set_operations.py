"""Union, difference and intersection of outlines; curves stay curves.

Curves are followed by short lines on a grid, where all is decided. Every line knows its curve and which part of it
it follows. What comes of it is the curve itself where all of it is left, and else that part of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from itertools import pairwise

from calculators.shapes.cubics import Piece, at
from calculators.shapes.grid import Grid, Rings, grid_for, shares
from calculators.shapes.snap_rounding import Edge, Node, edge_of
from calculators.shapes.windings import boundaries, boundary, weighted_edges

#: How far lines may lie from curves while it is decided what lies where, in the unit of the outlines (mm).
FOLLOWED = 2e-4

#: Bits of a winding for each layer of several.
_BITS = 3

#: The number of a piece, and the shares of its parameter at the two nodes of an edge, in the edge's direction.
Source = tuple[int, float, float]


def union(
    first: Rings, second: Rings, *, even_odd: tuple[bool, bool] = (False, False), followed: float = FOLLOWED
) -> list[list[Piece]]:
    """Return the rings round what is filled by either; they neither cross nor overlap, and holes run the other way.

    ``even_odd`` says of each whether it is filled by even-odd or else by winding, ``followed`` how closely curves
    are followed where it is decided what lies where.
    """
    return _combined(first, second, even_odd, followed, lambda one, two: one or two)


def intersection(
    first: Rings, second: Rings, *, even_odd: tuple[bool, bool] = (False, False), followed: float = FOLLOWED
) -> list[list[Piece]]:
    """Return the rings round what is filled by both, as ``union`` does."""
    return _combined(first, second, even_odd, followed, lambda one, two: one and two)


def difference(
    first: Rings, second: Rings, *, even_odd: tuple[bool, bool] = (False, False), followed: float = FOLLOWED
) -> list[list[Piece]]:
    """Return the rings round what is filled by the first and not by the second, as ``union`` does."""
    return _combined(first, second, even_odd, followed, lambda one, two: one and not two)


def cleaned(rings: Rings, *, even_odd: bool = False, followed: float = FOLLOWED) -> list[list[Piece]]:
    """Return the rings round what ``rings`` fill, as ``union`` does.

    >>> square = [(0j, 2 + 0j), (2 + 0j, 2 + 2j), (2 + 2j, 2j), (2j, 0j)]
    >>> len(cleaned([square, square])), len(cleaned([square, square], even_odd=True))
    (1, 0)
    """
    return _combined(rings, (), (even_odd, False), followed, lambda one, _two: one)


def _combined(
    first: Rings,
    second: Rings,
    even_odd: tuple[bool, bool],
    followed: float,
    wanted: Callable[[bool, bool], bool],
) -> list[list[Piece]]:
    grid = grid_for([*first, *second])
    pieces: list[Piece] = []
    places: dict[Node, complex] = {}
    lines: list[tuple[Edge, Source]] = []
    rings: list[tuple[list[Node], complex]] = []
    for operand, weight in ((first, 1 + 0j), (second, 1j)):
        for ring in operand:
            if ring:
                rings.append((_followed(ring, grid, followed, pieces, places, lines), weight))

    def inside(winding: complex) -> bool:
        one, two = int(winding.real), int(winding.imag)
        return wanted(bool(one % 2 if even_odd[0] else one), bool(two % 2 if even_odd[1] else two))

    weights, chains = weighted_edges(rings)
    sources = _sources(lines, chains)
    return [made for ring in boundary(weights, inside) if (made := _restored(ring, grid, pieces, places, sources))]


def visible(layers: Sequence[Rings], *, followed: float = FOLLOWED) -> list[list[list[Piece]]]:
    """Return what is seen of each layer where the first lies on top, as ``union`` does.

    Regions that touch share their borders: the same pieces, the other way round. Each layer must be as ``cleaned``
    or ``spread`` returns it: its rings run the same way round what they fill.
    """
    grid = grid_for([ring for rings in layers for ring in rings])
    pieces: list[Piece] = []
    places: dict[Node, complex] = {}
    lines: list[tuple[Edge, Source]] = []
    weights, chains = weighted_edges(
        [
            (_followed(ring, grid, followed, pieces, places, lines), complex(1 << _BITS * place))
            for place, rings in enumerate(layers)
            for ring in rings
        ]
    )
    sources = _sources(lines, chains)
    ends = Counter(node for edge in weights for node in edge)
    meeting = {node for node, count in ends.items() if count > 2}
    found = boundaries(weights, _topmost)
    return [
        [made for ring in found.get(place, ()) if (made := _restored(ring, grid, pieces, places, sources, meeting))]
        for place in range(len(layers))
    ]


def _topmost(winding: complex) -> int | None:
    """Return the place of the topmost layer that winds round a region. Slivers of a layer, where rounding lets its
    rings cross, may wind twice or backwards.
    """
    rest, place = int(winding.real), 0
    while rest:
        own = (rest + (1 << _BITS - 1)) % (1 << _BITS) - (1 << _BITS - 1)
        if own > 0:
            return place
        rest, place = (rest - own) >> _BITS, place + 1
    return None


def _followed(
    ring: Sequence[Piece],
    grid: Grid,
    followed: float,
    pieces: list[Piece],
    places: dict[Node, complex],
    lines: list[tuple[Edge, Source]],
) -> list[Node]:
    """Return a ring's nodes, and add its pieces, where they begin, and the lines that follow them."""
    nodes = [grid.node(ring[0][0])]
    for piece in ring:
        number = len(pieces)
        pieces.append(piece)
        places.setdefault(nodes[-1], piece[0])
        before = 0.0
        for share in shares(piece, followed):
            start, end = nodes[-1], grid.node(at(piece, share) if share < 1 else piece[-1])
            if start != end:
                lines.append(
                    ((start, end), (number, before, share)) if start < end else ((end, start), (number, share, before))
                )
                nodes.append(end)
                before = share
    if len(nodes) > 1 and nodes[-1] == nodes[0]:
        nodes.pop()
    return nodes


def _sources(lines: Iterable[tuple[Edge, Source]], chains: dict[Edge, list[Node]]) -> dict[Edge, Source]:
    """Return for each edge of the arrangement which part of which piece it follows."""
    sources: dict[Edge, Source] = {}
    for edge, (number, first, last) in lines:
        chain = chains.get(edge)
        if chain is None:
            sources.setdefault(edge, (number, first, last))
            continue
        (x, y), (to_x, to_y) = edge
        across, down = to_x - x, to_y - y
        whole = across * across + down * down
        start, before = chain[0], first
        for end in chain[1:]:
            share = ((end[0] - x) * across + (end[1] - y) * down) / whole
            after = last if end == edge[1] else first + share * (last - first)
            if start < end:
                sources.setdefault((start, end), (number, before, after))
            else:
                sources.setdefault((end, start), (number, after, before))
            start, before = end, after
    return sources


def _restored(
    ring: list[Node],
    grid: Grid,
    pieces: Sequence[Piece],
    places: dict[Node, complex],
    sources: dict[Edge, Source],
    meeting: Collection[Node] = (),
) -> list[Piece]:
    """Return a ring of nodes as parts of the pieces that its edges follow, parted at nodes in ``meeting``."""
    runs: list[tuple[int, float, float, Node, Node]] = []
    start = ring[-1]
    for end in ring:
        number, first, last = sources[edge_of(start, end)]
        if start > end:
            first, last = last, first
        if (
            start not in meeting
            and runs
            and runs[-1][0] == number
            and runs[-1][2] == first
            and (runs[-1][1] < first) == (first < last)
        ):
            runs[-1] = (number, runs[-1][1], last, runs[-1][3], end)
        else:
            runs.append((number, first, last, start, end))
        start = end
    if (
        len(runs) > 1
        and ring[-1] not in meeting
        and runs[0][0] == runs[-1][0]
        and runs[-1][2] == runs[0][1]
        and ((runs[-1][1] < runs[-1][2]) == (runs[0][1] < runs[0][2]))
    ):
        last_run = runs.pop()
        runs[0] = (last_run[0], last_run[1], runs[0][2], last_run[3], runs[0][4])

    def place(node: Node) -> complex:
        return places[node] if node in places else grid.place(node)

    return [_part(pieces[number], first, last, place(a), place(b)) for number, first, last, a, b in runs]


def _part(piece: Piece, first: float, last: float, start: complex, end: complex) -> Piece:
    """Return the part of a piece between two shares of its parameter, with its ends put where they belong.

    Source: blossoms of a cubic curve (Ramshaw 1989), from memory.
    """
    if len(piece) == 2:
        return start, end
    if first > last:
        # By the same sums as the other way round, since regions that touch share the part.
        return _part(piece, last, first, end, start)[::-1]
    if (first, last) == (0.0, 1.0):
        return start, piece[1], piece[2], end
    return start, _blossom(piece, first, first, last), _blossom(piece, first, last, last), end


def _blossom(piece: Piece, *shares_of_three: float) -> complex:
    points = list(piece)
    for share in shares_of_three:
        points = [a + share * (b - a) for a, b in pairwise(points)]
    return points[0]
