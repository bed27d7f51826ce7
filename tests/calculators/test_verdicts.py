"""What a verdict says first is short, and the rest is not lost."""

from __future__ import annotations

import pytest

from calculators import catalogue, units
from calculators.declare.verdict import in_brief
from calculators.values import advice, message
from calculators.view import default_view


@pytest.mark.parametrize("id", list(catalogue.every()))
def test_a_verdict_says_two_sentences_and_unfolds_the_rest(id):
    for shown in default_view(catalogue.find(id))["view"].values():
        if shown["kind"] == "verdict":
            assert 1 <= len(shown["brief"]) <= 2
            told = sorted(" ".join(shown["reasons"]).split())
            assert sorted(" ".join([*shown["brief"], *shown["more"]]).split()) == told


def test_the_advice_follows_the_deciding_reason():
    told = [message("The border shows. It is far."), message("So does this."), advice("Use {count} layers.", count="3")]
    assert in_brief(told, units.MM) == (["The border shows.", "Use 3 layers."], ["It is far.", "So does this."])


def test_a_point_inside_a_number_ends_no_sentence():
    assert in_brief([message("It is {x_mm} wide. Done.", x_mm=0.25)], units.MM)[0] == ["It is 0.25 mm wide.", "Done."]


def test_a_verdict_without_reasons_says_nothing():
    assert in_brief([], units.MM) == ([], [])
