"""A virtual screen for browsers that need one."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator

import pytest

from tests.tools import program


@pytest.fixture(scope="session")
def screen() -> Iterator[str]:
    """The name of a virtual screen (DISPLAY)."""
    read, write = os.pipe()
    command = [
        program("Xvfb", package="xvfb"),
        "-displayfd",
        str(write),
        "-screen",
        "0",
        "1280x900x24",
        "-nolisten",
        "tcp",
    ]
    running = subprocess.Popen(command, pass_fds=[write], stderr=subprocess.DEVNULL)
    os.close(write)
    with os.fdopen(read) as pipe:
        number = pipe.readline().strip()
    yield f":{number}"
    running.terminate()
    running.wait()
