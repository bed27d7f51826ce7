"""Real pictures cut at a threshold and traced: the samples that come with scikit-image."""

from __future__ import annotations

from math import radians
from pathlib import Path

import numpy
import pytest
import shapely
import skimage
from PIL import Image

from calculators.pixels.raster import Raster
from calculators.pixels.tracing import ONE, Traced, traced
from calculators.shapes.tangles import tangled
from tests.calculators.pixels.test_flat_colours import finished
from tests.calculators.pixels.truth import along

SAMPLES = Path(skimage.__file__).parent / "data"
THRESHOLD = 128
NAMES = ["logo", "text", "coins", "horse", "page", "clock_motion", "phantom", "rocket", "cell", "color"]


def mask_of(name: str) -> numpy.ndarray:
    """Return where a sample is dark, or light where most of it is dark."""
    grey = numpy.asarray(
        Image.open(SAMPLES / f"{name}.png" if name != "rocket" else SAMPLES / "rocket.jpg").convert("L")
    )
    return grey < THRESHOLD if grey.mean() > THRESHOLD else grey >= THRESHOLD


def traced_mask(mask: numpy.ndarray) -> Traced:
    rgba = numpy.full((*mask.shape, 4), 255, numpy.uint8)
    rgba[..., :3] = numpy.where(mask, 0, 255)[..., None]
    return finished(
        traced(
            Raster(rgba.tobytes(), mask.shape[1], mask.shape[0]),
            by=ONE,
            count=None,
            keep_ground=True,
            tolerance=0.1,
            angle=radians(30),
            smallest=0,
        )
    )


def polygons(found: Traced, place: int) -> shapely.Geometry:
    """Return a region as shapely has it: outer rings less their holes, curves as chords."""
    rings = [(ring, shapely.Polygon(along(ring.pieces, 0.1))) for ring in found.regions[place].rings]
    outer = shapely.union_all([polygon for ring, polygon in rings if ring.area > 0])
    return outer.difference(shapely.union_all([polygon for ring, polygon in rings if ring.area <= 0]))


@pytest.mark.parametrize("name", NAMES)
def test_a_real_picture_is_traced_soundly(name):
    mask = mask_of(name)
    found = traced_mask(mask)
    assert {region.rgb for region in found.regions} == {(0, 0, 0), (255, 255, 255)}
    dark = next(region for region in found.regions if region.rgb == (0, 0, 0))
    assert dark.area == pytest.approx(mask.sum(), rel=0.005)
    # Each ring is sound by itself, no two lines cross, and the regions fill the picture without a gap or overlap.
    for region in found.regions:
        for ring in region.rings:
            assert shapely.Polygon(along(ring.pieces, 0.1)).is_valid
    assert tangled([line.pieces for line in found.lines]) == set()
    assert sum(region.area for region in found.regions) == pytest.approx(mask.size, rel=1e-9)
    assert greatest_distance(found, mask) <= 0.75


def greatest_distance(found: Traced, mask: numpy.ndarray) -> float:
    """Return how far any outline is from the edge of the mask: the border of the union of its pixels, and the frame."""
    rows, columns = numpy.nonzero(mask)
    edge = shapely.union_all(shapely.box(columns, rows, columns + 1, rows + 1)).boundary
    edge = shapely.union(edge, shapely.box(0, 0, mask.shape[1], mask.shape[0]).boundary)
    points = shapely.points(numpy.concatenate([along(line.pieces, 0.3) for line in found.lines]))
    shapely.prepare(edge)
    segments = shapely.get_parts(shapely.force_2d(edge))
    pairs = shapely.STRtree(segments).query_nearest(points, return_distance=True, all_matches=False)
    return float(pairs[1].max())


def test_masks_are_sufficiently_black_and_white():
    assert all(0.01 < mask_of(name).mean() < 0.99 for name in NAMES)
