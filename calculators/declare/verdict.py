"""Verdicts, and the reasons for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calculators import units
from calculators.declare import result
from calculators.declare.sentences import sentence
from calculators.values import Said

__all__ = ["ReasonsResult", "VerdictResult", "reasons", "verdict"]


@dataclass(frozen=True, kw_only=True)
class VerdictResult(result.Result):
    """One of ``levels``: verdict to (pass | watch | fail, title). Reasons stand in field ``reasons``."""

    levels: Mapping[str, tuple[str, str]]
    reasons: str
    kind = "verdict"
    section = result.VERDICTS

    def render(self, value: str, outputs: Any, display: units.Display) -> dict[str, Any]:
        """Return level and title of the judgement, and its reasons."""
        level, title = self.levels[value]
        sentences = [sentence(each, display) for each in getattr(outputs, self.reasons, ())]
        return {"kind": self.kind, "value": value, "level": level, "title": title, "reasons": sentences}

    def cell(self, value: str, row: Any, display: units.Display) -> dict[str, Any]:
        """Return level and title of the judgement."""
        level, title = self.levels[value]
        return {"shown": title, "unit": None, "level": level}


@dataclass(frozen=True, kw_only=True)
class ReasonsResult(result.Result):
    """A tuple of ``Said``, shown beneath the verdict that names it."""

    kind = "reasons"
    stands_alone = False

    def plain(self, value: tuple[Said, ...]) -> list[str]:
        """Return the sentences, lengths in mm."""
        return [sentence(each, units.MM) for each in value]


def verdict(label: str, *, levels: Mapping[str, tuple[str, str]], reasons: str = "reasons") -> Any:
    """Declare a judgement: the names it may take, each with its level and the title shown."""
    return result.declared(VerdictResult(label=label, levels=levels, reasons=reasons))


def reasons(label: str = "Reasons") -> Any:
    """Declare the sentences that say why."""
    return result.declared(ReasonsResult(label=label))
