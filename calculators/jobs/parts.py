"""What a stored job is made of: lists, names with values, and dataclasses of declared attributes."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass
from typing import Any

from calculators import messages
from calculators.jobs import sentences
from calculators.jobs.shape import Kind, Problems, as_typed


@dataclass(frozen=True, kw_only=True)
class Many(Kind):
    """A list of what ``of`` reads, at most ``most`` long."""

    of: Kind
    most: int

    #: Between the entries in a cell; names of areas do not have it.
    BETWEEN = " | "

    def read(self, stored: Any, path: str, problems: Problems) -> tuple[Any, ...]:
        """Return the entries."""
        if not isinstance(stored, list):
            problems.add(path, sentences.TAKES.format(label=self.label, takes=sentences.A_LIST), as_typed(stored))
            return ()
        if len(stored) > self.most:
            problems.add(path, sentences.TOO_MANY.format(label=self.label, count=len(stored), most=self.most))
            return ()
        return tuple(self.of.read(each, f"{path}[{place}]", problems) for place, each in enumerate(stored))

    def plain(self, value: tuple[Any, ...]) -> list[Any]:
        """Return the entries as a list."""
        return [self.of.plain(each) for each in value]

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return what the entries are."""
        return self.described({"type": "array", "maxItems": self.most, "items": self.of.schema(parts)})

    def cell(self, value: tuple[Any, ...]) -> str:
        """Return the entries in one text."""
        return self.BETWEEN.join(map(self.of.cell, value))

    def of_cell(self, text: str, path: str, problems: Problems) -> tuple[Any, ...]:
        """Return the entries of a text."""
        found = [each.strip() for each in text.split(self.BETWEEN.strip()) if each.strip()]
        if len(found) > self.most:
            problems.add(path, sentences.TOO_MANY.format(label=self.label, count=len(found), most=self.most))
            return ()
        return tuple(self.of.of_cell(each, path, problems) for each in found)


@dataclass(frozen=True, kw_only=True)
class ByName(Kind):
    """What ``of`` reads by name, at most ``most``."""

    of: Kind
    most: int = 60
    names: str = r"[A-Za-z0-9_.\-\[\]]{1,80}"

    def read(self, stored: Any, path: str, problems: Problems) -> dict[str, Any]:
        """Return the entries by name."""
        if not isinstance(stored, Mapping):
            problems.add(path, sentences.TAKES.format(label=self.label, takes=sentences.AN_OBJECT), as_typed(stored))
            return {}
        if len(stored) > self.most:
            problems.add(path, sentences.TOO_MANY.format(label=self.label, count=len(stored), most=self.most))
            return {}
        odd = [name for name in stored if not re.fullmatch(self.names, name)]
        for name in odd:
            problems.add(path, sentences.ODD_NAME.format(label=self.label), as_typed(name))
        return {
            name: self.of.read(each, f"{path}.{name}", problems) for name, each in stored.items() if name not in odd
        }

    def plain(self, value: Mapping[str, Any]) -> dict[str, Any]:
        """Return the entries by name, in the order of the names."""
        return {name: self.of.plain(value[name]) for name in sorted(value)}

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return what the entries are."""
        return self.described(
            {
                "type": "object",
                "maxProperties": self.most,
                "propertyNames": {"pattern": f"^({self.names})$"},
                "additionalProperties": self.of.schema(parts),
            }
        )


@dataclass(frozen=True, kw_only=True)
class TypedInputs(Kind):
    """The inputs of a calculator as typed: texts by field, and lists of such for rows. The calculator judges them."""

    most: int = 200
    most_characters: int = 20_000
    depth: int = 3

    def read(self, stored: Any, path: str, problems: Problems) -> dict[str, Any]:
        """Return the inputs."""
        if self._fits(stored, self.depth):
            return dict(stored)
        problems.add(path, sentences.TAKES.format(label=self.label, takes=sentences.TYPED_TEXTS))
        return {}

    def _fits(self, stored: Any, depth: int) -> bool:
        if not isinstance(stored, Mapping) or len(stored) > self.most or not depth:
            return False
        return all(
            (isinstance(each, str) and len(each) <= self.most_characters)
            or (isinstance(each, list) and len(each) <= self.most and all(self._fits(row, depth - 1) for row in each))
            for each in stored.values()
        )

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return texts, or rows of texts."""
        inner: dict[str, Any] = {"type": "string", "maxLength": self.most_characters}
        found: dict[str, Any] = {}
        for level in range(self.depth):
            rows = {"type": "array", "maxItems": self.most, "items": found if level else {"not": {}}}
            found = {"type": "object", "maxProperties": self.most, "additionalProperties": {"anyOf": [inner, rows]}}
        return self.described(found)


@dataclass(frozen=True, kw_only=True)
class Part(Kind):
    """A dataclass of declared attributes, or None where it is ``optional``."""

    of: type
    optional: bool = False

    def read(self, stored: Any, path: str, problems: Problems) -> Any:
        """Return the instance; None where nothing is stored or something in it is wrong."""
        if stored is None and self.optional:
            return None
        if not isinstance(stored, Mapping):
            problems.add(
                path, sentences.TAKES.format(label=self.label or path, takes=sentences.AN_OBJECT), as_typed(stored)
            )
            return None
        kinds, values = kinds_of(self.of), {}
        within = f"{path}." if path else ""
        for name in stored:
            if name not in kinds:
                shown = messages.display_name(str(name))
                problems.add(f"{within}{shown}", sentences.UNKNOWN_PART.format(name=shown), ", ".join(kinds))
        before = len(problems.listed) + problems.more
        for each in dataclasses.fields(self.of):
            if each.name in stored:
                values[each.name] = kinds[each.name].read(stored[each.name], f"{within}{each.name}", problems)
            elif each.default is MISSING and each.default_factory is MISSING:
                problems.add(f"{within}{each.name}", sentences.MISSING_PART.format(label=kinds[each.name].label))
        return None if len(problems.listed) + problems.more > before else self.of(**values)

    def plain(self, value: Any) -> dict[str, Any] | None:
        """Return what differs from the defaults, and what has none."""
        if value is None:
            return None
        return {
            each.name: kind.plain(getattr(value, each.name))
            for each, kind in zip(dataclasses.fields(self.of), kinds_of(self.of).values(), strict=True)
            if each.default is MISSING or getattr(value, each.name) != each.default
        }

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return a reference to the schema of the dataclass."""
        name = self.of.__name__
        if name not in parts:
            parts[name] = {}  # a part may hold itself
            kinds = kinds_of(self.of)
            parts[name] = {
                "type": "object",
                "additionalProperties": False,
                "required": [
                    each.name
                    for each in dataclasses.fields(self.of)
                    if each.default is MISSING and each.default_factory is MISSING
                ],
                "properties": {each: kind.schema(parts) for each, kind in kinds.items()},
            }
        found = {"$ref": f"#/$defs/{name}"}
        return {"anyOf": [found, {"type": "null"}]} if self.optional else found


def kinds_of(part: type) -> dict[str, Kind]:
    """Return the kinds of the attributes of a part by name, in order."""
    return {each.name: each.metadata["kind"] for each in dataclasses.fields(part)}
