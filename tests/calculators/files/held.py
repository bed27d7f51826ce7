"""pikepdf lets go of a file's objects with the file, so files are held while a test looks at them."""

import pytest

held = []


@pytest.fixture(autouse=True)
def held_for_one_test():
    yield
    held.clear()
