"""How the values of a stored job are declared: once, for reading, writing, the JSON Schema and the columns of a list.

A part is a frozen dataclass whose attributes are declared by the functions at the end of this module. Lengths, scales,
colours and choices are declared by the fields of the calculators, and stored as they were typed: "" is not decided.
"""

from __future__ import annotations

import dataclasses
import re
from dataclasses import MISSING, dataclass
from typing import Any
from unicodedata import category

from calculators import messages, units
from calculators.declare import ChoiceField, Field, Problem, TextField
from calculators.declare.field import Trouble
from calculators.jobs import sentences

#: A job with more mistakes than this lists so many of them.
MOST_PROBLEMS = 100
#: Typed texts are no longer than this, unless their field takes a longer one.
MOST_TYPED = 400
#: Some scripts write with these between letters.
_JOINERS = "\u200c\u200d"


class Problems:
    """The problems of one reading, by path; those after ``MOST_PROBLEMS`` are only counted."""

    def __init__(self) -> None:
        self.listed: list[Problem] = []
        self.more = 0

    def add(self, path: str, text: str, hint: str = "") -> None:
        """Note a problem at a path such as ``markings[3].width``."""
        if len(self.listed) < MOST_PROBLEMS:
            self.listed.append(Problem(path, text, hint))
        else:
            self.more += 1

    def all(self) -> tuple[Problem, ...]:
        """Return the problems, the last of them the count of those that are not listed."""
        if not self.more:
            return tuple(self.listed)
        return (*self.listed, Problem("", sentences.MORE_PROBLEMS.format(count=self.more)))


@dataclass(frozen=True, kw_only=True)
class Kind:
    """What one attribute of a part holds. ``column`` heads it in a list of markings, where it has one."""

    label: str = ""
    help: str = ""
    column: str = ""

    def read(self, stored: Any, path: str, problems: Problems) -> Any:
        """Return the value of JSON data; what cannot be used is noted in ``problems``."""
        raise NotImplementedError

    def plain(self, value: Any) -> Any:
        """Return a value as JSON data."""
        return value

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return the JSON Schema of the data; that of each dataclass goes into ``parts`` by its name."""
        raise NotImplementedError

    def cell(self, value: Any) -> str:
        """Return a value as the text of a cell in a list."""
        return str(value)

    def of_cell(self, text: str, path: str, problems: Problems) -> Any:
        """Return the value of the text of a cell."""
        return self.read(text, path, problems)

    def described(self, schema: dict[str, Any]) -> dict[str, Any]:
        """Return a schema with label and help."""
        words = " ".join(each for each in (self.label and f"{self.label}.", self.help) if each)
        return {**schema, "description": words} if words else schema


@dataclass(frozen=True, kw_only=True)
class Words(Kind):
    """Text on one line that a reader wrote, such as a name; ``most`` characters. Several ``lines`` where it says so."""

    most: int = 80
    fewest: int = 0
    lines: bool = False

    def read(self, stored: Any, path: str, problems: Problems) -> str:
        """Return the text."""
        if not isinstance(stored, str):
            problems.add(path, sentences.TAKES_TEXT.format(label=self.label))
            return ""
        if len(stored) > self.most or len(stored.strip()) < self.fewest:
            problems.add(
                path,
                sentences.TAKES_CHARACTERS.format(label=self.label, fewest=self.fewest, most=self.most),
                as_typed(stored),
            )
        elif self.refused(stored):
            problems.add(path, sentences.ODD_CHARACTERS.format(label=self.label), as_typed(stored))
        return stored

    def refused(self, text: str) -> bool:
        """Return whether the text has characters that cannot be shown."""
        seen = text.replace("\n", "").replace("\t", "") if self.lines else text
        return not seen.isprintable() and any(
            not each.isprintable() and category(each) != "Zs" and each not in _JOINERS for each in seen
        )

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return the limits on its length."""
        something = {"pattern": r"\S"} if self.fewest else {}
        return self.described({"type": "string", "minLength": self.fewest, "maxLength": self.most, **something})


