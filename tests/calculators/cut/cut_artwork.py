"""Artwork that stencils are tested on, with what is bare, coloured and wanted white as shapely sees it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from shapely import Polygon, set_precision
from shapely.geometry.base import BaseGeometry

from calculators.cut import bridges
from calculators.cut.artwork import CutArtwork, from_outlines
from calculators.cut.bridges import Bridged, laid, shared_out
from calculators.cut.plane import Flat, Plane
from calculators.cut.traced import from_picture
from calculators.files.outline_pixels import with_pixels
from calculators.files.picture import read_picture
from calculators.pixels.raster import raster_of
from calculators.pixels.white_areas import areas
from calculators.values import in_one_go

#: To so many mm.
GRID = 1e-5
DEMO = Path(__file__).resolve().parents[3] / "content" / "demo"

#: Drawings of 20 x 12 mm, each with the marks on what its white means.
DRAWN = {
    # A white plate whose lower half has a red border: white and red are visible edges, which meet in two points.
    "half-bordered plate": (
        '<path fill="#ffffff" d="M2 2H18V10H2Z"/><path fill="#c63f2b" d="M2 6H3V9H17V6H18V10H2Z"/>',
        "",
    ),
    # A red outline 0.3 mm wide round white: narrower than two chokes of 0.2 mm.
    "thinly outlined disc": (
        '<circle cx="10" cy="6" r="5" fill="#c63f2b"/><circle cx="10" cy="6" r="4.7" fill="#ffffff"/>',
        "",
    ),
    # A white rim 0.15 mm wide round blue, and a hole in the blue: only the hole's edge is an outer edge of colour.
    "hairline white rim": (
        (
            '<circle cx="10" cy="6" r="5" fill="#ffffff"/>'
            '<path fill="#1f3b4d" fill-rule="evenodd" '
            'd="M5.15 6A4.85 4.85 0 1 0 14.85 6A4.85 4.85 0 1 0 5.15 6ZM8 5H12V7H8Z"/>'
        ),
        "3 hole",
    ),
}


@cache
def of_file(name: str, width_mm: float, marks: str = "") -> CutArtwork:
    """Return the regions of a file of the demonstration."""
    return _of(name, (DEMO / name).read_bytes(), width_mm, marks)


@cache
def drawn(name: str) -> CutArtwork:
    """Return the regions of one of the drawings above."""
    shapes, marks = DRAWN[name]
    return of_svg(shapes, 20, 12, marks)


def of_svg(shapes: str, width: float, height: float, marks: str = "") -> CutArtwork:
    """Return the regions of an SVG drawing in mm."""
    data = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">{shapes}</svg>'
    )
    return _of("drawing.svg", data.encode(), width, marks)


def _of(name: str, data: bytes, width_mm: float, marks: str) -> CutArtwork:
    picture = read_picture(name, data, wanted=True, or_outlines=True)
    pixels = in_one_go(with_pixels(picture))
    meaning = in_one_go(areas(raster_of(pixels), marks)).meaning()
    if picture.outlines:
        return in_one_go(from_outlines(picture.outlines, meaning, pixels.size_px, width_mm))
    return in_one_go(from_picture(raster_of(pixels), meaning, width_mm))


def region(plane: Plane, flat: Flat) -> BaseGeometry:
    """Return a region as shapely has it: outer rings run the other way round than holes.

    It is rounded to ``GRID`` mm, since shapely finds gaps of a nanometre between regions that share a border.
    """
    whole: BaseGeometry = Polygon()
    rings = [Polygon([(point.real, point.imag) for point in plane.polygon(ring)]) for ring in flat]
    for ring in sorted(rings, key=lambda each: -each.area):
        whole = whole | ring if ring.exterior.is_ccw else whole - ring
    return set_precision(whole, GRID)


def bridged(plane: Plane, openings: Flat, sheet: Flat, width: float, changes_text: str = "") -> Bridged:
    """Return the openings of one stencil with its bridges, and what the reader changes of them."""
    one = laid(plane, openings, sheet, width)
    return bridges.bridged(one, *shared_out([one], changes_text))
