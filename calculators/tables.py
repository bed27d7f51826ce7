"""The data tables: what a row of each holds, and the one loader.

Contributors write YAML in ``data/``. In a checkout it is read as it stands; in the wheel that the
page runs, the builder has put the same rows as JSON beside this module.
"""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

COMPILED = "_tables.json"
DATA = Path(__file__).resolve().parent.parent / "data"

#: How a value is known; "common-practice" stands in place of a source, with no status.
COMMON_PRACTICE = "common-practice"
STATUSES = {
    "read": "read in the document",
    "package": "carried by a package",
    "computed": "worked out from the rule",
    "memory": "from memory, not looked up",
}


@dataclass(frozen=True)
class Fact:
    """A value with where it comes from: one number, or a range from ``low`` to ``high`` (then equal)."""

    low: float
    high: float
    unit: str
    source: str
    at: str = ""
    status: str = ""
    note: str = ""

    @property
    def value(self) -> float:
        """The one number; for a range that is a mistake of the caller."""
        if self.low != self.high:
            raise ValueError(f"a range of {self.low} to {self.high} {self.unit} has no single value")
        return self.low


@dataclass(frozen=True, kw_only=True)
class Column:
    """What a part of a row must be: ``holds`` is text, texts, yes-no, whole, fact, id or url."""

    label: str
    holds: str
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    one_of: tuple[str, ...] = ()


def column(label: str, holds: str = "text", *, required: bool = True, **more: Any) -> Any:
    """Declare a part of a row. What is not required may be missing and is then empty."""
    empty: Any = {"texts": (), "fact": None, "whole": None}.get(holds, "")
    given = {} if required else {"default": empty}
    return field(metadata={"column": Column(label=label, holds=holds, **more)}, **given)


@dataclass(frozen=True, kw_only=True)
class Row:
    """What every row has."""

    id: str = column("Id", "id")
    label: str = column("Name")
    note: str = column("Note", required=False)


KINDS_OF_MODEL = ("aircraft", "figure", "railway", "ship", "vehicle", "architecture")


@dataclass(frozen=True, kw_only=True)
class Scale(Row):
    kinds: tuple[str, ...] = column("Used for", "texts", one_of=KINDS_OF_MODEL)
    aliases: tuple[str, ...] = column("Also called", "texts")
    ratio: Fact = column("Ratio", "fact", unit="1:n", low=1, high=10_000)


@dataclass(frozen=True, kw_only=True)
class Printer(Row):
    prints_white: bool = column("Prints white", "yes-no")
    thinnest_line: Fact = column("Thinnest line, one colour", "fact", unit="mm", low=0.01, high=2)
    thinnest_line_colour: Fact = column(
        "Thinnest line, mixed colour or reversed out", "fact", unit="mm", low=0.01, high=2
    )


@dataclass(frozen=True, kw_only=True)
class Paper(Row):
    width: Fact = column("Width", "fact", unit="mm", low=50, high=2000)
    height: Fact = column("Height", "fact", unit="mm", low=50, high=2000)


@dataclass(frozen=True, kw_only=True)
class Source:
    """A document that rows and calculators refer to."""

    id: str = column("Id", "id")
    title: str = column("Title")
    publisher: str = column("Publisher")
    year: int = column("Year", "whole", low=1600, high=2100)
    read: str = column("Read", one_of=("whole", "part", "copy", "memory", "package"))
    url: str = column("Address", "url", required=False)
    note: str = column("Note", required=False)


#: Every table by the name of its file, with what a row of it is.
TABLES: dict[str, type] = {"scales": Scale, "printers": Printer, "papers": Paper, "sources": Source}


def columns(row: type) -> dict[str, Column]:
    """Return the declared parts of a row by name, in order."""
    return {each.name: each.metadata["column"] for each in dataclasses.fields(row)}


@cache
def load(table: str) -> tuple[Any, ...]:
    """Return all rows of ``table``, in the order of its file. Raises KeyError for an unknown table."""
    declared = TABLES[table]
    return tuple(_row(declared, plain) for plain in _plain(table))


@cache
def by_id(table: str) -> Mapping[str, Any]:
    """Return the rows of ``table`` by id, in order."""
    return {row.id: row for row in load(table)}


def row(table: str, id: str) -> Any:
    """Return one row. Raises KeyError for an unknown table or id."""
    return by_id(table)[id]


def compiled() -> str:
    """Return all tables as the JSON text that the builder packs into the wheel."""
    return json.dumps({table: _from_yaml(table) for table in TABLES}, ensure_ascii=False)


@cache
def _packed() -> Mapping[str, Any] | None:
    packed = resources.files("calculators") / COMPILED
    return json.loads(packed.read_text("utf-8")) if packed.is_file() else None


def _plain(table: str) -> list[dict[str, Any]]:
    packed = _packed()
    return packed[table] if packed is not None else _from_yaml(table)


def _from_yaml(table: str) -> list[dict[str, Any]]:
    import yaml  # only in a checkout; the page reads the packed JSON

    with (DATA / f"{table}.yaml").open(encoding="utf-8") as file:
        return yaml.load(file, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))


def _row(declared: type, plain: Mapping[str, Any]) -> Any:
    made = {}
    for name, value in plain.items():
        holds = columns(declared)[name].holds
        made[name] = _fact(value) if holds == "fact" else tuple(value) if holds == "texts" else value
    return declared(**made)


def _fact(plain: Mapping[str, Any]) -> Fact:
    source = plain["source"]
    where = {"source": source} if isinstance(source, str) else {"source": source["ref"], "at": source["at"]}
    return Fact(
        low=plain.get("low", plain.get("value")),
        high=plain.get("high", plain.get("value")),
        unit=plain["unit"],
        status=plain.get("status", ""),
        note=plain.get("note", ""),
        **where,
    )
