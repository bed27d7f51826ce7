"""Union, intersection and difference of outlines against shapely, and curves that stay curves."""

import random

import pytest
from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry
from shapely.ops import polygonize

from calculators.shapes.grid import flattened
from calculators.shapes.set_operations import cleaned, difference, intersection, union
from calculators.shapes.windings import boundary, weighted_edges

KAPPA = 0.5522847498
FINE = 1e-4


def circle(middle: complex, radius: float):
    ends = [middle + radius * way for way in (1, 1j, -1, -1j)]
    return [
        (a, a + KAPPA * 1j * (a - middle), b - KAPPA * 1j * (b - middle), b)
        for a, b in zip(ends, [*ends[1:], ends[0]], strict=True)
    ]


def square(x: float, y: float, side: float):
    corners = [complex(x, y), complex(x + side, y), complex(x + side, y + side), complex(x, y + side)]
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def plain(ring) -> Polygon:
    return Polygon([(point.real, point.imag) for point in flattened(ring, FINE)])


def region(rings) -> BaseGeometry:
    """Return what rings fill that neither cross nor overlap: what lies in an odd number of them."""
    made: BaseGeometry = Polygon()
    for ring in rings:
        made = made.symmetric_difference(plain(ring))
    return made


def some_shapes(chance: random.Random):
    """Circles and squares; squares on whole numbers, so that edges and corners fall together."""
    return [
        circle(complex(chance.uniform(0, 5), chance.uniform(0, 5)), chance.uniform(1, 3))
        if chance.random() < 0.5
        else square(chance.randrange(4), chance.randrange(4), chance.randrange(1, 4))
        for _ in range(2)
    ]


@pytest.mark.parametrize("seed", range(40))
def test_results_are_shapelys_and_valid(seed):
    chance = random.Random(seed)
    first, second = some_shapes(chance), some_shapes(chance)
    one, two = (unary_union([plain(ring) for ring in rings]) for rings in (first, second))
    for made, expected in (
        (union(first, second), one | two),
        (intersection(first, second), one & two),
        (difference(first, second), one - two),
    ):
        assert all(plain(ring).is_valid for ring in made) and region(made).is_valid
        assert all(a[-1] == b[0] for ring in made for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))
        assert region(made).symmetric_difference(expected).area < 10 * FINE * max(1, expected.length)


def test_untouched_curves_are_the_same_curves():
    whole = circle(1 + 1j, 2)
    (made,) = difference([whole], [square(9, 9, 1)])
    assert {frozenset(piece) for piece in made} == {frozenset(piece) for piece in whole}


def test_a_cut_curve_is_a_part_of_itself():
    """Three quarters of a circle stay whole curves; of the fourth nothing, and two straight sides close it."""
    made = difference([circle(0j, 2)], [square(0, 0, 5)])
    assert sorted(map(len, made[0])) == [2, 2, 4, 4, 4]
    (cut,) = intersection([circle(0j, 2)], [square(1, -5, 10)])
    arcs = [piece for piece in cut if len(piece) == 4]
    # On the arc x = 1 is reached at y = √3; a Bézier circle is 0.03 % of its radius off at most.
    assert len(arcs) == 2 and max(abs(piece[0].imag) for piece in arcs) == pytest.approx(3**0.5, abs=1e-3)
    assert all(abs(abs(sum(w * p for w, p in zip((1, 3, 3, 1), arc, strict=True))) / 8 - 2) < 1e-3 for arc in arcs)


@pytest.mark.parametrize("even_odd", [False, True])
@pytest.mark.parametrize("seed", range(30))
def test_lines_that_cross_themselves_fill_by_their_rule(seed, even_odd):
    """On coarse grids, where corners fall on edges and edges on each other; against shapely's faces."""
    chance = random.Random(seed)
    most = chance.choice((6, 30, 100_000))
    ring = [(chance.randrange(most), chance.randrange(most)) for _ in range(chance.choice((4, 9, 30)))]
    weights, _ = weighted_edges([(ring, 1 + 0j)])
    made = boundary(weights, (lambda winding: bool(int(winding.real) % 2)) if even_odd else bool)
    assert all(Polygon(each).is_valid for each in made)

    def winding(point) -> float:
        return sum(
            weight.real * (1 if a[1] > b[1] else -1)
            for (a, b), weight in weights.items()
            if (a[1] <= point.y) != (b[1] <= point.y)
            and a[0] + (b[0] - a[0]) * (point.y - a[1]) / (b[1] - a[1]) < point.x
        )

    faces = polygonize([[a, b] for a, b in weights])
    expected = sum(face.area for face in faces if (winding(face.representative_point()) % (2 if even_odd else 1000)))
    twice = sum(a[0] * b[1] - a[1] * b[0] for each in made for a, b in zip(each, [*each[1:], each[0]], strict=True))
    assert twice / 2 == pytest.approx(expected, rel=1e-9)


def test_rings_that_fall_together_cancel_by_even_odd():
    assert cleaned([square(0, 0, 2)] * 2, even_odd=True) == []
    assert region(cleaned([square(0, 0, 2)] * 2)).area == pytest.approx(4)
