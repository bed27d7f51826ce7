"""The examples in the docstrings of the calculators."""

import doctest
import pkgutil
from importlib import import_module

import pytest

import calculators

MODULES = [
    entry.name for entry in pkgutil.walk_packages(calculators.__path__, "calculators.") if "__main__" not in entry.name
]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    assert doctest.testmod(import_module(name)).failed == 0


def test_there_are_examples():
    found = [doctest.DocTestFinder().find(import_module(name)) for name in MODULES]
    assert sum(bool(each.examples) for module in found for each in module) > 20
