"""Yes or no."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import messages, units
from calculators.declare.field import Field, When, declared

__all__ = ["YesNoField", "yes_no"]

YES = ("yes", "true", "on", "1", "y")
NO = ("no", "false", "off", "0", "n")


@dataclass(frozen=True, kw_only=True)
class YesNoField(Field):
    """A question that is answered by yes or no."""

    kind = "yes-no"
    takes = "yes or no"

    def read(self, text: str, display: units.Display) -> bool:
        """Return True for yes. Raises Trouble."""
        text = text.strip()
        if text.lower() in YES + NO:
            return text.lower() in YES
        raise self.takes_only(messages.TYPED.format(typed=messages.quoted(text)), display)

    def text_of(self, value: bool, display: units.Display) -> str:
        """Return "yes" or "no"."""
        return "yes" if value else "no"


def yes_no(label: str, *, default: bool, help: str = "", only_when: When = None) -> Any:
    """Declare a question answered by yes or no."""
    return declared(YesNoField(label=label, help=help, only_when=only_when), default)
