"""Every row and every value of the shipped tables says where it comes from."""

import dataclasses
from collections.abc import Iterator

import pytest

from calculators import tables
from calculators.tables import ESTIMATE, MARKS, Fact, Origin, Statement


def _origins(row: object) -> Iterator[Origin | Fact | Statement]:
    for field in dataclasses.fields(row):
        value = getattr(row, field.name)
        for each in value if isinstance(value, tuple) else (value,):
            if isinstance(each, Origin):
                # The status of a row's words is a part of the row.
                yield dataclasses.replace(each, status=row.status)
            elif isinstance(each, Fact | Statement):
                yield each


@pytest.mark.parametrize("table", tables.TABLES)
def test_no_table_is_empty(table):
    assert tables.load(table)


@pytest.mark.parametrize("table", [name for name in tables.TABLES if name not in ("sources", "synonyms")])
def test_every_value_has_a_located_source_or_a_mark(table):
    sources = tables.by_id("sources")
    for row in tables.load(table):
        origins = list(_origins(row))
        assert origins, f"{table}/{row.id} says nowhere where it comes from"
        for each in origins:
            if each.source in MARKS:
                assert (each.at, each.status) == ("", ""), f"{table}/{row.id}"
            else:
                assert each.source in sources, f"{table}/{row.id}: {each.source}"
                assert each.at and each.status, f"{table}/{row.id}: {each.source}"


def test_unread_sources_are_not_marked_as_read():
    """A source known from memory or through a package cannot have values marked as read in it."""
    sources = tables.by_id("sources")
    for table in tables.TABLES:
        for row in tables.load(table):
            for each in _origins(row):
                if each.status == "read":
                    assert sources[each.source].read in ("whole", "part", "copy"), f"{table}/{row.id}: {each.source}"
                if each.status == "package":
                    assert sources[each.source].read == "package", f"{table}/{row.id}: {each.source}"


def test_notes_do_not_repeat_that_a_value_is_an_estimate():
    for table in tables.TABLES:
        for row in tables.load(table):
            for each in _origins(row):
                if getattr(each, "note", "").startswith("Estimate"):
                    raise AssertionError(f"{table}/{row.id}: {each.note}: its source says so, or has to")


def test_safety_figures_never_rest_on_memory_or_practice():
    safety = [name for name, column in tables.columns(tables.TABLES["solvents"]).items() if column.safety]
    assert len(safety) >= 14
    for row in tables.load("solvents"):
        figures = [getattr(row, name) for name in safety if getattr(row, name) is not None]
        for each in [*figures, *row.hazards]:
            assert each.status in ("read", "package", "computed"), row.id
            assert tables.row("sources", each.source).read != "memory", row.id


def test_estimates_are_distinguishable_from_checked_values():
    """A single number is marked as an estimate, or its note explains it."""
    for table in ("substrates", "print-settings", "drying-times", "coats"):
        for row in tables.load(table):
            for each in _origins(row):
                if (
                    isinstance(each, Fact)
                    and each.low == each.high
                    and (table, row.id) != ("drying-times", "settle-after-softener")
                ):
                    assert each.source == ESTIMATE or each.note, f"{table}/{row.id}: {each.shown} {each.unit}"
