"""Solvents: the values of the agencies as published.

Expected values are in ``tests/published/solvents_agency.csv``: NIOSH recommended limits and OSHA permitted limits, with
the
documents that each row was read in (NIOSH Pocket Guide 2005-149, NIOSH IDLH documentation, OSHA chemical database). An
empty cell means that no document was read; the table then has no value.
"""

import csv
import re
from pathlib import Path

import pytest

from calculators import tables

PUBLISHED = Path(__file__).resolve().parents[1] / "published" / "solvents_agency.csv"
with PUBLISHED.open(encoding="utf-8", newline="") as _file:
    AGENCY = {each["substance"]: each for each in csv.DictReader(_file)}

#: The rows of the published list by the ids of the table.
ROWS = {
    "isopropanol": "isopropyl alcohol",
    "acetic-acid": "acetic acid",
    "acetone": "acetone",
    "butanone": "MEK (2-butanone)",
    "n-butyl-acetate": "n-butyl acetate",
    "ethyl-acetate": "ethyl acetate",
    "xylenes": "xylenes o/m/p",
    "toluene": "toluene",
    "2-butoxyethanol": "2-butoxyethanol",
    "1-methoxy-2-propanol": "PGME",
    "1-methoxy-2-propyl-acetate": "PGMEA",
    "ethanol": "ethanol",
    "white-spirit": "Stoddard/white spirit",
    "vmp-naphtha": "VM&P naphtha",
    "petroleum-distillates": "petroleum distillates (naphtha)",
    "propane": "propane",
    "n-butane": "n-butane",
    "isobutane": "isobutane",
    "dimethyl-ether": "dimethyl ether",
}

LIMITS = (
    "niosh_twa",
    "niosh_twa_mass",
    "niosh_stel",
    "niosh_stel_mass",
    "niosh_ceiling_mass",
    "osha_twa",
    "osha_twa_mass",
    "osha_ceiling",
    "osha_peak",
)

#: IEC 60079-20-1 (2010), lower explosive limit in % by volume, as the package chemicals 1.5.2 carries it.
IEC = {
    "acetone": 2.5,
    "butanone": 1.5,
    "n-butyl-acetate": 1.2,
    "toluene": 1.0,
    "ethanol": 3.1,
    "propane": 1.7,
    "n-butane": 1.4,
    "isobutane": 1.3,
    "dimethyl-ether": 2.7,
}

#: Lower explosive limits in % by volume that no agency of the list prints: Prudent
#: Practices in the Laboratory (1995), p. 354.
LABORATORY = {"butanone": 1.9}


def printed_limits(agency: str, text: str) -> dict[str, float]:
    """Return the limits that a cell of the published list prints."""
    found: dict[str, float] = {}
    for pattern, names in (
        (r"TWA (\d+) ppm(?: \((\d+)[^)]*\))?", ("twa", "twa_mass")),
        (r"TWA (\d+) mg/m3", ("twa_mass",)),
        (r"ST (\d+) \((\d+)\)", ("stel", "stel_mass")),
        (r"TWA \d+ mg/m3 C (\d+)", ("ceiling_mass",)),
        (r"\bC (\d+) ppm (\d+) ppm 10-min peak", ("ceiling", "peak")),
    ):
        match = re.search(pattern, text)
        found |= (
            {f"{agency}_{name}": float(value) for name, value in zip(names, match.groups(), strict=True) if value}
            if match
            else {}
        )
    return found


def test_every_published_solvent_is_in_the_table():
    assert set(ROWS.values()) == set(AGENCY)
    assert list(tables.by_id("solvents")) == list(ROWS)


@pytest.mark.parametrize("id", ROWS)
def test_limits_equal_the_published_ones(id):
    published, row = AGENCY[ROWS[id]], tables.row("solvents", id)
    wanted = printed_limits("osha", published["osha_pel"])
    wanted |= printed_limits("niosh", published["niosh_rel"])
    got = {name: getattr(row, name).value for name in LIMITS if getattr(row, name) is not None}
    assert got == wanted


def test_published_cells_are_parsed_correctly():
    """The parser of published cells, on their four forms."""
    assert printed_limits("niosh", AGENCY["toluene"]["niosh_rel"]) == {
        "niosh_twa": 100,
        "niosh_twa_mass": 375,
        "niosh_stel": 150,
        "niosh_stel_mass": 560,
    }
    assert printed_limits("osha", AGENCY["toluene"]["osha_pel"]) == {
        "osha_twa": 200,
        "osha_ceiling": 300,
        "osha_peak": 500,
    }
    assert printed_limits("niosh", AGENCY["Stoddard/white spirit"]["niosh_rel"]) == {
        "niosh_twa_mass": 350,
        "niosh_ceiling_mass": 1800,
    }
    assert printed_limits("osha", AGENCY["n-butane"]["osha_pel"]) == {}


