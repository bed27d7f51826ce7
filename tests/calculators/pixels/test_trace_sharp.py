"""Outlines of thin rings and sharp tips against their truth, and outlines that are safe to cut, judged by shapely."""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import radians

import cairosvg
import numpy
import pytest
import resvg_py
import shapely

from calculators.artwork.trace import TOLERANCE_MM, TOLERANCE_PX
from calculators.files.picture import read_picture
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.tracing import SEVERAL, TRANSPARENCY, Traced, traced
from calculators.shapes.cubics import Piece
from calculators.shapes.regions import Ring, sound
from calculators.shapes.tangles import tangled
from tests.calculators.pixels.test_flat_colours import finished
from tests.calculators.pixels.truth import MM_PER_INCH, clear_raster, covered, turned
from tests.conftest import ROOT

INK = 122, 34, 50
POSITIONS = 40
MICROMETRE = 0.001
#: Across, so that the whole artwork takes a few seconds.
ARTWORK_PX = 300


def on_white(levels: numpy.ndarray) -> Raster:
    """Return a picture of one ink on white that covers so much of each pixel."""
    share = levels[..., None] / 255
    rgba = numpy.full((*levels.shape, 4), 255, numpy.uint8)
    rgba[..., :3] = numpy.rint(255 * (1 - share) + numpy.array(INK) * share)
    return Raster(rgba.tobytes(), levels.shape[1], levels.shape[0])


def found_in(raster: Raster, by: str = SEVERAL, ppi: float = 300, **wanted) -> Traced:
    tolerance = min(TOLERANCE_PX, TOLERANCE_MM * ppi / MM_PER_INCH)
    return finished(
        traced(
            raster,
            by=by,
            count=None,
            tolerance=tolerance,
            angle=radians(30),
            **{"keep_ground": False, "smallest": 1.0} | wanted,
        )
    )


def flattened(pieces: Sequence[Piece], within: float) -> numpy.ndarray:
    """Return a ring as points whose chords leave its curves by at most ``within``:
    a cubic's second differences bound that.
    """
    points = []
    for piece in pieces:
        if len(piece) == 2:
            points.append(piece[0])
            continue
        start, one, two, end = piece
        count = 1 + int((0.75 * max(abs(start - 2 * one + two), abs(one - 2 * two + end)) / within) ** 0.5)
        share = numpy.arange(count) / count
        left = 1 - share
        points += list(left**3 * start + 3 * left**2 * share * one + 3 * left * share**2 * two + share**3 * end)
    return numpy.stack([numpy.real(points), numpy.imag(points)], 1)


def unsound(found: Traced, ppi: float) -> list[str]:
    """Return what shapely finds wrong with the regions when they are flattened to a micrometre."""
    wrong = []
    for region in found.regions:
        polygons = []
        for ring in region.rings:
            polygon = (
                shapely.Polygon(flattened(ring.pieces, MICROMETRE * ppi / MM_PER_INCH))
                if len(ring.pieces) > 1
                else shapely.Polygon()
            )
            polygons.append(polygon)
            if polygon.area <= 0 or not polygon.is_valid:
                wrong.append(f"{region.rgb}: {shapely.is_valid_reason(polygon)}, area {polygon.area}")
        tree = shapely.STRtree(polygons)
        for one, two in zip(*tree.query(polygons, predicate="overlaps"), strict=True):
            if one < two:
                wrong.append(f"{region.rgb}: rings {one} and {two} cross")
        if region.area <= 0:
            wrong.append(f"{region.rgb}: no area")
    return wrong


def cairo_ring(middle: numpy.ndarray, radius: float, wide: float, size: int) -> Raster:
    """Return a ring of one ink on white as cairo draws it."""
    x, y = middle
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}" height="{size}">'
        f'<path fill="#fff" d="M0 0H{size}V{size}H0z"/>'
        f'<circle cx="{x}" cy="{y}" r="{radius - wide / 2}" fill="none" stroke="rgb{INK}" '
        f'stroke-width="{wide}"/></svg>'
    )
    return raster_of(read_picture("ring.png", cairosvg.svg2png(svg.encode()), wanted=True))


@pytest.mark.parametrize("drawn_by", ["coverage", "cairo"])
@pytest.mark.parametrize("wide", [2.4, 3, 4, 5])
def test_thin_rings_are_as_smooth_inside_as_outside(wide, drawn_by):
    """A ring on white with white within, by exact coverage or by cairo, at several places below
    the pixel: the circle is the truth.
    """
    lot = numpy.random.default_rng(int(10 * wide))
    off: dict[bool, list[float]] = {True: [], False: []}
    curves: dict[bool, int] = {True: 0, False: 0}
    turn = numpy.linspace(0, 2 * numpy.pi, 1440, endpoint=False)
    circle = numpy.stack([numpy.cos(turn), numpy.sin(turn)], 1)
    for _ in range(4):
        radius = lot.uniform(20, 50)
        middle, size = lot.random(2) + radius + 8, int(2 * radius + 18)
        if drawn_by == "cairo":
            raster = cairo_ring(middle, radius, wide, size)
        else:
            ring = [middle + radius * circle, middle + (radius - wide) * circle[::-1]]
            raster = on_white(numpy.rint(255 * covered(ring, size, size)))
        for line in found_in(raster).lines:
            far = numpy.hypot(*(flattened(line.pieces, 0.002) - middle).T)
            if far.max() > radius + 4:
                continue
            outer = far.mean() > radius - wide / 2
            off[outer].append(float(((far - (radius if outer else radius - wide)) ** 2).mean()))
            curves[outer] += len(line.pieces)
    assert len(off[True]) == len(off[False]) == 4
    assert numpy.mean(off[False]) ** 0.5 <= 2 * numpy.mean(off[True]) ** 0.5
    assert curves[False] <= 2 * curves[True]


