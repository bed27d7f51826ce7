"""Verdicts, and the reasons for them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.declare.sentences import sentence
from calculators.values import Message

__all__ = ["ReasonsResult", "VerdictResult", "reasons", "verdict"]

#: Between two sentences: what comes next begins one.
_SENTENCE_ENDS = re.compile(r"(?<=[.!?]) +(?=[A-Z#“0-9])")


@dataclass(frozen=True, kw_only=True)
class VerdictResult(result.Result):
    """One of ``levels``: verdict to (pass | watch | fail, title).

    The field ``reasons`` has the reasons, the decisive one first.
    """

    levels: Mapping[str, tuple[str, str]]
    reasons: str
    kind = "verdict"
    section = result.VERDICTS

    def render(self, value: str, outputs: Any, display: units.Display) -> dict[str, Any]:
        """Return level and title of the judgement, and its reasons."""
        level, title = self.levels[value]
        reasons = getattr(outputs, self.reasons, ())
        brief, more = in_brief(reasons, display)
        return {
            "kind": self.kind,
            "value": value,
            "level": level,
            "title": title,
            "reasons": [sentence(each, display) for each in reasons],
            "brief": brief,
            "more": more,
        }

    def cell(self, value: str, row: Any, display: units.Display) -> dict[str, Any]:
        """Return level and title of the judgement."""
        level, title = self.levels[value]
        return {"shown": title, "unit": None, "level": level}


@dataclass(frozen=True, kw_only=True)
class ReasonsResult(result.Result):
    """A tuple of ``Message``, shown beneath the verdict that names it."""

    kind = "reasons"
    stands_alone = False

    def plain(self, value: tuple[Message, ...]) -> list[str]:
        """Return the sentences, lengths in mm."""
        return [sentence(each, units.MM) for each in value]


def in_brief(messages: Sequence[Message], display: units.Display) -> tuple[list[str], list[str]]:
    """Return the deciding reason and what to do about it, a sentence each, and everything else.

    The deciding reason begins the first; what to do begins the first that is an ``advice``. Without any advice, the
    second sentence of the deciding reason stays with it.

    >>> from calculators.values import advice, message
    >>> reasons = [message("Too fine. It is lost."), message("So is this."), advice("Thicken it. Or leave it.")]
    >>> in_brief(reasons, units.MM)
    (['Too fine.', 'Thicken it.'], ['It is lost.', 'So is this.', 'Or leave it.'])
    >>> in_brief([message("It fits. Nothing shows. Print it.")], units.MM)
    (['It fits.', 'Nothing shows.'], ['Print it.'])
    """
    sentences = [_SENTENCE_ENDS.split(sentence(each, display)) for each in messages]
    to_do = next((place for place, each in enumerate(messages) if each.is_advice), None)
    chosen = {(0, 0)} | ({(0, 1)} if to_do in (None, 0) else {(to_do, 0)})
    brief = [each for at, part in enumerate(sentences) for to, each in enumerate(part) if (at, to) in chosen]
    left = [[each for to, each in enumerate(part) if (at, to) not in chosen] for at, part in enumerate(sentences)]
    return brief, [" ".join(part) for part in left if part]


def verdict(label: str, *, levels: Mapping[str, tuple[str, str]], reasons: str = "reasons") -> Any:
    """Declare a judgement: the names it may take, each with its level and the title shown."""
    return result.declared(VerdictResult(label=label, levels=levels, reasons=reasons))


def reasons(label: str = "Reasons") -> Any:
    """Declare the sentences that say why."""
    return result.declared(ReasonsResult(label=label))
