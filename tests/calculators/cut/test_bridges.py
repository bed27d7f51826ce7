"""Bridges of loose stencils, held to shapely: in one piece, still in one with half a bridge taken off all round."""

import string

import pytest

from calculators.cut.bridges import MOST_LOST, BadChange, laid, read_changes, shared_out
from calculators.cut.judgement import LEFT_OUT, Limits, places_in_loose_stencil
from calculators.cut.openings import beneath, painted
from calculators.cut.plane import Plane
from calculators.files.svg_paths import path_lines
from calculators.shapes.offsets import as_pieces
from tests.calculators.cut.cut_artwork import bridged, of_file, region
from tests.corpus.letters import MONO, SANS, SERIF, outlines

WIDTH = 0.8
#: Half a bridge, less this much in mm, is taken off.
LESS = 0.01
SHEET = 60 + 60j


def letter(text, family=SANS):
    """Return the plane, the openings and the sheet of a letter, capitals 20 mm high."""
    rings = [pieces for pieces, _closed in path_lines(outlines(text, 30, 40, 20, family=family), 9999)]
    plane = Plane([*rings, [(0j, SHEET)]], 10)
    return plane, plane.flat(rings), plane.box(0j, SHEET)


def assert_in_one_piece(plane, sheet, made, width=WIDTH):
    stencil = region(plane, plane.minus(sheet, made.openings))
    assert stencil.is_valid and stencil.geom_type == "Polygon"
    assert stencil.buffer(-(width / 2 - LESS), quad_segs=32).geom_type == "Polygon"
    assert not made.loose


def lost_of(plane, made, openings):
    """Return the share of ``openings`` that is covered."""
    whole = region(plane, openings)
    return 1 - (region(plane, made.openings) & whole).area / whole.area


def test_an_island_smaller_than_a_bridge_is_left_out_and_named():
    """A ring with a hole of 0.7 mm in a sheet: a bridge of 0.8 mm would hide it."""
    square, hole = [0j, 10 + 0j, 10 + 10j, 10j], [5 + 5j, 5 + 5.7j, 5.7 + 5.7j, 5.7 + 5j]
    rings = [as_pieces(square), as_pieces(hole)]
    plane = Plane([*rings, [(-9 - 9j, SHEET)]], 10)
    openings, sheet = plane.flat(rings), plane.box(-9 - 9j, SHEET)
    made = bridged(plane, openings, sheet, WIDTH)
    assert not made.bridges and not made.loose and made.lost == 0
    assert region(plane, made.openings).equals(region(plane, plane.flat(rings[:1])))
    named = [each for each in places_in_loose_stencil(plane, made, sheet, Limits()) if each.kind == LEFT_OUT]
    assert [(each.middle, each.size) for each in named] == [
        (pytest.approx(5.35 + 5.35j, abs=1e-5), pytest.approx(0.7, abs=1e-5))
    ]
    assert bridged(plane, openings, sheet, 0.6).bridges


@pytest.mark.parametrize("family", [SANS, SERIF])
def test_every_letter_and_digit_holds_together_and_loses_a_tenth_at_most(family):
    for text in string.ascii_letters + string.digits:
        plane, openings, sheet = letter(text, family)
        made = bridged(plane, openings, sheet, WIDTH)
        assert_in_one_piece(plane, sheet, made)
        lost = lost_of(plane, made, openings)
        assert lost <= MOST_LOST and lost == pytest.approx(made.lost, abs=1e-4), text
        assert not made.is_refused and not made.starved


