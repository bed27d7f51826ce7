"""Artwork as regions that may be cut: colours as they are seen, and the white that is wanted among them.

Whoever marked the white areas of the picture decides what each part means: a part, whatever its colour, is what most
of its pixels were marked as.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Generator, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import floor
from typing import TYPE_CHECKING

from calculators import messages
from calculators.colour.srgb import lab_of
from calculators.cut.plane import Flat, Plane, box_of, meet
from calculators.pixels.colour_table import lab, rgb_of, within
from calculators.pixels.lost_parts import NOTHING_LOST, Losses
from calculators.pixels.white_areas import BARE, PRINTED, TOLERANCE, WHITE
from calculators.shapes.cubics import Piece
from calculators.shapes.nesting import Part
from calculators.values import Progress

if TYPE_CHECKING:
    from calculators.files.outline_reader import Outlines

#: What lies further outside the artwork than so many mm is never cut.
REACH_MM = 40.0
#: A gap between colours that is narrower than so many mm comes of tracing, and nobody sees it (estimate).
HAIR_MM = 0.04
#: Rows of pixels in which a part is looked at, at most.
ROWS = 40

_IS_WHITE = within(lab_of((1.0, 1.0, 1.0)), TOLERANCE)


@dataclass(frozen=True)
class Meanings:
    """What each pixel of a drawing means (``white_areas``), ``pixel_mm`` wide and high."""

    plane: bytes
    width: int
    height: int
    pixel_mm: complex


@dataclass(frozen=True)
class CutArtwork:
    """Regions of artwork of ``size`` (mm across, and down as the imaginary part), y down, which do not overlap.

    ``colours`` are by #rrggbb; ``white`` is what is wanted white. ``gaps`` are hairs between them that nobody sees. All
    else is bare. ``lost`` is what the regions lose of a picture of pixels, which has visible grain if it ``is_grainy``.
    """

    size: complex
    plane: Plane
    colours: Mapping[str, Flat]
    white: Flat
    gaps: Flat
    lost: Losses = NOTHING_LOST
    is_grainy: bool = False

    @cached_property
    def coloured(self) -> Flat:
        """All colours as one region, hairs between them filled. Raises TooTangled."""
        return self.plane.join(*self.colours.values(), self.gaps)

    @cached_property
    def printed(self) -> Flat:
        """All that is not bare. Raises TooTangled."""
        return self.plane.join(self.coloured, self.white)


def from_outlines(
    outlines: Outlines, meaning: bytes, size_px: tuple[int, int], width_mm: float
) -> Generator[Progress, None, CutArtwork]:
    """Return what is seen of drawn outlines, ``width_mm`` wide. Yields progress. Raises TooTangled.

    ``meaning`` is that of the pixels, ``size_px``, that they were drawn with.
    """
    left, top, box_width, box_height = outlines.box
    scale = width_mm / box_width
    size = scale * complex(box_width, box_height)

    def placed(piece: Piece) -> Piece:
        return tuple(scale * complex(point.real - left, point.imag - top) for point in piece)

    shapes = [
        (shape.fill, [[placed(piece) for piece in ring] for ring in shape.rings], shape.even_odd)
        for shape in outlines.shapes
    ]
    plane = plane_for([ring for _fill, rings, _rule in shapes for ring in rings], size)
    page = plane.box(0j, size)
    layers: list[tuple[str, Flat]] = []
    for fill, rings, even_odd in shapes:
        flat = plane.flat(rings, even_odd=even_odd)
        if not _lies_within(flat, page):
            flat = plane.common(flat, page)
        layers.append((fill.lower(), flat))
    meanings = Meanings(meaning, *size_px, complex(size.real / size_px[0], size.imag / size_px[1]))
    seen: list[tuple[str, Flat]] = []
    for each in _seen(plane, layers):
        yield Progress(len(seen) / len(layers), messages.MAKING_PIECES)
        seen.append(each)
    return sorted_out(plane, seen, size, meanings)


def plane_for(rings: Sequence[Sequence[Piece]], size: complex) -> Plane:
    """Return the plane on which artwork of ``size`` (mm) with these outlines is arranged."""
    corners = [(0j, complex(size.real, 0)), (size, complex(0, size.imag))]
    return Plane([*rings, corners], REACH_MM)


def _seen(plane: Plane, layers: Sequence[tuple[str, Flat]]) -> Iterator[tuple[str, Flat]]:
    """Yield what is seen of each layer, which later ones cover."""
    boxes = [box_of(flat) for _colour, flat in layers]
    for place, (colour, flat) in enumerate(layers):
        over = [
            layers[later][1]
            for later in range(place + 1, len(layers))
            if flat and layers[later][1] and meet(boxes[place], boxes[later])
        ]
        yield colour, plane.minus(flat, *over) if over else flat


def sorted_out(plane: Plane, regions: Iterable[tuple[str, Flat]], size: complex, meanings: Meanings) -> CutArtwork:
    """Return regions by what their connected parts mean, wanted white that is left empty among them."""
    # By the region that they come from: only those of several regions need to be joined.
    by_colour: dict[str, dict[int, Flat]] = {}
    white: dict[int, Flat] = {}
    seen: list[Flat] = []
    for colour, flat in regions:
        seen.append(flat)
        is_white = _IS_WHITE(lab(rgb_of(colour)))
        for part in plane.parts(flat):
            meant = _meaning(plane, part, meanings)
            if meant == WHITE or (is_white and meant == PRINTED):
                # White too small to be marked counts as wanted.
                white.setdefault(len(seen), []).extend([part.outer, *part.holes])
            elif meant == PRINTED or meant is None:
                by_colour.setdefault(colour, {}).setdefault(len(seen), []).extend([part.outer, *part.holes])
    gaps: Flat = []
    for part in plane.parts(plane.minus(plane.box(0j, size), *seen)):
        if _meaning(plane, part, meanings) == WHITE:
            white.setdefault(0, []).extend([part.outer, *part.holes])
        elif _is_hair(plane.polygon(part.outer)):
            gaps += [part.outer, *part.holes]
    colours = {colour: _joined(plane, flats) for colour, flats in by_colour.items()}
    return CutArtwork(size, plane, colours, _joined(plane, white), gaps)


def _joined(plane: Plane, flats: Mapping[int, Flat]) -> Flat:
    """Return parts of several regions as one region."""
    return plane.join(*flats.values()) if len(flats) > 1 else next(iter(flats.values()), [])


def _is_hair(polygon: Sequence[complex]) -> bool:
    """Return whether a ring encloses a hair: a strip is twice its area by its perimeter wide."""
    edges = list(zip(polygon, [*polygon[1:], polygon[0]], strict=True))
    area = abs(sum((start.conjugate() * end).imag for start, end in edges))
    return area < HAIR_MM * sum(abs(end - start) for start, end in edges)


def _meaning(plane: Plane, part: Part, meanings: Meanings) -> int | None:
    """Return what most of a part's pixels mean; None if it covers no middle of any."""
    rings = [plane.polygon(ring) for ring in (part.outer, *part.holes)]
    width_mm, height_mm = meanings.pixel_mm.real, meanings.pixel_mm.imag
    down = [point.imag for point in rings[0]]
    first, last = floor(min(down) / height_mm), floor(max(down) / height_mm)
    every = max(1, (last - first + 1) // ROWS)
    counts = [0, 0, 0]
    rows = range(max(0, first), min(meanings.height - 1, last) + 1, every)
    for row, crossed in zip(rows, _crossings(rings, [(row + 0.5) * height_mm for row in rows]), strict=True):
        for start, end in zip(crossed[::2], crossed[1::2], strict=False):
            # From the first middle of a pixel to the last.
            left, right = max(0, floor(start / width_mm + 0.5)), min(meanings.width, floor(end / width_mm + 0.5))
            held = meanings.plane[row * meanings.width + left : row * meanings.width + right]
            for meant in (BARE, WHITE, PRINTED):
                counts[meant] += held.count(meant)
    return counts.index(max(counts)) if any(counts) else None


def _crossings(rings: Iterable[Sequence[complex]], levels: Sequence[float]) -> list[list[float]]:
    """Return where rings cross each of the ``levels`` of y, which rise, from left to right."""
    found: list[list[float]] = [[] for _y in levels]
    for ring in rings:
        before = ring[-1]
        start = bisect_left(levels, before.imag)
        for point in ring:
            end = bisect_left(levels, point.imag)
            for place in range(start, end) if start < end else range(end, start):
                share = (levels[place] - before.imag) / (point.imag - before.imag)
                found[place].append(before.real + share * (point.real - before.real))
            before, start = point, end
    return [sorted(crossed) for crossed in found]


def _lies_within(flat: Flat, page: Flat) -> bool:
    (left, top, right, bottom), around = box_of(flat), box_of(page)
    return around[0] <= left and around[1] <= top and right <= around[2] and bottom <= around[3]
