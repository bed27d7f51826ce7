"""Typed text is understood as people mean it, or refused with help; ``people.json`` has the expected meanings."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from calculators import units
from calculators.read import read
from calculators.size.scale_size import ScaleSizeInputs

PEOPLE = json.loads((Path(__file__).parent / "people.json").read_text("utf-8"))


def cases(name: str) -> Any:
    return pytest.mark.parametrize("case", PEOPLE[name], ids=lambda case: ascii(case["typed"]))


def test_cases_cover_ordinary_and_odd_typing():
    every = [case for group in PEOPLE.values() for case in group]
    assert len({(case["typed"], case.get("unit")) for case in every}) == len(every) >= 120
    assert all(sum(case["kind"] == kind for case in every) >= 60 for kind in ("ordinary", "odd"))


def as_meant(case: dict, meaning: str, field: str) -> None:
    """Check one case against a field of "how big is it on the model"."""
    reading = read(ScaleSizeInputs, {field: case["typed"]})
    if "cure" in case:
        (problem,) = reading.problems
        assert problem.field == field
        assert case["cure"] in f"{problem.text}. {problem.hint}"
    else:
        assert not reading.problems, reading.problems
        assert getattr(reading.inputs, field) == pytest.approx(case[meaning], rel=1e-12)


@cases("lengths")
def test_a_length_is_understood_or_refused_with_a_cure(case):
    if "cure" in case:
        as_meant(case, "mm", "full_size_mm")
    else:
        assert units.length_mm(case["typed"]) == pytest.approx(case["mm"], rel=1e-12)


@pytest.mark.parametrize(
    "case",
    [each for each in PEOPLE["lengths"] if each.get("bare") and "mm" in each],
    ids=lambda case: ascii(case["typed"]),
)
def test_a_length_without_unit_takes_the_field_s_unit(case):
    assert units.length_mm(f"{case['typed']} in") == pytest.approx(25.4 * case["mm"], rel=1e-12)


@cases("scales")
def test_a_scale_is_understood_or_refused_with_a_cure(case):
    as_meant(case, "ratio", "scale")


@cases("numbers")
def test_a_number_is_understood_or_refused_with_a_cure(case):
    if "cure" in case:
        with pytest.raises(units.Unread, match=case["cure"]):
            units.number(case["typed"], case["unit"])
    else:
        assert units.number(case["typed"], case["unit"]) == pytest.approx(case["number"], rel=1e-12)
