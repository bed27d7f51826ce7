"""Every calculator there is, found by its place: a module named for its id, in the package of its stage."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from functools import cache
from importlib import import_module
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
        every.cache_clear()


@cache
def every() -> dict[str, Calculator]:
    """Return all calculators by id: by stage in the order of the work, then by their own order.

    A calculator is any ``Calculator`` at the top of a module named for it, one package deep.
    """
    found: dict[str, Calculator] = {}
    for module in _modules():
        if calculator := _calculator_of(module):
            if calculator.id in found:
                raise ValueError(f"two calculators have the id {calculator.id}")
            found[calculator.id] = calculator
    stages = list(STAGES)
    return dict(sorted(found.items(), key=lambda item: (stages.index(item[1].stage), item[1].order, item[0])))


def find(id: str) -> Calculator:
    """Return the calculator with that id; nothing is imported for it but its own module. Raises KeyError."""
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
        for stage in STAGES:
            if find_spec(f"{package}.{stage}"):
                yield f"{package}.{stage}"


def _modules() -> Iterator[ModuleType]:
    for place in _places():
        for entry in pkgutil.iter_modules(import_module(place).__path__, f"{place}."):
            yield import_module(entry.name)


def _calculator_of(module: ModuleType) -> Calculator | None:
    """Return the calculator that ``module`` is named for; None if it holds none."""
    name = module.__name__.rpartition(".")[2]
    for value in vars(module).values():
        if isinstance(value, Calculator) and _module_name(value.id) == name:
            return value
    return None


def _module_name(id: str) -> str:
    return id.replace("-", "_")
