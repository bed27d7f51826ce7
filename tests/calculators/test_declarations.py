"""Rules for every calculator, checked from its declaration alone."""

import dataclasses
import itertools
import json
import math
import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators import catalogue, numbers, tables, units, view
from calculators.answer import answer
from calculators.declare import (
    Calculator,
    ChoiceField,
    MeasureResult,
    NumberField,
    PointField,
    RowsField,
    YesNoField,
    answered,
    asked,
)
from calculators.declare.field import describe_fields
from calculators.read import read
from calculators.stages import STAGES

CALCULATORS = list(catalogue.every().values())
EVERY_CALCULATOR = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda each: each.id)
NUMBERS = [
    pytest.param(each, name, field, id=f"{each.id}.{name}")
    for each in CALCULATORS
    for name, field in asked(each.inputs).items()
    if isinstance(field, NumberField)
]


def ask(calculator: Calculator, inputs: dict, unit: str = "mm") -> dict:
    *_, (text, _buffers) = answer(
        json.dumps({"do": "answer", "calculator": calculator.id, "inputs": inputs, "units": unit})
    )
    return json.loads(text)


def test_there_are_calculators():
    assert {"scale-size", "full-size", "resolution"} <= set(catalogue.every())


@EVERY_CALCULATOR
def test_declaration_is_complete(calculator):
    assert calculator.stage in STAGES
    assert calculator.title.endswith("?")
    known = {*tables.by_id("sources"), *tables.MARKS}
    assert calculator.sources and set(calculator.sources) <= known
    for declared in (*asked(calculator.inputs).values(), *answered(calculator.outputs).values()):
        assert declared.label
    json.dumps(view.describe(calculator), allow_nan=False)


def every_inputs(inputs: type):
    """Yield an inputs dataclass and those of its rows."""
    yield inputs
    for field in asked(inputs).values():
        if isinstance(field, RowsField):
            yield from every_inputs(field.row)


@EVERY_CALCULATOR
def test_conditions_of_fields_name_possible_values(calculator):
    for declared in map(asked, every_inputs(calculator.inputs)):
        for name, field in declared.items():
            if not field.only_when:
                continue
            other, text = field.only_when
            # The page hides fields in their order.
            assert list(declared).index(other) < list(declared).index(name)
            match declared[other]:
                case ChoiceField():
                    texts = {text} if isinstance(text, str) else set(text)
                    assert texts and texts <= declared[other].labels().keys()
                    assert not any(" " in each for each in texts)
                case YesNoField():
                    assert text in ("yes", "no")
                case _:
                    assert text is None and declared[other].optional


@EVERY_CALCULATOR
def test_points_lie_on_a_picture_beside_them(calculator):
    declared, defaults = asked(calculator.inputs), calculator.inputs()
    for name, field in declared.items():
        if not isinstance(field, PointField):
            continue
        width, height = declared[field.of].points_fit
        x, y = getattr(defaults, name)
        assert 0 < x < width and 0 < y < height
        together = [each for each in declared.values() if getattr(each, "group", None) == field.group]
        assert len(together) > 1 and {each.of for each in together} == {field.of}
        assert {each.only_when for each in together} == {field.only_when}


@EVERY_CALCULATOR
def test_default_is_answered(calculator):
    assert ask(calculator, {})["outcome"] == "result"


@pytest.mark.parametrize(("calculator", "name", "field"), NUMBERS)
def test_bounds_are_accepted_and_just_outside_is_refused(calculator, name, field):
    for bound, outward in ((field.low, -1), (field.high, 1)):
        accepted = read(calculator.inputs, {name: numbers.plain(bound)})
        assert not accepted.problems
        assert getattr(accepted.inputs, name) == bound
        beyond = bound + outward if field.whole else math.nextafter(bound, outward * math.inf)
        refused = read(calculator.inputs, {name: numbers.plain(beyond)})
        assert [problem.field for problem in refused.problems] == [name]
        assert field.label in refused.problems[0].text


@pytest.mark.parametrize(("calculator", "name", "field"), NUMBERS)
@pytest.mark.parametrize("display", units.DISPLAYS.values(), ids=lambda display: display.unit)
def test_a_limit_as_printed_is_accepted(calculator, name, field, display):
    fields = describe_fields(calculator.inputs)
    low, high = next(each for each in fields if each["name"] == name)["range"][display.unit].split(" to ")
    for text in (f"{low} {display.unit}" if field.is_length else low, high):
        assert not read(calculator.inputs, {name: text}).problems


