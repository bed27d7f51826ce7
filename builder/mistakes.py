"""What stops a build: mistakes that a contributor can put right, each with its place and its cure."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass


class Mistakes(Exception):
    """One or more mistakes; each text begins with ``file:line:`` where the place is known."""

    def __init__(self, texts: list[str]) -> None:
        super().__init__("\n".join(texts))
        self.texts = texts


class Unable(RuntimeError):
    """The machine cannot build the site; the text says what is missing or failed, and what to do."""


@dataclass(frozen=True, order=True)
class Mistake:
    """What a contributor can put right: where, what, and the corrected text or what to do.

    ``line`` and ``column`` count from 1, ``file`` is relative to the project.
    """

    file: str
    line: int
    column: int
    what: str
    fix: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.what}\nFix: {self.fix}"

    def annotation(self) -> str:
        """Return the mistake as a line that a code host shows beside the changed line."""
        message = f"{self.what}. Fix: {self.fix}".replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")
        return f"::error file={self.file},line={self.line},col={self.column}::{message}"


def stop_for(found: Sequence[Mistake]) -> None:
    """Raise ``Mistakes`` if any were found; on a code host's machine mark their lines as well."""
    if os.environ.get("GITHUB_ACTIONS") == "true":
        for each in found:
            print(each.annotation(), flush=True)
    if found:
        raise Mistakes([str(each) for each in found])
