"""A wide table declares the columns that one decides by; the rest of a row is unfolded."""

from __future__ import annotations

import pytest

from calculators import catalogue, tables
from calculators.declare import TableResult, answered
from calculators.view import describe

#: So many columns beside the row's title fit on a tablet in portrait, by its looks.
MOST = 5
DECLARED = {id: row.DECIDES for id, row in tables.TABLES.items() if hasattr(row, "DECIDES")}
RESULTS = [
    pytest.param(each, name, result, id=f"{each.id}.{name}")
    for each in catalogue.every().values()
    for name, result in answered(each.outputs).items()
    if isinstance(result, TableResult) and not result.cards
]


@pytest.mark.parametrize("table", ["drying-times", "ways", "solvents", "coats", "substrates", "print-settings"])
def test_a_wide_data_table_says_by_what_one_decides(table):
    assert 2 <= len(DECLARED[table]) < MOST


@pytest.mark.parametrize(("table", "decides"), DECLARED.items())
def test_deciding_columns_are_columns_of_their_table(table, decides):
    assert set(decides) <= set(tables.columns(tables.TABLES[table]))


@pytest.mark.parametrize(("calculator", "name", "result"), RESULTS)
def test_an_answers_table_shows_few_columns_or_says_which_decide(calculator, name, result):
    columns = list(answered(result.row))
    shown = [each for each in columns if not result.decides or each in result.decides]
    assert set(result.decides) <= set(columns)
    assert len(shown) <= MOST and shown[0] == columns[0]
    (described,) = (each for each in describe(calculator)["results"] if each["name"] == name)
    assert described["rest"] == [each for each in columns if each not in shown]
