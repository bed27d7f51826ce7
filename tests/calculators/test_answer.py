"""The surface that the page uses."""

import json

import pytest

from calculators import job
from calculators.answer import alloc, answer
from calculators.declare.field import parsed as parsed_fields
from calculators.read import read
from tests.workbench.rows_in_rows import RowsInRowsInputs


def last(envelope: dict, buffers=()) -> dict:
    *_, (text, _buffers) = answer(json.dumps(envelope), buffers)
    return json.loads(text)


def test_sentences_and_numbers_follow_the_unit():
    view = last({"do": "answer", "calculator": "resolution", "units": "in", "inputs": {"width_mm": "1 in"}})["view"]
    assert view["largest_sharp_width_mm"] == {"kind": "measure", "shown": "0.687", "unit": "in", "plus_minus": ""}
    assert view["verdict"]["reasons"][0].startswith("One pixel is 0.005 in wide in print")


def test_ranges_are_stated_in_the_chosen_unit():
    (problem,) = last({"do": "answer", "calculator": "resolution", "units": "in", "inputs": {"width_mm": "0 in"}})[
        "problems"
    ]
    # 0.1 mm is 0.0039370... in, rounded inward; 5000 mm is 196.85... in.
    assert problem["text"] == "Printed width takes a length from 0.003938 to 196.8 in"


def test_the_example_for_a_whole_number_has_no_decimals():
    typed = {"markings": "two", "border_percent": "half"}
    problems = last({"do": "answer", "calculator": "underlay", "inputs": typed})["problems"]
    assert {each["field"]: each["hint"] for each in problems} == {
        "markings": "You typed “two”. Type digits, such as 12.",
        "border_percent": "You typed “half”. Type digits, such as 12 or 0.5.",
    }


def test_restate_leaves_unreadable_texts_unchanged():
    restated = last(
        {
            "do": "restate",
            "calculator": "resolution",
            "units": "in",
            "inputs": {"width_mm": "50.8 mm", "height_mm": "soon", "edges": "soft"},
        }
    )
    assert restated == {"outcome": "restated", "inputs": {"width_mm": "2"}}


def test_current_jobs_pass_and_newer_ones_are_refused():
    current = {"format": job.FORMAT, "revision": 2, "calculators": {}, "shared": {}}
    assert last({"do": "migrate", "job": current})["job"] == current
    assert last({"do": "migrate", "job": current | {"format": job.FORMAT + 1}})["outcome"] == "fault"


@pytest.mark.parametrize("envelope", ["", "[]", "{}", '{"do": "dance"}', '{"do": "answer", "calculator": "none"}'])
def test_a_malformed_request_is_a_fault_with_trace(envelope):
    ((text, _buffers),) = answer(envelope)
    reply = json.loads(text)
    assert reply["outcome"] == "fault"
    assert reply["trace"].startswith("Traceback")


def test_alloc_returns_a_writable_buffer():
    room = alloc(10)
    room[:] = b"0123456789"
    assert len(room) == 10


def parsed(calculator: str, inputs: dict, **more) -> dict:
    return last({"do": "answer", "calculator": calculator, "inputs": inputs, **more})["parsed"]


def test_an_answer_carries_every_parsed_value():
    asked_for = {
        "border_percent": "80,5 %",
        "border_degrees": "½ °",
        "base_a": " Royal  BLUE",
        "base_b": "#abc",
        "white_marks": "2 w; 1=h",
        "width_mm": "½ in",
        "sprays": "No",
        "surface": "usual",
        "markings": "3",
    }
    values = parsed("underlay", asked_for)
    assert {name: values[name] for name in asked_for} == {
        "border_percent": 80.5,
        "border_degrees": 0.5,
        "base_a": "#24468c",
        "base_b": "#aabbcc",
        "white_marks": [[2, "wanted"], [1, "hole"]],
        "width_mm": 12.7,
        "sprays": False,
        "surface": "usual",
        "markings": 3,
    }
    assert "picture" not in values  # files are left out
    assert values["outline_mm"] is None  # an optional field says nothing
    assert parsed("drawing-size", {"mark_to": "(10½; 1e1 px)"})["mark_to"] == [10.5, 10]


def test_parsed_values_can_precede_the_work():
    envelope = {"do": "answer", "calculator": "seen-colour", "inputs": {"base_a": "#abc"}, "read_first": True}
    (first, _), *_, (final, _) = answer(json.dumps(envelope))
    progress = json.loads(first)
    assert (progress["outcome"], progress["parsed"]["base_a"]) == ("progress", "#aabbcc")
    assert progress["parsed"] == json.loads(final)["parsed"]


