"""Every calculator there is, found by walking the packages of the stages."""

from __future__ import annotations

import pkgutil
from functools import cache
from importlib import import_module

from calculators.declare import STAGES, Calculator

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
    for package in _packages:
        for module in _modules(package):
            for value in vars(module).values():
                if isinstance(value, Calculator) and module.__name__.endswith(value.id.replace("-", "_")):
                    if value.id in found:
                        raise ValueError(f"two calculators have the id {value.id}")
                    found[value.id] = value
    stages = list(STAGES)
    return dict(sorted(found.items(), key=lambda item: (stages.index(item[1].stage), item[1].order, item[0])))


def find(id: str) -> Calculator:
    """Return the calculator with that id. Raises KeyError."""
    return every()[id]


def _modules(package: str):
    top = import_module(package)
    for entry in pkgutil.iter_modules(top.__path__, f"{package}."):
        if package != "calculators":
            yield import_module(entry.name)
        elif entry.ispkg and entry.name.rpartition(".")[2] in STAGES:
            stage = import_module(entry.name)
            for inner in pkgutil.iter_modules(stage.__path__, f"{entry.name}."):
                yield import_module(inner.name)
