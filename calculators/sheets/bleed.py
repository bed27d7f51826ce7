"""Colour past the cut: the nearest colour at an edge is carried outwards, so that no white film shows where the knife
strays.

Along each edge of an outline a strip of its colour is drawn, as wide as the bleed, with a wedge at each corner that
opens outwards. Pixels are carried on across, up and down, in jumps that double. Holes too narrow to be cut out stay
white film, and nothing is carried into them.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Iterator
from itertools import pairwise
from math import ceil, pi

from calculators.cut.artwork import CutArtwork, Meanings
from calculators.cut.plane import MOST_REGIONS, Flat, Line
from calculators.pixels.connected import TooManyRuns, connected, painted
from calculators.pixels.white_areas import BARE, WHITE
from calculators.values import in_one_go

#: Pixels are carried in bands of about so many, which a processor has at hand.
BAND_PX = 1 << 18
BARE_WHITE = "#ffffff"
#: What is carried outwards begins so many pixels, or mm, within the edge.
OVERLAP_PX, OVERLAP_MM = 2, 0.05
#: The largest turn that a wedge is straight over, in radians: at 1 mm it falls short by 2 micrometres.
STRAIGHT = 0.13

Polygon = list[complex]


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
    row_bytes = 4 * width
    pixels = _padded(_seeds(rgba, meanings), meanings.width, reach)
    rows = max(BAND_PX // width, 2 * reach)
    made: list[bytes] = []
    for top in range(0, height, rows):
        bottom = min(height, top + rows)
        low, high = max(0, top - reach - OVERLAP_PX), min(height, bottom + reach + OVERLAP_PX)
        band = pixels[low * row_bytes : high * row_bytes]
        there = band[3::4].count(255)
        if not there or there == len(band) // 4:
            made.append(bytes((bottom - top) * row_bytes))
            continue
        done = _carried_in(band, width, reach)
        made.append(done[(top - low) * row_bytes : (bottom - low) * row_bytes])
    return b"".join(made)


def _carried_in(band: bytes, width: int, reach: int) -> bytes:
    """Return a band of pixels, opaque or transparent, with opaque ones carried into the others, without the inner ones.

    At the sides there is room for all jumps, so that nothing is carried off the end of a row.
    """
    all_bits = (1 << 8 * len(band)) - 1
    colours = int.from_bytes(band, "little")
    ones = colours >> 24 & int.from_bytes(b"\1\0\0\0" * (len(band) // 4), "little")
    seeds = filled = (ones << 32) - ones
    for jump in _jumps(reach):
        # Across, then up and down from what came of that: all within a square.
        for step in (32 * jump, 32 * jump * width):
            for shift in (step, -step):
                new = _shifted(filled, shift) & all_bits & ~filled
                if new:
                    colours |= _shifted(colours, shift) & new
                    filled |= new
    bare = near = filled & ~seeds
    for off in range(1, OVERLAP_PX + 1):
        for step in (32 * off, 32 * off * width):
            near |= bare << step | bare >> step
    return (colours & near & all_bits).to_bytes(len(band), "little")


def _seeds(rgba: bytes, meanings: Meanings) -> bytearray:
    """Return the colours of what is printed, opaque, white of what is wanted white, and all else transparent."""
    made = bytearray(rgba)
    plane = meanings.plane
    is_white = int.from_bytes(plane.translate(bytes(255 if each == WHITE else 0 for each in range(256))), "little")
    is_there = plane.translate(bytes(0 if each == BARE else 255 for each in range(256)))
    there = int.from_bytes(is_there, "little")
    for channel in range(3):
        levels = (int.from_bytes(rgba[channel::4], "little") | is_white) & there
        made[channel::4] = levels.to_bytes(len(plane), "little")
    made[3::4] = is_there
    return made


def _padded(pixels: bytearray, width: int, reach: int) -> bytes:
    side, outside = b"\0" * 4 * reach, b"\0" * 4 * (width + 2 * reach) * reach
    rows = (side + pixels[at : at + 4 * width] + side for at in range(0, len(pixels), 4 * width))
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
