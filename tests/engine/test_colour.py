"""Colours are the same numbers in Pyodide as natively, within 1e-9."""

from __future__ import annotations

import json
import math

from calculators import catalogue
from calculators.read import read
from calculators.view import plain

WITHIN = 1e-9
#: Colours that take few steps and many, dark, pale, pure and grey ones.
COLOURS = ["#ffffff", "#000000", "#000001", "#ff0000", "#0000ff", "#ffff00", "#a50f8e", "#7a2232", "#7f7f7f", "#f4f4f0", "#013c02", "#24443a"]
ASKED = [
    {"artwork_colour": colour, "base_a": COLOURS[(place + 3) % 12], "base_b": COLOURS[(place + 7) % 12],
     "film": ("clear", "white")[place % 2], "white_layers": str(place % 5)}
    for place, colour in enumerate(COLOURS)
]  # fmt: skip


def numbers_in(result: object, path: str = ""):
    """Yield every value of a result with its path."""
    if isinstance(result, dict):
        for name, value in result.items():
            yield from numbers_in(value, f"{path}.{name}")
    elif isinstance(result, list):
        for place, value in enumerate(result):
            yield from numbers_in(value, f"{path}[{place}]")
    else:
        yield path, result


def test_numbers_are_those_of_the_command_line(ask_all):
    calculator = catalogue.find("seen-colour")
    replies = ask_all([{"do": "answer", "calculator": "seen-colour", "inputs": each} for each in ASKED])["answers"]
    for asked, reply in zip(ASKED, replies, strict=True):
        assert reply["outcome"] == "result", reply
        ours = json.loads(json.dumps(plain(calculator.answer(read(calculator.inputs, asked).inputs))))
        theirs = dict(numbers_in(reply["result"]))
        for path, value in numbers_in(ours):
            if isinstance(value, float):
                assert math.isclose(theirs[path], value, rel_tol=WITHIN, abs_tol=WITHIN), (asked, path)
            else:
                assert theirs[path] == value, (asked, path)
        assert len(theirs) == len(dict(numbers_in(ours)))
