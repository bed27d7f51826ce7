"""Tests of the corpus need both renderers; where the library of one is not installed, they say so."""

import pytest

from tests.tools import without


@pytest.fixture(autouse=True, scope="session")
def cairo():
    try:
        import cairosvg  # noqa: F401 - whether it loads is all that is asked
    except OSError:
        without(
            "libcairo2 is not installed. On Debian, make setup installs it for root; else: apt-get install libcairo2"
        )