@EVERY_CALCULATOR
def test_empty_fields_are_all_reported_at_once(calculator):
    names = [
        name
        for name, field in asked(calculator.inputs).items()
        if field.kind not in ("picture", "file", "whole_job", "rows") and not getattr(field, "may_be_empty", False)
    ]
    problems = ask(calculator, dict.fromkeys(names, " "))["problems"]
    assert [problem["field"] for problem in problems] == names
    assert all(" is empty: it takes " in problem["text"] for problem in problems)


@EVERY_CALCULATOR
def test_unknown_field_is_reported(calculator):
    problems = ask(calculator, {"no_such_field": "1"})["problems"]
    assert [problem["field"] for problem in problems] == ["no_such_field"]


def grid_of(field) -> list[str]:
    match field:
        case NumberField():
            middle = math.sqrt(field.low * field.high) if field.low > 0 else (field.low + field.high) / 2
            return [numbers.plain(v) for v in (field.low, round(middle) if field.whole else middle, field.high)]
        case ChoiceField():
            return list(field.labels())
        case YesNoField():
            return ["yes", "no"]
    return []


#: Calculators whose work takes seconds at a point, and so many points of their grids.
LONG = {"cut-file": 6, "lettering": 150, "sheet": 16}


def points_of(axes: list[list[str]], most: int):
    """Return the points of a grid, or a fixed sample of a large one that has all values of an axis equally often."""
    if math.prod(map(len, axes)) <= most:
        return list(itertools.product(*axes))
    drawn = random.Random(len(axes))
    often = [(axis * most)[: max(most, len(axis))] for axis in axes]
    return list(zip(*(drawn.sample(values, most) for values in often), strict=True))


@EVERY_CALCULATOR
def test_results_are_finite_over_a_grid(calculator):
    fields = asked(calculator.inputs)
    axes = {name: grid for name, field in fields.items() if (grid := grid_of(field))}
    # Analysing the example's pixels takes up to a second at each point; `make fuzz` looks at more of them.
    most = 16 if any(getattr(field, "pixels", False) for field in fields.values()) else 400
    most = LONG.get(calculator.id, most)
    for values in points_of(list(axes.values()), most):
        reply = ask(calculator, dict(zip(axes, values, strict=True)), "in")
        assert reply["outcome"] == "result", (values, reply)
        for name, result in answered(calculator.outputs).items():
            value = reply["result"][name]
            if isinstance(result, MeasureResult) and value is not None:
                assert math.isfinite(value)
                assert reply["view"][name]["shown"]


ODD_TEXTS = st.one_of(
    st.text(max_size=40),
    st.from_regex(r"[-+0-9.,eE/ '\"½¾]{0,12} ?(mm|cm|in|ft|px|%|°|thou)?", fullmatch=True),
    st.sampled_from(
        ["NaN", "inf", "-inf", "1e999", "1e-999", "0x10", "١٢", "1_000", "12 parsecs", "1/0", "1:0", "∞", "\0"]
    ),
)


# `make fuzz` asks 20,000 such things, and tests/fuzz some hundreds of them.
@EVERY_CALCULATOR
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_any_text_in_any_field_is_answered(calculator, data):
    names = list(asked(calculator.inputs))
    typed = data.draw(st.dictionaries(st.sampled_from(names), ODD_TEXTS))
    reply = ask(calculator, typed, data.draw(st.sampled_from(["mm", "in"])))
    assert reply["outcome"] in ("result", "problems"), reply
    if reply["outcome"] == "problems":
        assert {problem["field"] for problem in reply["problems"]} <= set(names)
        assert all(problem["text"] for problem in reply["problems"])


@EVERY_CALCULATOR
@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_nothing_is_clamped(calculator, data):
    """A number out of range is a problem, never a value at the end of the range."""
    numeric = [(name, field) for name, field in asked(calculator.inputs).items() if isinstance(field, NumberField)]
    if not numeric:
        return
    name, field = data.draw(st.sampled_from(numeric))
    value = data.draw(
        st.one_of(
            st.floats(min_value=field.high, exclude_min=True, allow_infinity=False, max_value=1e300),
            st.floats(max_value=field.low, exclude_max=True, min_value=-1e300, allow_infinity=False),
        )
    )
    reading = read(calculator.inputs, {name: numbers.plain(value)})
    assert reading.inputs is None
    assert [problem.field for problem in reading.problems] == [name]


@EVERY_CALCULATOR
def test_inputs_cannot_be_changed(calculator):
    inputs = calculator.inputs()
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(inputs, next(iter(asked(calculator.inputs))), 1)
