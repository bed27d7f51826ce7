"""Pages, or parts of them, as results."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.declare.sentences import sentence
from calculators.markup import escape
from calculators.values import Prose

__all__ = ["ProseResult", "prose"]


@dataclass(frozen=True, kw_only=True)
class ProseResult(result.Result):
    """``Prose``: a page, or a part of one, as it will look."""

    kind = "prose"
    section = result.PAGES

    def parts(self, value: Prose, display: units.Display) -> dict[str, Any]:
        """Return the HTML."""
        return {"html": html(value, display)}

    def plain(self, value: Prose | None) -> str | None:
        """Return the HTML, lengths in mm."""
        return None if value is None else html(value, units.MM)


def html(prose: Prose, display: units.Display) -> str:
    """Return prose as HTML, its sentences in the reader's unit.

    >>> from calculators.values import message
    >>> html(Prose(("<p>", message("Less than {gap_mm} & no more.", gap_mm=0.5), "</p>")), units.MM)
    '<p>Less than 0.5 mm &amp; no more.</p>'
    """
    return "".join(each if isinstance(each, str) else escape(sentence(each, display)) for each in prose.parts)


def prose(label: str, *, help: str = "") -> Any:
    """Declare a page, or a part of one, that is shown as it will look."""
    return result.declared(ProseResult(label=label, help=help))
