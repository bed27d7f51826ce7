"""Tables, and lists of cards."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result

__all__ = ["TableResult", "table"]


@dataclass(frozen=True, kw_only=True)
class TableResult(result.Result):
    """A tuple of ``row``, a dataclass whose fields are results themselves.

    With ``cards`` each row is shown as a card of its own, for rows with more words than a table has room for. A wide
    table names the columns that ``decide``: the rest of a row is then unfolded.
    """

    row: type
    cards: bool = False
    decides: tuple[str, ...] = ()
    kind = "table"
    section = result.TABLES

    def parts(self, value: tuple[Any, ...], display: units.Display) -> dict[str, Any]:
        """Return the cells of each row, by the name of the column."""
        columns = result.standing_alone(self.row)
        return {
            "rows": [
                {name: column.cell(getattr(row, name), row, display) for name, column in columns.items()}
                for row in value
            ]
        }

    def plain(self, value: tuple[Any, ...]) -> list[dict[str, Any]]:
        """Return each row as JSON-able data."""
        return [result.plain(row) for row in value]

    def details(self) -> dict[str, Any]:
        """Return the columns, which of them are unfolded, and whether rows are cards."""
        columns = result.describe_results(self.row)
        rest = [each["name"] for each in columns if self.decides and each["name"] not in self.decides]
        return {"columns": columns, "cards": self.cards, "rest": rest}


def table(label: str, *, row: type, cards: bool = False, decides: tuple[str, ...] = (), help: str = "") -> Any:
    """Declare a table of results, or a list of ``cards``; ``decides`` names the
    columns that stay where a table is wide.
    """
    return result.declared(TableResult(label=label, help=help, row=row, cards=cards, decides=decides))
