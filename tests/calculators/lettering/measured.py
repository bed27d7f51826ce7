"""Lettering measured back from its outlines, by numpy and shapely, which know nothing of how they were drawn."""

from functools import cache

import numpy as np
from shapely import Polygon

from calculators import tables
from calculators.lettering.sizes import Chosen, sizes_of
from calculators.shapes.grid import flattened

#: A height for the rules that leave it open, in mm.
OPEN_HEIGHT = 120.0


@cache
def sizes(rule, **chosen):
    """Return the sizes of a rule by its id."""
    row = tables.row("rules", rule)
    height = {"height": OPEN_HEIGHT} if row.height is None else {}
    return sizes_of(row, Chosen(**(height | chosen)))


def points(ring, followed=1e-3):
    """Return a ring as points (x, y)."""
    return [(point.real, point.imag) for point in flattened(ring, followed)]


def polygon(rings, followed=1e-3):
    """Return what rings enclose, by even-odd."""
    made = Polygon()
    for ring in rings:
        made = made.symmetric_difference(Polygon(points(ring, followed)))
    return made


def bounds(rings):
    """Return left, top, right and bottom of the outlines."""
    across, down = zip(*(point for ring in rings for point in points(ring, 0.05)), strict=True)
    return min(across), min(down), max(across), max(down)


def thicknesses(rings, longer):
    """Return how thick an area is between straight edges that face each other and are parallel.

    A ray goes inwards from five places on each edge that is ``longer`` than so, to the first edge that it meets.
    """
    loops = [np.array([complex(*point) for point in points(ring)]) for ring in rings]
    starts, ends = np.concatenate(loops), np.concatenate([np.roll(loop, -1) for loop in loops])
    ways = ends - starts
    long = np.abs(ways) > longer
    unit = ways[long] / np.abs(ways[long])
    shares = np.array([0.2, 0.35, 0.5, 0.65, 0.8])
    origins = (starts[long][:, None] + shares * ways[long][:, None]).ravel()
    along = np.repeat(unit, len(shares))
    # What a ring fills is on its right, seen with y down.
    inward = along * 1j
    offset = starts[None, :] - origins[:, None]
    turn = _cross(inward[:, None], ways[None, :])
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = _cross(offset, ways[None, :]) / turn
        share = _cross(offset, inward[:, None]) / turn
    met = (distance > 1e-6) & (share >= 0) & (share <= 1)
    distance = np.where(met, distance, np.inf)
    nearest = distance.argmin(axis=1)
    parallel = np.abs(_cross(along, ways[nearest] / np.abs(ways[nearest]))) < 1e-6
    return distance.min(axis=1)[parallel]


def _cross(one, other):
    return one.real * other.imag - one.imag * other.real