def test_problems_carry_the_readable_values():
    reply = last(
        {
            "do": "answer",
            "calculator": "underlay",
            "inputs": {"border_percent": "80 %", "border_degrees": "190", "white_marks": "2 ho le"},
        }
    )
    assert (reply["outcome"], [each["field"] for each in reply["problems"]]) == ("problems", ["border_degrees"])
    assert reply["parsed"]["border_percent"] == 80
    assert not {"border_degrees", "white_marks"} & {*reply["parsed"]}
    # The calculator refuses these, since there is no such area.
    refused = last({"do": "answer", "calculator": "white-areas", "inputs": {"marks": "99 hole"}})
    assert (refused["outcome"], refused["parsed"]["marks"]) == ("problems", [[99, "hole"]])


def test_a_wrong_field_is_missing_from_its_row_only():
    inputs = RowsInRowsInputs
    typed = [{"copies": "two", "width_mm": "1 in", "lines": [{"letters": "7", "gap_mm": "½"}]}, {"copies": "3"}]
    assert parsed_fields(inputs, read(inputs, {"markings": typed}).values) == {
        "markings": [
            {"width_mm": 25.4, "lines": [{"letters": "7", "gap_mm": 0.5}]},
            {"copies": 3, "width_mm": 25.4, "lines": [{"letters": "12", "gap_mm": None}]},
        ]
    }
    assert parsed_fields(inputs, read(inputs, {}).values)["markings"][1] == {
        "copies": 1,
        "width_mm": 25.4,
        "lines": [{"letters": "Teasel", "gap_mm": None}],
    }


def test_texts_aside_are_parsed_but_never_a_problem():
    aside = {"corner_top_left": "1;2", "corner_top_right": "over there", "nothing_of_the_kind": "1"}
    reply = last({"do": "answer", "calculator": "drawing-size", "inputs": {}, "aside": aside})
    assert reply["outcome"] == "result"
    assert reply["parsed"]["corner_top_left"] == [1, 2]
    assert "corner_top_right" not in reply["parsed"]


@pytest.mark.parametrize("data", [b"", b"nothing known", b"\x89PNG\r\n\x1a\n", b"<svg>"])
def test_file_names_never_break_a_sentence(data):
    files = {"picture": {"name": "\u202egnp.\n" + "x" * 5000 + "\u2028crest.png", "bytes": 0}}
    (problem,) = last({"do": "answer", "calculator": "trace", "files": files}, [data])["problems"]
    assert "x crest.png" in problem["text"] and len(problem["text"]) < 160
    assert problem["text"].isprintable() and problem["hint"].isprintable()


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("typed", ["1e999", "-1e999 mm", "1e300 m", "1e29", "1e40", "1e-300", "1e-999 in", "3e27 in"])
def test_an_infinite_length_is_left_as_typed(typed, unit):
    reply = last(
        {
            "do": "restate",
            "calculator": "resolution",
            "units": unit,
            "inputs": {"width_mm": typed, "viewing_distance_mm": "254"},
        }
    )
    assert reply["outcome"] == "restated"
    assert reply["inputs"]["viewing_distance_mm"] == {"mm": "254", "in": "10"}[unit]
    assert len(reply["inputs"].get("width_mm", "")) <= 100


@pytest.mark.parametrize("inputs", [None, [], "width", 3, True, [["width_mm", "3"]]])
def test_inputs_must_be_an_object(inputs):
    for more in (
        {"inputs": inputs},
        {"inputs": {}, "aside": inputs},
        {"do": "restate", "units": "in", "inputs": inputs},
    ):
        reply = last({"do": "answer", "calculator": "resolution"} | more)
        assert reply == {
            "outcome": "problems",
            "problems": [{"field": "", "text": "The input takes a JSON object of texts", "hint": ""}],
        }


@pytest.mark.parametrize("rows", [None, 3, "", {}, [1], [None], [{"name": 3}], [[]], [{}, "x"]])
@pytest.mark.parametrize(("calculator", "field"), [("clean-picture", "changes"), ("contribute", "causes")])
def test_invalid_rows_are_reported_and_not_restated(calculator, field, rows):
    assert last({"do": "answer", "calculator": calculator, "inputs": {field: rows}})["outcome"] == "problems"
    assert (
        last({"do": "restate", "calculator": calculator, "units": "in", "inputs": {field: rows}})["outcome"]
        == "restated"
    )


def test_lone_surrogates_are_replaced():
    asked_for = {
        "do": "answer",
        "calculator": "symptom-finder",
        "inputs": {"seen": "frosty \ud800 patches \udfff\ud83e\udd86"},
    }
    ((text, _buffers),) = answer(json.dumps(asked_for))
    assert "frosty \ufffd patches \ufffd\U0001f986" in text.encode().decode()
