"""The data tables: what a row of each holds, and the one loader.

Contributors write YAML in ``data/``: a file with a list of rows for each table, or a folder with a
file for each row. In a checkout it is read directly; in the wheel that the
page runs, the builder has put the same rows as JSON beside this package.

Ids are for ever. A row that was renamed leaves a forwarding row, ``{id: old, now: new}``, in the
same file: ``row`` and ``current`` follow it, ``load`` and ``by_id`` leave it out.
"""

from __future__ import annotations

import json
import os.path
from collections.abc import Mapping
from functools import cache
from typing import Any

from calculators import packaged
from calculators.tables.declaration import (
    COMMON_PRACTICE,
    DRAWN_UP,
    ENTRIES,
    ESTIMATE,
    FOLDERS,
    HOURS,
    KINDS,
    LENGTHS,
    MARKS,
    SHARES,
    STATUSES,
    VERDICTS,
    Column,
    Fact,
    Judgement,
    Origin,
    Statement,
    columns,
    required,
)
from calculators.tables.row import Row
from calculators.tables.rows import TABLES

__all__ = [
    "COMMON_PRACTICE",
    "DATA",
    "DRAWN_UP",
    "ENTRIES",
    "ESTIMATE",
    "FOLDERS",
    "HOURS",
    "KINDS",
    "LENGTHS",
    "MARKS",
    "PACKED",
    "SHARES",
    "STATUSES",
    "TABLES",
    "VERDICTS",
    "Column",
    "Fact",
    "Judgement",
    "Origin",
    "Row",
    "Statement",
    "by_id",
    "columns",
    "compiled",
    "current",
    "forwards",
    "load",
    "names",
    "required",
    "row",
    "rows_from",
    "take",
]

#: The folder of packed tables, one JSON file each, so that a page loads only those it needs.
PACKED = "_tables"
#: The folder of the tables of a checkout.
DATA = os.path.join(os.path.dirname(os.path.dirname(os.path.dirname(os.path.realpath(__file__)))), "data")
_TAKEN: dict[str, list[dict[str, Any]]] = {}


@cache
def load(table: str) -> tuple[Any, ...]:
    """Return all rows of ``table``, in the order of its file. Raises KeyError for an unknown table."""
    return rows_from(table, _plain(table))


@cache
def by_id(table: str) -> Mapping[str, Any]:
    """Return the rows of ``table`` by id, in order. Raises KeyError for an unknown table."""
    return {row.id: row for row in load(table)}


@cache
def names(table: str) -> Mapping[str, str]:
    """Return the title of each row of a table of entries, by id. The page has these, and not the rows."""
    packed = packaged.read(f"{PACKED}/{table}.names.json")
    return _names(table) if packed is None else json.loads(packed)


@cache
def forwards(table: str) -> Mapping[str, str]:
    """Return the ids that rows of ``table`` had before, each with the id of now."""
    return {each["id"]: each["now"] for each in _plain(table) if "now" in each}


def current(table: str, id: str) -> str:
    """Return the current id for ``id``; an unknown id is returned unchanged."""
    renamed = forwards(table)
    while id in renamed:
        id = renamed[id]
    return id


def row(table: str, id: str) -> Any:
    """Return one row, under its old id too. Raises KeyError for an unknown table or id."""
    return by_id(table)[current(table, id)]


def rows_from(table: str, plain: list[dict[str, Any]]) -> tuple[Any, ...]:
    """Return checked plain rows of ``table`` as its dataclass; forwarding rows are left out."""
    declared = TABLES[table]
    return tuple(_row(declared, each) for each in plain if "now" not in each)


def compiled() -> dict[str, bytes]:
    """Return all tables as the files that the builder packs into the wheel, by path below ``calculators``."""
    packed: dict[str, Any] = {f"{table}.json": _from_yaml(table) for table in TABLES if table not in ENTRIES}
    # A table may have ten thousand rows, so the page gets only what it asks for.
    packed |= {f"{table}.names.json": _names(table) for table in ENTRIES}
    return {f"{PACKED}/{name}": json.dumps(held, ensure_ascii=False).encode() for name, held in packed.items()}


def _names(table: str) -> dict[str, str]:
    return {each["id"]: each["title"] for each in _from_yaml(table) if "now" not in each}


def _plain(table: str) -> list[dict[str, Any]]:
    packed = packaged.read(f"{PACKED}/{table}.json")
    return _from_yaml(table) if packed is None else json.loads(packed)


def take(rows: Mapping[str, list[dict[str, Any]]]) -> None:
    """Take rows that a caller has read from ``DATA``, by table, before any was loaded: they are not read again."""
    _TAKEN.update(rows)


@cache
def _from_yaml(table: str) -> list[dict[str, Any]]:
    # Only in a checkout; the page reads the packed JSON.
    from pathlib import Path

    import yaml

    if table in _TAKEN:
        return _TAKEN[table]
    if table not in TABLES:
        raise KeyError(table)
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    folder = Path(DATA, table)
    if folder.is_dir():
        # The id of a row with its own file is the file name.
        return [
            {"id": path.stem, **yaml.load(path.read_text("utf-8-sig"), Loader=loader)}
            for path in sorted(folder.glob("*.yaml"))
        ]
    rows: list[dict[str, Any]] = yaml.load(Path(DATA, f"{table}.yaml").read_text("utf-8-sig"), Loader=loader)
    return rows


def _row(declared: type, plain: Mapping[str, Any]) -> Any:
    parts = columns(declared)
    return declared(**{name: _part(parts[name], value) for name, value in plain.items()})


def _part(column: Column, value: Any) -> Any:
    match column.holds:
        case "fact":
            low, high = value.get("low", value.get("value")), value.get("high", value.get("value"))
            return Fact(low, high, value["unit"], **_origin(value), note=value.get("note", ""))
        case "source":
            return Origin(**_origin({"source": value}))
        case "judgements":
            return tuple(Judgement(**each) for each in value)
        case "statements":
            return tuple(Statement(each["says"], **_origin(each)) for each in value)
        case "parts":
            return tuple(_row(column.parts, each) for each in value)
        case "texts" | "refs":
            return tuple(value)
    return value


def _origin(plain: Mapping[str, Any]) -> dict[str, str]:
    source, status = plain["source"], plain.get("status", "")
    if isinstance(source, str):
        return {"source": source, "status": status}
    return {"source": source["ref"], "at": source["at"], "status": status}
