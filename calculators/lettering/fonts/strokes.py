"""How wide the strokes of a font's letters are, measured on its outlines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from calculators.shapes.areas import enclosed
from calculators.shapes.cubics import Piece
from calculators.shapes.extents import bounds
from calculators.shapes.grid import flattened

#: Where the stem of an H is measured, as a share of its height: below the bar and above a serif.
_BELOW_BAR = 0.28
#: How closely curves are followed, as a share of the height.
_FOLLOWED = 1e-3


def stem_and_bar(rings: Sequence[Sequence[Piece]]) -> tuple[float, float] | None:
    """Return the widths of the left stem and of the bar of an H; None for rings that are none.

    >>> corners = [0j, 7j, 1+7j, 1+4j, 4+4j, 4+7j, 5+7j, 5+0j, 4+0j, 4+2j, 1+2j, 1+0j, 0j]
    >>> stem_and_bar([list(pairwise(corners))])
    (1.0, 2.0)
    """
    first, last = bounds(rings)
    size = last - first
    followed = _FOLLOWED * size.imag
    across = _crossings(rings, first.imag + _BELOW_BAR * size.imag, followed, upright=False)
    up = _crossings(rings, (first + last).real / 2, followed, upright=True)
    if len(across) != 4 or len(up) != 2:
        return None
    return across[1] - across[0], up[1] - up[0]


def mean_width(rings: Sequence[Sequence[Piece]]) -> float:
    """Return the mean width of strokes: twice their area by the length of their edges, as it is of a long strip."""
    height = (bounds(rings)[1] - bounds(rings)[0]).imag
    lines = [flattened(ring, _FOLLOWED * height) for ring in rings]
    edge = sum(abs(end - start) for line in lines for start, end in pairwise([*line, line[0]]))
    return 2 * abs(sum(map(enclosed, rings))) / edge


def _crossings(rings: Iterable[Sequence[Piece]], level: float, followed: float, *, upright: bool) -> list[float]:
    """Return where outlines cross a level line, or an upright one, in order."""
    found = []
    for ring in rings:
        points = [complex(at.imag, at.real) if upright else at for at in flattened(ring, followed)]
        for start, end in pairwise([*points, points[0]]):
            if (start.imag <= level) != (end.imag <= level):
                share = (level - start.imag) / (end.imag - start.imag)
                found.append(start.real + share * (end - start).real)
    return sorted(found)
