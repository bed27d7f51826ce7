"""A picture with more small detail than can be worked on is told from a sample, before the long work.

The reader may go on all the same.
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
    """Declare the field that lets a reader go on although a sample shows too much detail."""
    return yes_no(
        "Try very fine detail",
        default=False,
        help=(
            "A large picture full of small letters or hatching is refused from a sample. Yes works on it all "
            "the same: it takes long, and may end with nothing."
        ),
    )


def told_of_fine_detail(raster: Raster, most_edges: int) -> list[Message]:
    """Return what is said where ``raster`` has more edges than ``most_edges``, so
    far as a sample shows; else nothing.
    """
    edges = sampled_edges(raster)
    if edges is None or edges <= most_edges:
        return []
    return [
        message(messages.FINE_DETAIL, edges=_rounded(edges), most=_rounded(most_edges)),
        message(messages.FINE_DETAIL_CURE),
    ]


def _rounded(count: int) -> str:
    """Return ``count`` in words for a reader, to ten thousands."""
    return f"{round(count, -4):,}".replace(",", " ")
