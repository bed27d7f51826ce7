"""Colour past the cut: the nearest colour at an edge is carried outwards, so that no white film shows where the knife
strays.

Along each edge of an outline a strip of its colour is drawn, as wide as the bleed, with a wedge at each corner that
opens outwards. Pixels are carried on across, up and down, in jumps that double. Holes too narrow to be cut out stay
white film, and nothing is carried into them.
"""

from __future__ import annotations

import re
from cmath import phase, rect
from collections.abc import Iterator
from itertools import pairwise
from math import ceil, pi

from calculators.cut.artwork import CutArtwork, Meanings
from calculators.cut.plane import MOST_REGIONS, Flat, Line
from calculators.pixels.connected import TooManyRuns, connected, painted
from calculators.pixels.white_areas import BARE, WHITE
from calculators.values import in_one_go

BARE_WHITE = "#ffffff"
#: What is carried outwards begins so many pixels, or mm, within the edge.
OVERLAP_PX, OVERLAP_MM = 2, 0.05
#: The largest turn that a wedge is straight over, in radians: at 1 mm it falls short by 2 micrometres.
STRAIGHT = 0.13

Polygon = list[complex]

_STRETCH = re.compile(rb"\xff+")
_IS_WHITE = bytes(255 if each == WHITE else 0 for each in range(256))
_IS_THERE = bytes(0 if each == BARE else 255 for each in range(256))


def bleed_strips(white: CutArtwork, reach_mm: float) -> Iterator[tuple[str, list[Polygon]]]:
    """Yield colours with polygons that carry them ``reach_mm`` past the edges of artwork; all turn the same way.

    Wanted white is carried outwards like a colour: nothing is printed there. Raises TooTangled.
    """
    # White first: where strips cross, colour lies on top, since white that shows at a cut is what bleed is for.
    regions = [(BARE_WHITE, white.white), *list(white.colours.items())[: MOST_REGIONS - 2]]
    # Along hairs between colours nothing ends.
    edges = white.plane.outer_edges([*(flat for _colour, flat in regions), white.gaps])
    for (colour, _flat), lines in zip(regions, edges, strict=False):
        polygons = [polygon for line in lines for polygon in _strips(line, reach_mm)]
        if polygons:
            yield colour, polygons


def _strips(line: Line, reach: float) -> Iterator[Polygon]:
    """Yield strips along a line on its right, and wedges where it turns to the left."""
    points = [line.points[0]]
    for point in line.points[1:]:
        if point != points[-1]:
            points.append(point)
    ways = [(end - start) / abs(end - start) for start, end in pairwise(points)]
    for place, way in enumerate(ways):
        start, end, out = points[place], points[place + 1], -1j * way * reach
        inner = 1j * way * OVERLAP_MM
        yield [start + inner, end + inner, end + out, start + out]
        last = place + 1 == len(ways)
        if last and not line.closed:
            return
        turn = phase(ways[0 if last else place + 1] / way)
        if 0 < turn < pi:
            count = ceil(turn / STRAIGHT)
            ring = [end + out * rect(1.0, turn * step / count) for step in range(count + 1)]
            yield [end, *reversed(ring)]


def cut_holes(white: CutArtwork, bleed_mm: float) -> tuple[Flat, Flat]:
    """Return what is bare within artwork: what is wide enough to be cut out, twice the bleed, and what is not.

    Raises TooTangled.
    """
    plane = white.plane
    holes = [[hole[::-1]] for part in plane.parts(white.printed) for hole in part.holes]
    if not holes:
        return [], []
    wide: Flat = []
    narrow: Flat = []
    for part in plane.parts(plane.minus(plane.join(*holes), white.printed)):
        flat = [part.outer, *part.holes]
        (wide if plane.is_wide(flat, 2 * bleed_mm) else narrow).extend(flat)
    return wide, narrow


def without_narrow_holes(meanings: Meanings, reach: int) -> Meanings:
    """Return meanings of pixels in which holes that are nowhere ``2 * reach`` wide are wanted white.

    Pictures that are too scattered to tell keep theirs.
    """
    width, height = meanings.width, meanings.height
    if BARE not in meanings.plane:
        return meanings
    try:
        found = in_one_go(connected(meanings.plane, width, height))
    except TooManyRuns:
        return meanings
    narrow = [
        each
        for each in found
        if each.value == BARE and not each.at_border and not _has_room(each.runs, width, 2 * reach)
    ]
    if not narrow:
        return meanings
    marked = painted(narrow, [1] * len(narrow), width * height, 0)
    held = int.from_bytes(meanings.plane, "little") | WHITE * int.from_bytes(marked, "little")
    return Meanings(held.to_bytes(width * height, "little"), width, height, meanings.pixel_mm)


def _has_room(runs: list[tuple[int, int]], width: int, side: int) -> bool:
    """Return whether a square of ``side`` pixels lies in an area."""
    rows: dict[int, int] = {}
    for start, stop in runs:
        row, left = divmod(start, width)
        rows[row] = rows.get(row, 0) | (1 << stop - start) - 1 << left
    alone = {row: _shrunk(bits, side) for row, bits in rows.items()}
    for row, bits in alone.items():
        common = bits
        for below in range(row + 1, row + side):
            common &= alone.get(below, 0)
            if not common:
                break
        if common:
            return True
    return False


def _shrunk(bits: int, side: int) -> int:
    """Return the bits with which ``side`` set bits in a row begin."""
    done = 1
    while done < side and bits:
        step = min(done, side - done)
        bits &= bits >> step
        done += step
    return bits


