"""Slow work that reports progress and can be stopped between steps."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass

from calculators.declare import NEITHER, Calculator, Progress, measure, number, whole_number


@dataclass(frozen=True, kw_only=True)
class LongWorkInputs:
    steps: int = whole_number("Steps", unit="", low=1, high=1000, default=2)
    step_s: float = number("A step takes", unit="s", low=0, high=60, default=0)


@dataclass(frozen=True, kw_only=True)
class LongWorkOutputs:
    steps: int = measure("Steps taken", decimals=0)


def long_work(inputs: LongWorkInputs) -> Iterator[Progress | LongWorkOutputs]:
    """Wait ``steps`` times ``step_s`` seconds, telling the share that is done, and return the steps taken."""
    for step in range(inputs.steps):
        yield Progress(share=step / inputs.steps, words=f"Step {step + 1} of {inputs.steps}")
        time.sleep(inputs.step_s)
    return LongWorkOutputs(steps=inputs.steps)


LONG_WORK = Calculator(
    id="long-work",
    title="How long does it take?",
    summary="Takes as long as it is told to.",
    stage="sheet",
    about=NEITHER,
    inputs=LongWorkInputs,
    outputs=LongWorkOutputs,
    compute=long_work,
    limit_s=6,
)
