"""Programs and libraries that tests need: without one, tests skip, and in CI they fail.

An unnoticed skip hides that a whole subject is untested. ``CI`` is set by code hosts and by ``.ci/run``'s workflow.
"""

from __future__ import annotations

import os
import shutil
from typing import NoReturn

import pytest


def without(sentence: str) -> NoReturn:
    """Skip the test, or fail it where ``CI`` is set. ``sentence`` says what is missing and how to get it."""
    if os.environ.get("CI", "") not in ("", "0", "false"):
        pytest.fail(sentence, pytrace=False)
    pytest.skip(sentence)


def program(*commands: str, package: str) -> str:
    """Return the path of the first available command; without one, skip or fail."""
    for command in commands:
        if found := shutil.which(command):
            return found
    without(
        f"There is no {commands[0]} on PATH. On Debian, make setup installs it for root; else: apt-get install "
        f"{package}"
    )


def needs(command: str, package: str) -> pytest.MarkDecorator:
    """Mark a test that calls ``command``, which the Debian package ``package`` brings."""
    return pytest.mark.needs(command, package)
