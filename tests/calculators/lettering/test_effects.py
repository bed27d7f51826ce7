"""Outlines and shadows: exact distances, no overlap, and borders that two regions share."""

from collections import Counter

import pytest
from shapely import LineString, Point, Polygon
from shapely.affinity import translate

from calculators.lettering.alphabet import Style
from calculators.lettering.effects import Outline, Shadow, layers, regions, trapped
from calculators.lettering.layout import laid_out
from calculators.shapes.set_operations import cleaned, union, visible

from . import measured

LETTERING = laid_out("RS & 80", measured.sizes("own-measure"), slant_degrees=10)
SCALE = 43.5
#: Within so many mm on the model: curves are followed within half a thousandth of the height of 2.8 mm.
EXACT_ON_MODEL = 2e-3


@pytest.fixture(scope="module")
def whole():
    outlines = [Outline(0.15, "#ffffff"), Outline(0.1, "#c9a227")]
    return layers(LETTERING, SCALE, "#1d2b44", outlines, Shadow(0.4 + 0.3j, "#7a1f2b"))


@pytest.fixture(scope="module")
def seen(whole):
    return regions(whole)


def filled(region):
    return measured.polygon(region.rings, 1e-5)


def borders(region):
    """Return the pieces of a region, each as if it ran from its lesser end."""
    pieces = [piece for ring in region.rings for piece in ring]
    return Counter(
        min(piece, piece[::-1], key=lambda each: (each[0].real, each[0].imag, each[1].real)) for piece in pieces
    )


def test_regions_have_their_colours_in_the_order_in_which_they_cover(seen):
    assert [region.colour for region in seen] == ["#1d2b44", "#ffffff", "#c9a227", "#7a1f2b"]


def test_outlines_are_as_wide_as_chosen(seen):
    letters = filled(seen[0])
    inner = borders(seen[1]) & borders(seen[2])
    outer = borders(seen[2]) - borders(seen[1])
    for pieces, reach in ((inner, 0.15), (outer, 0.25)):
        assert len(pieces) > 100
        for piece in pieces:
            assert letters.distance(Point(piece[0].real, piece[0].imag)) == pytest.approx(reach, abs=EXACT_ON_MODEL)
    expected = letters.buffer(0.15, quad_segs=64).difference(letters)
    assert filled(seen[1]).symmetric_difference(expected).area < 4e-3 * expected.area


def test_the_shadow_lies_at_its_exact_offset(seen):
    whole = filled(seen[0]).union(filled(seen[1])).union(filled(seen[2]))
    expected = translate(whole, 0.4, 0.3).difference(whole)
    assert filled(seen[3]).symmetric_difference(expected).area < 1e-3 * expected.area


def test_regions_do_not_overlap_and_share_their_borders_exactly(seen):
    for place, region in enumerate(seen):
        for other in seen[:place]:
            assert filled(region).intersection(filled(other)).area < 1e-6
    pieces = sum(map(borders, seen), Counter())
    # A border of two regions is there twice, point for point; the outer edge of all is there once.
    assert set(pieces.values()) == {1, 2}
    once = sum(LineString([(p.real, p.imag) for p in piece]).length for piece, count in pieces.items() if count == 1)
    whole = Polygon()
    for region in seen:
        whole = whole.union(filled(region).buffer(1e-6))
    assert once == pytest.approx(whole.length, rel=2e-3)
    # All of the letters' own border is shared.
    assert not borders(seen[0]) - borders(seen[1])


def test_lower_colours_extend_beneath_the_upper_ones_in_print(whole, seen):
    printed = trapped(whole, 0.1)
    assert [region.colour for region in printed] == [region.colour for region in seen]
    for above, lower, visible_part in zip(whole, printed[1:], seen[1:], strict=False):
        beneath = filled(lower).difference(filled(visible_part).buffer(1e-4))
        hidden = filled(above).difference(filled(above).buffer(-0.1, quad_segs=64))
        assert beneath.difference(hidden.buffer(2e-3)).area < 1e-3
        assert filled(visible_part).difference(filled(lower).buffer(1e-3)).area < 1e-3
    # Beneath the letters the first outline reaches 0.1 mm inwards from their edge.
    inner = filled(printed[1]).intersection(filled(whole[0]))
    letters = filled(whole[0])
    expected = letters.area - letters.buffer(-0.1, quad_segs=64).area
    assert inner.area == pytest.approx(expected, rel=2e-3)


