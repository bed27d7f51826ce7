"""Colours as fields and as results."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from typing import Any

from calculators import messages, tables, units
from calculators.declare import result
from calculators.declare.field import Field, When, declared, folded

__all__ = ["ColourField", "ColourResult", "colour", "colour_result"]

COLOUR_HINT = "Type # and six of the characters 0 to 9 and a to f."
COLOUR_OR_NAME = "Type # and six of the characters 0 to 9 and a to f, or a name from the list."
OR_A_NAME = "{takes}, or a name such as {name}"
#: One digit for each of red, green and blue, and two.
_SHORT = re.compile(r"#?([0-9a-fA-F])([0-9a-fA-F])([0-9a-fA-F])")
_FULL = re.compile(r"[0-9a-fA-F]{6}")


@dataclass(frozen=True, kw_only=True)
class ColourField(Field):
    """An sRGB colour, as #rrggbb in small letters. It may be named from the table ``names``."""

    names: str = ""
    kind = "colour"
    takes = "a colour such as #7a2232"

    def read(self, text: str, display: units.Display) -> str:
        """Return the colour typed in digits or by name. Raises Trouble."""
        text = text.strip()
        short = _SHORT.fullmatch(text)
        full = "".join(2 * digit for digit in short.groups()) if short else text.removeprefix("#")
        if _FULL.fullmatch(full):
            return f"#{full.lower()}"
        if self.names and (named := self._named(text)):
            return named
        hint = COLOUR_OR_NAME if self.names else COLOUR_HINT
        raise self.takes_only(f"{messages.TYPED.format(typed=messages.quoted(text))} {hint}", display)

    def accepts(self, display: units.Display) -> str:
        """Return what may be typed, with the first name of the table as an example."""
        return OR_A_NAME.format(takes=self.takes, name=tables.load(self.names)[0].label) if self.names else self.takes

    def _named(self, text: str) -> str | None:
        """Return the colour that ``text`` names in the table of the field, or None. Raises Trouble for a similar
        name.
        """
        wanted = folded(text)
        names = {folded(name): row for row in tables.load(self.names) for name in (*row.aliases, row.label, row.id)}
        if wanted in names:
            colour: str | None = names[wanted].colour
            return colour
        if near := difflib.get_close_matches(wanted[:100], names, n=1):
            meant = messages.DID_YOU_MEAN.format(meant=messages.quoted(names[near[0]].label))
            raise self.takes_only(f"{messages.TYPED.format(typed=messages.quoted(text))} {meant}", units.MM)
        return None

    def details(self) -> dict[str, Any]:
        """Return the names that are offered."""
        if not self.names:
            return {"suggestions": []}
        return {"suggestions": [{"value": row.colour, "label": row.label} for row in tables.load(self.names)]}


@dataclass(frozen=True, kw_only=True)
class ColourResult(result.Result):
    """An sRGB colour, as #rrggbb."""

    kind = "colour"
    section = result.LINES


def colour(label: str, *, default: str, names: str = "", help: str = "", only_when: When = None) -> Any:
    """Declare an sRGB colour, which may be named from the data table ``names``."""
    return declared(ColourField(label=label, help=help, names=names, only_when=only_when), default)


def colour_result(label: str, *, help: str = "") -> Any:
    """Declare a colour (#rrggbb) as a result."""
    return result.declared(ColourResult(label=label, help=help))
