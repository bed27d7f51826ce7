"""Published sizes of lettering, plates, marks and signs, each with its source and with how it is known."""

import pytest
from shapely import Point, Polygon

from calculators import tables
from calculators.lettering.layout import laid_out
from calculators.lettering.marks import draught_scale, load_line_mark, load_lines, millimetres, octagon
from calculators.lettering.sizes import Chosen, sizes_of
from calculators.tables import SHARES

from . import measured

#: 14 CFR 45.29, computed from its text: height, stroke and width of a 12 in mark on the model, in mm.
TWELVE_INCHES = {
    24: (12.7, 2.1167, 8.4667),
    32: (9.525, 1.5875, 6.35),
    48: (6.35, 1.0583, 4.2333),
    72: (4.2333, 0.7056, 2.8222),
    144: (2.1167, 0.3528, 1.4111),
}
US_HEIGHTS = {
    # 14 CFR 45.29(b), read; 2 in: 45.22(b), read in a copy; gliders: from memory.
    "us-aircraft-fixed-wing": 12,
    "us-rotorcraft": 12,
    "us-aircraft-exhibition": 3,
    "us-aircraft-lighter-than-air": 3,
    "us-glider": 3,
    "us-aircraft-antique": 2,
}
PLATES = {
    # SI 2001/561, schedule 3, read in copies: height, width, stroke, gap, group gap. The sizes of 1973 to 2001 were
    # read in a copy: 57 mm wide in place of 50, and the larger group.
    "uk-plate-2001": (79, 50, 14, 11, 33),
    "uk-plate-motorcycle-2001": (64, 44, 10, 10, 30),
    "uk-plate-1973": (79, 57, 14, 11, 33),
    "uk-plate-1973-large": (89, 64, 16, 13, 38),
}


def row(rule):
    return tables.row("rules", rule)


@pytest.mark.parametrize(("scale", "expected"), TWELVE_INCHES.items())
def test_us_marks_of_twelve_inches_on_models(scale, expected):
    sizes = measured.sizes("us-aircraft-fixed-wing").scaled(1 / scale)
    assert (sizes.height, sizes.stroke, sizes.width) == pytest.approx(expected, abs=6e-5)


@pytest.mark.parametrize(("rule", "inches"), US_HEIGHTS.items())
def test_us_marks_have_their_heights_and_proportions(rule, inches):
    # 14 CFR 45.29(c) to (e), read: 2/3, 1 is 1/6, M and W up to the height, stroke 1/6, gap 1/4 of the width.
    sizes, height = measured.sizes(rule), 25.4 * inches
    found = (sizes.height, sizes.width, sizes.stroke, sizes.gap, sizes.width_of("1"), sizes.width_of("M"))
    assert found == pytest.approx((height, height * 2 / 3, height / 6, height / 6, height / 6, height))
    assert sizes.width_of("I") == pytest.approx(height * 2 / 3)
    assert (row(rule).height_is, row(rule).gap_is) == ("least", "least")


@pytest.mark.parametrize(("text", "length"), [("N12345", 1320.8), ("N1", 304.8)])
def test_lengths_of_us_marks(text, length):
    # 14 CFR 45.29, computed: smallest gap, 12 in high; 52.0 in and 12.0 in.
    assert laid_out(text, measured.sizes("us-aircraft-fixed-wing")).length == pytest.approx(length)


def test_m_and_w_may_be_as_narrow_as_the_others():
    # 14 CFR 45.29(c), read: "may be", so two thirds will do.
    sizes = sizes_of(row("us-aircraft-fixed-wing"), Chosen(wide=203.2))
    assert sizes.width_of("W") == pytest.approx(203.2)


@pytest.mark.parametrize(("rule", "height"), [("icao-wing", 500), ("icao-fuselage", 300)])
def test_international_marks(rule, height):
    # ICAO Annex 7: heights read in secondary copies; proportions from memory.
    sizes = measured.sizes(rule)
    found = (sizes.height, sizes.width, sizes.hyphen, sizes.stroke, sizes.gap)
    assert found == pytest.approx((height, height * 2 / 3, height * 2 / 3, height / 6, height / 6))
    # National rules ask for a quarter or a half of a character's width (Canada 1938: a half, read): a parameter.
    assert sizes_of(row(rule), Chosen(gap=height / 3)).gap == pytest.approx(height / 3)
    assert row(rule).width.status == "memory" and row(rule).height.status == "read"


@pytest.mark.parametrize(("rule", "expected"), PLATES.items())
def test_uk_plates(rule, expected):
    sizes = measured.sizes(rule)
    assert (sizes.height, sizes.width, sizes.stroke, sizes.gap, sizes.group_gap) == expected
    assert sizes.width_of("1") == sizes.width_of("I") == sizes.stroke


def test_a_uk_plate_of_seven_wide_characters_is_438_mm_long():
    # SI 2001/561, read in copies: 7 x 50 + 5 x 11 + 33. A 1 is narrower than 50 mm by the same text.
    sizes = measured.sizes("uk-plate-2001")
    assert laid_out("AB52 CDE", sizes).length == 438
    assert laid_out("AB12 CDE", sizes).length == 438 - 50 + 14
    assert row("uk-plate-2001").margin.value == 11


