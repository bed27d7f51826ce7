"""What calculators and their fields declare for a job: what they are about, and what shared values belong to."""

from __future__ import annotations

import pytest

from calculators import catalogue
from calculators.declare import JOB, MARKING, MODEL, NEITHER, FileResult, LeadsResult, RowsField, answered, asked

CALCULATORS = list(catalogue.every().values())
EVERY_CALCULATOR = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda each: each.id)


def every_field(inputs: type):
    for name, field in asked(inputs).items():
        yield name, field
        if isinstance(field, RowsField):
            yield from every_field(field.row)


@EVERY_CALCULATOR
def test_a_calculator_says_what_it_is_about(calculator):
    assert calculator.about in (MARKING, JOB, NEITHER)


@EVERY_CALCULATOR
def test_a_shared_field_says_what_its_value_belongs_to(calculator):
    for name, field in every_field(calculator.inputs):
        assert bool(field.shares) == bool(field.shared_by), name
        assert field.shared_by in ("", MARKING, MODEL, JOB), name


@EVERY_CALCULATOR
def test_a_calculator_that_shares_a_value_of_a_marking_is_about_one(calculator):
    belongs = {field.shared_by for _name, field in every_field(calculator.inputs)}
    if MARKING in belongs or MODEL in belongs:
        assert calculator.about == MARKING
    elif JOB in belongs:
        assert calculator.about in (MARKING, JOB)


def test_a_value_belongs_to_the_same_in_every_calculator():
    found: dict[str, set[str]] = {}
    for calculator in CALCULATORS:
        for _name, field in every_field(calculator.inputs):
            if field.shares:
                found.setdefault(field.shares, set()).add(field.shared_by)
    assert len(found) > 15
    assert {name: belongs for name, belongs in found.items() if len(belongs) > 1} == {}


def test_whatever_an_answer_passes_on_some_field_takes():
    taken = {field.shares for each in CALCULATORS for _name, field in every_field(each.inputs)}
    taken |= {getattr(field, "outlines", "") for each in CALCULATORS for _name, field in every_field(each.inputs)}
    passed = set()
    for calculator in CALCULATORS:
        for result in answered(calculator.outputs).values():
            if isinstance(result, FileResult) and result.shares:
                passed.add(result.shares)
            if isinstance(result, LeadsResult):
                passed |= {
                    name for leads in result.by.values() for lead in leads for name in (*lead.carries, *lead.sets)
                }
    assert passed and passed <= taken
