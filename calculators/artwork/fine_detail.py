"""Sample a picture for more small detail than the site can handle, before the long work starts.

The reader may still go on.
"""

from __future__ import annotations

from typing import Any

from calculators import messages
from calculators.declare import Message, message, yes_no
from calculators.pixels.raster import Raster
from calculators.pixels.sampled_edges import sampled_edges

FINE = "fine"
TOO_FINE = ("fail", "Its detail is too small and too much to work on")


def try_fine_detail() -> Any:
    """Declare the field that lets a reader go on when a sample shows too much detail."""
    return yes_no(
        "Try very fine detail",
        default=False,
        help=(
            "A large picture full of small letters or hatching is refused from a sample. Yes works on it all "
            "the same: it takes long, and may end with nothing."
        ),
    )


def fine_detail_reasons(raster: Raster, most_edges: int) -> list[Message]:
    """Return the messages if a sample of ``raster`` suggests more than ``most_edges`` edges, else an empty list."""
    edges = sampled_edges(raster)
    if edges is None or edges <= most_edges:
        return []
    return [
        message(messages.FINE_DETAIL, edges=_rounded(edges), most=_rounded(most_edges)),
        message(messages.FINE_DETAIL_CURE),
    ]


def _rounded(count: int) -> str:
    """Return ``count`` in words for a reader, rounded to ten thousands."""
    return f"{round(count, -4):,}".replace(",", " ")
