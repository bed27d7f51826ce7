"""Every letter of every rule, measured back from its outlines: height, width, stroke, holes, and no crossing."""

import pytest
from shapely import MultiPolygon
from shapely.geometry.polygon import LinearRing

from calculators import tables
from calculators.lettering.alphabet import CHARACTERS, Style, outline
from calculators.shapes.areas import enclosed

from . import measured

#: Rules by what they are drawn with: several have the same sizes.
RULES = {measured.sizes(row.id): row.id for row in tables.load("rules")}
#: Within so many mm at full size.
EXACT = 0.001
ROUND, SQUARE = Style(), Style(rounded=False)
#: How many areas each letter encloses, by anybody's count.
COUNTERS = {**dict.fromkeys("ADOPQR0469", 1), **dict.fromkeys("B8&", 2)}


def assert_sound(character, rings):
    """Assert that no ring crosses itself or another, and that counters are holes."""
    assert all(LinearRing(measured.points(ring)).is_simple for ring in rings), character
    areas = [enclosed(ring) for ring in rings]
    holes = COUNTERS.get(character, 0)
    assert (sum(area > 0 for area in areas), sum(area < 0 for area in areas)) == (1, holes), character
    whole = measured.polygon(rings)
    assert whole.is_valid and whole.geom_type == "Polygon" and len(whole.interiors) == holes, character
    assert whole.area == pytest.approx(sum(areas), rel=1e-4), character


def assert_exact(character, rings, width, height, stroke):
    """Assert what a letter measures."""
    left, top, right, bottom = measured.bounds(rings)
    assert (left, right) == pytest.approx((0, width), abs=EXACT), character
    if character == ".":
        assert (right - left, top, bottom) == pytest.approx((stroke, height - stroke, height), abs=EXACT)
        return
    if character != "-":
        assert (top, bottom) == pytest.approx((0, height), abs=EXACT), character
    strokes = measured.thicknesses(rings, 0.3 * stroke)
    assert strokes.min() == pytest.approx(stroke, abs=EXACT), character


@pytest.mark.parametrize("rule", RULES.values())
def test_letters_have_height_width_and_stroke_of_their_rule(rule):
    sizes = measured.sizes(rule)
    for character in CHARACTERS:
        width = sizes.width_of(character)
        rings = outline(character, width, sizes.height, sizes.stroke, ROUND)
        assert_exact(character, rings, width, sizes.height, sizes.stroke)
        assert_sound(character, rings)


@pytest.mark.parametrize(
    ("style", "width", "stroke"),
    [
        (ROUND, 60, 3),
        (ROUND, 60, 20),
        (ROUND, 180, 3),
        (ROUND, 180, 24),
        (SQUARE, 60, 20),
        (SQUARE, 80, 20),
        (SQUARE, 150, 5),
    ],
)
def test_letters_of_any_proportion_are_exact_and_sound(style, width, stroke):
    # From hairlines to the heaviest strokes, from condensed to wide, 120 mm high.
    for character in CHARACTERS.replace(".", ""):
        rings = outline(character, float(width), 120.0, float(stroke), style)
        assert_exact(character, rings, width, 120, stroke)
        assert_sound(character, rings)


@pytest.mark.parametrize("style", [ROUND, SQUARE], ids=["round", "square"])
@pytest.mark.parametrize("rule", ["us-aircraft-fixed-wing", "uk-plate-2001"])
def test_stencilled_letters_have_breaks_of_the_chosen_width_and_no_counters(rule, style):
    sizes = measured.sizes(rule)
    broken = 0.35 * sizes.stroke
    for character in CHARACTERS:
        solid, opened = (
            measured.polygon(outline(character, sizes.width_of(character), sizes.height, sizes.stroke, each))
            for each in (style, Style(style.rounded, broken))
        )
        parts = list(opened.geoms) if isinstance(opened, MultiPolygon) else [opened]
        assert not any(part.interiors for part in parts), character
        assert opened.difference(solid).area < 1e-4 * solid.area
        if character in COUNTERS:
            # Each piece that a break takes out is as wide as the break, and longer than that: a stroke is wider.
            # Hairs along what the break does not touch are rounding.
            hair = 0.01
            taken = solid.difference(opened.buffer(hair, join_style="mitre"))
            taken = list(taken.geoms) if isinstance(taken, MultiPolygon) else [taken]
            sides = [(right - left, foot - top) for left, top, right, foot in (each.bounds for each in taken)]
            assert [min(each) for each in sides] == pytest.approx([broken - 2 * hair] * len(sides), abs=EXACT), (
                character
            )
        else:
            assert opened.equals(solid)


def test_an_unknown_character_is_no_letter():
    with pytest.raises(KeyError):
        outline("é", 40.0, 60.0, 10.0)
