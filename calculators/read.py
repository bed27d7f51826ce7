"""Turns typed text into inputs, or into all problems at once.

Each kind of field parses its own text (``calculators.declare``); this module walks over the fields of a
calculator. Nothing is clamped: a value outside its range is a problem that names its field.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import MISSING, dataclass
from typing import Any

from calculators import messages, numbers, units
from calculators.declare import Field, Problem, SubmittedFile, asked
from calculators.declare.field import Trouble, defaults


@dataclass(frozen=True)
class Reading:
    """``inputs`` (None if there are problems), the problems, and texts that a picture filled into fields.

    ``values`` holds the value of every field that could be read, by name; of rows, one such mapping for each row.
    """

    inputs: Any
    problems: tuple[Problem, ...]
    fills: Mapping[str, str]
    values: Mapping[str, Any]


def read(
    inputs: type,
    typed: Mapping[str, Any],
    files: Mapping[str, SubmittedFile] | None = None,
    display: units.Display = units.MM,
) -> Reading:
    """Return the inputs dataclass made of ``typed`` texts and given ``files``, or all problems.

    ``typed`` maps field names to texts (rows: to lists of such mappings). A field that is absent
    takes its default; one that is empty is a problem. ``display`` is the unit in which limits are
    named.
    """
    handed_in = _HandedIn(files or {}, display)
    reading = _Walk(handed_in, inputs, typed, "").read()
    problems = [*reading.problems, *handed_in.unclaimed(asked(inputs))]
    made = None if problems else reading.inputs
    return Reading(made, _in_order(problems, inputs, ""), reading.fills, reading.values)


def read_aside(inputs: type, typed: Mapping[str, Any]) -> dict[str, Any]:
    """Return the values of ``typed`` texts that do not count now, by name; what cannot be read is left out."""
    fields = asked(inputs)
    return {
        name: value for name, value in read(inputs, typed).values.items() if name in typed and fields[name].sent_to_page
    }


class _HandedIn:
    """State shared by fields at all depths: the files, which of them were claimed, and the unit."""

    def __init__(self, files: Mapping[str, SubmittedFile], display: units.Display) -> None:
        self.files, self.display = files, display
        self.claimed: set[str] = set()

    def unclaimed(self, fields: Mapping[str, Field]) -> list[Problem]:
        """Return a problem for each file that no field took."""
        return [
            Problem(path, messages.UNKNOWN_FILE_FIELD.format(name=messages.display_name(path)), _fields_are(fields))
            for path in self.files
            if path not in self.claimed
        ]


class _Walk:
    """One inputs dataclass, that of the calculator or of a row; its fields' addresses begin with ``within``."""

    def __init__(self, handed_in: _HandedIn, inputs: type, typed: Mapping[str, Any], within: str) -> None:
        self.handed_in, self.inputs, self.typed, self.within = handed_in, inputs, typed, within
        self.fields, self.defaults = asked(inputs), defaults(inputs)
        self.values: dict[str, Any] = {}
        self.problems: list[Problem] = []
        self.fills: dict[str, str] = {}
        #: The readable values of each row, by the name of the field.
        self.of_rows: dict[str, tuple[Mapping[str, Any], ...]] = {}

    def read(self) -> Reading:
        # Read fields that fill others first.
        for name, field in sorted(self.fields.items(), key=lambda item: not item[1].fills):
            if name in self.values:
                continue
            try:
                self.values[name] = field.taken(_Submission(self, name, self.typed.get(name, MISSING)))
            except Trouble as trouble:
                self.add_problem(name, trouble)
            else:
                self.fill(field, self.values[name])
        self.problems += [self.unknown(name) for name in self.typed if name not in self.fields]
        problems = _in_order(self.problems, self.inputs, self.within)
        wrong = {problem.field for problem in problems}
        values = {
            name: value for name, value in (self.values | self.of_rows).items() if f"{self.within}{name}" not in wrong
        }
        return Reading(None if problems else self.inputs(**self.values), problems, self.fills, values)

    def fill(self, field: Field, value: Any) -> None:
        """Fill other fields from this one's value, unless typed text contradicts it."""
        for name, attribute in field.fills.items() if value else ():
            supplied = getattr(value, attribute)
            if supplied is None:
                continue
            other, text = self.fields[name], numbers.plain(supplied)
            try:
                stated = other.taken(_Submission(self, name, self.typed[name])) if name in self.typed else supplied
                if stated != supplied:
                    raise other.trouble(
                        messages.FILE_CONTRADICTS, messages.TAKE_PICTURE_OR_TYPE, read=text, typed=numbers.plain(stated)
                    )
                self.values[name] = other.taken(_Submission(self, name, text))
                self.fills[f"{self.within}{name}"] = text
            except Trouble as trouble:
                self.values[name] = None  # read; the problem keeps it from being used
                self.add_problem(name, trouble)

    def add_problem(self, name: str, trouble: Trouble) -> None:
        self.problems.append(Problem(f"{self.within}{name}", trouble.text, trouble.hint))

    def unknown(self, name: str) -> Problem:
        near = difflib.get_close_matches(name[:100], self.fields, n=1)
        hint = messages.DID_YOU_MEAN.format(meant=messages.quoted(near[0])) if near else _fields_are(self.fields)
        return Problem(f"{self.within}{name}", messages.UNKNOWN_FIELD.format(name=messages.display_name(name)), hint)


@dataclass(frozen=True)
class _Submission:
    """The submission for one field of a walk (``calculators.declare.field.Submission``)."""

    walk: _Walk
    name: str
    typed: Any

    @property
    def default(self) -> Any:
        return self.walk.defaults[self.name]

    @property
    def display(self) -> units.Display:
        return self.walk.handed_in.display

    def file(self) -> SubmittedFile | None:
        path = f"{self.walk.within}{self.name}"
        self.walk.handed_in.claimed.add(path)
        return self.walk.handed_in.files.get(path)

    def rows(self, row: type) -> tuple[Any, ...]:
        path = f"{self.walk.within}{self.name}"
        made = [
            _Walk(self.walk.handed_in, row, each, f"{path}[{place}].").read() for place, each in enumerate(self.typed)
        ]
        for each in made:
            self.walk.problems += each.problems
            self.walk.fills.update(each.fills)
        self.walk.of_rows[self.name] = tuple(each.values for each in made)
        return tuple(each.inputs for each in made)


def _in_order(problems: list[Problem], inputs: type, within: str) -> tuple[Problem, ...]:
    """Return problems in the order of the fields; those of no field come last."""
    order = {name: place for place, name in enumerate(asked(inputs))}
    return tuple(
        sorted(problems, key=lambda each: order.get(re.split(r"[.\[]", each.field[len(within) :])[0], len(order)))
    )


def _fields_are(fields: Mapping[str, Field]) -> str:
    return messages.FIELDS_ARE.format(names=", ".join(fields))
