"""How a calculator is declared: once, in frozen dataclasses, read by everything else.

Inputs are a frozen, keyword-only dataclass whose fields are made by ``number``, ``choice``, ``rows``
and so on; results are another whose fields are made by ``measure``, ``verdict``, ``table`` and so
on. A ``Calculator`` ties them to one pure function. The form, the validation, the page's tables,
the command line, the job and the generic tests all read these declarations and nothing else.
"""

# The names of the four modules are one vocabulary: callers take them from here.
from calculators.declare.calculator import *
from calculators.declare.fields import *
from calculators.declare.results import *
from calculators.values import *
