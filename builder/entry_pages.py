"""Entries of the troubleshooting in words: their sentences with waits in them, and what orders and describes them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from markupsafe import Markup, escape

from builder import waits
from calculators import tables
from calculators.stages import STAGES
from calculators.tables.rows import Trouble
from calculators.tables.rules import WAIT


def sentences(text: str, link: Callable[[str], str]) -> Markup:
    """Return the sentences of an entry as HTML, each wait that is named in them as its usual range.

    ``link`` returns the address of a wait by its id.
    """
    if "{" not in text:
        return escape(text)
    parts = WAIT.split(text)
    return Markup("").join(
        waits.wait_html(tables.row("drying-times", part), "usual", link(part)) if place % 2 else escape(part)
        for place, part in enumerate(parts)
    )


def steps(entry: Trouble) -> Iterator[str]:
    """Yield the instructions of an entry, since only these call for cautions.

    Symptoms, causes and what to avoid ask nobody to handle anything.
    """
    for each in entry.causes:
        yield from (each.test, each.now)
    yield from entry.avoid


def plain_sentences(text: str) -> str:
    """Return the sentences of an entry as plain text, each wait as its usual range."""
    return WAIT.sub(_in_words, text)


def _in_words(found: re.Match[str]) -> str:
    words: str = tables.row("drying-times", found[1]).usual.in_words
    return words


def by_stage(rows: Iterable[Any]) -> list[dict[str, Any]]:
    """Return entries by stage in the order of the work: {"id", "rows"}, the rows of a stage by title."""
    found: dict[str, list[Any]] = {stage: [] for stage in STAGES}
    for row in rows:
        found[row.stage].append(row)
    return [{"id": stage, "rows": sorted(each, key=lambda row: row.title)} for stage, each in found.items() if each]
