"""A screen for browsers that want one."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator

import pytest

from tests.other_browsers.smoke import browser_at


@pytest.fixture(scope="session")
def screen() -> Iterator[str]:
    """The name of a screen that nobody sees (DISPLAY)."""
    program = browser_at("Xvfb", package="xvfb")
    read, write = os.pipe()
    command = [program, "-displayfd", str(write), "-screen", "0", "1280x900x24", "-nolisten", "tcp"]
    running = subprocess.Popen(command, pass_fds=[write], stderr=subprocess.DEVNULL)
    os.close(write)
    with os.fdopen(read) as told:
        number = told.readline().strip()
    yield f":{number}"
    running.terminate()
    running.wait()
