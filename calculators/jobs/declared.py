"""What migration needs to know of calculators: what each is about, and which values its fields share.

The builder packs it beside the jobs, so that a page need not load every calculator to read an old job.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from functools import cache

from calculators import catalogue, packaged
from calculators.declare import Calculator, asked

PACKED = "jobs/declared_calculators.json"


@dataclass(frozen=True)
class Declared:
    """What a calculator is about, and the names of the values that its fields share, by field."""

    about: str
    shares: Mapping[str, str]


def declared(id: str) -> Declared | None:
    """Return what a calculator declares; None if there is none of that id."""
    packed = _packed()
    if packed is not None:
        return packed.get(id)
    try:
        return _of(catalogue.find(id))
    except KeyError:
        return None


@cache
def _packed() -> Mapping[str, Declared] | None:
    data = packaged.read(PACKED)
    return None if data is None else {id: Declared(**each) for id, each in json.loads(data).items()}


def _of(calculator: Calculator) -> Declared:
    fields = asked(calculator.inputs)
    return Declared(calculator.about, {name: field.shares for name, field in fields.items() if field.shares})


def compiled() -> bytes:
    """Return the file that the builder packs into the wheel."""
    return json.dumps({id: asdict(_of(each)) for id, each in catalogue.every().items()}).encode()
