"""Lists of rows, each of them with fields of its own."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import MISSING, dataclass
from typing import Any

from calculators import messages, units
from calculators.declare.field import (
    Field,
    Submission,
    When,
    declared,
    describe_fields,
    others_typed,
    parsed,
    restated,
    values_of,
)
from calculators.other_units import Other

__all__ = ["RowsField", "rows"]

NOT_ROWS = "{Label} takes a list of rows"
TOO_FEW_ROWS = "{Label} takes at least {rows}"
TOO_MANY_ROWS = "{Label} takes at most {rows}"


@dataclass(frozen=True, kw_only=True)
class RowsField(Field):
    """A list of ``row`` (an inputs dataclass), from ``fewest`` to ``most`` long."""

    row: type
    fewest: int
    most: int
    kind = "rows"

    def taken(self, submitted: Submission) -> Any:
        """Return the inputs of each row. Raises Trouble."""
        typed = submitted.typed
        if typed is MISSING:
            return self.left_out(submitted)
        if not isinstance(typed, list) or not all(isinstance(row, Mapping) for row in typed):
            raise self.trouble(NOT_ROWS)
        if len(typed) < self.fewest:
            raise self.trouble(TOO_FEW_ROWS, rows=messages.plural(self.fewest, "row"))
        if len(typed) > self.most:
            raise self.trouble(TOO_MANY_ROWS, rows=messages.plural(self.most, "row"))
        return submitted.rows(self.row)

    def restated(self, typed: Any, display: units.Display) -> list[dict[str, Any]] | None:
        """Return the texts of each row whose unit changes."""
        if not isinstance(typed, list):
            return None
        return [restated(self.row, row, display) if isinstance(row, Mapping) else {} for row in typed]

    def others_typed(self, typed: Any) -> dict[str, Other]:
        """Return the other units that were typed in any row."""
        rows = [row for row in typed if isinstance(row, Mapping)] if isinstance(typed, list) else []
        return {unit: other for row in reversed(rows) for unit, other in others_typed(self.row, row).items()}

    def parsed(self, value: tuple[Any, ...]) -> list[dict[str, Any]]:
        """Return the parsed values of each row. Default rows are instances of the dataclass."""
        return [parsed(self.row, row if isinstance(row, Mapping) else vars(row)) for row in value]

    def text_of(self, value: tuple[Any, ...], display: units.Display) -> list[dict[str, Any]]:
        """Return the texts of each row."""
        return [{name: field.text_of(each, display) for name, (field, each) in values_of(row).items()} for row in value]

    def typed(self, value: tuple[Any, ...]) -> list[dict[str, Any]]:
        """Return the texts of each row, lengths with their unit."""
        return [{name: field.typed(each) for name, (field, each) in values_of(row).items()} for row in value]

    def described(self, name: str, default: Any) -> dict[str, Any]:
        """Return what form and pages need to know, the default rows as JSON among it."""
        typed = json.dumps(self.typed(default), ensure_ascii=False, separators=(",", ":"))
        return {**super().described(name, default), "typed": typed}

    def details(self) -> dict[str, Any]:
        """Return the limits on the number of rows, and the fields of a row."""
        counts = {"fewest": self.fewest, "most": self.most, "takes": f"{self.fewest} to {self.most}"}
        return {**counts, "fields": describe_fields(self.row)}

    def default_texts(self, default: tuple[Any, ...]) -> list[dict[str, Any]]:
        """Return the texts of each default row, lengths in mm."""
        return self.text_of(default, units.MM)

    def default_words(self, default: tuple[Any, ...]) -> str:
        """Return the number of default rows."""
        return str(len(default))


def rows(
    label: str,
    *,
    row: type,
    default: tuple[Any, ...],
    fewest: int = 1,
    most: int = 50,
    help: str = "",
    only_when: When = None,
) -> Any:
    """Declare a list of rows, each of them an inputs dataclass of its own."""
    return declared(RowsField(label=label, help=help, row=row, fewest=fewest, most=most, only_when=only_when), default)
