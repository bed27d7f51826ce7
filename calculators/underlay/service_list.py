"""A list to send with an order for a print with white: the marking, and questions to ask before printing."""

from __future__ import annotations

from collections.abc import Sequence

from calculators import messages, numbers, tables
from calculators.declare import NamedFile
from calculators.underlay.case import Judged
from calculators.underlay.stacks import Whole
from calculators.units import MM_PER_INCH


def service_list(width_mm: float, height_mm: float, count: int, whole: Whole, judged: Sequence[Judged]) -> NamedFile:
    """Return the list as plain text, with this marking's size, count and colours."""
    service = next(each for each in judged if each.way.bought)
    choke = max((way.choke for way in tables.load("ways") if way.choke), key=lambda each: each.high)
    values = {
        "width": numbers.rounded(width_mm, 2),
        "height": numbers.rounded(height_mm, 2),
        "count": count,
        "width_in": numbers.rounded(width_mm / MM_PER_INCH, 3),
        "height_in": numbers.rounded(height_mm / MM_PER_INCH, 3),
        "layers": service.layers,
        "low": numbers.plain(choke.low),
        "high": numbers.plain(choke.high),
        "base_a": whole.base_a,
        "base_b": whole.base_b,
    }
    lines = [messages.SERVICE_TITLE, "", messages.SERVICE_SEND]
    lines += [f"[ ] {line.format(**values)}" for line in messages.SERVICE_SENDS]
    lines += ["", messages.SERVICE_COLOURS]
    lines += [f"    {part.name}: {100 * part.share:.1f} %" for part in whole.parts.values()]
    lines += [
        "",
        messages.SERVICE_PAINT.format(**values) if whole.one_paint else messages.SERVICE_PAINTS.format(**values),
    ]
    lines += ["", messages.SERVICE_ASK]
    lines += [f"[ ] {line.format(**values)}" for line in messages.SERVICE_ASKS]
    lines += ["", messages.SERVICE_FIRST]
    return NamedFile(messages.SERVICE_NAME, "text/plain;charset=utf-8", "\r\n".join((*lines, "")).encode())
