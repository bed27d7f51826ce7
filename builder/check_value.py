"""One value of a row: whether it is what its column declares, and how it is written if not."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

import yaml

from calculators import numbers
from calculators.tables import Column
from calculators.tables.rules import pattern, short, wrong_text

_READ_AS = {
    "bool": "true or false",
    "int": "a number",
    "float": "a number",
    "timestamp": "a date",
    "null": "nothing",
    "merge": "a merge key",
    "value": "a sign",
}


def wrong_value(node: yaml.Node, name: str, column: Column) -> tuple[str, str] | None:
    """Return what is wrong with one value that is not a fact, and the cure; None if it is correct."""
    if not isinstance(node, yaml.ScalarNode):
        return f"'{name}' must be one value", f"write {pattern(name, column)} on one line"
    value, tag = node.value, node.tag.rpartition(":")[2]
    if not value:
        return wrong_text(value, name, column)
    match column.holds:
        case "id":
            return wrong_text(value, name, column) or _not_text(node, name, tag)
        case "yes-no":
            if value not in ("true", "false") or tag != "bool":
                meant = {"yes": "true", "on": "true", "no": "false", "off": "false"}.get(value.lower(), value.lower())
                return _cannot(name, value), f"write {meant if meant in ('true', 'false') else 'true or false'}"
        case "whole":
            low, high = int(column.low), int(column.high)
            if tag != "int" or not re.fullmatch(r"[1-9]\d{0,8}|0", value) or not low <= int(value) <= high:
                return _cannot(name, value), f"a whole number from {low} to {high}"
        case "url":
            if not is_address(value):
                return _cannot(name, value), "an address that begins with https://"
        case _:
            if not node.style and value.endswith('"') and value.count('"') == 1:
                inner = value[:-1]
                return (
                    f"'{name}' ends with a quotation mark that was not opened",
                    f'write "{short(inner)}", or "{short(inner)}\\"" if it belongs to the text',
                )
            return _not_text(node, name, tag) or wrong_text(value, name, column)
    return None


def _cannot(name: str, value: str) -> str:
    return f"'{name}' cannot be '{short(value)}'"


def _not_text(node: yaml.ScalarNode, name: str, tag: str) -> tuple[str, str] | None:
    if tag == "str":
        return None
    return (
        f"'{name}' is read as {_READ_AS.get(tag, tag)}, not as words",
        f'put it in double quotes: "{short(node.value)}"',
    )


def number(node: yaml.Node, key: str) -> float | str:
    """Return the number that is written, or how to write one where it is none."""
    written = node.value if isinstance(node, yaml.ScalarNode) else ""
    if (
        isinstance(node, yaml.ScalarNode)
        and not node.style
        and re.fullmatch(r"-?(?:0|[1-9]\d{0,11})(?:\.\d{1,12})?", written)
    ):
        return float(written)
    plain = written.strip().replace("−", "-").lstrip("+")
    comma = re.fullmatch(r"-?\d+,\d+", plain)
    exponent = re.fullmatch(r"-?\d+(?:\.\d+)?e[-+]?\d{1,2}", plain, re.IGNORECASE)
    with_unit = re.fullmatch(r"(?:1:)?(-?\d+(?:\.\d+)?)\s*([^\d\s.,]\S*)?", plain)
    fix = "digits with a point, and no unit: '0.15'"
    if comma:
        fix = f"write '{key}: {plain.replace(',', '.')}'"
    elif exponent:
        fix = f"write '{key}: {numbers.plain(float(plain))}'"
    elif with_unit:
        fix = f"write '{key}: {numbers.plain(float(with_unit[1]))}'" + (
            ", and the unit in 'unit'" if with_unit[2] or plain.startswith("1:") else ""
        )
    elif re.fullmatch(r"-?\.\d+", plain):
        fix = f"write '{key}: {plain.replace('.', '0.', 1)}'"
    return fix


def is_address(text: str) -> bool:
    """Whether ``text`` is an https address with a host that can be looked up."""
    if not re.fullmatch(r"https://[!#-;=?-Z\[\]_a-z~]+", text):
        return False
    try:
        host = urlsplit(text).hostname or ""
    except ValueError:
        return False
    return (
        "@" not in text.split("/")[2] and re.fullmatch(r"[a-z0-9](?:[a-z0-9.-]*[a-z0-9])?\.[a-z]{2,}", host) is not None
    )
