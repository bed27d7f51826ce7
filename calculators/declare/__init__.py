"""How a calculator is declared: once, in frozen dataclasses, read by everything else.

Inputs are a frozen, keyword-only dataclass whose fields are made by ``number``, ``choice``, ``rows``
and so on; results are another whose fields are made by ``measure``, ``verdict``, ``table`` and so
on. A ``Calculator`` ties them to one pure function. The form, the validation, the page's tables,
the command line, the job and the generic tests all read these declarations and nothing else.

Each kind of field and of result is a module here, named for the kind. What the modules list in
``__all__`` is one vocabulary: callers take it from this package.
"""

from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING

from calculators.values import *

if TYPE_CHECKING:
    # Type checkers do not see what is taken up below. tests/builder/test_kinds.py keeps this complete.
    from calculators.declare.calculator import *
    from calculators.declare.choice import *
    from calculators.declare.colour import *
    from calculators.declare.field import *
    from calculators.declare.figure import *
    from calculators.declare.file import *
    from calculators.declare.folded import *
    from calculators.declare.leads import *
    from calculators.declare.link import *
    from calculators.declare.measure import *
    from calculators.declare.number import *
    from calculators.declare.picture import *
    from calculators.declare.point import *
    from calculators.declare.prose import *
    from calculators.declare.result import *
    from calculators.declare.rows import *
    from calculators.declare.scenes import *
    from calculators.declare.sentences import *
    from calculators.declare.table import *
    from calculators.declare.text import *
    from calculators.declare.verdict import *
    from calculators.declare.whole_job import *
    from calculators.declare.words import *
    from calculators.declare.yes_no import *

#: The modules of this package by name, including those of the kinds, found by location so that there is no list of
#: kinds.
MODULES = {each.name: import_module(f"{__name__}.{each.name}") for each in iter_modules(__path__)}  # noqa: F405 - every package has it

# A function may share the name of its module; the function then wins.
for _module in MODULES.values():
    globals().update({name: getattr(_module, name) for name in _module.__all__})
