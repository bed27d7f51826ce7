"""The test strip of a sheet: a patch of heavy ink, and lines at the printer's limits, dark and reversed out.

The patch shows when the ink is dry and whether the seal holds; the lines show what this printer draws on this film.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from calculators.files.svg_shapes import Shape
from calculators.shapes.cubics import Piece
from calculators.sheets.contents import OutlineContent

#: Widths of lines in mm, from too thin for most home printers to wide enough for nearly all.
LINES_MM = (0.05, 0.1, 0.15, 0.2, 0.3)
#: Two inks or three at once lie thicker than black alone.
HEAVY, DARK = "#2b1157", "#1c2226"
#: The share of the strip that the patch takes.
PATCH_SHARE = 0.3


def strip_content(size: complex, lines_mm: Sequence[float] = LINES_MM) -> OutlineContent:
    """Return the test strip in a box of ``size`` mm: the patch at its left; right of it lines of ``lines_mm``, across
    and down, and beside them the same lines reversed out of a dark patch.
    """
    width, height = size.real, size.imag
    patch = width * PATCH_SHARE
    gap = width / 30
    column = (width - patch - 2 * gap) / 2
    dark: list[tuple[Piece, ...]] = []
    reversed_out = [_box(patch + 2 * gap + column, 0.0, column, height)]
    for number, wide in enumerate(lines_mm):
        middle = (number + 0.5) * height / len(lines_mm)
        upright = (number + 0.5) * column * 0.4 / len(lines_mm) + column * 0.6
        for rings, left in ((dark, patch + gap), (reversed_out, patch + 2 * gap + column)):
            rings.append(_box(left + column * 0.05, middle - wide / 2, column * 0.45, wide))
            rings.append(_box(left + upright - wide / 2, height * 0.1, wide, height * 0.8))
    return OutlineContent(
        size,
        (
            Shape(HEAVY, (_box(0.0, 0.0, patch, height),), False),
            Shape(DARK, tuple(dark), False),
            Shape(DARK, tuple(reversed_out), True),
        ),
    )


def _box(left: float, top: float, width: float, height: float) -> tuple[Piece, ...]:
    low, high = complex(left, top), complex(left + width, top + height)
    return tuple(pairwise([low, complex(high.real, low.imag), high, complex(low.real, high.imag), low]))
