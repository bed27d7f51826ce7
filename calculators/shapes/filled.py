"""Filled outlines as pixels with exact area coverage of every colour.

The shares of adjacent regions add up to the whole pixel, so that no seam shows; upper shapes cover lower ones. Several
colours in a pixel are mixed by their stored sRGB levels, as most programs blend.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Generator, Iterator, Sequence
from itertools import pairwise
from math import ceil, sqrt

from calculators.shapes.coverage import add_edge
from calculators.shapes.cubics import Piece, at
from calculators.shapes.steps import FILLING, Step

#: Accuracy of curves, in pixels.
FOLLOWED = 0.01
#: A smaller share of a pixel counts as none, and a larger one than 1 minus this as all; one level of 255 is twice this.
LEAST = 1 / 512
MOST = 1 - LEAST
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
                for end in _points(piece) if len(piece) == 4 else piece[-1:]:
                    add_edge(rows, start, end, width, height)
                    start = end
                    edges += 1
            done += len(ring)
            if edges >= EDGES:
                edges = 0
                yield Step(done / whole, FILLING)
        for row, sums in rows.items():
            canvas.fill(row, sums, even_odd, rgb)
    return canvas.rgba()


def _points(piece: Piece) -> Iterator[complex]:
    """Yield points along a curve without its first, close enough for straight lines between them."""
    start, one, other, end = piece
    bend = max(abs(start - 2 * one + other), abs(one - 2 * other + end))
    steps = ceil(sqrt(0.75 * bend / FOLLOWED))
    for step in range(1, steps):
        yield at(piece, step / steps)
    yield end


class _Canvas:
    """Pixels that are whole in one colour, and those where several meet, each with
    its share and its colours by their shares.
    """

    def __init__(self, width: int, height: int) -> None:
        self._width, self._pixels = width, bytearray(4 * width * height)
        #: By row and column: the share that is covered, and red, green, blue times their shares.
        self._mixed: defaultdict[int, dict[int, tuple[float, float, float, float]]] = defaultdict(dict)

    def fill(self, row: int, sums: dict[int, float], even_odd: bool, rgb: tuple[int, int, int]) -> None:
        """Cover a ``row``: ``sums`` says at which pixels the share that is covered changes, and by how much."""
        width, pixels, mixed = self._width, self._pixels, self._mixed[row]
        begins, total, colour = row * width, 0.0, bytes((*rgb, 255))
        for column, last in pairwise([*sorted(sums), width]):
            if column >= width:
                return
            total += sums[column]
            share = abs(total)
            if even_odd and share > 1:
                share = abs((share + 1) % 2 - 1)
            if share <= LEAST:
                continue
            stop = last if last < width else width
            if share > MOST:
                pixels[4 * (begins + column) : 4 * (begins + stop)] = colour * (stop - column)
                if mixed:
                    _take_out(mixed, column, stop)
                continue
            room = 1 - share
            red, green, blue = share * rgb[0], share * rgb[1], share * rgb[2]
            for each in range(column, stop):
                if held := mixed.get(each):
                    before, more_red, more_green, more_blue = held
                    left = 1.0 if before <= room else room / before
                    mixed[each] = (
                        left * before + share,
                        left * more_red + red,
                        left * more_green + green,
                        left * more_blue + blue,
                    )
                elif pixels[(place := 4 * (begins + each)) + 3]:
                    mixed[each] = (
                        room + share,
                        room * pixels[place] + red,
                        room * pixels[place + 1] + green,
                        room * pixels[place + 2] + blue,
                    )
                else:
                    mixed[each] = (share, red, green, blue)

    def rgba(self) -> bytes:
        """Return the pixels."""
        pixels = self._pixels
        for row, mixed in self._mixed.items():
            begins = 4 * row * self._width
            for column, (share, red, green, blue) in mixed.items():
                place = begins + 4 * column
                pixels[place : place + 4] = bytes(
                    (round(red / share), round(green / share), round(blue / share), round(255 * share))
                )
        return bytes(pixels)


def _take_out(mixed: dict[int, tuple[float, float, float, float]], first: int, stop: int) -> None:
    """Forget the pixels ``first`` to ``stop``, exclusive, of a row."""
    if stop - first == 1:
        mixed.pop(first, None)
        return
    among = range(first, stop) if stop - first < len(mixed) else [each for each in mixed if first <= each < stop]
    for column in among:
        mixed.pop(column, None)
