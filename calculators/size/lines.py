"""The thinnest line that a kind of printer prints, and that an eye sees."""

from __future__ import annotations

from calculators import messages, sight
from calculators.declare import Message, message
from calculators.printed_lines import LINES_IN_WORDS, thinnest_held
from calculators.tables.printing_rows import Printer

PRINTS, DEPENDS, UNSEEN, TOO_FINE = "prints", "depends-on-printer", "too-fine-to-see", "too-fine-to-print"
#: The same verdicts for a whole marking whose thinnest line is unknown.
WHOLE = {verdict: f"whole-{verdict}" for verdict in (PRINTS, DEPENDS, UNSEEN, TOO_FINE)}
LEVELS = {
    PRINTS: ("pass", "It prints, and you can see it"),
    DEPENDS: ("watch", "It depends on your printer"),
    UNSEEN: ("watch", "It prints, but it is hard to see"),
    TOO_FINE: ("fail", "Too fine to print"),
    WHOLE[PRINTS]: ("pass", "The whole marking prints; its thinnest line is not judged"),
    WHOLE[DEPENDS]: ("watch", "The whole marking depends on your printer; its thinnest line is not judged"),
    WHOLE[UNSEEN]: ("watch", "The whole marking is hard to see; its thinnest line is not judged"),
    WHOLE[TOO_FINE]: ("fail", "The whole marking is too fine to print"),
}
_SENTENCES = {
    PRINTS: messages.STROKE_PRINTS,
    DEPENDS: messages.STROKE_DEPENDS,
    UNSEEN: messages.STROKE_UNSEEN,
    TOO_FINE: messages.STROKE_TOO_FINE,
}


def judged_line(line_mm: float, line: str, printer: Printer, distance_mm: float, *, whole: bool) -> tuple[str, Message]:
    """Return the verdict on a ``line`` (one of ``LINES``), ``line_mm`` wide on the
    model, and the sentence that says why.

    Below the low end of the printer's range no line prints, at its high end every line does. An eye at
    ``distance_mm`` resolves one arcminute. ``whole``: judge the whole marking, since no line is known.
    """
    holds, seen_mm = thinnest_held(printer, line), sight.resolved_mm(distance_mm)
    if line_mm < holds.low:
        verdict = TOO_FINE
    elif line_mm < holds.high:
        verdict = DEPENDS
    elif line_mm < seen_mm:
        verdict = UNSEEN
    else:
        verdict = PRINTS
    why = message(
        _SENTENCES[verdict],
        what=messages.WHOLE_MARKING if whole else messages.THINNEST_LINE,
        stroke_mm=line_mm,
        lines=LINES_IN_WORDS[line],
        printed_low_mm=holds.low,
        printed_high_mm=holds.high,
        distance_mm=distance_mm,
        seen_mm=seen_mm,
    )
    return WHOLE[verdict] if whole else verdict, why
