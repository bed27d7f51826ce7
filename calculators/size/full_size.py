"""The reverse: how big would a marking of this size on the model be on the real thing?"""

from __future__ import annotations

from dataclasses import dataclass

from calculators import tables
from calculators.declare import (
    MARKING,
    Calculator,
    Lead,
    leads,
    measure,
    number,
    shared,
    table,
)
from calculators.job_fields import scale_of_model
from calculators.size import next_steps
from calculators.size.scale_size import neighbours


@dataclass(frozen=True, kw_only=True)
class FullSizeInputs:
    model_size_mm: float = shared(
        "own-width",
        number(
            "Size on the model",
            unit="mm",
            low=0.01,
            high=10_000,
            default=14,
            help="Measure it on the model, or read it from a kit's own marking.",
        ),
        MARKING,
    )
    scale: float = scale_of_model()


@dataclass(frozen=True, kw_only=True)
class FullSizeAtScale:
    scale: float = measure("Scale", unit="1:n", decimals=1)
    full_size_mm: float = measure("Size on the real thing", unit="mm", decimals=1)


@dataclass(frozen=True, kw_only=True)
class FullSizeOutputs:
    full_size_mm: float = measure("Size on the real thing", unit="mm", decimals=1)
    at_neighbouring_scales: tuple[FullSizeAtScale, ...] = table(
        "The same size on models of other scales", row=FullSizeAtScale
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.FULL_SIZE)


def full_size(inputs: FullSizeInputs) -> FullSizeOutputs:
    """Return the size on the real thing of a marking measured on a model, in mm."""
    return FullSizeOutputs(
        full_size_mm=inputs.model_size_mm * inputs.scale,
        at_neighbouring_scales=tuple(
            FullSizeAtScale(scale=ratio, full_size_mm=inputs.model_size_mm * ratio)
            for ratio, _names in neighbours(inputs.scale)
        ),
    )


CALCULATOR = Calculator(
    id="full-size",
    title="How big would this be on the real thing?",
    summary="Goes from a size on the model back to full size.",
    also=("prototype size", "back to full size", "scale conversion", "1/72", "1/48"),
    stage="size",
    about=MARKING,
    inputs=FullSizeInputs,
    outputs=FullSizeOutputs,
    compute=full_size,
    sources=(tables.COMMON_PRACTICE,),
    order=20,
)
