"""The outer edge of a marking, printed and with its film, of a picture or of drawn outlines."""

from __future__ import annotations

from collections.abc import Generator, Iterable
from math import radians
from typing import TYPE_CHECKING

from calculators.artwork.template_layout import Outline, Polygon
from calculators.files.picture import Picture
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.extent import extent
from calculators.pixels.flat_colours import NotFlat
from calculators.pixels.raster import raster_of
from calculators.pixels.tracing import SEVERAL, NothingToTrace, traced
from calculators.shapes.cubics import Piece
from calculators.shapes.grid import Rings
from calculators.shapes.offsets import as_pieces, spread
from calculators.shapes.planar_map import TooManyArcs, TooManySteps
from calculators.shapes.set_operations import cleaned, intersection
from calculators.shapes.snap_rounding import TooTangled
from calculators.values import Progress

if TYPE_CHECKING:
    from calculators.files.outline_reader import Outlines

#: On paper nobody sees more than this, in mm: curves are traced and followed so closely.
CLOSELY_MM = 0.02
#: Edges that turn by more than this are corners, and smaller areas are specks, in square mm, as where outlines are
#: traced.
CORNER_DEGREES, SPECK_MM2 = 30.0, 0.01


def marking_outline(picture: Picture, width_mm: float, rim_mm: float) -> Generator[Progress, None, Outline | None]:
    """Return the outer edge of a marking in a picture ``width_mm`` wide, with ``rim_mm`` of film round it.

    None where it has none that can be found: a photograph, or noise. Yields progress.
    """
    try:
        if picture.outlines:
            return _outline(_drawn(picture.outlines, width_mm), rim_mm)
        return _outline((yield from _traced(picture, width_mm)), rim_mm)
    except (NotFlat, TooManySteps, TooManyArcs, TooManyRuns, NothingToTrace, TooTangled):
        return None


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


def _outline(rings: Rings, rim_mm: float) -> Outline | None:
    """Return the outer rings of what ``rings`` fill; None where that is nothing."""
    printed = _outer(spread(rings, 0, followed=CLOSELY_MM / 4).rings)
    if not printed:
        return None
    film = _outer(spread(rings, rim_mm, followed=CLOSELY_MM / 4).rings) if rim_mm else printed
    points = [at for ring in printed for at in ring]
    low = complex(min(at.real for at in points), min(at.imag for at in points))
    return Outline(
        tuple(tuple(at - low for at in ring) for ring in printed),
        tuple(tuple(at - low for at in ring) for ring in film),
        max(at.real for at in points) - low.real,
        max(at.imag for at in points) - low.imag,
    )


def _outer(rings: Iterable[list[complex]]) -> list[list[complex]]:
    """Return rings without holes, which run the other way."""
    return [ring for ring in rings if _area(ring) > 0]


def _area(ring: list[complex]) -> float:
    return sum((one.conjugate() * two).imag for one, two in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2


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


def _drawn(outlines: Outlines, width_mm: float) -> list[list[Piece]]:
    """Return what the drawing shows in mm, each shape by its own rule."""
    left, top, box_width, box_height = outlines.box
    scale = width_mm / box_width

    def placed(piece: Piece) -> Piece:
        return tuple(scale * (at - complex(left, top)) for at in piece)

    made: list[list[Piece]] = []
    for shape in outlines.shapes:
        rings = [[placed(piece) for piece in ring] for ring in shape.rings if ring]
        made += cleaned(rings, even_odd=shape.even_odd, followed=CLOSELY_MM / 4)
    page = as_pieces(_rectangle(0j, scale * complex(box_width, box_height)))
    return intersection(made, [page], followed=CLOSELY_MM / 4)


def _rectangle(low: complex, high: complex) -> Polygon:
    return low, complex(high.real, low.imag), high, complex(low.real, high.imag)
