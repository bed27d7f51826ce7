"""The thinnest line: what a printer of some kind holds, and what an eye sees."""

from __future__ import annotations

from calculators import messages, sight
from calculators.declare import Said, said
from calculators.tables.rows import Printer

PRINTS, DEPENDS, UNSEEN, TOO_FINE = "prints", "depends-on-printer", "too-fine-to-see", "too-fine-to-print"
LEVELS = {
    PRINTS: ("pass", "It prints, and it is seen"),
    DEPENDS: ("watch", "It depends on your printer"),
    UNSEEN: ("watch", "It prints, but it is hardly seen"),
    TOO_FINE: ("fail", "Too fine to print"),
}
_SENTENCES = {
    PRINTS: messages.STROKE_PRINTS,
    DEPENDS: messages.STROKE_DEPENDS,
    UNSEEN: messages.STROKE_UNSEEN,
    TOO_FINE: messages.STROKE_TOO_FINE,
}


def judged_line(what: str, line_mm: float, printer: Printer, distance_mm: float) -> tuple[str, Said]:
    """Return the verdict on ``what``, ``line_mm`` wide on the model, and the sentence that says why.

    The printer's range is judged at both ends: below its low end nothing holds, at its high end
    everything does. What an eye sees at ``distance_mm`` is one arcminute.
    """
    holds, seen_mm = printer.thinnest_line, sight.resolved_mm(distance_mm)
    if line_mm < holds.low:
        verdict = TOO_FINE
    elif line_mm < holds.high:
        verdict = DEPENDS
    elif line_mm < seen_mm:
        verdict = UNSEEN
    else:
        verdict = PRINTS
    return verdict, said(
        _SENTENCES[verdict], what=what, stroke_mm=line_mm, printed_low_mm=holds.low, printed_high_mm=holds.high,
        distance_mm=distance_mm, seen_mm=seen_mm,
    )  # fmt: skip
