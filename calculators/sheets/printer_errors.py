"""What a job knows of its printers' own errors: one entry for each printer and film, as a text that people can read.

An entry is ``inkjet-pigment on clear: 0.99300 across, 1.00400 down, 0.200° slant``, by the ids of printer and film;
entries are separated by semicolons or new lines. The calculator that measures an error writes them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from calculators import messages
from calculators.sheets.correction import Correction, PrinterError
from calculators.values import Message, message

UNREADABLE = (
    "{entry} does not say what a printer does to a film. An entry reads: inkjet-pigment on clear: 0.993 across, 1.004"
    " down, 0.2° slant."
)
_NUMBER = r"([-+]?[0-9]{1,3}(?:\.[0-9]{1,9})?)"
_ENTRY = re.compile(
    rf"([a-z0-9-]{{1,40}}) on ([a-z0-9-]{{1,40}}): {_NUMBER} across, {_NUMBER} down, {_NUMBER} ?° slant"
)


class Unreadable(ValueError):
    """An entry that says nothing; ``sentence`` tells the reader which."""

    def __init__(self, entry: str) -> None:
        super().__init__(entry)
        self.sentence: Message = message(UNREADABLE, entry=messages.quoted(entry))


@dataclass(frozen=True)
class KnownError:
    """The error of one printer on one film."""

    printer: str
    film: str
    error: PrinterError

    def written(self) -> str:
        """Return the entry. Places on a sheet of 300 mm move by less than 2 µm through its rounding.

        >>> KnownError("laser", "white", PrinterError(1.0, 0.9982, -0.04)).written()
        'laser on white: 1.00000 across, 0.99820 down, -0.040° slant'
        """
        skew = round(self.error.skew, 3) + 0.0
        return (
            f"{self.printer} on {self.film}: {self.error.across:.5f} across, {self.error.down:.5f} down, {skew:.3f}°"
            " slant"
        )


def known_errors(text: str) -> tuple[KnownError, ...]:
    """Return the entries of a text. Raises Unreadable."""
    return tuple(_known(entry) for entry in map(str.strip, re.split(r"[;\n]", text)) if entry)


def written(known: Iterable[KnownError]) -> str:
    """Return entries as a text."""
    return "; ".join(each.written() for each in known)


def with_error(text: str, new: KnownError) -> str:
    """Return ``text`` with one entry in place of that of the same printer and film, or after the last.

    Raises Unreadable.
    """
    others = [each for each in known_errors(text) if (each.printer, each.film) != (new.printer, new.film)]
    return written([*others, new])


def correction_for(text: str, printer: str, film: str) -> Correction | None:
    """Return the correction for a printer and a film; None where the job does not know their error.

    Raises Unreadable, and correction.TooLarge.
    """
    found = [each.error for each in known_errors(text) if (each.printer, each.film) == (printer, film)]
    return Correction.of(found[-1]) if found else None


def _known(entry: str) -> KnownError:
    found = _ENTRY.fullmatch(" ".join(entry.split()))
    if not found:
        raise Unreadable(entry)
    printer, film, *numbers = found.groups()
    across, down, skew = map(float, numbers)
    return KnownError(printer, film, PrinterError(across, down, skew))
