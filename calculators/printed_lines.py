"""Kinds of printed lines, and the thinnest that a printer can print. Several stages judge lines."""

from __future__ import annotations

from calculators import messages
from calculators.tables.declaration import Fact
from calculators.tables.printing_rows import Printer

SOLID, REVERSED, MIXED = "solid", "reversed", "mixed"
#: Kinds of lines, since printers' limits differ between them.
LINES = {
    SOLID: "Dark on light, in one solid colour",
    REVERSED: "Light on dark, left open in the print",
    MIXED: "In a mixed colour",
}
#: The name of each kind in a sentence.
LINES_IN_WORDS = {SOLID: messages.SOLID_LINES, REVERSED: messages.REVERSED_LINES, MIXED: messages.MIXED_LINES}


def thinnest_held(printer: Printer, line: str) -> Fact:
    """Return the thinnest ``line`` (one of ``LINES``) that printers of a kind hold,
    from the best to the worst of them.
    """
    return printer.thinnest_line if line == SOLID else printer.thinnest_line_colour
