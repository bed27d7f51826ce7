"""Ripples beside the edges of flat artwork: JPEG leaves them, and unlike its squares they survive a reduction.

Flat artwork that never was a JPEG is even apart from its edges. Sharpening kernels leave a ripple or two along an edge;
JPEG leaves many, over the whole square. A photograph is uneven and gives no evidence.
"""

from __future__ import annotations

from operator import sub

from calculators.pixels.raster import ACROSS, DOWN, Raster, has_clear

#: The number of lines examined along each axis, and their greatest length in pixels.
LINES, MOST_LENGTH = 64, 768
#: The greatest faint step from pixel to pixel (brightness as in ``Raster``, of 1020), and the
#: rise that makes an edge within this many pixels.
FAINT, EDGE_RISE, EDGE_WITHIN = 24, 200, 4
#: Artwork is even if this share of all steps is zero. Then more than this many faint turns for each edge are ripples.
#: Set on the tuning half and on further originals beside it.
EVEN_SHARE, TURNS_TO_AN_EDGE = 0.6, 2.5


def has_ripples(raster: Raster) -> bool:
    """Return whether a picture is even artwork with the ripples that JPEG leaves. Estimate.

    >>> has_ripples(Raster(bytes((9, 9, 9, 255)) * 64, 8, 8))
    False
    """
    if has_clear(raster):
        # A JPEG has no transparency.
        return False
    even = steps = turns = edges = 0
    for axis in (ACROSS, DOWN):
        length, count = raster.length(axis), raster.count(axis)
        start = max(0, length - MOST_LENGTH) // 2
        tried = min(count, LINES)
        for index in range(tried):
            line = raster.brightness(axis, index * count // tried, start, min(length, start + MOST_LENGTH), clear=False)
            signs = bytes(map(_SIGNS.__getitem__, map(sub, line[1:], line)))
            even += signs.count(_NONE)
            steps += len(signs)
            turns += signs.count(b"\1\2") + signs.count(b"\2\1")
            edges += _edges(line)
    return steps > 0 and even >= EVEN_SHARE * steps and edges > 0 and turns > TURNS_TO_AN_EDGE * edges


def _edges(line: list[int]) -> int:
    """Return the number of places where a line rises or falls steeply."""
    rises = [abs(step) for step in map(sub, line[EDGE_WITHIN:], line)]
    return sum(
        here >= EDGE_RISE and before <= here > after
        for before, here, after in zip(rises, rises[1:], rises[2:], strict=False)
    )


_NONE, _UP, _DOWN, _STEEP = range(4)
#: What a step is, indexed by it; negative ones from the end.
_SIGNS = bytes([_NONE]) + bytes([_UP]) * FAINT + bytes([_STEEP]) * (2 * 1020 - 2 * FAINT) + bytes([_DOWN]) * FAINT
