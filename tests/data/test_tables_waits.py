"""Waits: every use of a coat has a wait, and no wait exceeds the coat's own limits. Common practice, estimates."""

import pytest

from calculators import tables

WAITS = tables.load("drying-times")
COATS = [row for row in tables.load("coats") if row.bench != "never"]

#: The next step that must wait, by the use of the coat before it.
AFTER_USE = {
    "primer": "Painting it.",
    "paint": "Gloss coat, masking or a marking.",
    "gloss coat": "Putting markings on it.",
    "seal coat": "Cutting it and putting it in water.",
    "levelling coat": "Wet-sanding it level.",
    "final coat": "Handling, packing, taping or wiping the model.",
}


def waited(coat, before: str) -> list:
    return [row for row in WAITS if coat.id in row.coats and row.before == before]


@pytest.mark.parametrize(
    ("coat", "use"), [(row, use) for row in COATS for use in row.uses], ids=lambda value: getattr(value, "id", value)
)
def test_each_use_of_a_coat_has_exactly_one_wait(coat, use):
    assert len(waited(coat, AFTER_USE[use])) == 1


@pytest.mark.parametrize(
    "coat", [row for row in COATS if {"gloss coat", "levelling coat"} & set(row.uses)], ids=lambda row: row.id
)
def test_each_gloss_coat_has_a_wait_before_the_final_coat(coat):
    assert len(waited(coat, "The satin or matt final coat.")) == 1


BETWEEN = [(row, tables.row("coats", coat)) for row in WAITS if row.id.endswith("between-coats") for coat in row.coats]


@pytest.mark.parametrize(("row", "coat"), BETWEEN, ids=lambda value: value.id)
def test_waits_between_coats_end_within_the_recoat_window(row, coat):
    """Cautious: the usual wait at a slow bench is within the recoat window at a fast one."""
    if coat.recoat_until:
        assert row.usual.hours[1] <= coat.recoat_until.hours[0]


def test_recoat_windows_of_coats_have_a_wait():
    late = tables.row("drying-times", "lacquer-past-its-window")
    windowed = {row.id for row in COATS if row.recoat_until and row.carrier == "lacquer"}
    assert set(late.coats) == windowed
    for id in windowed:
        assert "later, leave it a day" in tables.row("coats", id).recoat_until.note.lower()
    assert late.usual.hours[0] == 24


def test_waits_between_coats_start_no_earlier_than_recoating():
    for row, coat in BETWEEN:
        assert row.usual.hours[1] >= coat.recoat_from.hours[0], (row.id, coat.id)


def test_a_shorter_wait_for_cut_edges_has_a_reason():
    edge = tables.row("drying-times", "cut-edge-before-water")
    for face in ("seal-before-water", "seal-water-before-water"):
        row = tables.row("drying-times", face)
        if set(edge.coats) & set(row.coats) and edge.usual.hours != row.usual.hours:
            assert edge.note.startswith("Shorter than for the face of the sheet, because"), face
            assert edge.usual.hours[1] <= row.usual.hours[0]
    assert {tables.row("coats", id).carrier for id in edge.coats} == {"lacquer"}


@pytest.mark.parametrize("ratio", [29, 56, 1200, 1250])
def test_usual_ratios_are_among_the_scales(ratio):
    """Common practice: garden railways, games with figures of 28 mm, waterline ships."""
    assert ratio in {row.ratio.value for row in tables.load("scales") if row.id.startswith("ratio-")}


def test_one_inch_to_hundred_feet_is_1200():
    """304.8 mm to the foot and 25.4 mm to the inch, exactly: National Bureau of Standards, 1959."""
    assert tables.row("scales", "ratio-1200").ratio.value == pytest.approx(100 * 304.8 / 25.4)
