"""A result that rests on an estimate of ours says so beside it."""

import json

import pytest

from calculators import catalogue, tables
from calculators.answer import answer
from calculators.tables import ESTIMATE, Fact

#: Parts of a fact whose use makes a result depend on it.
USED = {"low", "high", "value", "hours", "shown", "in_words"}


def estimates_used(monkeypatch, id):
    """The estimates that a calculator reads for its worked example."""
    used = []
    plain = Fact.__getattribute__

    def looked_at(fact, name):
        if name in USED and plain(fact, "source") == ESTIMATE:
            used.append(fact)
        return plain(fact, name)

    with monkeypatch.context() as patched:
        patched.setattr(Fact, "__getattribute__", looked_at)
        *_, (reply, _) = answer(json.dumps({"do": "answer", "calculator": id, "inputs": {}}))
    assert json.loads(reply)["outcome"] == "result"
    return used


def test_there_are_estimates_in_the_tables():
    facts = [
        value
        for table in tables.TABLES
        for row in tables.load(table)
        for value in vars(row).values()
        if isinstance(value, Fact)
    ]
    assert sum(fact.source == ESTIMATE for fact in facts) >= 337


@pytest.mark.parametrize("id", catalogue.every())
def test_calculators_name_the_estimates_they_use(monkeypatch, id):
    if estimates_used(monkeypatch, id):
        assert ESTIMATE in catalogue.find(id).sources


def test_some_calculators_rest_on_estimates_and_some_do_not(monkeypatch):
    assert estimates_used(monkeypatch, "scale-size")
    assert not estimates_used(monkeypatch, "symptom-finder")


def test_paint_colours_are_attributed_to_the_project():
    assert {row.source.source for row in tables.load("paint-colours")} == {tables.DRAWN_UP}
