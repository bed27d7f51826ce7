"""Tests of the corpus need both renderers; where the library of one is not installed, they say so."""

import pytest


@pytest.fixture(autouse=True, scope="session")
def cairo():
    try:
        import cairosvg  # noqa: F401
    except OSError:
        pytest.skip("libcairo2 is not installed")
