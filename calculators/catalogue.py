"""All calculators, found by location: a module named for its id, in the package of its stage.

A page has the packages of its own stage only, and more come while it runs: see ``refresh``.
"""

from __future__ import annotations

import pkgutil
import sys
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from importlib.machinery import FileFinder
from importlib.util import find_spec
from types import ModuleType

from calculators.declare import Calculator
from calculators.stages import STAGES

#: Packages that hold calculators; tests add one of their own with ``include``.
_packages = ["calculators"]


def include(package: str) -> None:
    """Add the calculators of a further ``package`` (importable by that name)."""
    if package not in _packages:
        _packages.append(package)
        _forget()


@cache
def every() -> dict[str, Calculator]:
    """Return all calculators by id: by stage in the order of the work, then by their own order.

    A calculator is any ``Calculator`` at the top of a module named for it, one package deep.
    """
    found: dict[str, Calculator] = {}
    for _, calculator in _all():
        if calculator.id in found:
            raise ValueError(f"two calculators have the id {calculator.id}")
        found[calculator.id] = calculator
    stages = list(STAGES)
    return dict(sorted(found.items(), key=lambda item: (stages.index(item[1].stage), item[1].order, item[0])))


def modules() -> dict[str, Calculator]:
    """Return each calculator by the name of its module."""
    return {module.__name__: calculator for module, calculator in _all()}


def refresh() -> None:
    """Search again for calculators, after packages were added at run time."""
    # importlib.invalidate_caches would import many modules and read the zip of Python's library again.
    for path, finder in list(sys.path_importer_cache.items()):
        if finder is None:
            del sys.path_importer_cache[path]
        elif isinstance(finder, FileFinder):
            finder.invalidate_caches()
    _forget()


def _forget() -> None:
    every.cache_clear()
    find.cache_clear()


@cache
def find(id: str) -> Calculator:
    """Return the calculator with that id, importing only its own module. Raises KeyError.

    What was found is cached: the search lists folders, which takes longer than many an answer.
    """
    name = _module_name(id)
    for place in _places() if name.isidentifier() else ():
        if find_spec(f"{place}.{name}"):
            calculator = _calculator_of(import_module(f"{place}.{name}"))
            if calculator and calculator.id == id:
                return calculator
    raise KeyError(id)


def _places() -> Iterator[str]:
    """Yield the packages whose modules may be calculators."""
    for package in _packages:
        if package != "calculators":
            yield package
            continue
        # List the folders, since importing a package by name would make a page load that stage.
        there = {entry.name for entry in pkgutil.iter_modules(import_module(package).__path__)}
        yield from (f"{package}.{stage}" for stage in STAGES if stage in there)


def _all() -> Iterator[tuple[ModuleType, Calculator]]:
    """Yield every calculator with its module."""
    for place in _places():
        for entry in pkgutil.iter_modules(import_module(place).__path__, f"{place}."):
            module = import_module(entry.name)
            if calculator := _calculator_of(module):
                yield module, calculator


def _calculator_of(module: ModuleType) -> Calculator | None:
    """Return the calculator that ``module`` is named for; None if it holds none."""
    name = module.__name__.rpartition(".")[2]
    for value in vars(module).values():
        if isinstance(value, Calculator) and _module_name(value.id) == name:
            return value
    return None


def _module_name(id: str) -> str:
    return id.replace("-", "_")
