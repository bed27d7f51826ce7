"""Gloves, masks and air: the tables' advice on what to wear, compared with public lists.

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
    """The glove materials that a text recommends, without those that it warns against."""
    advice = re.sub(r"butyl rubber does not resist it", "", text.lower())
    return {
        each
        for each in ("butyl", "laminate", "nitrile")
        if each in re.sub(r"thin nitrile is for splashes only, and off at once", "", advice)
    }


@pytest.mark.parametrize("id", sorted(KETONES_AND_ESTERS))
def test_ketones_and_esters_need_butyl_gloves(id):
    assert worn(tables.row("solvents", id).gloves) == {"butyl"}


@pytest.mark.parametrize("id", sorted(AROMATICS))
def test_aromatics_need_laminate_gloves_and_not_butyl(id):
    gloves = tables.row("solvents", id).gloves
    assert worn(gloves) == {"laminate"}
    assert "butyl rubber does not resist it" in gloves


@pytest.mark.parametrize("row", tables.load("solvents"), ids=lambda row: row.id)
def test_thin_nitrile_is_only_for_splashes(row):
    if row.id in GASES:
        assert "None for the gas" in row.gloves
        return
    assert "thin nitrile is for splashes only, and off at once" in row.gloves.lower()
    assert "data sheet" in row.gloves and "govern" in row.gloves


@pytest.mark.parametrize("row", [row for row in MIXTURES if AROMATICS & set(row.solvents)], ids=lambda row: row.id)
def test_mixtures_with_aromatics_need_laminate_gloves(row):
    assert worn(row.caution) == {"laminate"}


def test_lacquer_thinner_is_among_the_mixtures_with_aromatics():
    assert AROMATICS <= set(tables.row("fluids", "lacquer-thinner").solvents)


# -- Glycol ethers


def test_coats_list_the_glycol_ethers_of_their_thinner():
    ids = [
        each.what.split("/")[1]
        for row in tables.load("fluids")
        for each in row.against
        if "glycol ethers are in its own thinner" in each.why
    ]
    assert ids, "no fluid says so any more: look for another place that does"
    for id in ids:
        assert set(tables.row("coats", id).solvents) >= GLYCOL_ETHERS, id


def test_every_waterborne_coat_names_its_thinner_s_glycol_ethers():
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
def test_older_limits_warn_that_local_ones_may_be_lower(id):
    """It is common practice to know that limits of OSHA and NIOSH for these two are older and higher than elsewhere."""
    note = tables.row("solvents", id).note
    assert "older" in note and "your local limit may be lower" in note


def test_mixed_xylenes_have_their_own_number():
    assert "1330-20-7" in tables.row("solvents", "xylenes").cas
