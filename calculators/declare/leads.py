"""The next steps of the job that an answer leads to."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.values import Lead

__all__ = ["LeadsResult", "leads"]

#: More would be a list to choose from, and no next step.
MOST_LEADS = 2


@dataclass(frozen=True, kw_only=True)
class LeadsResult(result.Result):
    """The next steps: those that only the answer knows, which are its value, then those declared ``by`` verdict.

    Two at most.

    ``by`` has the key "" where a calculator gives no verdict.
    """

    by: Mapping[str, tuple[Lead, ...]]
    kind = "leads"
    section = result.LEADS

    def steps(self, value: tuple[Lead, ...] | None, outputs: Any) -> tuple[Lead, ...]:
        """Return the steps that follow from ``outputs``."""
        return (*(value or ()), *self.by[getattr(outputs, "verdict", "")])[:MOST_LEADS]

    def render(self, value: tuple[Lead, ...] | None, outputs: Any, display: units.Display) -> dict[str, Any]:
        """Return words, address and what is carried of each.

        The page of every calculator is two steps below the root of the site.
        """
        steps = [
            {"shown": each.words, "href": f"../../{each.page}", "carries": carried(each, outputs)}
            for each in self.steps(value, outputs)
        ]
        return {"kind": self.kind, "shown": steps}

    def plain_in(self, value: tuple[Lead, ...] | None, outputs: Any) -> list[dict[str, str]]:
        """Return words and page of each step."""
        return [{"words": each.words, "page": each.page} for each in self.steps(value, outputs)]


def carried(lead: Lead, outputs: Any) -> dict[str, str]:
    """Return what ``lead`` carries, as it is typed: the job's values by name,
    lengths in mm as the answer shows them.
    """
    declared = result.answered(type(outputs))
    texts = {}
    for name, of in lead.carries.items():
        present = [each for each in of if getattr(outputs, each) is not None]
        if present:
            shown = declared[present[0]].parts(getattr(outputs, present[0]), units.MM)
            texts[name] = f"{shown['shown']} {shown.get('unit', '')}".strip()
    return {**texts, **lead.sets} if texts or not lead.carries else {}


def leads(by: Mapping[str, tuple[Lead, ...]] | tuple[Lead, ...]) -> Any:
    """Declare the next steps by verdict, or for every answer. The function adds only what the answer alone knows."""
    made = LeadsResult(label="What next", by=by if isinstance(by, Mapping) else {"": by})
    return dataclasses.field(default=(), metadata={"result": made})
