"""Requests to the command line's Python and the page's, to check that both give the same numbers."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Sequence
from typing import Any

from calculators import catalogue
from calculators.read import read
from calculators.view import plain

WITHIN = 1e-9
#: Colours that take few steps and many, dark, pale, pure and grey ones.
_COLOURS = [
    "#ffffff",
    "#000000",
    "#000001",
    "#ff0000",
    "#0000ff",
    "#ffff00",
    "#a50f8e",
    "#7a2232",
    "#7f7f7f",
    "#f4f4f0",
    "#013c02",
    "#24443a",
]
COLOURS_ASKED = [
    {
        "do": "answer",
        "calculator": "seen-colour",
        "inputs": {
            "artwork_colour": colour,
            "base_a": _COLOURS[(place + 3) % 12],
            "base_b": _COLOURS[(place + 7) % 12],
            "film": ("clear", "white")[place % 2],
            "white_layers": str(place % 5),
        },
    }
    for place, colour in enumerate(_COLOURS)
]


def defaults_asked() -> list[dict[str, Any]]:
    """Return a request for the worked example of every calculator."""
    return [{"do": "answer", "calculator": id, "inputs": {}} for id in catalogue.every()]


def check_same(asked: Sequence[dict[str, Any]], results: Sequence[Any]) -> None:
    """Assert that ``results`` are, within 1e-9, what the calculators answer here when they are ``asked``."""
    for request, theirs in zip(asked, results, strict=True):
        calculator = catalogue.find(request["calculator"])
        ours = dict(
            _values(json.loads(json.dumps(plain(calculator.answer(read(calculator.inputs, request["inputs"]).inputs)))))
        )
        theirs = dict(_values(theirs))
        assert theirs.keys() == ours.keys(), request
        for path, value in ours.items():
            if isinstance(value, float):
                assert math.isclose(theirs[path], value, rel_tol=WITHIN, abs_tol=WITHIN), (
                    request,
                    path,
                    theirs[path],
                    value,
                )
            else:
                assert theirs[path] == value, (request, path)


def _values(result: object, path: str = "") -> Iterator[tuple[str, Any]]:
    """Yield every value of a result with its path."""
    if isinstance(result, dict):
        for name, value in result.items():
            yield from _values(value, f"{path}.{name}")
    elif isinstance(result, list):
        for place, value in enumerate(result):
            yield from _values(value, f"{path}[{place}]")
    else:
        yield path, result
