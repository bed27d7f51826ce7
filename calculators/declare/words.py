"""Lines of text as results."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.declare.sentences import sentence
from calculators.values import Message

__all__ = ["WordsResult", "named", "words"]


@dataclass(frozen=True, kw_only=True)
class WordsResult(result.Result):
    """A line of text; where ``names`` are given, one of them, shown by its words."""

    names: Mapping[str, str] = dataclasses.field(default_factory=dict)
    kind = "words"
    section = result.LINES

    def parts(self, value: Message | str, display: units.Display) -> dict[str, Any]:
        """Return the text."""
        return {"shown": self.names[str(value)] if self.names else sentence(value, display)}

    def plain(self, value: Message | str | None) -> str | None:
        """Return the text, lengths in mm; of a named one its name."""
        return None if value is None else sentence(value, units.MM)


def words(label: str, *, help: str = "") -> Any:
    """Declare a line of text that is answered: a ``Message`` or a plain text, or None."""
    return result.declared(WordsResult(label=label, help=help))


def named(label: str, *, names: Mapping[str, str], help: str = "") -> Any:
    """Declare an answer that is one of ``names``: name to the words that are shown."""
    return result.declared(WordsResult(label=label, help=help, names=names))
