"""Yes or no."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators import messages, units
from calculators.declare.field import Field, When, declared

__all__ = ["YesNoField", "yes_no"]

YES = ("yes", "true", "on", "1", "y")
NO = ("no", "false", "off", "0", "n")
NOT_YES_OR_NO = "{Label} must be yes or no"
YES_OR_NO_HINT = "Type yes or no."


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
        raise self.trouble(NOT_YES_OR_NO, f"{messages.TYPED.format(typed=messages.quoted(text))} {YES_OR_NO_HINT}")

    def text_of(self, value: bool, display: units.Display) -> str:
        """Return "yes" or "no"."""
        return "yes" if value else "no"


def yes_no(label: str, *, default: bool, help: str = "", only_when: When = None) -> Any:
    """Declare a question answered by yes or no."""
    return declared(YesNoField(label=label, help=help, only_when=only_when), default)
