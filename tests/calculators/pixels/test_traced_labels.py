"""Traced outlines as pixels again, against shapely and against the drawing they were traced from."""

from __future__ import annotations

from math import radians

import numpy
import shapely

from calculators.pixels.flat_colours import NONE
from calculators.pixels.traced_labels import labels_of
from calculators.pixels.tracing import SEVERAL, TRANSPARENCY, traced
from tests.calculators.pixels.test_flat_colours import IVORY, MAROON, drawn, finished, raster
from tests.calculators.pixels.test_trace_real import polygons

SHAPES = (
    ("ellipse", MAROON, (10.3, 10.6, 110.2, 110.4)),
    ("rectangle", IVORY, (6.5, 50.5, 114, 66)),
    ("ellipse", "#ffffff", (48, 78, 70, 100)),
)
SMALL, LARGE = drawn("#ffffff", *SHAPES, times=16)
OPTIONS = {"count": None, "tolerance": 0.1, "angle": radians(30), "smallest": 1.0}


def test_each_pixel_gets_the_region_of_its_centre():
    found = finished(traced(raster(SMALL), by=SEVERAL, keep_ground=True, **OPTIONS))
    labels, colours = labels_of(found)
    plane = numpy.frombuffer(labels, numpy.uint8).reshape(120, 120)
    assert len(colours) == len(found.regions) and set(labels) == set(range(len(colours)))
    rows, columns = numpy.mgrid[0:120, 0:120]
    for place in range(len(found.regions)):
        region = polygons(found, place)
        inside = shapely.contains_xy(region, columns + 0.5, rows + 0.5)
        # Curves are followed by straight lines here and there.
        near = shapely.distance(region.boundary, shapely.points(columns + 0.5, rows + 0.5)) < 0.06
        assert ((plane == place) == inside)[~near].all()


def test_the_labels_are_the_colours_of_the_drawing():
    found = finished(traced(raster(SMALL), by=SEVERAL, keep_ground=False, **OPTIONS))
    labels, colours = labels_of(found)
    assert colours[-1] == found.ground == (255, 255, 255)
    got = numpy.array(colours)[numpy.frombuffer(labels, numpy.uint8)].reshape(120, 120, 3)
    # The colour in the middle of each pixel of the drawing, which is sixteen times as large.
    wanted = numpy.asarray(LARGE)[8::16, 8::16]
    assert (got != wanted).any(-1).mean() <= 0.004


def test_transparent_pixels_have_no_label():
    picture = SMALL.convert("RGBA")
    picture.paste((0, 0, 0, 0), (0, 0, 120, 40))
    found = finished(traced(raster(picture), by=TRANSPARENCY, keep_ground=False, **OPTIONS))
    labels, colours = labels_of(found)
    assert colours == (found.regions[0].rgb,)
    assert labels == bytes([NONE]) * (120 * 40) + bytes(120 * 80)
