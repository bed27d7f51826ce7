"""Steps of long work on shapes, which others put into words."""

from __future__ import annotations

from dataclasses import dataclass

#: The kinds of work.
WALKING, FITTING, UNTANGLING, FILLING = "walking", "fitting", "untangling", "filling"


@dataclass(frozen=True)
class Step:
    """A step of long work: the ``share`` that is done (0 to 1, or None if unknown) and which ``work`` it belongs to."""

    share: float | None
    work: str
