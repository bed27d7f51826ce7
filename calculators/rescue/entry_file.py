"""A troubleshooting entry as its YAML file."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from calculators.tables import COMMON_PRACTICE, columns
from calculators.tables.rows import Trouble

FIRST_LINE = "# yaml-language-server: $schema=../schemas/troubleshooting.json"


def entry_file(plain: Mapping[str, Any]) -> str:
    """Return the YAML of an entry that is in order, part by part in the order of the declaration.

    Its id is the file's name.

    ``plain`` holds texts, lists of texts and lists of mappings. The words are common practice.
    """
    lines = [FIRST_LINE]
    for name, column in columns(Trouble).items():
        value = plain.get(name)
        if name in ("id", "source", "status") or not value:
            continue
        match column.holds:
            case "parts":
                lines.append(f"{name}:")
                for entry in value:
                    lines += [
                        f"{'    ' if place else '  - '}{part}: {_quoted(entry[part])}"
                        for place, part in enumerate(columns(column.row))
                    ]
            case "texts":
                lines += [f"{name}:", *(f"  - {_quoted(each)}" for each in value)]
            case "refs":
                lines.append(f"{name}: [{', '.join(value)}]")
            case _:
                lines.append(f"{name}: {value if column.one_of else _quoted(value)}")
    return "\n".join([*lines, f"source: {COMMON_PRACTICE}"]) + "\n"


def _quoted(text: str) -> str:
    # A JSON string is also a YAML string.
    return json.dumps(text, ensure_ascii=False)
