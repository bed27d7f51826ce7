"""Run work in steps to its end."""

from collections.abc import Generator
from typing import Any


def finished(steps: Generator[Any, None, Any]) -> Any:
    """Run all ``steps`` and return what they return."""
    while True:
        try:
            next(steps)
        except StopIteration as stop:
            return stop.value
