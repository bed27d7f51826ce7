"""Links to pages of the site."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.values import Link

__all__ = ["LinkResult", "link"]


@dataclass(frozen=True, kw_only=True)
class LinkResult(result.Result):
    """A ``Link`` to a page of the site, or None."""

    kind = "link"
    section = result.LINES

    def parts(self, value: Link, display: units.Display) -> dict[str, Any]:
        """Return words and address. Pages of calculators are two levels below the root of the site."""
        return {"shown": value.words, "href": f"../../{value.page}"}

    def plain(self, value: Link | None) -> dict[str, Any] | None:
        """Return words and page."""
        return None if value is None else {"words": value.words, "page": value.page}


def link(label: str, *, help: str = "") -> Any:
    """Declare a link to a page of the site."""
    return result.declared(LinkResult(label=label, help=help))
