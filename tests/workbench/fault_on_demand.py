"""A calculator that fails with a fault on request."""

from __future__ import annotations

from dataclasses import dataclass

from calculators.declare import NEITHER, Calculator, measure, number, yes_no


@dataclass(frozen=True, kw_only=True)
class FaultOnDemandInputs:
    width_mm: float = number("Width", unit="mm", low=0.1, high=500, default=25.4)
    fails: bool = yes_no("Fails", default=False)


@dataclass(frozen=True, kw_only=True)
class FaultOnDemandOutputs:
    width_mm: float = measure("Width", unit="mm")


def fault_on_demand(inputs: FaultOnDemandInputs) -> FaultOnDemandOutputs:
    """Return the width again. Raises ArithmeticError on request."""
    if inputs.fails:
        raise ArithmeticError("this was asked for")
    return FaultOnDemandOutputs(width_mm=inputs.width_mm)


FAULT_ON_DEMAND = Calculator(
    id="fault-on-demand",
    title="Does it fail?",
    summary="Fails when it is told to.",
    stage="rescue",
    about=NEITHER,
    inputs=FaultOnDemandInputs,
    outputs=FaultOnDemandOutputs,
    compute=fault_on_demand,
)
