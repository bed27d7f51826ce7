"""Choices from a few options."""

from __future__ import annotations

import dataclasses
import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators import messages, tables, units
from calculators.declare.field import Field, When, declared, folded

__all__ = ["ChoiceField", "choice"]

ON_THE_LIST = "The list has {names}."


@dataclass(frozen=True, kw_only=True)
class ChoiceField(Field):
    """One of a few: ``options`` maps values to labels, and ``table`` names a data table whose rows come before these.

    ``where`` names a part of its rows and one or more values of it for a row to be among them; None: every row is.
    """

    options: Mapping[str, str] = dataclasses.field(default_factory=dict)
    table: str = ""
    where: tuple[str, *tuple[str, ...]] | None = None
    kind = "choice"
    takes = "an entry of its list"

    def labels(self) -> dict[str, str]:
        """Return the values that may be chosen, each with its label."""
        if not self.table:
            return dict(self.options)
        part, *wanted = self.where or ("",)
        rows = [row for row in tables.load(self.table) if not part or _has(getattr(row, part), wanted)]
        return {**{row.id: row.label for row in rows}, **self.options}

    def read(self, text: str, display: units.Display) -> str:
        """Return the value typed by name or by label. Raises Trouble."""
        labels, text = self.labels(), text.strip()
        text = tables.current(self.table, text) if self.table else text  # a stored job may have an older id
        if text in labels:
            return text
        for value, label in labels.items():
            if folded(text) in (folded(value), folded(label)):
                return value
        near = difflib.get_close_matches(folded(text)[:100], [*map(folded, labels)], n=1)
        hint = (
            messages.DID_YOU_MEAN.format(meant=messages.quoted(near[0]))
            if near
            else ON_THE_LIST.format(names=", ".join(labels))
        )
        raise self.takes_only(f"{messages.TYPED.format(typed=messages.quoted(text))} {hint}", display)

    def label_of(self, text: str | None) -> str | None:
        """Return the label of a value."""
        return None if text is None else self.labels().get(text, text)

    def details(self) -> dict[str, Any]:
        """Return values and labels."""
        labels = self.labels()
        return {
            "options": [{"value": value, "label": label} for value, label in labels.items()],
            "takes": ", ".join(labels.values()),
        }

    def default_words(self, default: str) -> str:
        """Return the label of the default."""
        return self.labels().get(default, "")


def _has(value: Any, wanted: list[str]) -> bool:
    """Whether a part of a row is one of the ``wanted`` texts, or has one among several of its own."""
    return bool(set(value if isinstance(value, tuple) else (value,)) & set(wanted))


def choice(
    label: str,
    *,
    default: str,
    options: Mapping[str, str] | None = None,
    table: str = "",
    where: tuple[str, *tuple[str, ...]] | None = None,
    help: str = "",
    only_when: When = None,
) -> Any:
    """Declare a choice from the ids of a data ``table``, or some rows of it, and from ``options`` (value to label)."""
    return declared(
        ChoiceField(label=label, help=help, options=options or {}, table=table, where=where, only_when=only_when),
        default,
    )