def test_a_uk_plate_on_two_lines():
    # SI 2001/561, read in copies for cars: 19 mm between the lines.
    drawn = laid_out("AB52\nCDE", measured.sizes("uk-plate-2001"))
    assert (drawn.height, drawn.length) == (79 + 19 + 79, 4 * 50 + 3 * 11)
    # The shorter line is in the middle.
    assert [each.place.real for each in drawn.placed[4:]] == [30.5, 91.5, 152.5]


def test_railway_and_container_heights():
    # 49 CFR 215.301, read: 7 in. ISO 6346, read in copies: 100 mm. Neither gives proportions.
    assert measured.sizes("us-reporting-mark").height == pytest.approx(177.8)
    assert measured.sizes("container-code").height == 100
    for rule in ("us-reporting-mark", "container-code", "uic-number"):
        assert row(rule).width is row(rule).stroke is row(rule).gap is None
        assert row(rule).height_is == "least" and "proportions" in row(rule).leaves_open


def test_the_load_line_mark_in_millimetres():
    # Load Lines Convention, annex I; SI 1998/2241, read: ring 300, band 25, line 450 x 25, its upper edge through the
    # centre.
    rings = load_line_mark(tables.row("load-lines", "metric"))
    assert measured.bounds(rings) == pytest.approx((-225, -150, 225, 150), abs=1e-3)
    whole = measured.polygon(rings)
    band = Point(0, 0).buffer(150, 512).difference(Point(0, 0).buffer(125, 512))
    line = Polygon([(-225, 0), (225, 0), (225, 25), (-225, 25)])
    assert whole.symmetric_difference(band.union(line)).area < 1
    assert whole.is_valid and len(whole.interiors) == 2


def test_the_load_lines_in_millimetres():
    # Load Lines Convention, annex I, regulation 6, read: 230 x 25, vertical line 540 forward of the centre.
    rings = load_lines(tables.row("load-lines", "metric"), {"S": 0.0, "T": 100.0, "F": 60.0})
    left, top, right, bottom = measured.bounds(rings)
    assert (left, right) == pytest.approx((540 - 230, 565 + 230), abs=1e-3)
    assert (top, bottom) == pytest.approx((-100, 25), abs=1e-3)


def test_the_load_line_of_the_us_text_is_not_the_metric_one():
    # 46 CFR 42.13, read: 12, 1 and 18 in.
    mark = tables.row("load-lines", "us-inch")
    assert [millimetres(each) for each in (mark.ring, mark.band, mark.line)] == pytest.approx([304.8, 25.4, 457.2])


def test_draught_figures_in_feet():
    # 46 CFR 108.661, read: 6 in high at each foot, the bottom of the figure is the draught.
    sizes = measured.sizes("draught-figures-us")
    interval = millimetres(row("draught-figures-us").interval)
    scale = draught_scale(sizes, interval, ["5", "6", "7"])
    feet = [each.place.imag + sizes.height for each in scale.placed]
    assert sizes.height == pytest.approx(152.4)
    assert [feet[0] - foot for foot in feet] == pytest.approx([0, 304.8, 609.6])
    assert scale.height == pytest.approx(762.0)


@pytest.mark.parametrize(
    ("size", "width", "height", "parts"),
    [
        # FZV, Anlage 4, read.
        ("german-plate", 520, 110, {"script": 75}),
        ("german-plate-two-lines", 340, 200, {"script": 75}),
        ("german-plate-small", 255, 130, {"script": 49}),
        # SAE J686, read in a summary: 12 by 6 in.
        ("us-plate", 304.8, 152.4, {}),
        # CLP, annex I, table 1.3, read: the table, not the fifteenth that two of its rows miss.
        ("clp-label-1", 52, 74, {"pictogram": 16}),
        ("clp-label-2", 74, 105, {"pictogram": 23}),
        ("clp-label-3", 105, 148, {"pictogram": 32}),
        ("clp-label-4", 148, 210, {"pictogram": 46}),
        # ADR, 5.3.1.7, read in a copy.
        ("placard", 250, 250, {"line_in": 12.5}),
        # MUTCD R1-1, read: 30 and 36 in.
        ("us-stop-30", 762, 762, {}),
        ("us-stop-36", 914.4, 914.4, {}),
    ],
)
def test_known_sizes(size, width, height, parts):
    known = tables.row("known-sizes", size)
    assert (millimetres(known.width), millimetres(known.height)) == pytest.approx((width, height))
    for name in ("script", "pictogram", "line_in"):
        fact = getattr(known, name)
        assert (None if fact is None else millimetres(fact)) == parts.get(name)


def test_the_side_of_the_stop_sign():
    # MUTCD R1-1, computed: W (sqrt 2 - 1) of 762 mm.
    corners = octagon(762.0)
    sides = [abs(after - here) for here, after in zip(corners, [*corners[1:], corners[0]], strict=True)]
    assert sides == pytest.approx([315.6307] * 8, abs=1e-4)


def test_shares_are_written_with_their_noun():
    width = row("us-aircraft-fixed-wing").width
    assert f"{width.shown} {width.shown_unit}" == "2 thirds of the height"
    gap = row("us-aircraft-fixed-wing").gap
    assert f"{gap.shown} {gap.shown_unit}" == "1 quarter of the width"
    assert SHARES["quarters of width"][:2] == ("width", 4)
