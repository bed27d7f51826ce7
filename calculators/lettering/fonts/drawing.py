"""A text drawn in a font, where what reads fonts is here: it comes with the first text that is set in one."""

from __future__ import annotations

from collections.abc import Generator

from calculators.declare import Message, Problem, Progress, Refused, message
from calculators.lettering import OWN_FONT, drawing
from calculators.lettering.fonts import sentences
from calculators.lettering.fonts.order import FontOrder

__all__ = ["FontOrder", "drawn_in_font"]


def drawn_in_font(order: drawing.Order, of_font: FontOrder) -> Generator[Progress, None, drawing.Drawing | Message]:
    """Yield progress, and return texts drawn in a font, or why they cannot be drawn: at these sizes, or without a file.

    Raises Refused for a font that is not read, and for texts that are not set in it.
    """
    if of_font.letters == OWN_FONT and of_font.font_file is None:
        return message(sentences.NO_FILE)
    try:
        # The library that reads fonts may be missing on a command line.
        from calculators.lettering.fonts import work
    except ModuleNotFoundError as missing:
        if not (missing.name or "").startswith("fontTools"):
            raise
        raise Refused(Problem("letters", sentences.NO_LIBRARY, sentences.INSTALL_LIBRARY)) from None
    return (yield from work.drawn(order, of_font))
