"""What stops a build: mistakes that a contributor can put right, each told with its place."""

from __future__ import annotations


class Mistakes(Exception):
    """One or more mistakes; each text begins with ``file:line:`` where the place is known."""

    def __init__(self, texts: list[str]) -> None:
        super().__init__("\n".join(texts))
        self.texts = texts
