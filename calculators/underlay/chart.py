"""A chart of the visible border, and of the contrast with the paint around, against layers of white."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil

from calculators import messages
from calculators.colour.seen import Seen
from calculators.declare import Figure
from calculators.markup import escape

WIDTH, HEIGHT = 520, 300
LEFT, TOP, RIGHT, BOTTOM = 44, 14, 372, 222
INK, SOFT, WATER, ACCENT = "#1c2226", "#586066", "#1d6a73", "#7a2232"
#: The step of the scale and its greatest end: beyond that a colour is simply far away.
STEP, MOST = 10, 60


def layers_chart(ends: Sequence[Sequence[Seen]], count: int, limit: float, legible: float) -> Figure:
    """Return the chart for both ``ends`` of the ranges, each seen with 0, 1, 2 … layers; ``count`` is marked."""
    borders = [[each.border for each in end] for end in ends]
    contrasts = [[min(side.contrast for side in each.sides) for each in end] for end in ends]
    whole = max(STEP, min(MOST, STEP * ceil(max(map(max, (*borders, *contrasts))) / STEP)))
    last = len(ends[0]) - 1

    def at(layers: float, value: float) -> tuple[float, float]:
        return LEFT + (RIGHT - LEFT) * layers / last, BOTTOM - (BOTTOM - TOP) * min(value, whole) / whole

    parts = [_grid(whole, last, at)]
    parts += [_level(at(last, limit)[1], "dw-accent", ACCENT), _level(at(last, legible)[1], "dw-soft-line", SOFT)]
    x = at(count, 0)[0]
    parts.append(f'<path class="dw-soft-line" d="M{x:.1f} {TOP}V{BOTTOM}" stroke="{SOFT}" stroke-width="1"/>')
    for values, name, colour in ((borders, "dw-ink", INK), (contrasts, "dw-water-line", WATER)):
        for end, dashes in zip(values, ("", ' stroke-dasharray="7 5"'), strict=True):
            path = "L".join("{:.1f} {:.1f}".format(*at(layers, value)) for layers, value in enumerate(end))
            parts.append(f'<path class="{name}" d="M{path}" fill="none" stroke="{colour}" stroke-width="2.5"{dashes}/>')
        parts += [_dot(at(count, end[count]), name, colour) for end in values]
    parts += _words(
        [
            (at(last, borders[0][-1])[1], messages.CHART_BORDER),
            (at(last, contrasts[0][-1])[1], messages.CHART_CONTRAST),
            (at(last, limit)[1], messages.CHART_LIMIT),
            (at(last, legible)[1], messages.CHART_LEGIBLE),
        ]
    )
    parts.append(_text((LEFT + RIGHT) / 2, BOTTOM + 44, messages.CHART_LAYERS, anchor="middle"))
    parts.append(_text(0, BOTTOM + 70, messages.CHART_KEY, name="dw-soft", colour=SOFT))
    rendered = {
        f"{name}_{edge}": f"{pick(end[count] for end in values):.1f}"
        for name, values in (("border", borders), ("contrast", contrasts))
        for edge, pick in (("low", min), ("high", max))
    }
    layers = messages.ONE_LAYER if count == 1 else messages.LAYERS.format(count=count)
    alt = messages.CHART_ALT.format(most=last, count=layers, **rendered)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img">'
        f"<title>{escape(alt)}</title>{''.join(parts)}</svg>"
    )
    return Figure(svg, alt)


def _grid(whole: int, last: int, at: Callable[[float, float], tuple[float, float]]) -> str:
    """Return both axes with their numbers."""
    ticks = range(0, whole + 1, STEP if whole <= 3 * STEP else 2 * STEP)
    lines = "".join(f"M{LEFT - 5} {at(0, each)[1]:.1f}H{LEFT}" for each in ticks)
    counts = range(0, last + 1, 2)
    lines += "".join(f"M{at(each, 0)[0]:.1f} {BOTTOM}v5" for each in counts)
    axes = (
        f'<path class="dw-ink" d="M{LEFT} {TOP}V{BOTTOM}H{RIGHT}{lines}" fill="none" stroke="{INK}" '
        'stroke-width="1.5"/>'
    )
    numbers = [_text(LEFT - 9, at(0, each)[1] + 5, str(each), anchor="end") for each in ticks]
    numbers += [_text(at(each, 0)[0], BOTTOM + 22, str(each), anchor="middle") for each in counts]
    return axes + "".join(numbers)


def _level(y: float, name: str, colour: str) -> str:
    return (
        f'<path class="{name}" d="M{LEFT} {y:.1f}H{RIGHT}" fill="none" stroke="{colour}" stroke-width="1.5" '
        'stroke-dasharray="2 4"/>'
    )


def _dot(point: tuple[float, float], name: str, colour: str) -> str:
    return (
        f'<circle class="{name}" cx="{point[0]:.1f}" cy="{point[1]:.1f}" r="4" fill="none" stroke="{colour}" '
        'stroke-width="2.5"/>'
    )


def _words(labels: list[tuple[float, str]]) -> list[str]:
    """Return the words to the right of their lines, from the top down, without overlaps."""
    parts, lowest = [], 0.0
    ordered = sorted(labels)
    room = BOTTOM - (len(ordered) - 1) * 20
    for place, (y, words) in enumerate(ordered):
        lowest = max(min(y, room + place * 20), lowest)
        parts.append(
            f'<path class="dw-soft-line" fill="none" stroke="{SOFT}" stroke-width="1" d="M{RIGHT + 3} '
            f'{y:.1f}L{RIGHT + 12} {lowest:.1f}"/>'
        )
        parts.append(_text(RIGHT + 15, lowest + 5, words))
        lowest += 20
    return parts


def _text(x: float, y: float, words: str, *, anchor: str = "start", name: str = "dw-label", colour: str = INK) -> str:
    return (
        f'<text class="{name}" x="{x:.1f}" y="{y:.1f}" font-size="15" text-anchor="{anchor}" fill="{colour}">'
        f"{escape(words)}</text>"
    )
