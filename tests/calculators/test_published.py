"""Published values that tables and constants must equal."""

import pytest

from calculators import tables, units


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [
        # ISO 216, A series, trimmed sizes.
        ("a3", 297, 420),
        ("a4", 210, 297),
        ("a5", 148, 210),
        # ANSI/ASME Y14.1 size A (Letter), 8.5 x 11 in at 25.4 mm exactly.
        ("letter", 215.9, 279.4),
        # Halves of these, by arithmetic.
        ("half-a4", 148.5, 210),
        ("half-letter", 139.7, 215.9),
    ],
)
def test_paper(paper, width, height):
    row = tables.row("papers", paper)
    assert (row.width.value, row.height.value) == (width, height)


def test_inch():
    # International yard and pound agreement, 1959: 0.9144 m to the yard, so 25.4 mm to the inch.
    assert units.MM_PER_INCH == 25.4
    assert units.length_mm("1 yd") == 914.4


@pytest.mark.parametrize(("mm_to_the_foot", "ratio"), [(4, 76.2), (3.5, 87.1), (2, 152.4), (7, 43.5), (10, 30.48)])
def test_railway_scales(mm_to_the_foot, ratio):
    """A scale of x mm to the foot is 304.8 / x; 1:43.5 and 1:87.1 are its usual roundings (common practice)."""
    exact = 304.8 / mm_to_the_foot
    near = min((row.ratio.value for row in tables.load("scales")), key=lambda each: abs(each - ratio))
    assert near == pytest.approx(exact, rel=0.002)


@pytest.mark.parametrize("gauge", [43.5, 76.2, 87.1, 148, 160, 220])
def test_unusual_railway_ratios_are_in_the_table(gauge):
    assert gauge in {row.ratio.value for row in tables.load("scales") if "railway" in row.kinds}


def test_printer_lines_hold_common_practice():
    """Inkjet about 0.15 to 0.2 mm, laser about 0.1 mm: estimates, common practice, no source."""
    for printer in ("inkjet-dye", "inkjet-pigment"):
        line = tables.row("printers", printer).thinnest_line
        assert (line.low, line.high) == (0.15, 0.2)
    line = tables.row("printers", "laser").thinnest_line
    assert line.low <= 0.1 <= line.high
