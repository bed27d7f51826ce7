"""A picture of labels as a planar map: arcs along pixel sides, each between two labels and two nodes.

Both regions beside an arc share it, so that curves along it leave no gap and no overlap.
"""

from __future__ import annotations

from collections.abc import Collection, Generator, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import groupby, pairwise

from calculators.shapes.steps import WALKING, Step

#: The label of transparent pixels and of everything outside the picture.
OUTSIDE = 255
EAST, SOUTH, WEST, NORTH = range(4)
#: In place of a direction: an arc ends.
_STOP = 4
#: Marks of corners beyond the 16 codes of their sides: a node; two labels meet crosswise, and an arc goes round the
#: north-east and the south-west; the same round the north-west and the south-east.
_NODE, _ROUND_RISING, _ROUND_FALLING = 16, 17, 18
#: With more pixel sides between labels than this, a picture is noise and is not traced.
MOST_STEPS = 250_000
#: The same for arcs, since each costs as much as many steps.
MOST_ARCS = 6_500
#: A side this short, in pixels, between a turn to the left and one to the right is a step of a slanting edge; pixels of
#: a picture that was enlarged without softening are so wide.
STEP_PX = 6
_ARCS_BETWEEN_STEPS = 400
#: About this many pixels are processed as one number.
_AT_ONCE_PX = 1 << 19


class TooManySteps(ValueError):
    """The picture has more edges than are worth tracing: ``steps`` sides of pixels."""

    def __init__(self, steps: int) -> None:
        super().__init__(f"{steps} steps")
        self.steps = steps


class TooManyArcs(ValueError):
    """The edges of the picture fall into more arcs than are worth tracing."""


@dataclass(slots=True)
class Arc:
    """A stretch of boundary: ``corners`` are the corners of pixels along it,
    ``left`` and ``right`` the labels beside it.

    A corner is y * stride + x in the padded map. A ring without a node begins and ends in the same corner;
    then ``ring`` is true.
    """

    left: int
    right: int
    corners: list[int]
    ring: bool


@dataclass(frozen=True)
class PlanarMap:
    """The arcs of a picture whose planes are padded by one pixel of ``OUTSIDE`` all round.

    ``labels``, ``others`` and ``leans`` are the planes of ``FlatColours`` with that padding; ``stride`` is
    their width, ``height`` their height. ``nodes`` are the corners of pixels where arcs end. ``colours`` says
    for each label by which one ``others`` names its colour.
    """

    stride: int
    height: int
    labels: bytes
    others: bytes
    leans: bytes
    arcs: list[Arc] = field(default_factory=list)
    nodes: frozenset[int] = frozenset()
    colours: bytes = bytes(range(256))


def is_stepped(arc: Arc) -> bool:
    """Return whether the sides along an arc climb in steps, as beside a slanting or curved edge.

    They do not where an edge runs along rows and columns, such as those of stripes and squares.
    """
    moves = [after - before for before, after in pairwise(arc.corners)]
    runs = [(move, len(list(alike))) for move, alike in groupby(moves)]
    if arc.ring:
        runs = [runs[-1], *runs, runs[0]]
    # Between a turn one way and one the other the direction is the same before and after.
    return any(
        before == after and length <= STEP_PX
        for (before, _), (_, length), (after, _) in zip(runs, runs[1:], runs[2:], strict=False)
    )


def padded(plane: bytes, width: int, value: int) -> bytes:
    """Return ``plane`` with one pixel of ``value`` all round."""
    edge = bytes([value])
    rows = (edge + plane[at : at + width] + edge for at in range(0, len(plane), width))
    beyond = edge * (width + 2)
    return b"".join((beyond, *rows, beyond))


def planar_map(
    labels: bytes, others: bytes, leans: bytes, width: int, alike: Mapping[int, int] | None = None
) -> Generator[Step, None, PlanarMap]:
    """Return the arcs between the labels of a picture. Yields progress. Raises TooManySteps, TooManyArcs.

    A label that is a key of ``alike`` has the colour of another, by which ``others`` names it.
    Where two labels meet crosswise the one with more of the four pixels by its grey levels stays joined,
    the rarer one (the higher label) where they are even.
    """
    yield Step(0.0, WALKING)
    stride = width + 2
    labels, others, leans = padded(labels, width, OUTSIDE), padded(others, width, OUTSIDE), padded(leans, width, 0)
    height = len(labels) // stride
    codes = _codes(labels, stride)
    # Each pixel side counts at both of its corners.
    crossed = codes.translate(None, b"\0")
    steps = sum(crossed.count(code) * code.bit_count() for code in range(1, 16)) // 2
    if steps > MOST_STEPS:
        raise TooManySteps(steps)
    colours = bytes((alike or {}).get(label, label) for label in range(256))
    made = PlanarMap(stride, height, labels, others, leans, colours=colours)
    nodes, turns = _nodes(made, codes)
    arcs = yield from _walked(made, codes, nodes, turns)
    return replace(made, arcs=arcs, nodes=frozenset(nodes))


