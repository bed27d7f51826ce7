"""A drawing that cannot be used, and why."""

from __future__ import annotations

from calculators import messages


class Unread(ValueError):
    """A drawing that cannot be used, why, and what the reader can do about it."""

    def __init__(self, sentence: str, *, hint: str = messages.OUTLINES_HINT, **values: str) -> None:
        super().__init__(sentence)
        self._sentence, self._values = sentence, values
        self.hint = hint

    def message(self, name: str) -> str:
        """Return the reason as a sentence with the file's ``name``."""
        return self._sentence.format(name=name, **self._values)


def broken(near: str) -> Unread:
    """Return that a file cannot be read ``near`` some text of it."""
    return Unread(messages.OUTLINES_BROKEN, near=messages.quoted(" ".join(near[:200].split())))