@dataclass(frozen=True, kw_only=True)
class Pattern(Kind):
    """Text that matches a regular expression as a whole, such as a hash."""

    pattern: str
    optional: bool = False

    def read(self, stored: Any, path: str, problems: Problems) -> str:
        """Return the text."""
        if not isinstance(stored, str) or not (re.fullmatch(self.pattern, stored) or (self.optional and not stored)):
            problems.add(path, sentences.TAKES.format(label=self.label, takes=self.help), as_typed(stored))
            return ""
        return stored

    def of_cell(self, text: str, path: str, problems: Problems) -> str:
        """Return the text of a cell, without blanks around it."""
        return self.read(text.strip(), path, problems)

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return the pattern."""
        pattern = f"^({self.pattern})?$" if self.optional else f"^({self.pattern})$"
        return self.described({"type": "string", "pattern": pattern})


@dataclass(frozen=True, kw_only=True)
class Typed(Kind):
    """What a reader typed or chose, parsed by a ``field`` of the calculators; "" where it is not decided."""

    field: Field

    @property
    def most(self) -> int:
        """The most characters."""
        return max(MOST_TYPED, self.field.most) if isinstance(self.field, TextField) else MOST_TYPED

    def read(self, stored: Any, path: str, problems: Problems) -> str:
        """Return the text as typed; of a choice its value."""
        if not isinstance(stored, str) or len(stored) > self.most:
            problems.add(
                path, sentences.TAKES_TEXT.format(label=messages.as_subject(self.field.label)), as_typed(stored)
            )
            return ""
        if not stored.strip():
            return ""
        try:
            value = self.field.read(stored, units.MM)
        except Trouble as trouble:
            problems.add(path, trouble.text, trouble.hint)
            return stored
        return str(value) if isinstance(self.field, ChoiceField) else stored

    def value(self, text: str) -> Any:
        """Return the parsed value of a text that was read without problems; None where it is not decided."""
        return self.field.read(text, units.MM) if text else None

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return the choices, or that it is a text."""
        if isinstance(self.field, ChoiceField):
            return self._named({"enum": ["", *self.field.labels()]})
        return self._named({"type": "string", "maxLength": self.most})

    def _named(self, schema: dict[str, Any]) -> dict[str, Any]:
        return {**schema, "description": f"{self.field.label}. {self.field.help}".strip()}

    def cell(self, value: str) -> str:
        """Return the label of a choice, or what was typed."""
        return self.field.labels().get(value, value) if isinstance(self.field, ChoiceField) else value


@dataclass(frozen=True, kw_only=True)
class Count(Kind):
    """A whole number from ``low`` to ``high``."""

    low: int = 0
    high: int = 1000

    def read(self, stored: Any, path: str, problems: Problems) -> int:
        """Return the number."""
        if not isinstance(stored, int) or isinstance(stored, bool) or not self.low <= stored <= self.high:
            takes = sentences.WHOLE_NUMBER.format(low=self.low, high=self.high)
            problems.add(path, sentences.TAKES.format(label=self.label, takes=takes), as_typed(stored))
            return self.low
        return stored

    def of_cell(self, text: str, path: str, problems: Problems) -> int:
        """Return the number in a cell."""
        digits = text.strip()
        return self.read(int(digits) if re.fullmatch(r"[0-9]{1,9}", digits) else text, path, problems)

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return the limits."""
        return self.described({"type": "integer", "minimum": self.low, "maximum": self.high})


@dataclass(frozen=True, kw_only=True)
class YesNo(Kind):
    """Yes or no."""

    def read(self, stored: Any, path: str, problems: Problems) -> bool:
        """Return which."""
        if not isinstance(stored, bool):
            problems.add(path, sentences.TAKES.format(label=self.label, takes=sentences.YES_OR_NO), as_typed(stored))
        return stored is True

    def cell(self, value: bool) -> str:
        """Return it as a word."""
        return "yes" if value else "no"

    def of_cell(self, text: str, path: str, problems: Problems) -> bool:
        """Return which, from the word."""
        return self.read({"yes": True, "no": False}.get(text.strip().casefold(), text), path, problems)

    def schema(self, parts: dict[str, Any]) -> dict[str, Any]:
        """Return that it is true or false."""
        return self.described({"type": "boolean"})


def as_typed(stored: Any) -> str:
    """Return the hint that quotes what was typed or stored; "" where it is nothing that could be typed."""
    if not isinstance(stored, (str, int, float, bool)):
        return ""
    # A number of a million digits cannot be written out.
    text = str(stored) if not isinstance(stored, int) or abs(stored) < 10**20 else "…"
    return messages.TYPED.format(typed=messages.quoted(text)) if text else ""


# -- Declaring attributes


def stored(kind: Kind, default: Any = MISSING) -> Any:
    """Return an attribute of a part that ``kind`` reads and writes. A dictionary is the default as an empty one."""
    if isinstance(default, dict):
        return dataclasses.field(default_factory=dict, metadata={"kind": kind})
    return dataclasses.field(default=default, metadata={"kind": kind})


def typed(made: Any, *, column: str = "", default: str = "") -> Any:
    """Return an attribute that a declared field such as ``number(…)`` parses; "" until something is decided."""
    return stored(Typed(field=made.metadata["field"], column=column), default)


def typed_as(made: Any) -> Typed:
    """Return the kind of an entry of a list that a declared field parses."""
    return Typed(field=made.metadata["field"])
