"""Stands in for the paths within archives, which nobody here uses.

They import pathlib, and with it a quarter of all that archives need.
"""


class Path:
    """There are no such paths in the page."""

    def __init__(self, *_arguments: object) -> None:
        raise RuntimeError("there are no paths within archives in the page")


class CompleteDirs:
    """Only the paths need it."""
