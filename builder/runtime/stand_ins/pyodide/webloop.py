"""Stands in for Pyodide's event loop: calculators answer in one go, and asyncio is
a quarter of all that a start would import.
"""

from pyodide_js._api import scheduleCallback  # noqa: F401 - a snapshot expects that this is held


def _initialize_event_loop() -> None:
    """Set up nothing: there is no event loop."""
