"""Lines and arcs against what they were made of: distances by shapely, counts by geometry."""

import cmath
import math

import pytest
from shapely import LineString

from calculators.shapes.arcs import Vertex, arcs, arcs_of_each
from calculators.shapes.grid import flattened
from calculators.shapes.offsets import as_pieces
from tests.calculators.shapes.cut_samples import circle, grown, runs, shape
from tests.calculators.shapes.offset_shapes import around

#: Hausdorff distance in mm.
OFF_MM = 0.01


def resolved(vertices: list[Vertex]) -> LineString:
    """Return a closed line along ways that bulge as files for cutters define it."""
    points = []
    for vertex, after in zip(vertices, [*vertices[1:], vertices[0]], strict=True):
        points.append(vertex.point)
        if vertex.bulge:
            turned = 4 * math.atan(vertex.bulge)
            half = (after.point - vertex.point) / 2
            centre = vertex.point + half + 1j * half / math.tan(turned / 2)
            points += [centre + (vertex.point - centre) * cmath.rect(1, turned * step / 64) for step in range(1, 64)]
    return LineString([(point.real, point.imag) for point in [*points, points[0]]])


def followed(run) -> LineString:
    points = flattened(run, 1e-5)
    return LineString([(point.real, point.imag) for point in [points[-1], *points]])


def assert_near(one: LineString, other: LineString) -> None:
    """Assert that the Hausdorff distance is at most ``OFF_MM``: neither line leaves a band round the other.

    The band ends in many-sided corners, within the true one.
    """
    for line, band in ((one, other), (other, one)):
        assert band.buffer(OFF_MM, quad_segs=8).covers(line)


@pytest.mark.parametrize("made", [shape, lambda name: grown(name, 0.2)], ids=["drawn", "spread"])
@pytest.mark.parametrize("name", ["R", "g", "&", "cusp", "wave", "crossing curve", "rough", "stalk of the crest"])
def test_arcs_lie_within_a_hundredth_of_the_outline(name, made):
    for run in made(name).outlines:
        assert_near(resolved(arcs(run)), followed(run))


def test_polygons_remain_as_they_are_drawn():
    for name in ("square", "frame", "comb", "star", "dumb-bell", "rough"):
        for run in shape(name).outlines:
            vertices = arcs(run)
            assert {vertex.point for vertex in vertices} == {piece[0] for piece in run}
            assert all(vertex.bulge == 0 for vertex in vertices) and len(vertices) == len(run)


def test_points_on_a_straight_line_between_others_are_left_out():
    (run,) = runs([as_pieces([0j, 1 + 0j, 2 + 0j, 3 + 0j, 3 + 1j, 3 + 2j, 2j, 1j])])
    assert {vertex.point for vertex in arcs(run)} == {0j, 3 + 0j, 3 + 2j, 2j}


def test_a_circle_is_a_few_arcs_of_its_radius():
    for run in (circle(3 + 4j, 2.5), *runs([as_pieces(around(300, lambda _turn: 2.5, 3 + 4j))])):
        vertices = arcs(run)
        assert 4 <= len(vertices) <= 5
        assert sum(4 * math.atan(vertex.bulge) for vertex in vertices) == pytest.approx(2 * math.pi, abs=1e-2)
        assert all(abs(abs(vertex.point - (3 + 4j)) - 2.5) < 0.003 for vertex in vertices)


def test_a_square_with_round_corners_is_four_lines_and_four_arcs():
    """A square of 10 mm spread by 2 mm: corners are quarters of a circle, so the bulge is tan(90 degrees / 4)."""
    (run,) = grown("square", 2.0).outlines
    bulges = sorted(abs(vertex.bulge) for vertex in arcs(run))
    assert bulges == pytest.approx([0] * 4 + [math.tan(math.pi / 8)] * 4, abs=1e-3)


def test_curves_need_far_fewer_arcs_than_the_lines_that_follow_them():
    for name in ("&", "8", "g", "cusp"):
        outlines = grown(name, 0.2).outlines
        assert sum(len(arcs(run)) for run in outlines) <= sum(map(len, outlines)) / 10


def test_an_open_line_ends_where_it_ended():
    vertices = arcs(((0j, 5 + 0j), (5 + 0j, 7 + 0j, 8 + 1j, 8 + 3j)))
    assert vertices[0] == Vertex(0j, 0.0) and vertices[-1] == Vertex(8 + 3j, 0.0)
    assert any(vertex.bulge > 0.05 for vertex in vertices)


def test_copies_have_the_arcs_of_the_first_and_lie_at_their_places(monkeypatch):
    found = []
    monkeypatch.setattr(
        "calculators.shapes.arcs.arcs", lambda run, tolerance: found.append(run) or arcs(run, tolerance)
    )
    (ring, *_rest), moves = grown("R", 0.2).outlines, (0j, 71.3 + 0j, 142.6 - 9.7j)
    copies = [tuple(tuple(point + move for point in piece) for piece in ring) for move in moves]
    line = ((8 + 8j, 9 + 8j), (9 + 8j, 8 + 9j))
    made = list(arcs_of_each([*copies, line]))
    assert len(found) == 2
    for vertices, copy in zip(made[:3], copies, strict=True):
        assert_near(resolved(vertices), followed(copy))
    assert made[3] == arcs(line)


@pytest.mark.parametrize(
    "run",
    [
        ((0j, 1 + 0j), (1 + 0j, 0j)),
        ((0j, 0j, 0j, 5 + 5j), (5 + 5j, 0j)),
        ((0j, 4 + 0j, 4 + 0j, 4 + 4j), (4 + 4j, 4 + 4j, 0j, 0j)),
        ((0j, 9 + 9j, 0 + 9j, 9 + 0j), (9 + 0j, 0j)),
        ((0j, 1e-7 + 0j), (1e-7 + 0j, 5 + 0j), (5 + 0j, 5 + 5j), (5 + 5j, 0j)),
    ],
    ids=["there and back", "handle at its end", "handles at corners", "loop", "a point twice"],
)
def test_odd_curves_are_followed_too(run):
    assert_near(resolved(arcs(run)), followed(run))