def carried(rgba: bytes, meanings: Meanings, reach: int) -> bytes:
    """Return pixels, ``reach`` wider on every side, that are transparent except near what is printed: there they have
    the nearest colour, or white near wanted white. Of what is not bare only the pixels at its edges are in them, so
    that no light line shows between the two.
    """
    width, height = meanings.width + 2 * reach, meanings.height + 2 * reach
    plane = _padded(meanings, reach)
    there = plane.translate(_IS_THERE)
    made = bytearray(4 * width * height)
    # A pixel depends on others within this square only, and what shifts carry off the end of a row comes no further.
    margin = reach + OVERLAP_PX
    for top in range(0, height, 2 * margin):
        bottom = min(height, top + 2 * margin)
        low, high = max(0, top - margin), min(height, bottom + margin)
        for first, last in _columns(there, width, (top, bottom), margin):
            left, right = max(0, first - margin), min(width, last + margin)
            # At the sides of the picture there is no such square, so there is room between the rows.
            room = margin if not left or right == width else 0
            meant = bytes([BARE]) * room
            window = b"".join([plane[row * width + left : row * width + right] + meant for row in range(low, high)])
            pixels = _cut_out(rgba, meanings, (left - reach, low - reach, right - reach + room, high - reach))
            done = _carried_in(pixels, window, right - left + room, reach)
            for row in range(top, bottom):
                start = (right - left + room) * (row - low) - left
                own = done[4 * (start + first) : 4 * (start + last)]
                made[4 * (row * width + first) : 4 * (row * width + last)] = own
    return bytes(made)


def _cut_out(rgba: bytes, meanings: Meanings, box: tuple[int, int, int, int]) -> bytes:
    """Return pixels from left and top up to right and bottom, 0 where the picture has none."""
    (left, top, right, bottom), width = box, meanings.width
    first, last = max(0, left), min(width, right)
    before, after = bytes(4 * (first - left)), bytes(4 * (right - last))
    none = bytes(4 * (right - left))
    return b"".join(
        [
            before + rgba[4 * (row * width + first) : 4 * (row * width + last)] + after
            if 0 <= row < meanings.height
            else none
            for row in range(top, bottom)
        ]
    )


def _columns(there: bytes, width: int, rows: tuple[int, int], margin: int) -> Iterator[tuple[int, int]]:
    """Yield the first column, and the one past the last, of stretches in which ``rows`` may get colour.

    That is where they are bare or beside it, with something printed within ``margin``. ``there`` has 255 where it is.
    """
    (top, bottom), height = rows, len(there) // width
    all_bits = (1 << 8 * width) - 1
    some, whole = 0, all_bits
    for row in range(max(0, top - margin), min(height, bottom + margin)):
        own = int.from_bytes(there[row * width : (row + 1) * width], "little")
        some |= own
        if top - OVERLAP_PX <= row < bottom + OVERLAP_PX:
            whole &= own
    both = _widened(some, margin) & _widened(whole ^ all_bits, OVERLAP_PX) & all_bits
    start = stop = 0
    for match in _STRETCH.finditer(both.to_bytes(width, "little")):
        # Windows of stretches that are near would overlap.
        if stop and match.start() - stop > margin:
            yield start, stop
            start = match.start()
        elif not stop:
            start = match.start()
        stop = match.end()
    if stop:
        yield start, stop


def _widened(row: int, by: int) -> int:
    """Return a row of one byte a pixel with ``by`` more on either side of all that is set in it."""
    for jump in _jumps(by):
        row |= row << 8 * jump | row >> 8 * jump
    return row


def _carried_in(rgba: bytes, meant: bytes, width: int, reach: int) -> bytearray:
    """Return pixels with those that are not bare carried into the others, and without the inner ones."""
    size = len(meant)
    all_bits = (1 << 8 * size) - 1
    colours, seeds = _seeds(rgba, meant)
    filled = seeds
    for jump in _jumps(reach):
        # Across, then up and down from what came of that: all within a square.
        for step in (8 * jump, 8 * jump * width):
            for shift in (step, -step):
                # Not `& ~filled`: Python turns a negative number into another one for that, and back.
                new = ((_shifted(filled, shift) | filled) ^ filled) & all_bits
                if new:
                    colours = [each | _shifted(each, shift) & new for each in colours]
                    filled |= new
    near = bare = filled ^ seeds
    for off in range(1, OVERLAP_PX + 1):
        for step in (8 * off, 8 * off * width):
            near |= bare << step | bare >> step
    near &= filled
    woven = bytearray(4 * size)
    for channel, each in enumerate((*colours, filled)):
        woven[channel::4] = (each & near).to_bytes(size, "little")
    return woven


def _seeds(rgba: bytes, meant: bytes) -> tuple[list[int], int]:
    """Return red, green and blue of what is printed, 255 of what is wanted white, 0 of all else, and 255 where either
    is, each as one number with a byte a pixel.
    """
    is_white = int.from_bytes(meant.translate(_IS_WHITE), "little")
    there = int.from_bytes(meant.translate(_IS_THERE), "little")
    levels = (int.from_bytes(rgba[channel::4], "little") for channel in range(3))
    return [(each | is_white) & there for each in levels], there


def _padded(meanings: Meanings, reach: int) -> bytes:
    plane, width, bare = meanings.plane, meanings.width, bytes([BARE])
    side, outside = bare * reach, bare * (width + 2 * reach) * reach
    rows = (side + plane[at : at + width] + side for at in range(0, len(plane), width))
    return b"".join((outside, *rows, outside))


def _shifted(number: int, by: int) -> int:
    return number << by if by > 0 else number >> -by


def _jumps(reach: int) -> Iterator[int]:
    """Yield jumps that add up to ``reach``, each at most one more than all before it."""
    done = 0
    while done < reach:
        jump = min(reach - done, done + 1)
        yield jump
        done += jump
