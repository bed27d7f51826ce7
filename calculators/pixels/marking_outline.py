"""The outer edge of a marking, printed and with its film, of a picture or of drawn outlines."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from math import radians
from typing import TYPE_CHECKING

from calculators.files.picture import Picture
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.extent import extent
from calculators.pixels.flat_colours import NotFlat
from calculators.pixels.raster import raster_of
from calculators.pixels.tracing import SEVERAL, NothingToTrace, traced
from calculators.shapes.cubics import Piece
from calculators.shapes.planar_map import TooManyArcs, TooManySteps
from calculators.values import Progress

if TYPE_CHECKING:
    from calculators.files.outline_reader import Outlines

Polygon = tuple[complex, ...]
#: On paper nobody sees more than this, in mm: curves are traced and followed so closely.
CLOSELY_MM = 0.02
#: Edges that turn by more than this are corners, and smaller areas are specks, in square mm, as where outlines are
#: traced.
CORNER_DEGREES, SPECK_MM2 = 30.0, 0.01


@dataclass(frozen=True)
class Outline:
    """What is printed, and the film round it: outer rings, the printed box with its corner at 0."""

    printed: tuple[Polygon, ...]
    film: tuple[Polygon, ...]
    width_mm: float
    height_mm: float


def marking_outline(picture: Picture, width_mm: float, rim_mm: float) -> Generator[Progress, None, Outline | None]:
    """Return the outer edge of a marking in a picture ``width_mm`` wide, with ``rim_mm`` of film round it.

    None where it has none that can be found: a photograph, or noise. Yields progress.
    """
    # A part of its own, which other pages of artwork do without.
    from calculators.shapes.outer_edges import outer_edges, shown

    if picture.outlines:
        rings = shown(*_drawn(picture.outlines, width_mm), CLOSELY_MM / 4)
    else:
        try:
            rings = yield from _traced(picture, width_mm)
        except (NotFlat, TooManySteps, TooManyArcs, TooManyRuns, NothingToTrace):
            return None
    edges = rings and outer_edges(rings, rim_mm, CLOSELY_MM / 4)
    return _outline(*edges) if edges and edges[0] else None


def box_outline(picture: Picture, width_mm: float, rim_mm: float) -> Outline:
    """Return the rectangle round the marking in a picture, in place of its edge."""
    found = extent(picture)
    left, top, right, bottom = found.box
    pixel = width_mm / found.width
    width, height = pixel * (right - left), pixel * (bottom - top)
    return Outline(
        (_rectangle(0j, complex(width, height)),),
        (_rectangle(complex(-rim_mm, -rim_mm), complex(width + rim_mm, height + rim_mm)),),
        width,
        height,
    )


def _outline(printed: list[Polygon], film: list[Polygon]) -> Outline:
    """Return edges with the corner of the printed box at 0."""
    points = [at for ring in printed for at in ring]
    low = complex(min(at.real for at in points), min(at.imag for at in points))
    return Outline(
        tuple(tuple(at - low for at in ring) for ring in printed),
        tuple(tuple(at - low for at in ring) for ring in film),
        max(at.real for at in points) - low.real,
        max(at.imag for at in points) - low.imag,
    )


def _traced(picture: Picture, width_mm: float) -> Generator[Progress, None, list[list[Piece]]]:
    raster = worked(raster_of(picture))
    pixel = width_mm / raster.width
    found = yield from traced(
        raster,
        by=SEVERAL,
        count=None,
        keep_ground=False,
        tolerance=max(CLOSELY_MM / pixel, 0.1),
        angle=radians(CORNER_DEGREES),
        smallest=SPECK_MM2 / pixel**2,
    )
    return [
        [tuple(at * pixel for at in piece) for piece in ring.pieces]
        for region in found.regions
        for ring in region.rings
    ]


def _drawn(outlines: Outlines, width_mm: float) -> tuple[list[tuple[list[list[Piece]], bool]], complex]:
    """Return the shapes of a drawing in mm, each with its rule, and the size of the drawing."""
    left, top, box_width, box_height = outlines.box
    scale = width_mm / box_width

    def placed(piece: Piece) -> Piece:
        return tuple(scale * (at - complex(left, top)) for at in piece)

    shapes = [
        ([[placed(piece) for piece in ring] for ring in shape.rings if ring], shape.even_odd)
        for shape in outlines.shapes
    ]
    return shapes, scale * complex(box_width, box_height)


def _rectangle(low: complex, high: complex) -> Polygon:
    return low, complex(high.real, low.imag), high, complex(low.real, high.imag)
