"""The parts of a row: their types for the checker, and their values from the loader."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from calculators import numbers

COMMON_PRACTICE, ESTIMATE, DRAWN_UP = "common-practice", "estimate", "drawn-up"
#: Marks in place of a source if no document was read, with their meanings. None of them has a status.
MARKS = {
    COMMON_PRACTICE: "what the trade does, with nothing published that was read",
    ESTIMATE: "our own guess, from what the trade tells",
    DRAWN_UP: "made by the project, such as a colour that stands for a name",
}
STATUSES = {
    "read": "read in the document",
    "package": "carried by a package",
    "computed": "worked out from the rule",
    "memory": "from memory, not looked up",
}

#: Tables that are a folder with a file for each row; the name of the file is the row's id.
FOLDERS = ("troubleshooting", "rules")
#: Those of them whose rows are prose with a page each; a page loads only their titles.
ENTRIES = ("troubleshooting",)

#: The only three verdicts on using one thing on another.
VERDICTS = ("safe", "test first", "never")

#: Units of waits, in hours. A wait is written in the unit that people would use.
HOURS = {"s": 1 / 3600, "min": 1 / 60, "h": 1.0, "d": 24.0, "months": 730.5}

#: Units of lengths, in mm.
LENGTHS = {"mm": 1.0, "in": 25.4}

#: Units of what is a share of the height or of the width of a letter: which, into how many parts it is divided, and the
#: unit as it is printed after 1 and after other numbers.
SHARES: dict[str, tuple[str, int, str, str]] = {
    f"{many} of {whole}": (whole, parts, f"{one} of the {whole}", f"{many} of the {whole}")
    for whole in ("height", "width")
    for parts, (one, many) in {
        2: ("half", "halves"),
        3: ("third", "thirds"),
        4: ("quarter", "quarters"),
        5: ("fifth", "fifths"),
        6: ("sixth", "sixths"),
        7: ("seventh", "sevenths"),
        8: ("eighth", "eighths"),
    }.items()
}
#: The smallest and largest likely share.
_LEAST_SHARE, _MOST_SHARE = 0.02, 3.0

#: Units that prose writes out, singular and plural; others are printed as in the table.
_WRITTEN_OUT = {"d": ("day", "days"), "months": ("month", "months")}

#: Types of parts: how the checker reads them, and what the loader makes of them.
KINDS = {
    "id": "lower case, digits and hyphens",
    "text": "words",
    "texts": "a list of words",
    "yes-no": "true or false",
    "whole": "a whole number",
    "fact": "a value with its unit, source and status",
    "url": "an address that begins with https://",
    "source": "where the words of the row come from",
    "ref": "the id of a row in another table",
    "refs": "a list of ids of rows in another table",
    "judgements": "verdicts, each on a row of another table and with its reason",
    "statements": "sentences, each with its own source",
    "parts": "entries, each with parts of its own",
}
_EMPTY = {
    "yes-no": False,
    "texts": (),
    "refs": (),
    "parts": (),
    "judgements": (),
    "statements": (),
    "fact": None,
    "whole": None,
    "source": None,
}

#: Parts that come last in a row, whichever class declares them.
_LAST = ("source", "status", "note")


@dataclass(frozen=True)
class Origin:
    """Where words come from: the id of a source and the place in it, or one of ``MARKS``; and how it is known."""

    source: str
    at: str = ""
    status: str = ""


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
        """The single number; calling it for a range is an error of the caller."""
        if self.low != self.high:
            raise ValueError(f"a range of {self.low} to {self.high} {self.unit} has no single value")
        return self.low

    @property
    def hours(self) -> tuple[float, float]:
        """The shortest and longest of a wait, in hours. Raises ``KeyError`` for another fact."""
        return self.low * HOURS[self.unit], self.high * HOURS[self.unit]

    @property
    def size(self) -> float:
        """The sort key: the low end; for waits in hours."""
        return self.low * HOURS.get(self.unit, 1)

    @property
    def shown(self) -> str:
        """The value or range as text without its unit; a scale with its "1:"."""
        text = numbers.plain(self.low)
        if self.low != self.high:
            text += f" to {numbers.plain(self.high)}"
        return f"1:{text}" if self.unit == "1:n" else text

    @property
    def in_words(self) -> str:
        """A wait for prose: "10 to 30 s", "1 to 2 days". A no-break space joins number and unit."""
        one, more = _WRITTEN_OUT.get(self.unit, (self.unit, self.unit))
        return f"{self.shown}\N{NO-BREAK SPACE}{one if self.high == 1 else more}"

    @property
    def shown_unit(self) -> str:
        """The unit as printed; empty for a pure ratio."""
        if self.unit in SHARES:
            _whole, _parts, one, many = SHARES[self.unit]
            return one if self.high == 1 else many
        return "" if self.unit in ("1:n", "ratio") else self.unit


@dataclass(frozen=True)
class Judgement:
    """A verdict on this row's subject with another: one of ``VERDICTS``, and why.

    ``what`` names a table and a row of it: ``coats/clear-lacquer``.
    """

    what: str
    verdict: str
    why: str


@dataclass(frozen=True)
class Statement:
    """One sentence with its source."""

    says: str
    source: str
    at: str = ""
    status: str = ""


@dataclass(frozen=True, kw_only=True)
class Column:
    """What a part of a row must be: ``holds`` is a key of ``KINDS``.

    ``unit`` is the one unit of a fact, or the one that ``low`` and ``high`` are in where ``units`` names several.
    ``table`` names the tables that a reference may lead to, ``most`` is the length of a text, ``fewest`` and
    ``at_most`` (0: any) the number of entries of a list; ``row`` is what an entry with parts is. A text may be a
    ``heading``, without a full stop, or ``sentences``, which end and name waits as {id}: ``wording``. What is a
    ``safety`` figure comes from a document that was read: never from memory, never one of ``MARKS``. A text that is
    ``brief`` stands in the table itself, not only in the page of its row; one that is a ``colour`` has a swatch beside
    it. ``help`` tells a contributor what to write.
    """

    label: str
    holds: str
    help: str
    unit: str = ""
    units: tuple[str, ...] = ()
    low: float = 0.0
    high: float = 0.0
    one_of: tuple[str, ...] = ()
    table: tuple[str, ...] = ()
    most: int = 400
    fewest: int = 0
    at_most: int = 0
    row: type | None = None
    wording: str = ""
    safety: bool = False
    brief: bool = False
    colour: bool = False
    #: What a yes-no is read as; some mean less than a plain no.
    yes: str = "yes"
    no: str = "no"

    @property
    def parts(self) -> type:
        """What an entry with parts is. Raises ``TypeError`` where an entry has none."""
        if self.row is None:
            raise TypeError(f"{self.label}: {self.holds} has no parts")
        return self.row

    def bounds(self, unit: str) -> tuple[float, float]:
        """Return what ``low`` and ``high`` are in ``unit``. Raises ``KeyError`` for a unit of another kind."""
        if unit == self.unit:
            return self.low, self.high
        if unit in SHARES:
            parts = SHARES[unit][1]
            return _LEAST_SHARE * parts, _MOST_SHARE * parts
        sizes = LENGTHS if unit in LENGTHS else HOURS
        return self.low * sizes[self.unit] / sizes[unit], self.high * sizes[self.unit] / sizes[unit]

    def in_base(self, value: float, unit: str) -> float:
        """Return ``value`` in the unit that ``low`` and ``high`` are in. Raises ``KeyError`` for another unit."""
        return value if unit == self.unit else value * HOURS[unit] / HOURS[self.unit]


def column(label: str, holds: str = "text", *, required: bool = True, **more: Any) -> Any:
    """Declare a part of a row. What is not required may be missing and is then empty."""
    options: dict[str, Any] = {} if required else {"default": _EMPTY.get(holds, "")}
    return field(metadata={"column": Column(label=label, holds=holds, **more)}, **options)


def wait(label: str, help: str, *, required: bool = True) -> Any:
    """Declare a wait: a fact in seconds, minutes, hours, days or months, of at most ten years."""
    return column(label, "fact", required=required, help=help, unit="h", units=tuple(HOURS), low=1 / 3600, high=87_660)


def size(label: str, help: str, *, required: bool = False, shares: bool = True) -> Any:
    """Declare a length of lettering: in mm or in, or in ``shares`` of height or width."""
    units = (*LENGTHS, *(SHARES if shares else ()))
    return column(label, "fact", required=required, help=help, unit="mm", units=units, low=0.254, high=5080)


@cache
def columns(row: type) -> Mapping[str, Column]:
    """Return the declared parts of a row by name, in the order in which a row is written and shown."""
    fields = sorted(dataclasses.fields(row), key=lambda each: each.name in _LAST and _LAST.index(each.name) + 1)
    return {each.name: each.metadata["column"] for each in fields}


def required(row: type) -> tuple[str, ...]:
    """Return the names of the parts that every such row must have, in order."""
    return tuple(each.name for each in dataclasses.fields(row) if each.default is dataclasses.MISSING)
