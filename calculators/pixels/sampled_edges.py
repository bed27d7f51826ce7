"""Estimate the number of edges in a large drawing from a sample, in a few hundredths of a second.

Finding the colours of small lettering takes long, in vain if it has too many edges to follow. A flat colour changes
only at an edge, so rows spread over the picture give an estimate of all edges.
"""

from __future__ import annotations

from collections.abc import Iterator
from operator import and_, ne

from calculators.pixels.raster import Raster

#: A smaller picture is examined whole in about the same time.
FEWEST_PIXELS = 1_000_000
#: The number of rows in the sample, each with the one below it.
ROWS = 64
#: A picture with more colours than this share of the sampled pixels is a photograph
#: or grain, which its colours show as fast.
MOST_DISTINCT = 0.3
#: The shades of a soft edge turn one change into several: 1.5 to 1.75 for letters from 8 to 45 px and for the emblem in
#: tests/bench. Dividing an estimate by the greatest of these is cautious.
CHANGES_OF_ONE = 1.75
#: Colours are compared on two grids of 64 levels, one starting at 0 and one at 32.
#: Noise crosses one of these grids, an edge both.
_STEPS = (bytes(level & 0xC0 for level in range(256)), bytes(level + 32 >> 6 for level in range(256)))


def sampled_edges(raster: Raster) -> int | None:
    """Return a low estimate of the sides of pixels in ``raster`` that lie between two colours.

    None if a sample is no evidence: for a small picture, a photograph, or grain.
    """
    width, height = raster.width, raster.height
    if width * height < FEWEST_PIXELS:
        return None
    apart = max(1, (height - 1) // ROWS)
    looked_at = range(apart // 2, height - 1, apart)
    changes = 0
    colours: set[int] = set()
    for row in looked_at:
        here, below = (raster.rgba[4 * width * at : 4 * width * (at + 1)] for at in (row, row + 1))
        colours.update(memoryview(here).cast("I"))
        changes += sum(_changes(here, below))
    if len(colours) > MOST_DISTINCT * width * len(looked_at):
        return None
    return round(changes / CHANGES_OF_ONE * height / max(1, len(looked_at)))


def _changes(here: bytes, below: bytes) -> Iterator[int]:
    """Yield the number of pixels of a row that differ from the next one, and from the one below."""
    stepped = [[memoryview(row.translate(steps)).cast("I").tolist() for steps in _STEPS] for row in (here, below)]
    yield sum(map(and_, *(map(ne, row, row[1:]) for row in stepped[0])))
    yield sum(map(and_, *map(lambda above, under: map(ne, above, under), *stepped)))
