"""Text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from calculators import messages, units
from calculators.declare.field import Field, When, declared

__all__ = ["TextField", "text"]

TOO_LONG = "{Label} takes at most {most} characters"


@dataclass(frozen=True, kw_only=True)
class TextField(Field):
    """Text of at most ``most`` characters; may be empty where ``may_be_empty``. Its box is ``lines`` high.

    ``marks`` names a drawing among the results whose numbered areas the text marks; the page then lets them be touched.
    ``taps`` names a drawing whose bridges the text moves, adds and takes away; they can be touched too.
    ``grammar`` tells the page what the text means, where it has one of its own; it
    raises ValueError where it means nothing.
    """

    most: int
    may_be_empty: bool = False  # type: ignore[misc]  # each text says so for itself
    lines: int = 1
    marks: str = ""
    taps: str = ""
    grammar: Callable[[str], Any] | None = None
    kind = "text"
    takes = "text"

    def read(self, text: str, display: units.Display) -> str:
        """Return the text as it was typed. Raises Trouble."""
        if len(text) > self.most:
            raise self.trouble(TOO_LONG, messages.TYPED.format(typed=messages.quoted(text)), most=self.most)
        return text

    def parsed(self, value: str) -> Any:
        """Return the meaning of the text; a mapping as pairs, since JSON turns numeric keys into texts."""
        meant = self.grammar(value) if self.grammar else value
        return [list(pair) for pair in meant.items()] if isinstance(meant, Mapping) else meant

    def details(self) -> dict[str, Any]:
        """Return the size of the box and what the text marks."""
        return {"most": self.most, "lines": self.lines, "marks": self.marks, "taps": self.taps, "inputmode": "text"}


def text(
    label: str,
    *,
    default: str,
    most: int,
    may_be_empty: bool = False,
    lines: int = 1,
    marks: str = "",
    taps: str = "",
    grammar: Callable[[str], Any] | None = None,
    help: str = "",
    only_when: When = None,
) -> Any:
    """Declare text, in a box that is ``lines`` high.

    It may mark the areas of the drawing ``marks``, change the bridges of the drawing ``taps``, and have a
    ``grammar``.
    """
    made = TextField(
        label=label,
        help=help,
        most=most,
        may_be_empty=may_be_empty,
        lines=lines,
        marks=marks,
        taps=taps,
        grammar=grammar,
        only_when=only_when,
    )
    return declared(made, default)
