"""A chart of the air that passes: relative humidity against the temperature of the air, with the reader's own air."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from calculators import messages, numbers
from calculators.declare import Figure
from calculators.figures.plot import Plot
from calculators.seal.dew_point import Air

#: The usual span of the chart in °C; it is widened for air beyond it.
COLDEST, WARMEST, STEP = 0, 40, 10


def air_chart(air: Air, condenses: Callable[[Air], float | None], passes: Callable[[Air], float | None]) -> Figure:
    """Return the chart. Both functions have the highest humidity for an air: without condensation, and for all checks.

    The surface is as much warmer or colder than the air as the reader's own.
    """
    low = min(COLDEST, STEP * int((air.air_celsius - STEP) // STEP)) if air.air_celsius < COLDEST else COLDEST
    high = max(WARMEST, STEP * -int(-(air.air_celsius + 1) // STEP))
    step = STEP if high - low <= 60 else 2 * STEP
    plot = Plot(list(range(low, high + step, step)), [0, 20, 40, 60, 80, 100], messages.AIR_X, messages.AIR_Y)
    warmer = air.surface_celsius - air.air_celsius

    def along(limit: Callable[[Air], float | None]) -> list[tuple[float, float]]:
        line = []
        for celsius in range(int(plot.x[0]), int(plot.x[-1]) + 1):
            there = replace(air, air_celsius=float(celsius), surface_celsius=celsius + warmer)
            line.append((float(celsius), limit(there) or 0.0))
        return line

    wet, safe = along(condenses), along(passes)
    plot.area([*safe, (safe[-1][0], 0.0), (safe[0][0], 0.0)])
    plot.line(wet, "dw-water-line", dashes="7 5")
    plot.line(safe, "dw-accent")
    ends = (air.air_error, air.humidity_error)
    here = (air.air_celsius, air.humidity_percent)
    plot.box((here[0] - ends[0], here[1] - ends[1]), (here[0] + ends[0], here[1] + ends[1]))
    plot.dot(here)
    plot.words_beside(
        [
            (wet[-1][1], messages.AIR_CONDENSES),
            (safe[-1][1], messages.AIR_PASSES_ALL),
            (here[1], messages.AIR_YOURS),
        ]
    )
    most = passes(air)
    inside = most is not None and air.humidity_percent <= most
    return plot.figure(
        messages.AIR_CHART_ALT.format(
            air=numbers.plain(air.air_celsius),
            percent=numbers.plain(air.humidity_percent),
            place=messages.AIR_INSIDE if inside else messages.AIR_OUTSIDE,
        )
    )
