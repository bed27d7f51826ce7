"""Gloves, masks and air: what the tables tell a reader to wear, held against public lists.

Gloves: University of Nevada, Reno, Glove Selection Guidelines (January 2022), read in a public copy. It lists butyl for
acetone and methyl ethyl ketone, laminate or fluoroelastomer for xylene and toluene, and allows thin disposable nitrile
for incidental contact only. Esters with ketones, and laminate for mixtures that hold aromatics, are common practice.
"""

import re

import pytest

from calculators import tables

KETONES_AND_ESTERS = {"acetone", "butanone", "n-butyl-acetate", "ethyl-acetate", "1-methoxy-2-propyl-acetate"}
AROMATICS = {"xylenes", "toluene"}
GLYCOL_ETHERS = {"2-butoxyethanol", "1-methoxy-2-propanol"}
GASES = {"propane", "n-butane", "isobutane", "dimethyl-ether"}
MIXTURES = [*tables.load("coats"), *tables.load("fluids")]


def worn(text: str) -> set[str]:
    """The glove materials that a text tells a reader to wear, not those of which it says that they do not resist."""
    told = re.sub(r"butyl rubber does not resist it", "", text.lower())
    return {
        each
        for each in ("butyl", "laminate", "nitrile")
        if each in re.sub(r"thin nitrile is for splashes only, and off at once", "", told)
    }


@pytest.mark.parametrize("id", sorted(KETONES_AND_ESTERS))
def test_butyl_is_for_ketones_and_esters(id):
    assert worn(tables.row("solvents", id).gloves) == {"butyl"}


@pytest.mark.parametrize("id", sorted(AROMATICS))
def test_laminate_and_not_butyl_is_for_aromatics(id):
    gloves = tables.row("solvents", id).gloves
    assert worn(gloves) == {"laminate"}
    assert "butyl rubber does not resist it" in gloves


@pytest.mark.parametrize("row", tables.load("solvents"), ids=lambda row: row.id)
def test_thin_nitrile_is_for_splashes_only_and_the_data_sheet_governs(row):
    if row.id in GASES:
        assert "None for the gas" in row.gloves
        return
    assert "thin nitrile is for splashes only, and off at once" in row.gloves.lower()
    assert "data sheet" in row.gloves and "govern" in row.gloves


@pytest.mark.parametrize("row", [row for row in MIXTURES if AROMATICS & set(row.solvents)], ids=lambda row: row.id)
def test_a_mixture_with_aromatics_asks_for_laminate(row):
    assert worn(row.caution) == {"laminate"}


def test_lacquer_thinner_is_among_the_mixtures_with_aromatics():
    assert AROMATICS <= set(tables.row("fluids", "lacquer-thinner").solvents)


# -- Glycol ethers


def test_a_coat_holds_the_glycol_ethers_that_a_fluid_says_are_in_its_thinner():
    told = [
        each.what.split("/")[1]
        for row in tables.load("fluids")
        for each in row.against
        if "glycol ethers are in its own thinner" in each.why
    ]
    assert told, "no fluid says so any more: look for another place that does"
    for id in told:
        assert set(tables.row("coats", id).solvents) >= GLYCOL_ETHERS, id


def test_every_coat_carried_by_water_names_the_glycol_ethers_of_its_thinner():
    found = [tables.row("solvents", id).found_in for id in sorted(GLYCOL_ETHERS)]
    assert all("thinner for paint and clear carried by water" in each for each in found)
    watery = [row for row in tables.load("coats") if row.carrier == "water" or row.id == "clear-urethane-water"]
    assert len(watery) >= 5
    for row in watery:
        assert set(row.solvents) >= GLYCOL_ETHERS, row.id


def test_a_fluid_made_of_glycol_ethers_lists_one():
    made = [row for row in tables.load("fluids") if "glycol ether" in row.made_of]
    assert len(made) >= 3
    for row in made:
        assert set(row.solvents) & GLYCOL_ETHERS, row.id


# -- Limits


@pytest.mark.parametrize("id", sorted(AROMATICS))
def test_older_limits_say_that_the_local_one_may_be_lower(id):
    """That OSHA and NIOSH print older and higher limits for these two than many
    countries is common practice to know.
    """
    note = tables.row("solvents", id).note
    assert "older" in note and "your local limit may be lower" in note


def test_mixed_xylenes_have_their_own_number():
    assert "1330-20-7" in tables.row("solvents", "xylenes").cas
