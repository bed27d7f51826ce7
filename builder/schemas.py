"""JSON Schemas of the tables, made from their declarations, by which editors complete and underline.

They say what one row may hold. What concerns several rows (ids, references, names) only the checker
knows: ``python -m builder check``.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from builder.check_row import FACT_KEYS, FORWARDING, JUDGEMENT_KEYS, SOURCE_KEYS, STATEMENT_KEYS
from calculators.tables import COMMON_PRACTICE, STATUSES, TABLES, VERDICTS, Column, columns, required

#: Where they are kept, below the project.
FOLDER = "data/schemas"

#: The version that editors' YAML support knows best.
_DRAFT = "http://json-schema.org/draft-07/schema#"
_ID = "^[a-z0-9]+(-[a-z0-9]+)*$"
_TEXT = {"type": "string", "minLength": 1, "pattern": r"^\S(.*\S)?$", "not": {"pattern": r"<[a-zA-Z/!?]|&#?\w+;|\{\{|\{%"}}


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
    return {
        "$schema": _DRAFT,
        "title": f"data/{table}.yaml",
        "type": "array",
        "items": {"if": {"type": "object", "required": ["now"]}, "then": _forwarding(), "else": row_schema(table)},
        "definitions": {"source": _source(), "text": _TEXT},
    }


def row_schema(table: str) -> dict[str, Any]:
    """Return the schema of one row of ``table``."""
    declared = columns(TABLES[table])
    made = _closed({name: {**_part(column), "description": _described(column)} for name, column in declared.items()}, required(TABLES[table]))
    return {**made, **_status_with_document()} if "source" in declared else made


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
            return {"type": "array", "items": _text(column), "minItems": column.fewest, "uniqueItems": True}
        case "refs":
            return {"type": "array", "items": {"type": "string", "pattern": _ID}, "minItems": column.fewest, "uniqueItems": True}
        case "judgements":
            what = {"type": "string", "pattern": f"^({'|'.join(column.table)})/{_ID[1:]}"}
            parts = {"what": what, "verdict": {"enum": list(VERDICTS)}, "why": _words()}
            return {"type": "array", "items": _closed(parts, JUDGEMENT_KEYS), "minItems": column.fewest}
        case "statements":
            parts = {"says": _words(), "source": {"$ref": "#/definitions/source"}, "status": _status(safety=True)}
            return {"type": "array", "items": _closed(parts, STATEMENT_KEYS)}
    return _text(column)


def _text(column: Column) -> dict[str, Any]:
    return {"enum": list(column.one_of)} if column.one_of else {**_words(), "maxLength": column.most}


def _words() -> dict[str, Any]:
    return {"allOf": [{"$ref": "#/definitions/text"}]}


def _fact(column: Column) -> dict[str, Any]:
    number: dict[str, Any] = {"type": "number"}
    if not column.units:  # a wait's bounds depend on its unit
        number |= {"minimum": column.low, "maximum": column.high}
    unit = {"enum": list(column.units)} if column.units else {"const": column.unit}
    parts = dict(zip(FACT_KEYS, [
        number, number, number, unit, {"$ref": "#/definitions/source"}, _status(safety=column.safety), _words(),
    ], strict=True))  # fmt: skip
    if column.safety:
        parts["source"] = {"allOf": [{"$ref": "#/definitions/source"}, {"type": "object"}]}
    one_or_range = [{"required": ["value"], "not": {"anyOf": [{"required": ["low"]}, {"required": ["high"]}]}},
                    {"required": ["low", "high"], "not": {"required": ["value"]}}]  # fmt: skip
    return {**_closed(parts, ("unit", "source")), "oneOf": one_or_range, **_status_with_document()}


def _status(*, safety: bool) -> dict[str, Any]:
    return {"enum": [each for each in STATUSES if not (safety and each == "memory")]}


def _status_with_document() -> dict[str, Any]:
    return {
        "if": {"properties": {"source": {"const": COMMON_PRACTICE}}},
        "then": {"not": {"required": ["status"]}},
        "else": {"required": ["status"]},
    }


def _source() -> dict[str, Any]:
    document = _closed({"ref": {"type": "string", "pattern": _ID}, "at": _words()}, SOURCE_KEYS)
    return {"anyOf": [{"const": COMMON_PRACTICE}, document]}


def _forwarding() -> dict[str, Any]:
    return _closed({name: {"type": "string", "pattern": _ID} for name in FORWARDING}, FORWARDING)


def _closed(properties: dict[str, Any], needed: Any) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": list(needed), "additionalProperties": False}


def _described(column: Column) -> str:
    unit = f" Unit: {', '.join(column.units) or column.unit}." if column.holds == "fact" else ""
    tables = f" From {', '.join(f'{each}.yaml' for each in column.table)}." if column.table else ""
    return f"{column.label}: {column.help}.{unit}{tables}"
