"""What stops a build: mistakes that a contributor can put right, each told with its place."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import Protocol


class Mistakes(Exception):
    """One or more mistakes; each text begins with ``file:line:`` where the place is known."""

    def __init__(self, texts: list[str]) -> None:
        super().__init__("\n".join(texts))
        self.texts = texts


class Placed(Protocol):
    """A mistake that knows its place; ``str`` tells it to a reader."""

    def annotation(self) -> str:
        """Return it as a line that a code host shows beside the changed line."""


def stop_for(found: Sequence[Placed]) -> None:
    """Raise ``Mistakes`` if any were found; on a code host's machine mark their lines as well."""
    if os.environ.get("GITHUB_ACTIONS") == "true":
        for each in found:
            print(each.annotation(), flush=True)
    if found:
        raise Mistakes([str(each) for each in found])
