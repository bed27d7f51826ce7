"""What the table of fluids says of a fluid on what it meets; where it says nothing, what is said of its like.

Nothing is "safe" on an estimate alone: a pair without a row is never safe, whatever its like withstands.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from calculators import messages, tables
from calculators.tables import ESTIMATE
from calculators.tables.coating_rows import Fluid

SAFE, TEST_FIRST, NEVER = tables.VERDICTS
#: From the gentlest.
ORDER = (SAFE, TEST_FIRST, NEVER)
STRENGTHS = ("mild", "medium", "strong")


@dataclass(frozen=True)
class Met:
    """Something that a fluid meets: its part in the job, the table and the row; or only ``beneath`` a coat."""

    part: str
    table: str
    id: str
    beneath: bool = False

    @property
    def row(self) -> Any:
        """The row of the table."""
        return tables.row(self.table, self.id)


@dataclass(frozen=True)
class Answer:
    """The verdict on a fluid with one thing that it meets, and the reason."""

    met: Met
    verdict: str
    why: str


def answer_of(fluid: Fluid, met: Met) -> Answer:
    """Return the verdict of the table, or that on its like; without either, test first."""
    judged = {each.what: each for each in fluid.against}
    found = judged.get(f"{met.table}/{met.id}")
    if found:
        verdict, why = found.verdict, found.why
        if verdict == SAFE and fluid.source.source == ESTIMATE:
            verdict, why = TEST_FIRST, messages.FLUID_ESTIMATE.format(why=why)
    else:
        verdict, why = _by_kin(fluid, met)
    if met.beneath:
        # A gap in the coat, or a coat that gives way, lets the fluid through.
        return Answer(met, SAFE if verdict == SAFE else TEST_FIRST, messages.FLUID_BENEATH.format(why=why))
    return Answer(met, verdict, why)


def _by_kin(fluid: Fluid, met: Met) -> tuple[str, str]:
    """Return the harshest verdict on what is alike, but never safe: that it is alike is our own guess."""
    ids = {row.id: row for row in tables.load(met.table) if row.id != met.id and _alike(met.table, row, met.row)}
    judged = [(each, ids[each.what.split("/")[1]]) for each in fluid.against if _is_of(each.what, met.table, ids)]
    if not judged:
        return TEST_FIRST, messages.FLUID_UNKNOWN
    harshest, row = max(judged, key=lambda pair: ORDER.index(pair[0].verdict))
    why = messages.FLUID_KIN.format(kin=messages.in_sentence(row.label), why=harshest.why)
    return (NEVER if harshest.verdict == NEVER else TEST_FIRST), why


def _is_of(what: str, table: str, ids: Iterable[str]) -> bool:
    return what.split("/", maxsplit=1)[0] == table and what.split("/")[1] in ids


def _alike(table: str, row: Any, other: Any) -> bool:
    """Whether two rows are alike: coats of one carrier, films for one printer, printers that take one film."""
    if table == "coats":
        return bool(row.carrier == other.carrier)
    if table == "substrates":
        return row.kind == other.kind and bool(
            {*row.printers, *row.maker_permits} & {*other.printers, *other.maker_permits}
        )
    return any(
        {row.id, other.id} <= {*film.printers, *film.maker_permits}
        for film in tables.load("substrates")
        if film.kind.endswith(" film")
    )


def harshest(answers: Iterable[Answer]) -> Answer:
    """Return the answer that decides, the first of the harshest."""
    return max(answers, key=lambda each: ORDER.index(each.verdict))


def order_of_trying(fluid: Fluid, verdict: str) -> tuple[int, int, int]:
    """Return the sort key: what may be tried before what may not, then the milder, then the safer."""
    return verdict == NEVER, STRENGTHS.index(fluid.strength), ORDER.index(verdict)
