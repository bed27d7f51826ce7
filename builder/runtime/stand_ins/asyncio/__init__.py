"""Stands in for asyncio, which Pyodide imports as it starts: nothing here waits for
anything, so there is no event loop.

With all that it imports, the whole of asyncio is a third of a start.
"""


def get_event_loop() -> None:
    """Refuse: no calculator may wait."""
    raise RuntimeError("there is no event loop in the page")
