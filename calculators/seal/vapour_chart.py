"""A chart of the vapour of one part over time: well mixed, and as much as it may be near the work."""

from __future__ import annotations

from math import floor, isfinite, log10

from calculators import messages, numbers
from calculators.declare import Figure
from calculators.figures.plot import Plot
from calculators.seal.vapour_curve import Curve
from calculators.seal.vapour_limits import DAY, DAY_H, SHORT, Part, limit_of

POINTS = 120


def vapour_chart(part: Part, curve: Curve, factors: tuple[float, ...]) -> Figure | None:
    """Return the chart of a part whose amount is known; None for any other."""
    if part.closed_ppm is None:
        return None
    tenth = curve.hours_until(curve.peak / 10)
    hours = min(24.0, max(2 * curve.release_h, tenth if isfinite(tenth) else DAY_H, 1.0))
    peak = part.closed_ppm * curve.peak
    limits = {kind: limit.ppm for kind in (DAY, SHORT) if (limit := limit_of(part, kind))}
    # High enough for the middle line and for limits that are not far beyond it; the highest line may leave the chart.
    top = max(factors[1] * peak, *(each for each in limits.values() if each < factors[-1] * peak), 1e-3)
    plot = Plot(_ticks(hours), _ticks(top), messages.VAPOUR_X, messages.VAPOUR_Y.format(name=part.name))
    times = sorted({*(plot.x[-1] * place / POINTS for place in range(POINTS + 1)), curve.release_h})
    words = []
    for factor, name, dashes in zip(
        factors, ("dw-accent", "dw-soft-line", "dw-soft-line"), ("", "7 5", "2 5"), strict=True
    ):
        values = [part.closed_ppm * factor * curve.at(each) for each in times]
        plot.line(zip(times, values, strict=True), name, dashes=dashes)
        label = messages.VAPOUR_MIXED if factor == 1 else messages.VAPOUR_TIMES.format(times=numbers.plain(factor))
        words.append((values[-1], label))
    named = {DAY: messages.VAPOUR_CHART_DAY, SHORT: messages.VAPOUR_CHART_SHORT}
    for kind, ppm in limits.items():
        plot.line([(0.0, ppm), (plot.x[-1], ppm)], "dw-water-line", dashes="10 4", wide=1.5)
        words.append((ppm, named[kind]))
    plot.words_beside(words)
    sentences = " ".join(
        messages.VAPOUR_CHART_LIMIT.format(kind=named[kind], ppm=numbers.significant(ppm))
        for kind, ppm in limits.items()
    )
    return plot.figure(
        messages.VAPOUR_CHART_ALT.format(
            name=messages.as_subject(part.name),
            hours=numbers.significant(hours, 2),
            peak=numbers.significant(peak),
            limits=sentences,
        ).strip()
    )


def _ticks(most: float) -> list[float]:
    """Return four to eight round ticks from 0 to ``most`` or a little beyond."""
    rough = most / 5
    power = 10.0 ** floor(log10(rough))
    step = next(size * power for size in (1, 2, 5, 10) if size * power >= rough * 0.999)
    count = 1
    while count * step < most * 0.999:
        count += 1
    return [round(place * step, 12) for place in range(count + 1)]
