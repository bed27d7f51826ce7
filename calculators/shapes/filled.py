"""Filled outlines as pixels with exact area coverage of every colour.

The shares of adjacent regions add up to the whole pixel, so that no seam shows; upper shapes cover lower ones. Several
colours in a pixel are mixed by their stored sRGB levels, as most programs blend.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Generator, Iterator, Sequence
from math import ceil, sqrt

from calculators.shapes.coverage import add_edge
from calculators.shapes.cubics import Piece, at
from calculators.shapes.steps import FILLING, Step

#: Accuracy of curves, in pixels.
FOLLOWED = 0.01
#: A smaller share of a pixel counts as none, and a larger one than 1 minus this as all; one level of 255 is twice this.
LEAST = 1 / 512
#: Edges processed between two reports of progress.
EDGES = 20_000

#: One colour of a drawing: red, green, blue from 0 to 255; its rings in pixels; by even-odd or else by winding.
Fill = tuple[tuple[int, int, int], Sequence[Sequence[Piece]], bool]


def filled(fills: Sequence[Fill], width: int, height: int) -> Generator[Step, None, bytes]:
    """Yield ``Step``, and return RGBA pixels, ``height`` x ``width``, alpha straight,
    of ``fills``, the later over the earlier.

    With even-odd, rings that cross within one pixel, or pass it in the same direction, are slightly wrong there.
    """
    canvas = _Canvas(width, height)
    whole = sum(len(ring) for _rgb, rings, _rule in fills for ring in rings) or 1
    done = edges = 0
    for rgb, rings, even_odd in fills:
        rows: defaultdict[int, defaultdict[int, float]] = defaultdict(lambda: defaultdict(float))
        for ring in rings:
            for piece in ring:
                start = piece[0]
                for end in _points(piece):
                    add_edge(rows, start, end, width, height)
                    start = end
                    edges += 1
            done += len(ring)
            if edges >= EDGES:
                edges = 0
                yield Step(done / whole, FILLING)
        for row, sums in rows.items():
            for first, last, share in _runs(sums, width, even_odd):
                canvas.fill(row, first, last, share, rgb)
    return canvas.rgba()


def _points(piece: Piece) -> Iterator[complex]:
    """Yield points along a piece without its first, close enough for straight lines between them."""
    if len(piece) == 4:
        start, one, other, end = piece
        bend = max(abs(start - 2 * one + other), abs(one - 2 * other + end))
        steps = ceil(sqrt(0.75 * bend / FOLLOWED))
        for step in range(1, steps):
            yield at(piece, step / steps)
    yield piece[-1]


def _runs(sums: dict[int, float], width: int, even_odd: bool) -> Iterator[tuple[int, int, float]]:
    """Yield the runs of a row that are covered alike, all or in part: from and to
    which pixel, exclusive, and the share.
    """
    total, columns = 0.0, sorted(sums)
    for place, column in enumerate(columns):
        if column >= width:
            return
        total += sums[column]
        share = abs(total)
        if even_odd and share > 1:
            share = abs((share + 1) % 2 - 1)
        if share > LEAST:
            yield (
                column,
                min(width, columns[place + 1]) if place + 1 < len(columns) else width,
                1.0 if share > 1 - LEAST else share,
            )


class _Canvas:
    """Pixels that are whole in one colour, and those where several meet, each with
    its share and its colours by their shares.
    """

    def __init__(self, width: int, height: int) -> None:
        self._width, self._pixels = width, bytearray(4 * width * height)
        #: By row and column: the share that is covered, and red, green, blue times their shares.
        self._mixed: defaultdict[int, dict[int, tuple[float, float, float, float]]] = defaultdict(dict)

    def fill(self, row: int, first: int, last: int, share: float, rgb: tuple[int, int, int]) -> None:
        """Cover ``share`` of the pixels ``first`` to ``last``, exclusive, of a ``row``."""
        mixed, begins = self._mixed[row], row * self._width
        if share == 1:
            self._pixels[4 * (begins + first) : 4 * (begins + last)] = bytes((*rgb, 255)) * (last - first)
            for column in (
                range(first, last) if last - first < len(mixed) else [each for each in mixed if first <= each < last]
            ):
                mixed.pop(column, None)
            return
        for column in range(first, last):
            held = mixed.get(column)
            if held is None:
                place = 4 * (begins + column)
                red, green, blue, alpha = self._pixels[place : place + 4]
                held = (1.0, red, green, blue) if alpha else (0.0, 0.0, 0.0, 0.0)
            room = 1 - share
            left = 1.0 if held[0] <= room else room / held[0]
            mixed[column] = (
                left * held[0] + share,
                left * held[1] + share * rgb[0],
                left * held[2] + share * rgb[1],
                left * held[3] + share * rgb[2],
            )

    def rgba(self) -> bytes:
        """Return the pixels."""
        for row, mixed in self._mixed.items():
            for column, (share, *parts) in mixed.items():
                place = 4 * (row * self._width + column)
                self._pixels[place : place + 4] = bytes((*(round(part / share) for part in parts), round(255 * share)))
        return bytes(self._pixels)