@pytest.mark.parametrize(
    ("name", "width_mm"),
    [
        ("crest-left.svg", 40),
        ("door-notices.svg", 60),
        ("fleet-number.svg", 40),
        ("teasel-draught-figures.svg", 20),
        ("teasel-hull-number.svg", 30),
        ("teasel-load-line-port.svg", 15),
        ("lining-left.svg", 60),
        ("warning-band-left.svg", 40),
        # Not a marking, but its figures have islands too thin to be firm, held one by the other.
        ("railcar-panel.svg", 60),
    ],
)
def test_every_demonstration_marking_holds_or_names_the_openings_that_lose_too_much(name, width_mm):
    artwork = of_file(name, width_mm)
    plane = artwork.plane
    sheet = plane.box(-10 - 10j, artwork.size + 10 + 10j)
    white = beneath(artwork, 0.2).flat
    colours = [opening.flat for _colour, opening in painted(artwork, 0)]
    # Wanted white, which is painted first, has the most islands. All colours of the crest can be cut.
    for openings in (white, *(colours if name == "crest-left.svg" else colours[:2])):
        made = bridged(plane, openings, sheet, WIDTH)
        if not made.is_refused:
            assert_in_one_piece(plane, sheet, made)
        lost = lost_of(plane, made, openings)
        assert made.is_refused == bool(made.starved) == (lost > MOST_LOST)
        # White beneath is large enough in all of them, and so is the crest.
        assert not made.is_refused or (openings is not white and name != "crest-left.svg")


def test_a_letter_without_islands_needs_no_bridge():
    assert not bridged(*letter("C"), WIDTH).bridges


def test_a_counter_has_a_bridge_on_either_side():
    plane, openings, sheet = letter("O", MONO)
    made = bridged(plane, openings, sheet, WIDTH)
    first, second = (bridge.middle - (30 + 30j) for bridge in made.bridges)
    assert [bridge.number for bridge in made.bridges] == [1, 2]
    assert (first * second.conjugate()).real < 0


def test_a_wider_bridge_is_as_wide_as_it_should_be():
    plane, openings, sheet = letter("A")
    assert_in_one_piece(plane, sheet, bridged(plane, openings, sheet, 1.4), 1.4)


def test_a_bridge_that_is_taken_off_leaves_its_opening_as_it_was():
    plane, openings, sheet = letter("O")
    made = bridged(plane, openings, sheet, WIDTH, "1 off, 2 off")
    assert made.lost == 0 and not made.bridges
    (loose,) = made.loose
    assert region(plane, [loose.outer]).area == pytest.approx(
        region(plane, openings).interiors[0].envelope.area, rel=0.3
    )


def test_a_bridge_moves_to_the_place_that_is_typed():
    plane, openings, sheet = letter("O")
    left = min(x for x, _y in region(plane, openings).exterior.coords)
    made = bridged(plane, openings, sheet, WIDTH, f"1 at {left + 1:.1f} 30, 2 off")
    (bridge,) = made.bridges
    assert bridge.number == 1 and bridge.middle.real < left + 3 and abs(bridge.middle.imag - 30) < 1
    assert_in_one_piece(plane, sheet, made)


def test_a_new_bridge_gets_the_next_number():
    plane, openings, sheet = letter("I")
    x, y = region(plane, openings).centroid.coords[0]
    made = bridged(plane, openings, sheet, WIDTH, f"new at {x:.1f} {y:.1f}")
    assert [bridge.number for bridge in made.bridges] == [1]
    assert region(plane, made.openings).geom_type == "MultiPolygon"


def test_changes_that_cannot_be_read_or_made_are_refused():
    for text in ("2 gone", "at 3 4", "1 at 3", "new 3 4"):
        with pytest.raises(BadChange) as trouble:
            read_changes(f"1 off, {text}")
        assert trouble.value.text == text
    with pytest.raises(BadChange) as trouble:
        bridged(*letter("O"), WIDTH, "7 off")
    assert trouble.value.number == 7


def test_bridges_of_a_set_are_numbered_throughout_and_changed_where_they_are():
    plane, openings, sheet = letter("O")
    first = laid(plane, openings, sheet, WIDTH)
    middle = complex(*region(plane, openings).centroid.coords[0])
    own = plane.flat([[(middle + 1, middle + 2j), (middle + 2j, middle - 1), (middle - 1, middle + 1)]])
    second = laid(plane, own, sheet, WIDTH, len(first.bridges) + 1)
    one, other = shared_out([first, second], f"2 off, new at {middle.real:.2f} {middle.imag + 1:.2f}")
    assert one.off == {2} and not one.moved
    assert list(other.moved) == [3] and not other.off
    with pytest.raises(BadChange) as trouble:
        shared_out([first, second], "new at 1 1")
    assert trouble.value.place == 1 + 1j