def _codes(labels: bytes, stride: int) -> bytes:
    """Return for the upper left corner of each pixel of a padded map which sides of
    pixels meet there, a bit for each direction.
    """
    marked = bytes([0]) + bytes([1]) * 255
    made, rows = [], max(1, _AT_ONCE_PX // stride)
    for start in range(0, len(labels), rows * stride):
        # With the row above and the one above that: the side to the north of a corner
        # is the left one of the pixel there.
        band = labels[max(0, start - 2 * stride) : start + rows * stride]
        band = bytes([OUTSIDE]) * max(0, 2 * stride - start) + band
        size = len(band)
        number = int.from_bytes(band, "little")
        # Bytes that differ from the pixel before (its left side is an edge) and from the one above (its top side).
        beside = (number ^ (number << 8 | OUTSIDE)).to_bytes(size + 1, "little")[:size]
        above = (number ^ (number << 8 * stride | (1 << 8 * stride) - 1)).to_bytes(size + stride, "little")[:size]
        sides = int.from_bytes(beside.translate(marked), "little")
        tops = int.from_bytes(above.translate(marked), "little")
        whole = (1 << 8 * size) - 1
        codes = tops | sides << 1 | (tops << 8 & whole) << 2 | (sides << 8 * stride & whole) << 3
        made.append(codes.to_bytes(size, "little")[2 * stride :])
    return b"".join(made)


def _nodes(made: PlanarMap, codes: bytes) -> tuple[set[int], dict[int, bool]]:
    """Return the corners where arcs end, and those where two labels meet crosswise.

    Of the latter true: an arc that comes from the north or the south turns east or west round the same pixel
    to the north-east or south-west; false: the other way.
    """
    labels, leans, stride = made.labels, made.leans, made.stride
    nodes: set[int] = set()
    turns: dict[int, bool] = {}
    for at in _places(codes, [code for code in range(16) if code.bit_count() > 2]):
        north_west, north_east, south_west = at - stride - 1, at - stride, at - 1
        falling, rising = labels[at], labels[north_east]
        if codes[at] == 15 and labels[north_west] == falling and labels[south_west] == rising:
            gained = leans[north_east] + leans[south_west] - leans[north_west] - leans[at]
            turns[at] = gained > 0 if gained else (falling + 1) % 256 > (rising + 1) % 256
        else:
            nodes.add(at)
    return nodes, turns


def _places(codes: bytes, wanted: Collection[int]) -> Iterator[int]:
    """Yield the corners whose code is ``wanted``. To find one value takes a fraction of searching a pattern."""
    marked = codes.translate(bytes(code in wanted for code in range(256)))
    at = marked.find(1)
    while at >= 0:
        yield at
        at = marked.find(1, at + 1)


def _walked(made: PlanarMap, codes: bytes, nodes: set[int], turns: dict[int, bool]) -> Generator[Step, None, list[Arc]]:
    """Return the arcs, first those between nodes, then the rings."""
    # The sides not yet visited.
    left = bytearray(codes)
    stride = made.stride
    moves = 1, stride, -1, -stride
    # What is left of a corner's sides once an arc has left in a direction, and once one has come.
    without = [~(1 << to) for to in range(4)]
    behind = [~(1 << (to + 2) % 4) for to in range(4)]
    marks = bytearray(codes)
    for node in nodes:
        marks[node] = _NODE
    for at, is_round_rising in turns.items():
        marks[at] = _ROUND_RISING if is_round_rising else _ROUND_FALLING
    ahead = _ahead()
    arcs: list[Arc] = []

    def walk(start: int, to: int) -> list[int]:
        corners = [start]
        at, first = start, to
        while True:
            left[at] &= without[to]
            at += moves[to]
            left[at] &= behind[to]
            corners.append(at)
            to = ahead[to][marks[at]]
            if to == _STOP or (at == start and to == first):
                return corners

    def add(start: int, to: int, ring: bool) -> None:
        if len(arcs) == MOST_ARCS:
            raise TooManyArcs
        first, second = _beside(made, start, to)
        arcs.append(Arc(first, second, walk(start, to), ring))

    for node in nodes:
        for to in range(4):
            if left[node] >> to & 1:
                add(node, to, False)
                if len(arcs) % _ARCS_BETWEEN_STEPS == 0:
                    yield Step(None, WALKING)
    # A ring has an uppermost row, which begins with a side to the east.
    for at in _places(codes, range(1, 16, 2)):
        if left[at] & 1:
            add(at, EAST, True)
            if len(arcs) % _ARCS_BETWEEN_STEPS == 0:
                yield Step(None, WALKING)
    return arcs


def _ahead() -> list[list[int]]:
    """Return the next direction of an arc, by its direction and the mark of the corner ahead."""
    ahead = [[0] * 16 + [_STOP] for _ in range(4)]
    for came, by_mark in enumerate(ahead):
        for code in range(16):
            for to in range(4):
                if code >> to & 1 and to != (came + 2) % 4:
                    by_mark[code] = to
        by_mark += [(SOUTH, EAST, NORTH, WEST)[came], (NORTH, WEST, SOUTH, EAST)[came]]
    return ahead


def _beside(made: PlanarMap, at: int, to: int) -> tuple[int, int]:
    """Return the labels left and right of the side that leads from corner ``at`` in direction ``to``."""
    stride, labels = made.stride, made.labels
    north_west, north_east, south_west = labels[at - stride - 1], labels[at - stride], labels[at - 1]
    return ((north_east, labels[at]), (labels[at], south_west), (south_west, north_west), (north_west, north_east))[to]
