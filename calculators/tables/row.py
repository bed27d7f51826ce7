"""What every row of a table has."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from calculators.tables.declaration import STATUSES, Origin, column


@dataclass(frozen=True, kw_only=True)
class Row:
    """What every row has."""

    #: Names of facts that must not fall from one to the next, such as shortest, usual, longest.
    RISING: ClassVar[tuple[str, ...]] = ()

    id: str = column("Id", "id", help="lower case, digits, hyphens; once published it stays for ever")
    label: str = column("Name", most=100, help="what the reader sees")
    note: str = column("Note", required=False, help="two more sentences at most, on the row as a whole")


@dataclass(frozen=True, kw_only=True)
class SourcedRow(Row):
    """A row that is mostly words: they need a source, or a mark in its place, as a value does."""

    source: Origin = column(
        "Source of the words", "source", help="common-practice, estimate or drawn-up, or a document: {ref: …, at: …}"
    )
    status: str = column(
        "Status", required=False, one_of=tuple(STATUSES), help="how the words are known; only beside a document"
    )