def test_letters_alone_keep_their_curves():
    (only,) = regions(layers(LETTERING, SCALE, "#000000"))
    assert any(len(piece) == 4 for ring in only.rings for piece in ring)
    expected = sum(measured.polygon(rings).area for rings in LETTERING.rings()) / SCALE**2
    assert filled(only).area == pytest.approx(expected, rel=1e-3)


def test_letters_keep_their_curves_under_an_outline(seen):
    assert sum(len(piece) == 4 for ring in seen[0].rings for piece in ring) > 20


def test_stencilled_letters_have_outlines_too():
    drawn = laid_out("80", measured.sizes("own-measure"), Style(stencil=6.0))
    letters, outline = regions(layers(drawn, 72, "#000000", [Outline(0.05, "#ffffff")]))
    assert filled(outline).intersection(filled(letters)).area < 1e-6
    assert not borders(letters) - borders(outline)


def square(left, top, side):
    corners = [complex(left + x * side, top + y * side) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))]
    return [list(zip(corners, [*corners[1:], corners[0]], strict=True))]


def test_what_is_seen_of_squares_that_cover_each_other():
    top, middle, hidden = visible([square(0, 0, 4), square(2, 2, 4), square(1, 1, 1)])
    assert [sum(measured.polygon([ring]).area for ring in rings) for rings in (top, middle)] == [16, 12]
    assert hidden == []


def test_layers_add_up_to_their_union(seen):
    layers = [cleaned(region.rings) for region in seen[:2]]
    assert sum(measured.polygon(layer).area for layer in layers) == pytest.approx(
        measured.polygon(union(*layers)).area, rel=1e-4
    )


def test_forty_letters_with_all_effects_agree_with_shapely():
    # The outlines of neighbours meet, and the shadow falls on the next letter.
    text = "ROWANSKERRY LIGHT RAILWAY 12 & 3456789 B"
    drawn = laid_out(text, measured.sizes("us-reporting-mark"), slant_degrees=5)
    made = layers(
        drawn, SCALE, "#1d2b44", [Outline(0.3, "#c9a227"), Outline(0.2, "#ffffff")], Shadow(0.5 + 0.4j, "#7a1f2b")
    )
    letters = filled(made[0])
    outer = [letters.buffer(reach, quad_segs=64) for reach in (0.3, 0.5)]
    expected = [
        letters,
        outer[0].difference(letters),
        outer[1].difference(outer[0]),
        translate(outer[1], 0.5, 0.4).difference(outer[1]),
    ]
    seen = regions(made)
    for region, other in zip(seen, expected, strict=True):
        assert filled(region).symmetric_difference(other).area < 5e-3 * other.area
    assert set(sum(map(borders, seen), Counter()).values()) == {1, 2}
    assert not borders(seen[0]) - borders(seen[1])


def test_layers_of_one_colour_are_one_region():
    outline, shadow = Outline(0.2, "#ffffff"), Shadow(0.5 + 0.4j, "#ffffff")
    letters, joined = made = layers(LETTERING, SCALE, "#1d2b44", [outline], shadow)
    wide = filled(letters).buffer(0.2, quad_segs=64)
    expected = wide.union(translate(wide, 0.5, 0.4))
    assert filled(joined).symmetric_difference(expected).area < 5e-3 * expected.area
    assert len(regions(made)) == len(trapped(made, 0.1)) == 2


def test_letters_that_touch_become_one():
    sizes = measured.sizes("own-measure", gap=0.0)
    made = layers(laid_out("HH", sizes), SCALE, "#000000", [Outline(0.1, "#ffffff")])
    assert filled(made[0]).geom_type == "Polygon"
    assert len(made[0].rings) == 1 + 0
    assert filled(regions(made)[1]).area == pytest.approx(
        filled(made[0]).buffer(0.1, quad_segs=64).area - filled(made[0]).area, rel=2e-3
    )
