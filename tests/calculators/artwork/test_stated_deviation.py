"""The stated deviation of a tracing is a bound, and no finer than it is known."""

import pytest

from calculators import messages, units
from calculators.artwork.trace import TraceOutputs
from calculators.declare import sentence
from calculators.declare.result import answered
from tests.calculators.artwork.test_trace import MARKING, answer


@pytest.mark.parametrize("width_mm", [0.5, 12, 37, 300])
@pytest.mark.parametrize("display", [units.MM, units.INCH])
def test_the_deviation_is_stated_in_two_digits_and_never_too_small(width_mm, display):
    outputs = answer(MARKING, width_mm=width_mm)
    shown = answered(TraceOutputs)["worst_mm"].render(outputs.worst_mm, outputs, display)
    within = next(each for each in outputs.reasons if each.sentence in (messages.TRACED_WITHIN, messages.TRACED_STEPS))
    assert f"{shown['shown']} {shown['unit']}" in sentence(within, display)
    stated = float(shown["shown"])
    digits = shown["shown"].replace(".", "").strip("0")
    assert len(digits) <= 2 and len(shown["shown"].partition(".")[2]) <= 3 + display.more_decimals
    assert outputs.worst_mm / display.mm <= stated
