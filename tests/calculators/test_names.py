"""Scales by name: an ambiguous name is asked back."""

import pytest

from calculators.read import read
from calculators.size.scale_size import ScaleSizeInputs


@pytest.mark.parametrize(
    ("typed", "ratio"),
    [
        ("OO", 76.2),
        ("oo", 76.2),
        ("00", 76.2),
        ("4 mm to the foot", 76.2),
        ("1", 1),
        ("1:87.1", 87.1),
        ("1/4 inch to the foot", 48),
    ],
)
def test_name(typed, ratio):
    assert read(ScaleSizeInputs, {"scale": typed}).inputs.scale == ratio


@pytest.mark.parametrize("typed", ["N", "O", "HO"])
def test_name_with_several_meanings_is_asked_back(typed):
    (problem,) = read(ScaleSizeInputs, {"scale": typed}).problems
    assert problem.field == "scale"
    assert f"“{typed}” may be " in problem.hint
