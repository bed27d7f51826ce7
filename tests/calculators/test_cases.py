"""The sourced cases of ``tests/cases`` on CPython; ``tests/engine`` runs the same ones in Pyodide."""

import json

import pytest

from calculators.answer import answer
from tests.cases import CASES, compared


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['calculator']}: {case['name']}")
def test_case(case):
    *_, (text, _buffers) = answer(
        json.dumps({"do": "answer", "calculator": case["calculator"], "inputs": case["inputs"]})
    )
    reply = json.loads(text)
    assert reply["outcome"] == "result", reply
    assert compared(case, reply["result"]) == []
