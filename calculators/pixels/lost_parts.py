"""What a result has lost of its picture."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.pixels.colour_table import Rgb


@dataclass(frozen=True)
class Place:
    """A place where something was lost: its box in pixels (right and bottom beyond
    it), its colour, and what it has become.

    Of a colour that was merged it is the whole of it, and ``points`` are some pixels of it.
    """

    box: tuple[int, int, int, int]
    was: Rgb
    now: Rgb
    points: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Losses:
    """``strokes``: pieces of thin parts that are lost, the longest first, ``stroke_px`` long together.

    ``washed``: colours that only thin parts have, and that lie between their ground and a further colour, which they
    probably are. ``shapes``: small shapes that are no longer as they were. ``gradient``: places (x, y) where colours go
    over into each other. ``unsteady``: places where labels change without an edge in the picture. ``near``: even areas
    of a colour so near to another that both were taken as one. As the tolerance asks for that, it is no loss. ``flat``:
    such areas that a reader sees as a colour of its own, which is a loss.
    """

    strokes: tuple[Place, ...]
    stroke_px: int
    merged: tuple[Place, ...]
    washed: tuple[Place, ...] = ()
    shapes: tuple[Place, ...] = ()
    gradient: tuple[tuple[int, int], ...] = ()
    unsteady: tuple[tuple[int, int], ...] = ()
    near: tuple[Place, ...] = ()
    flat: tuple[Place, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.flat) or self.has_more

    @property
    def has_more(self) -> bool:
        """Whether anything else than flat colours was lost."""
        return bool(self.strokes or self.merged or self.washed or self.shapes or self.gradient or self.unsteady)


NOTHING_LOST = Losses((), 0, ())
