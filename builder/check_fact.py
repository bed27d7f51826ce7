"""Values with their units, and what they rest on: sources and how they are known."""

from __future__ import annotations

import dataclasses
import difflib
import re
from functools import cache

import yaml

from builder.check_part import FACT_KEYS, SOURCE_KEYS, TEXT, PartCheck, Parts
from builder.check_value import number
from calculators import numbers
from calculators.tables import COMMON_PRACTICE, HOURS, MARKS, STATUSES, Column
from calculators.tables.rules import short

_NUMBER = re.compile(r"[-−+]?\d+(?:\.\d+)?")
#: What each degree of reading a source can support.
_KNOWN_BY = {"memory": ("computed", "memory"), "package": ("package", "computed")}


@cache
def _fact_columns(column: Column) -> dict[str, Column]:
    """What each part of a fact takes, for the cure where one is missing."""
    return {
        **{name: dataclasses.replace(TEXT, holds="number") for name in FACT_KEYS},
        "unit": dataclasses.replace(TEXT, one_of=column.units or (column.unit,)),
        "status": dataclasses.replace(TEXT, one_of=tuple(STATUSES)),
        "note": TEXT,
        "source": dataclasses.replace(TEXT, holds="document" if column.safety else "source"),
    }


class FactCheck(PartCheck):
    """Checks facts and origins within a row."""

    # -- Facts

    def _fact(self, node: yaml.Node, name: str, column: Column) -> None:
        if not isinstance(node, yaml.MappingNode):
            number = _NUMBER.search(getattr(node, "value", "") or "")
            digits = number[0] if number else "…"
            fix = f"write '{name}: {{value: {digits}, unit: {column.unit}, source: {COMMON_PRACTICE}}}'"
            self.report(node, f"'{name}' must be a value with its unit and source", fix)
            return
        parts = self.parts(node) or {}
        ranged = "low" in parts or "high" in parts
        if ranged and "value" in parts:
            self.report(parts["value"][0], "'value' stands beside a range", "keep 'value' alone, or 'low' and 'high'")
        value = ("low", "high") if ranged and "value" not in parts else () if ranged else ("value",)
        needed = [*value, "unit", "source", *self._status_needed(parts)]
        self._keys(node, parts, _fact_columns(column), [each for each in needed if (name, each) not in self._misplaced])
        unit = self._unit(parts, name, column)
        self._numbers(parts, name, column, unit)
        if "note" in parts:
            self._scalar(parts["note"][1], "note", TEXT)
        self._origin(parts, safety=column.safety)

    def _unit(self, parts: Parts, name: str, column: Column) -> str:
        """Return the unit; None if it is missing or wrong."""
        if "unit" not in parts:
            return ""
        node = parts["unit"][1]
        written = node.value if isinstance(node, yaml.ScalarNode) else ""
        units = column.units or (column.unit,)
        if written in units:
            return written
        what = f"the unit of '{name}' is '{units[0]}'" if len(units) == 1 else f"'{written}' is no unit of '{name}'"
        # Suggest no similar unit if several are allowed: minutes are not months.
        wanted = f"convert the value and write 'unit: {units[0]}'" if len(units) == 1 else f"one of {', '.join(units)}"
        self.report(node, what, wanted)
        return ""

    def _numbers(self, parts: Parts, name: str, column: Column, unit: str) -> None:
        values = {}
        for key in ("value", "low", "high"):
            if key not in parts:
                continue
            node = parts[key][1]
            value = number(node, key)
            if isinstance(value, str):
                self.report(node, f"'{key}' must be a number", value)
                continue
            if any(each.isdigit() and not getattr(parts[each][1], "value", "") for each in parts):
                continue  # a comma cut the number in two
            low, high = column.bounds(unit) if unit else (value, value)
            if not low <= value <= high:
                taken = f"{numbers.plain(low)} to {numbers.plain(high)} {unit}"
                if unit in HOURS:
                    taken = "1 s to 10 years"
                self.report(
                    node,
                    f"{node.value} is no likely '{name}'",
                    f"values from {taken} are taken; look at unit and point",
                )
                continue
            values[key] = value
        if "low" in values and "high" in values and values["low"] > values["high"]:
            self.report(
                parts["low"][1],
                "'low' is above 'high'",
                f"write 'low: {parts['high'][1].value}, high: {parts['low'][1].value}'",
            )

    def _rising(self, parts: Parts) -> None:
        before, name_before = None, ""
        for name in getattr(self._declared, "RISING", ()):
            ends = self._ends(parts, name)
            if ends is None:
                continue
            if before is not None and (ends[0] < before[0] or ends[1] < before[1]):
                self.report(parts[name][1], f"'{name}' is below '{name_before}'", "look at values and units of both")
            before, name_before = ends, name

    def _ends(self, parts: Parts, name: str) -> tuple[float, float] | None:
        node = parts[name][1] if name in parts else None
        if not isinstance(node, yaml.MappingNode):
            return None
        plain = {key.value: value.value for key, value in node.value if isinstance(value, yaml.ScalarNode)}
        try:
            ends = [float(plain.get(end, plain.get("value", ""))) for end in ("low", "high")]
            low, high = (self._columns[name].in_base(end, plain["unit"]) for end in ends)
        except (ValueError, KeyError):
            return None
        column = self._columns[name]
        return (low, high) if column.low <= low <= high <= column.high else None

    # -- Sources

    def _status_needed(self, parts: Parts) -> tuple[str, ...]:
        """What names a document says how it is known."""
        node = parts["source"][1] if "source" in parts else None
        named = isinstance(node, yaml.MappingNode) and any(key.value in SOURCE_KEYS for key, _ in node.value)
        return ("status",) if named else ()

    def _origin(self, parts: Parts, *, safety: bool) -> None:
        """Check source and status, which belong together."""
        source = parts["source"][1] if "source" in parts else None
        status = parts["status"][1] if "status" in parts else None
        mark = source.value if isinstance(source, yaml.ScalarNode) and source.value in MARKS else ""
        if source is not None and mark and safety:
            self.report(
                source, f"a safety figure cannot be '{mark}'", "name the document that was read, or take the value out"
            )
        elif mark and status is not None:
            self.report(parts["status"][0], f"'{mark}' has no status", "take 'status' out")
        elif source is not None and not mark:
            self._source(source)
        if status is None or mark:
            return
        if not self._scalar(status, "status", dataclasses.replace(TEXT, one_of=tuple(STATUSES))):
            return
        if safety and status.value == "memory":
            self.report(
                status,
                "a safety figure from memory is not shipped",
                "name the document that was read, or take the value out",
            )
        elif isinstance(source, yaml.MappingNode):
            ref = next((value.value for key, value in source.value if key.value == "ref"), "")
            read = self._known.read.get(ref, "") if isinstance(ref, str) else ""
            if read in _KNOWN_BY and status.value not in _KNOWN_BY[read]:
                self.report(
                    status,
                    f"'{ref}' is known by {read} only",
                    f"one of {', '.join(_KNOWN_BY[read])}, or correct 'read' in data/sources.yaml",
                )

    def _source(self, node: yaml.Node) -> None:
        if not isinstance(node, yaml.MappingNode) or not any(key.value in SOURCE_KEYS for key, _ in node.value):
            near = difflib.get_close_matches(node.value if isinstance(node, yaml.ScalarNode) else "", MARKS, n=1)
            others = ", ".join(f"'{each}'" for each in MARKS if each != COMMON_PRACTICE)
            fix = (
                f"did you mean '{near[0]}'?"
                if near
                else f"write 'source: {COMMON_PRACTICE}', or {others}, or 'source: {{ref: …, at: \"…\"}}'"
            )
            self.report(node, "this is no source", fix)
            return
        parts = self.parts(node) or {}
        self._keys(node, parts, SOURCE_KEYS, SOURCE_KEYS)
        ids = self._known.ids.get("sources")
        if "ref" in parts and self._scalar(parts["ref"][1], "ref", TEXT) and ids is not None:
            ref = parts["ref"][1]
            if ref.value not in ids:
                fix = self._known.nearest(ref.value, "sources", "take an id from that file, or add the source there")
                self.report(ref, f"source '{short(ref.value)}' is not in data/sources.yaml", fix)
        if "at" in parts:
            self._scalar(parts["at"][1], "at", TEXT)
