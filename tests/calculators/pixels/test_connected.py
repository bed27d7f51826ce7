"""Connected areas, held against SciPy's labelling and scikit-image's measures of the same planes."""

import numpy
import pytest
from scipy import ndimage
from skimage.measure import regionprops

from calculators.pixels import connected as areas_of_planes
from calculators.pixels import planes as planes_of_pixels
from calculators.pixels.connected import TooManyRuns, connected, painted
from calculators.pixels.planes import OF_THREE, OF_TWO, Planes

SIDES = ndimage.generate_binary_structure(2, 1)
CORNERS = ndimage.generate_binary_structure(2, 2)


def found(plane: numpy.ndarray, **options) -> list:
    steps = connected(plane.tobytes(), plane.shape[1], plane.shape[0], **options)
    while True:
        try:
            next(steps)
        except StopIteration as stop:
            return stop.value


def blobs(seed: int, shape: tuple[int, int], values: int, smooth: float) -> numpy.ndarray:
    """Return areas of ``values`` values: smoothed noise cut into equal shares."""
    noise = ndimage.gaussian_filter(numpy.random.default_rng(seed).normal(size=shape), smooth)
    return numpy.searchsorted(numpy.quantile(noise, numpy.arange(1, values) / values), noise).astype(numpy.uint8)


PLANES = [
    blobs(seed, shape, values, smooth)
    for seed, (shape, values, smooth) in enumerate(
        [
            ((40, 60), 2, 0.0),
            ((61, 37), 3, 1.0),
            ((120, 90), 3, 2.5),
            ((1, 50), 2, 0.5),
            ((50, 1), 2, 0.5),
            ((1, 1), 2, 0.0),
            ((200, 220), 4, 4.0),
            ((33, 33), 2, 0.3),
        ]
    )
]


@pytest.mark.parametrize("plane", PLANES, ids=lambda plane: f"{plane.shape[1]}x{plane.shape[0]}")
@pytest.mark.parametrize("by_corners", [(), (0,), (0, 1, 2, 3)])
def test_areas_equal_scipy_s_labels(plane, by_corners):
    got = sorted((area.value, area.size, area.runs[0][0]) for area in found(plane, by_corners=by_corners))
    wanted = []
    for value in numpy.unique(plane):
        labels, count = ndimage.label(plane == value, CORNERS if value in by_corners else SIDES)
        for label in range(1, count + 1):
            places = numpy.flatnonzero(labels == label)
            wanted.append((int(value), len(places), int(places[0])))
    assert got == sorted(wanted)


@pytest.mark.parametrize("plane", PLANES, ids=lambda plane: f"{plane.shape[1]}x{plane.shape[0]}")
def test_boxes_sides_and_borders_are_right(plane):
    for area in found(plane):
        alone = numpy.frombuffer(painted([area], [1], plane.size), numpy.uint8).reshape(plane.shape)
        (measured,) = regionprops(alone)
        top, left, bottom, right = measured.bbox
        assert area.box == (left, top, right, bottom)
        framed = numpy.pad(alone, 1).astype(int)
        sides = sum(numpy.abs(numpy.diff(framed, axis=axis)).sum() for axis in (0, 1))
        assert area.sides == sides
        border = alone[0].sum() + alone[-1].sum() + alone[:, 0].sum() + alone[:, -1].sum()
        assert area.at_border == border
        assert area.corners == alone[0, 0] + alone[0, -1] + alone[-1, 0] + alone[-1, -1]


def test_an_area_knows_its_neighbours():
    plane = numpy.zeros((9, 9), numpy.uint8)
    plane[2:7, 2:7] = 1
    plane[4, 4] = 2
    ground, square, dot = found(plane)
    assert (ground.outside, square.outside, dot.outside) == (None, 0, 1)


def test_noise_beyond_the_limit_is_refused(monkeypatch):
    monkeypatch.setattr(areas_of_planes, "MOST_RUNS", 500)
    with pytest.raises(TooManyRuns):
        found(blobs(1, (64, 64), 2, 0.0))


@pytest.mark.parametrize("plane", PLANES, ids=lambda plane: f"{plane.shape[1]}x{plane.shape[0]}")
def test_squares_and_dilation_equal_scipy_in_bands_too(plane, monkeypatch):
    monkeypatch.setattr(planes_of_pixels, "BAND_PX", 3 * plane.shape[1])
    height, width = plane.shape
    planes = Planes(width, height)
    squares = numpy.frombuffer(planes.in_bands(Planes.squares, plane.tobytes(), margin=2), numpy.uint8).reshape(
        plane.shape
    )
    for side, kind in ((2, OF_TWO), (3, OF_THREE)):
        solid = numpy.zeros(plane.shape, bool)
        for value in numpy.unique(plane):
            # Opened by a square: what such squares fit into.
            solid |= ndimage.binary_opening(plane == value, numpy.ones((side, side)))
        assert (squares & kind > 0).tolist() == solid.tolist()
    ones = plane == 0
    grown = ndimage.binary_dilation(ones, CORNERS)
    got = planes.in_bands(lambda band, part: band.grown(band.where(part, 0)), plane.tobytes(), margin=1)
    assert got == grown.astype(numpy.uint8).tobytes()
