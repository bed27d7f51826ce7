"""Why a way is ruled out for a marking: its limits, and its look even if its white hides as much as it can."""

from __future__ import annotations

from calculators import messages, tables
from calculators.declare import message
from calculators.tables.rows import Way
from calculators.underlay.case import MOSTLY, Against, Case, Looks
from calculators.underlay.judging import FAR_DELTA_E, TINY

#: The gravity of reasons, for ranking when every way is ruled out (estimates): impossible, curable with help
#: from someone else, and only a worse look than chosen.
IMPOSSIBLE, HARD, WORSE = 8.0, 3.0, 1.0


def cannot(case: Case, way: Way) -> list[Against]:
    """Return why the way is impossible, whatever its white hides."""
    reasons = []
    if case.metallic and not way.paints:
        reasons.append(Against(message(messages.WAY_NO_METALLIC), HARD + WORSE))
    if way.own_printer and not case.own_printer:
        reasons.append(Against(message(messages.WAY_NO_PRINTER), IMPOSSIBLE))
    if way.sprays and not case.sprays:
        reasons.append(Against(message(messages.WAY_NO_SPRAY), HARD))
    if way.for_white and case.white_share < MOSTLY and not case.patch:
        reasons.append(
            Against(message(messages.WAY_NOT_FOR_COLOURS, share=f"{100 * case.white_share:.0f}"), IMPOSSIBLE)
        )
    if (
        way.for_white
        and not case.patch
        and case.has_colours
        and case.needed_mm > tables.row("ways", "white-film-cut").outline.high
    ):
        reasons.append(Against(message(messages.WAY_PLAIN_ENOUGH), WORSE))
    if way.for_white and case.spans_border:
        reasons.append(Against(message(messages.WAY_MEETS_BORDER), HARD))
    if way.own_white:
        reasons += _own_white(case)
    count = len(case.counting)
    if way.most_colours and count > way.most_colours:
        sentence = messages.WAY_MANY_COLOURS if way.most_colours > 1 else messages.WAY_ONE_COLOUR
        reasons.append(Against(message(sentence, count=count, most=way.most_colours), count / way.most_colours))
    return reasons + _too_narrow(case, way)


def _own_white(case: Case) -> list[Against]:
    if not case.white_paint:
        return [Against(message(messages.WAY_NO_WHITE_PAINT), IMPOSSIBLE)]
    if not case.on_colour:
        return [Against(message(messages.WAY_ON_WHITE), IMPOSSIBLE)]
    return [Against(message(messages.WAY_PAINTED), IMPOSSIBLE)] if case.painted else []


def _too_narrow(case: Case, way: Way) -> list[Against]:
    reasons = []
    for sentence, has, needs in (
        (messages.WAY_OUTLINE_FINE, case.needed_mm, way.outline),
        (messages.WAY_INSIDE_FINE, case.inside_mm, way.inside),
    ):
        if needs and has < needs.low:
            reasons.append(Against(message(sentence, has_mm=has, needs_mm=needs.low), needs.low / has - 1, needs.low))
    return reasons


def looks_wrong(case: Case, high: Looks) -> list[Against]:
    """Return why its look rules the way out, even if film and white hide as much as they can."""
    reasons = []
    if high.border > case.border_limit + TINY:
        border = message(
            messages.WAY_BORDER,
            colour=high.colours["border"],
            border=f"{high.border:.1f}",
            limit=f"{case.border_limit:.1f}",
        )
        reasons.append(Against(border, high.border / case.border_limit - 1))
    if not high.legible:
        contrast = message(messages.WAY_NOT_LEGIBLE, colour=high.colours["contrast"], contrast=f"{high.contrast:.1f}")
        reasons.append(Against(contrast, HARD + WORSE))
    if high.worst_shift > FAR_DELTA_E:
        shift = message(messages.WAY_FAR, colour=high.colours["shift"], shift=f"{high.worst_shift:.1f}")
        reasons.append(Against(shift, high.worst_shift / FAR_DELTA_E))
    return reasons
