"""JSON Schemas of the tables, made from their declarations, by which editors complete and underline.

They say what one row may hold. What concerns several rows (ids, references, names) only the checker
knows: ``python -m builder check``.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from builder.check_part import FACT_KEYS, SOURCE_KEYS
from builder.check_row import FORWARDING, JUDGEMENT_KEYS, STATEMENT_KEYS
from calculators.tables import FOLDERS, MARKS, STATUSES, TABLES, VERDICTS, Column, columns, required
from calculators.tables.rules import file_of

#: Their folder, below the project.
FOLDER = "data/schemas"

#: The version that editors' YAML support knows best.
_DRAFT = "http://json-schema.org/draft-07/schema#"
_ID = "^[a-z0-9]+(-[a-z0-9]+)*$"
_TEXT = {
    "type": "string",
    "minLength": 1,
    "pattern": r"^\S(.*\S)?$",
    "not": {"pattern": r"<[a-zA-Z/!?]|&#?\w+;|\{\{|\{%"},
}


def write_schemas(root: Path) -> list[Path]:
    """Write the schema of each table below ``root`` and return their paths."""
    folder = root / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for path in folder.glob("*.json"):
        if path.stem not in TABLES:
            path.unlink()
    written = []
    for table in TABLES:
        path = folder / f"{table}.json"
        path.write_text(json.dumps(schema(table), indent=1, ensure_ascii=False) + "\n", "utf-8")
        written.append(path)
    return written


def schema(table: str) -> dict[str, Any]:
    """Return the schema of a file of ``table``. Raises KeyError for an unknown table."""
    row = {"if": {"type": "object", "required": ["now"]}, "then": _forwarding(table), "else": row_schema(table)}
    definitions = {"source": _source(), "text": _TEXT}
    if table in FOLDERS:
        return {"$schema": _DRAFT, "title": f"data/{table}/", **row, "definitions": definitions}
    return {"$schema": _DRAFT, "title": file_of(table), "type": "array", "items": row, "definitions": definitions}


def row_schema(table: str) -> dict[str, Any]:
    """Return the schema of one row of ``table``."""
    made = _object(TABLES[table], *(("id",) if table in FOLDERS else ()))
    return {**made, **_status_with_document()} if "source" in columns(TABLES[table]) else made


def _object(declared: type, *without: str) -> dict[str, Any]:
    """Return the schema of what has the declared parts but those in ``without``."""
    parts = {
        name: {**_part(column), "description": _described(column)}
        for name, column in columns(declared).items()
        if name not in without
    }
    return _closed(parts, [name for name in required(declared) if name not in without])


def _part(column: Column) -> dict[str, Any]:
    match column.holds:
        case "id" | "ref":
            return {"type": "string", "pattern": _ID}
        case "yes-no":
            return {"type": "boolean"}
        case "whole":
            return {"type": "integer", "minimum": int(column.low), "maximum": int(column.high)}
        case "url":
            return {"type": "string", "pattern": "^https://", "format": "uri"}
        case "source":
            return {"$ref": "#/definitions/source"}
        case "fact":
            return _fact(column)
        case "texts":
            return {**_list(column, _text(column)), "uniqueItems": True}
        case "refs":
            return {**_list(column, {"type": "string", "pattern": _ID}), "uniqueItems": True}
        case "parts":
            return _list(column, _object(column.parts))
        case "judgements":
            what = {"type": "string", "pattern": f"^({'|'.join(column.table)})/{_ID[1:]}"}
            parts = {"what": what, "verdict": {"enum": list(VERDICTS)}, "why": _words()}
            return {"type": "array", "items": _closed(parts, JUDGEMENT_KEYS), "minItems": column.fewest}
        case "statements":
            parts = {"says": _words(), "source": {"$ref": "#/definitions/source"}, "status": _status(safety=True)}
            return {"type": "array", "items": _closed(parts, STATEMENT_KEYS)}
    return _text(column)


def _list(column: Column, items: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "array",
        "items": items,
        "minItems": column.fewest,
        **({"maxItems": column.at_most} if column.at_most else {}),
    }


def _text(column: Column) -> dict[str, Any]:
    if column.one_of:
        return {"enum": list(column.one_of)}
    ends = {"heading": {"pattern": r"[^.]$"}, "sentences": {"pattern": r"[.?!][\"”’)]*$"}}.get(column.wording, {})
    return {**_words(), "maxLength": column.most, **ends}


def _words() -> dict[str, Any]:
    return {"allOf": [{"$ref": "#/definitions/text"}]}


def _fact(column: Column) -> dict[str, Any]:
    number: dict[str, Any] = {"type": "number"}
    if not column.units:  # a wait's bounds depend on its unit
        number |= {"minimum": column.low, "maximum": column.high}
    unit = {"enum": list(column.units)} if column.units else {"const": column.unit}
    parts = dict(
        zip(
            FACT_KEYS,
            [
                number,
                number,
                number,
                unit,
                {"$ref": "#/definitions/source"},
                _status(safety=column.safety),
                _words(),
            ],
            strict=True,
        )
    )
    if column.safety:
        parts["source"] = {"allOf": [{"$ref": "#/definitions/source"}, {"type": "object"}]}
    one_or_range = [
        {"required": ["value"], "not": {"anyOf": [{"required": ["low"]}, {"required": ["high"]}]}},
        {"required": ["low", "high"], "not": {"required": ["value"]}},
    ]
    return {**_closed(parts, ("unit", "source")), "oneOf": one_or_range, **_status_with_document()}


def _status(*, safety: bool) -> dict[str, Any]:
    return {"enum": [each for each in STATUSES if not (safety and each == "memory")]}


def _status_with_document() -> dict[str, Any]:
    return {
        "if": {"properties": {"source": {"enum": list(MARKS)}}},
        "then": {"not": {"required": ["status"]}},
        "else": {"required": ["status"]},
    }


def _source() -> dict[str, Any]:
    document = _closed({"ref": {"type": "string", "pattern": _ID}, "at": _words()}, SOURCE_KEYS)
    return {"anyOf": [{"enum": list(MARKS)}, document]}


def _forwarding(table: str) -> dict[str, Any]:
    names = [name for name in FORWARDING if not (name == "id" and table in FOLDERS)]
    return _closed({name: {"type": "string", "pattern": _ID} for name in names}, names)


def _closed(properties: dict[str, Any], needed: Any) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": list(needed), "additionalProperties": False}


def _described(column: Column) -> str:
    unit = f" Unit: {', '.join(column.units) or column.unit}." if column.holds == "fact" else ""
    tables = f" From {', '.join(file_of(each).removeprefix('data/') for each in column.table)}." if column.table else ""
    return f"{column.label}: {column.help}.{unit}{tables}"
