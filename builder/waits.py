"""Waits in prose: the range of a row of ``data/drying-times.yaml``, written out and
marked so that the page can time it.
"""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from calculators import numbers
from calculators.tables import HOURS, Fact

#: The parts of a wait that a page may ask for.
PARTS = ("shortest", "usual", "longest")

_SPAN = Markup(
    '<span class="dw-wait" data-wait="{id}" data-low-s="{low}" data-high-s="{high}" data-label="{label}"'
    ' data-ends="{ends}">{words}</span>'
)
_LINK = Markup('<a href="{link}">{words}</a>')


def seconds(range: Fact) -> tuple[str, str]:
    """Return the shortest and longest of a wait in whole seconds, as text."""
    low, high = (numbers.plain(round(hours / HOURS["s"])) for hours in range.hours)
    return low, high


def wait_html(row: Any, part: str, link: str) -> Markup:
    """Return one range of a wait as HTML within a line, leading to ``link`` unless that is empty.

    ``row`` is a row of drying-times and ``part`` one of ``PARTS``. It carries the data for the page's timers.
    """
    range = getattr(row, part)
    low, high = seconds(range)
    words = range.in_words
    if link:
        words = _LINK.format(link=link, words=words)
    return _SPAN.format(id=row.id, low=low, high=high, label=row.label, ends=row.ends, words=words)