@pytest.mark.parametrize("id", ROWS)
def test_molar_mass_and_number_are_the_published_ones(id):
    published, row = AGENCY[ROWS[id]], tables.row("solvents", id)
    assert row.cas == published["cas"]
    printed = [float(each) for each in re.findall(r"\d+(?:\.\d+)?", published["molar_mass"])]
    assert [row.molar_mass.low, row.molar_mass.high] == [printed[0], printed[-1]]


@pytest.mark.parametrize("id", ROWS)
def test_dangerous_concentrations_are_published_or_absent(id):
    published, row = AGENCY[ROWS[id]]["idlh"], tables.row("solvents", id)
    match = re.match(r"(\d+) ppm", published)
    assert (row.idlh.value if row.idlh else None) == (float(match[1]) if match else None)


@pytest.mark.parametrize("id", [id for id, substance in ROWS.items() if "10%LEL" in AGENCY[substance]["idlh"]])
def test_tenth_of_the_lower_explosive_limit(id):
    """Where NIOSH uses 10 % of the lower explosive limit; 1 % by volume is 10 000 ppm."""
    row = tables.row("solvents", id)
    assert row.idlh.value == pytest.approx(row.lower_explosive.value * 10_000 / 10)


@pytest.mark.parametrize("id", ROWS)
def test_lower_explosive_limits_are_published_ones(id):
    published, row = AGENCY[ROWS[id]]["lel_percent"], tables.row("solvents", id)
    agency = {
        float(each) for each in re.findall(r"\d+\.\d+", re.sub(r"\d+\.\d+ \((?:IEC|older)[^)]*\)", "", published))
    }
    agency |= {LABORATORY[id]} if id in LABORATORY else set()
    if row.lower_explosive:
        assert {row.lower_explosive.low, row.lower_explosive.high} <= agency
    else:
        assert not agency
    assert (row.lower_explosive_iec.value if row.lower_explosive_iec else None) == IEC.get(id)


def test_the_other_explosive_limit_is_never_higher():
    """The table lists it beside the agency's value only if it is more cautious."""
    for row in tables.load("solvents"):
        if row.lower_explosive and row.lower_explosive_iec:
            assert row.lower_explosive_iec.value < row.lower_explosive.low, row.id


@pytest.mark.parametrize(
    ("id", "celsius"),
    [
        ("isopropanol", (53, 53)),
        ("acetic-acid", (103, 103)),
        ("toluene", (40, 40)),
        ("ethanol", (55, 55)),
        ("white-spirit", (102, 110)),
        ("vmp-naphtha", (20, 55)),
        ("petroleum-distillates", (-86, -40)),
    ],
)
def test_flash_points_are_converted_from_the_printed_fahrenheit(id, celsius):
    row = tables.row("solvents", id)
    for got, fahrenheit in zip((row.flash_point.low, row.flash_point.high), celsius, strict=True):
        assert got == pytest.approx((fahrenheit - 32) / 1.8, abs=0.5)


@pytest.mark.parametrize("id", ROWS)
def test_ppm_agree_with_the_published_mass(id):
    """mg/m³ = ppm x molar mass / 24.45 at 25 °C; the agencies round, by up to 3 % (toluene 100 ppm 375, acetone 250 ppm
    590).
    """
    row = tables.row("solvents", id)
    for name in ("niosh_twa", "niosh_stel", "osha_twa"):
        ppm, mass = getattr(row, name), getattr(row, f"{name}_mass")
        if ppm and mass:
            middle = (row.molar_mass.low + row.molar_mass.high) / 2
            assert ppm.value * middle / 24.45 == pytest.approx(mass.value, rel=0.03)


@pytest.mark.parametrize(("id", "ppm", "printed"), [("toluene", 100, 375), ("acetone", 250, 590)])
def test_two_published_pairs_of_ppm_and_mass(id, ppm, printed):
    row = tables.row("solvents", id)
    assert (row.niosh_twa.value, row.niosh_twa_mass.value) == (ppm, printed)
    assert ppm * row.molar_mass.value / 24.45 == pytest.approx(printed, rel=0.03)


def test_skin_absorption_is_marked_as_by_the_agencies():
    marked = {
        id
        for id, substance in ROWS.items()
        if "[skin]" in AGENCY[substance]["niosh_rel"] + AGENCY[substance]["osha_pel"]
    }
    assert {row.id for row in tables.load("solvents") if row.through_skin} == marked == {"2-butoxyethanol"}