@pytest.mark.parametrize("by", [SEVERAL, TRANSPARENCY])
@pytest.mark.parametrize("angle", [24, 30, 36, 45])
def test_sharp_tips_lose_nothing_at_any_place(angle, by):
    """A triangle by exact coverage, turned and moved below the pixel: 0.06 mm at 300 ppi
    and 0.03 mm at 600 are the same in pixels.
    """
    half, ppi, most_mm = radians(angle / 2), 300, 0.06
    lot = numpy.random.default_rng(angle)
    for side in (10.5, 20):
        shape = numpy.array(
            [
                (0, 0),
                (side * numpy.cos(half), side * numpy.sin(half)),
                (side * numpy.cos(half), -side * numpy.sin(half)),
            ]
        )
        size = int(1.4 * side) + 14
        for place in range(POSITIONS):
            # One in four lies along the rows, the columns, or a regular slant.
            way = place * numpy.pi / 32 if place % 4 == 0 else lot.uniform(0, 2 * numpy.pi)
            tip, *_ = corners = turned(shape - shape.mean(0), way, (0, 0)) + size / 2 + lot.random(2)
            levels = numpy.rint(255 * covered([corners], size, size)).astype(numpy.uint8)
            found = found_in(on_white(levels) if by == SEVERAL else clear_raster(levels), by, ppi)
            ends = numpy.array([(piece[0].real, piece[0].imag) for line in found.lines for piece in line.pieces])
            assert numpy.hypot(*(ends - tip).T).min() <= most_mm * ppi / MM_PER_INCH, (side, place)


@pytest.mark.parametrize("name", sorted(path.name for path in (ROOT / "content" / "demo").glob("*.svg")))
def test_outlines_of_the_artwork_are_safe_to_cut(name):
    # Without its size in mm: as many pixels as asked for.
    drawn = re.sub(r' (width|height)="[\d.]+mm"', "", (ROOT / "content" / "demo" / name).read_text("utf-8"), count=2)
    data = bytes(resvg_py.svg_to_bytes(svg_string=drawn, width=ARTWORK_PX, background="#bbbbbb"))
    found = found_in(raster_of(read_picture("art.png", data, wanted=True)), keep_ground=True, smallest=0)
    assert found.regions and unsound(found, 300) == []


def test_specks_of_half_a_pixel_keep_an_area():
    """Dots that cover just over half of one pixel and lean to their ground on all
    sides: at least half of that is left.
    """
    levels = numpy.zeros((40, 40), numpy.uint8)
    levels[5:35:6, 5:35:6] = 133
    levels[15:25, 15:25] = 255
    found = found_in(on_white(levels), smallest=0)
    assert unsound(found, 300) == []
    ink = next(region for region in found.regions if region.rgb == INK)
    dots = [ring.area for ring in ink.rings if ring.area < 2]
    assert dots and min(dots) >= 0.26 and max(dots) <= 0.7


def test_lines_that_lie_on_one_another_are_found():
    there = [(0j, 4 + 0j), (4 + 0j, 8 + 1j)]
    assert tangled([there, [(0j, 4 + 0j), (4 + 0j, 8 - 1j)]]) == {0, 1}
    assert tangled([there, [(0j, 4 + 1j), (4 + 1j, 8 + 1j)]]) == set()
    assert tangled([[(0j, 4 + 0j), (4 + 0j, 2 + 0j), (2 + 0j, 2 + 3j)]]) == {0}


def test_rings_that_enclose_nothing_are_left_out_and_counted():
    square = Ring(((0j, 1 + 0j), (1 + 0j, 1 + 1j), (1 + 1j, 1j), (1j, 0j)), 1.0)
    line = Ring(((0j, 1 + 0j), (1 + 0j, 0j)), 0.0)
    assert sound({3: [square, line], 4: [line]}) == ({3: [square], 4: []}, 2)


def test_curves_that_cross_are_found_as_shapely_finds_them():
    """Pairs of random curves and straight parts, near one another; those that miss or meet by a hair are left out."""
    lot = numpy.random.default_rng(5)
    counts = {True: 0, False: 0}
    for turn in range(400):
        one, two = (
            tuple(complex(x, y) for x, y in lot.random((2 if (turn + which) % 3 == 0 else 4, 2)) * 8 + (3 * which, 0))
            for which in (0, 1)
        )
        first, second = (
            shapely.LineString([*flattened([piece], 0.0002), (piece[-1].real, piece[-1].imag)]) for piece in (one, two)
        )
        # A curve whose handles cross counts as one that crosses itself, and is fitted again.
        if not first.is_simple or not second.is_simple or tangled([[one]]) or tangled([[two]]):
            continue
        crosses = first.intersects(second)
        if crosses != first.buffer(0.02).intersects(second):
            continue
        counts[crosses] += 1
        assert (tangled([[one], [two]]) == {0, 1}) == crosses, (one, two)
    assert min(counts.values()) > 40
