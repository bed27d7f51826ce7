"""The order of cutting, proven with shapely, and lengths against shapely's of finely followed curves."""

import math

import pytest
from shapely import LineString, Polygon

from calculators.shapes.cut_pieces import Layer
from calculators.shapes.cutting_order import cutting_length, cutting_order, run_length
from calculators.shapes.grid import flattened
from calculators.shapes.waste import waste_cuts, waste_frame
from tests.calculators.shapes.cut_samples import FILM, circle, cross, piece, shape, targets
from tests.calculators.shapes.offset_shapes import SHAPES, box, polygon


def points(cut):
    return [(point.real, point.imag) for point in (cut.run[0][0], *flattened(cut.run, 1e-4))]


def area(cut) -> Polygon:
    return Polygon(points(cut))


def cut_too_late(order):
    """Return the pairs of a closed cut and a later one that lies inside it."""
    return [
        (early, late)
        for place, early in enumerate(order)
        for late in order[place + 1 :]
        if early.closed and area(early).contains(LineString(points(late)))
    ]


@pytest.mark.parametrize("name", ["frame", "sieve", "R", "8", "&", "letters", "shaded figures", "fine lining"])
def test_nothing_is_cut_loose_before_what_lies_inside_it(name):
    sample = shape(name)
    pieces = [sample, waste_frame([sample], 4, "frame", FILM)]
    order = cutting_order(pieces)
    assert len(order) == 1 + len(sample.outlines)
    assert cut_too_late(order) == []
    assert len(cut_too_late(order[::-1])) >= len(sample.outlines)


def test_rings_within_rings_marks_and_waste_keep_the_order_too():
    order = cutting_order(targets())
    assert cut_too_late(order) == []
    kinds = [cut.layer for cut in order]
    assert kinds[:4] == [Layer.REGISTER] * 4 and kinds[-1] is Layer.FRAME
    assert set(kinds[4:-4]) == {Layer.BACKING, Layer.STENCIL} and kinds[-4:-1] == [Layer.WASTE] * 3


def test_small_is_cut_before_large():
    pieces = [piece([box(10 * size, 0, size, size) for size in (3, 1, 4, 2)]), piece([box(60, 0, 2.5, 2.5)])]
    assert [abs(cut.run[0][1] - cut.run[0][0]) for cut in cutting_order(pieces)] == [1, 2, 2.5, 3, 4]


def test_a_cut_through_waste_inside_an_opening_comes_before_the_opening():
    ring = piece([box(0, 0, 30, 30)], "opening", Layer.STENCIL)
    inner = piece([box(10, 10, 5, 5)], "island", Layer.STENCIL)
    waste = piece([], "waste", Layer.WASTE, marks=(((15 + 12j, 30 + 12j),),))
    assert [cut.name for cut in cutting_order([ring, waste, inner])] == ["island", "waste", "opening"]


# -- Waste -------------------------------------------------------------------------------------------


def test_cuts_through_waste_end_on_outlines_and_cross_none():
    pieces = [shape("letters"), shape("fine lining")]
    pieces[1] = piece([[tuple(each + 60j for each in part) for part in ring] for ring in pieces[1].outlines])
    frame = waste_frame(pieces, 5, "frame", FILM)
    made = waste_cuts(pieces, frame, "waste", FILM)
    outlines = [LineString(points(cut)) for cut in cutting_order([*pieces, frame])]
    assert len(made.marks) >= 6
    for cut in made.marks:
        line = LineString([(cut[0][0].real, cut[0][0].imag), (cut[0][1].real, cut[0][1].imag)])
        ends = [line.interpolate(share, normalized=True) for share in (0, 1)]
        assert all(min(outline.distance(end) for outline in outlines) < 0.002 for end in ends)
        inner = LineString([line.interpolate(share, normalized=True) for share in (0.02, 0.98)])
        assert not any(outline.crosses(inner) for outline in outlines)


def test_waste_of_two_pieces_side_by_side_comes_off_in_two_halves():
    """Of 40 x 20 mm round two squares of 10 mm: the frame, less the squares, parted by the cuts, is two pieces."""
    pieces = [piece([box(5, 5, 10, 10), box(25, 5, 10, 10)])]
    frame = waste_frame(pieces, 5, "frame", FILM)
    waste = area(cutting_order([frame])[0])
    for cut in cutting_order(pieces):
        waste = waste.difference(area(cut))
    for cut in waste_cuts(pieces, frame, "waste", FILM).marks:
        waste = waste.difference(LineString([(each.real, each.imag) for each in cut[0]]).buffer(1e-6))
    assert len(waste.geoms) == 2
    assert waste.area == pytest.approx(40 * 20 - 2 * 100, abs=0.01)


def test_no_cut_through_waste_hits_a_register_mark():
    diamond = polygon((10, 15), (15, 10), (20, 15), (15, 20))
    plain, marked = piece([diamond]), piece([diamond], marks=cross(5 + 15j))
    assert len(waste_cuts([plain], waste_frame([plain], 9, "f", FILM), "w", FILM).marks) == 2
    assert len(waste_cuts([marked], waste_frame([marked], 9, "f", FILM), "w", FILM).marks) == 1


# -- Lengths -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["square", "cusp", "R", "g", "crest ring", "stalk of the crest"])
def test_length_of_an_outline_is_that_of_its_finely_followed_curve(name):
    for ring in SHAPES[name]:
        finely = flattened(ring, 1e-6)
        line = LineString([(point.real, point.imag) for point in (finely[-1], *finely)])
        assert run_length(tuple(ring)) == pytest.approx(line.length, rel=1e-4)


def test_cutting_length_leaves_register_marks_out():
    sample = piece([box(0, 0, 10, 5), circle(30 + 0j, 4)], marks=cross(50j))
    waste = piece([], "waste", Layer.WASTE, marks=(((10 + 2j, 26 + 2j),),))
    assert cutting_length(cutting_order([sample, waste])) == pytest.approx(30 + 8 * math.pi + 16, rel=3e-4)
