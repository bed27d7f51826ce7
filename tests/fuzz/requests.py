"""Requests to all calculators, made from the grammars and reproducible by number and seed."""

from __future__ import annotations

import json
from dataclasses import dataclass
from random import Random
from typing import Any

from calculators import catalogue
from calculators.declare import (
    ChoiceField,
    ColourField,
    Field,
    FileField,
    NumberField,
    PointField,
    RowsField,
    TextField,
    YesNoField,
    asked,
)
from tests.fuzz import drawings, texts

#: Grammars for typing into any field, regardless of its kind.
ANYTHING = (
    texts.quantity,
    texts.listed,
    texts.colour,
    texts.point,
    texts.words,
    texts.file_name,
    lambda chance: texts.letters(chance, 200),
)


@dataclass(frozen=True)
class Request:
    """The arguments of ``calculators.answer``."""

    number: int
    envelope: str
    buffers: list[bytes]

    @property
    def calculator(self) -> str:
        return json.loads(self.envelope)["calculator"]


def request(seed: int, number: int) -> Request:
    """Return the request with that number; calculators take turns."""
    chance = Random(f"{seed}:{number}")
    calculators = list(catalogue.every().values())
    calculator = calculators[number % len(calculators)]
    buffers: list[bytes] = []
    envelope: dict[str, Any] = {
        "do": chance.choice(("answer",) * 8 + ("restate", "inspect")),
        "calculator": calculator.id,
        "units": chance.choice(("mm", "in")),
        "inputs": _typed(chance, calculator.inputs),
        "files": _files(chance, asked(calculator.inputs), buffers),
    }
    if chance.random() < 0.1:
        envelope["aside"] = _typed(chance, calculator.inputs)
    if chance.random() < 0.2:
        envelope["read_first"] = True
    if chance.random() < 0.03:
        envelope[chance.choice(("inputs", "aside"))] = texts.json_value(chance)
    # Unknown field names, as from a manipulated page.
    if chance.random() < 0.03 and envelope["do"] != "inspect" and isinstance(envelope["inputs"], dict):
        envelope["inputs"][texts.letters(chance, 30)] = texts.letters(chance, 30)
        envelope["files"] |= {texts.letters(chance, 12): each for each in list(envelope["files"].values())[:1]}
    return Request(number, json.dumps(envelope), buffers)


def _typed(chance: Random, inputs: type) -> dict[str, Any]:
    """Texts for some of the fields, mostly valid so that there is something to calculate."""
    fields = {name: field for name, field in asked(inputs).items() if not isinstance(field, FileField)}
    taken = chance.sample(list(fields), min(len(fields), chance.choice((0, 1, 1, 2, 3, 8))))
    sound = chance.random() < 0.7
    made: dict[str, Any] = {}
    for name in taken:
        if sound or chance.random() < 0.4:
            made[name] = _sound(chance, fields[name])
        else:
            made[name] = texts.json_value(chance) if chance.random() < 0.08 else chance.choice(ANYTHING)(chance)
    return made


def _sound(chance: Random, field: Field) -> Any:
    match field:
        case NumberField():
            unit = chance.choice((" mm", "")) if field.is_length else ""
            return (
                texts.within(chance, field.low, field.high, field.whole) + unit
                if chance.random() < 0.8
                else texts.quantity(chance)
            )
        case ChoiceField():
            return chance.choice(list(field.labels()))
        case YesNoField():
            return chance.choice(("yes", "no"))
        case ColourField():
            return texts.colour(chance)
        case PointField():
            return texts.point(chance)
        case RowsField():
            return [_typed(chance, field.row) for _ in range(chance.choice((0, 1, 2, field.most, field.most + 1)))]
        case TextField():
            return chance.choice((texts.words, texts.listed))(chance)
        case _:
            return chance.choice(ANYTHING)(chance)


def _files(chance: Random, fields: dict[str, Field], buffers: list[bytes]) -> dict[str, Any]:
    """Files for the fields that take one; their bytes and pixels go into ``buffers``."""
    made = {}
    for name, field in fields.items():
        if isinstance(field, FileField) and chance.random() < 0.75:
            made[name] = {
                "name": texts.file_name(chance) if chance.random() < 0.5 else "crest.png",
                "bytes": len(buffers),
            }
            buffers.append(drawings.file(chance))
    return made
