"""The calculator for load line marks and draught figures: published sizes at scale, measured back from its outlines."""

import io
import re
from itertools import pairwise

import pikepdf
import pytest
from shapely import Point, box

from calculators import tables, units
from calculators.declare import Refused
from calculators.declare.sentences import sentence
from calculators.lettering import ship_drawing
from calculators.size.load_line import CALCULATOR, LoadLineInputs
from tests.calculators.lettering import measured

#: Curves are followed within so many mm on the ring of 300 mm.
EXACT = 0.02


def asked(**inputs):
    return CALCULATOR.answer(LoadLineInputs(**inputs))


def filled(which, letters="", lines="", *, port=False):
    levels = ship_drawing.levels_of(lines)
    mark = ship_drawing.load_line(tables.row("load-lines", which), letters, levels, port=port)
    return measured.polygon(mark.rings)


#: Load Lines Convention 1966, annex I, regulations 5 and 6, and 46 CFR 42.13-25, both read: ring outside, band, line.
#: The US text is in inches: 12, 1 and 18.
PUBLISHED = {"metric": (300, 25, 450), "us-inch": (304.8, 25.4, 457.2)}


@pytest.mark.parametrize(("which", "expected"), PUBLISHED.items())
def test_the_ring_its_band_and_its_line_are_as_published(which, expected):
    ring, band, line = expected
    mark = filled(which)
    whole = Point(0, 0).buffer(ring / 2, quad_segs=256)
    drawn = whole.difference(Point(0, 0).buffer(ring / 2 - band, quad_segs=256)).union(
        box(-line / 2, 0, line / 2, band)
    )
    assert mark.symmetric_difference(drawn).area < EXACT * drawn.length
    sizes = dict(ship_drawing.load_line(tables.row("load-lines", which), "", {}, port=False).sizes)
    assert list(sizes.values())[:3] == pytest.approx(expected)


def test_load_lines_are_230_by_25_and_540_forward():
    # Annex I, regulation 6, read: F and TF lie aft of the vertical line, the others forward of it.
    mark, ring = filled("metric", lines="F 60, S 0, W -60"), filled("metric")
    lines = box(540 - 230, -60, 540, -35).union(box(540, 0, 795, 25)).union(box(540, 60, 795, 85))
    upright = box(540, -60, 565, 85)
    assert mark.intersection(lines).area == pytest.approx(lines.area, abs=1)
    beyond = mark.difference(ring).difference(lines.union(upright))
    # Besides there are the letters F, S and W only, beyond the ends of the lines.
    assert len(beyond.buffer(3).geoms) == 3
    assert all(each.bounds[0] > 795 or each.bounds[2] < 310 for each in beyond.geoms if each.area > 1)


def test_on_the_port_side_the_lines_lie_to_the_left_and_letters_still_read():
    starboard, port = (filled("metric", "RK", "S 0, T 60", port=each) for each in (False, True))
    assert starboard.bounds[2] > 795 and port.bounds[0] < -795
    left = box(-400, -200, -80, -10)
    assert starboard.intersection(left).symmetric_difference(port.intersection(left)).area < 1e-6


def test_letters_stand_on_both_sides_of_the_ring_above_its_line():
    # About 115 by 75 mm: regulation 7, from memory.
    beside = filled("metric", "RK").difference(filled("metric").buffer(0.1))
    left, right = sorted((each.bounds for each in beside.geoms), key=lambda bounds: bounds[0])
    for found in (left, right):
        assert (found[2] - found[0], found[3] - found[1]) == pytest.approx((75, 115), abs=1e-3)
        assert found[3] < 0
    assert left[2] < -150 < 150 < right[0]


@pytest.mark.parametrize(
    ("draw", "ends", "height", "interval", "texts"),
    [
        # 46 CFR 108.661, read: 6 in high at each foot, the bottom of the figure is the draught.
        ("draught-figures-us", (3, 6), 152.4, 304.8, ["3", "4", "5", "6"]),
        # Common practice: 100 mm high, one every 200 mm.
        ("draught-figures-metric", (0.6, 1.4), 100, 200, ["6", "8", "1M", "2", "4"]),
    ],
)
def test_draught_figures_have_their_height_and_interval(draw, ends, height, interval, texts):
    mark = ship_drawing.draught_figures(draw, *ends)
    bounds = [measured.bounds([ring]) for ring in mark.rings]
    feet = sorted({round(each[3], 3) for each in bounds if abs(each[3] - each[1] - height) < 0.01}, reverse=True)
    assert [one - other for one, other in pairwise(feet)] == pytest.approx([interval] * (len(texts) - 1))
    assert max(each[3] for each in bounds) - min(each[1] for each in bounds) == pytest.approx(
        (len(texts) - 1) * interval + height, abs=1e-3
    )


def test_files_have_the_size_of_the_mark():
    outputs = asked(letters="", lines="", scale=35.0)
    width, height = (
        float(each) for each in re.search(rb'width="([\d.]+)mm" height="([\d.]+)mm"', outputs.svg.data).groups()
    )
    assert (width, height) == pytest.approx((450 / 35, 300 / 35), abs=1e-4)
    with pikepdf.open(io.BytesIO(outputs.pdf.data)) as pdf:
        assert [float(each) for each in pdf.pages[0].MediaBox][2:] == pytest.approx(
            [450 / 35 / 25.4 * 72, 300 / 35 / 25.4 * 72], abs=1e-3
        )
    assert outputs.finest_mm == pytest.approx(25 / 35)


@pytest.mark.parametrize(
    ("inputs", "field", "words"),
    [
        ({"lines": "S 0, up"}, "lines", "“up”"),
        ({"lines": "T\u202e5 x"}, "lines", "“T�5 x”"),
        ({"lines": "S 0, s 5"}, "lines", "twice"),
        ({"lines": "S 99999"}, "lines", "10000 mm"),
        ({"lines": "A 1, B 20, C 30, D 40, E 50, G 60, H 70, I 80, J 90"}, "lines", "At most 8"),
        ({"letters": "ABCDE"}, "letters", "At most 4"),
        ({"letters": "Ä"}, "letters", "Ä"),
        ({"letters": "ABCD", "lines": "F 50"}, "letters", "at most two"),
    ],
)
def test_what_cannot_be_drawn_is_a_problem_of_its_field(inputs, field, words):
    with pytest.raises(Refused) as refused:
        asked(**inputs)
    (problem,) = refused.value.problems
    assert problem.field == field and words in f"{problem.text} {problem.hint}" and not problem.text.endswith(".")


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        ({"draw": "draught-figures-metric", "first_m": 0.5}, "two decimetres"),
        ({"draw": "draught-figures-metric", "first_m": 2.0}, "below"),
        ({"draw": "draught-figures-us", "last_ft": 90}, "more than 60"),
    ],
)
def test_figures_that_there_are_not_are_explained(inputs, words):
    outputs = asked(**inputs)
    assert outputs.verdict == "not-drawn" and outputs.svg is None
    assert words in sentence(outputs.reasons[0], units.MM)


def test_the_reader_is_told_what_is_memory_and_what_is_guessed():
    reasons = [sentence(each, units.MM) for each in asked().reasons]
    assert any("from memory" in each for each in reasons) and any("as we guess" in each for each in reasons)
    assert asked().reasons[-1].is_advice and "photograph" in reasons[-1]
