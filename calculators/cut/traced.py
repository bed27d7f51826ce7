"""Artwork traced from a picture of pixels, as regions that may be cut."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace
from math import radians

from calculators import messages
from calculators.cut.artwork import CutArtwork, Meanings, plane_for, sorted_out
from calculators.pixels.colour_table import hex_of
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.flat_colours import NotFlat
from calculators.pixels.raster import Raster
from calculators.pixels.traced_losses import lost_of
from calculators.pixels.tracing import SEVERAL, NothingToTrace, traced
from calculators.shapes.grid import shares
from calculators.shapes.planar_map import TooManyArcs, TooManySteps
from calculators.shapes.snap_rounding import TooTangled
from calculators.values import Progress

#: Outlines are traced within so many mm, or this share of a pixel, but no closer than the second share: pixels say no
#: more. Corners turn by so many degrees or more; smaller areas, in mm², are specks.
TOLERANCE_MM, TOLERANCE_PX, CLOSEST_PX, CORNER_DEGREES, SPECK_MM2 = 0.02, 0.1, 0.03, 30.0, 0.01
#: Outlines with more points than this take too long. Those of neighbours both count the border between them.
MOST_TRACED_POINTS = 120_000


class TooManyPoints(ValueError):
    """The outlines of the picture have more points than are worth arranging: ``points``."""

    def __init__(self, points: int) -> None:
        super().__init__(f"{points} points")
        self.points = points


#: What is raised for a picture that cannot be traced.
UNTRACEABLE = NotFlat, TooManySteps, TooManyArcs, TooManyRuns, NothingToTrace, TooManyPoints, TooTangled


def from_picture(raster: Raster, meaning: bytes, width_mm: float) -> Generator[Progress, None, CutArtwork]:
    """Return the outlines of a picture's colours, ``width_mm`` wide. Yields progress.

    ``meaning`` is that of its pixels (``WhiteAreas.meaning``). Raises what ``traced`` raises, TooManyPoints
    and TooTangled.
    """
    pixel = width_mm / raster.width
    found = yield from traced(
        raster,
        by=SEVERAL,
        count=None,
        keep_ground=False,
        tolerance=max(CLOSEST_PX, min(TOLERANCE_MM / pixel, TOLERANCE_PX)),
        angle=radians(CORNER_DEGREES),
        smallest=SPECK_MM2 / pixel**2,
    )
    size = pixel * complex(raster.width, raster.height)
    shapes = [
        (
            hex_of(region.rgb),
            [[tuple(pixel * each for each in piece) for piece in ring.pieces] for ring in region.rings],
        )
        for region in found.regions
    ]
    plane = plane_for([ring for _colour, rings in shapes for ring in rings], size)
    points = sum(
        1 for _colour, rings in shapes for ring in rings for piece in ring for _ in shares(piece, plane.followed)
    )
    if points > MOST_TRACED_POINTS:
        raise TooManyPoints(points)
    meanings = Meanings(meaning, raster.width, raster.height, complex(pixel, pixel))
    made = sorted_out(plane, [(colour, plane.flat(rings)) for colour, rings in shapes], size, meanings)
    yield Progress(1.0, messages.COMPARING)
    return replace(made, lost=lost_of(found, raster, by=SEVERAL), is_grainy=found.grainy)
