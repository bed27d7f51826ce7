"""Work out how one ink on one film looks over one paint, or over two."""

from __future__ import annotations

from dataclasses import dataclass

from calculators import messages, tables
from calculators.colour.beyond import is_beyond
from calculators.colour.seen import Marking, Seen
from calculators.colour.white_layers import scattering_power
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    advice,
    colour,
    colour_result,
    figure,
    leads,
    measure,
    message,
    reasons,
    table,
    verdict,
    whole_number,
    words,
)
from calculators.job_fields import border_limit, film, first_paint, second_paint, white_beneath
from calculators.underlay import next_steps
from calculators.underlay.chart import layers_chart
from calculators.underlay.drawings import section_figure, swatches_figure
from calculators.underlay.judging import (
    ACCEPTED_DELTA_E,
    FAR_DELTA_E,
    LEGIBLE_DELTA_E,
    LOOKED_AT,
    MOST_LAYERS,
    SOURCES,
    TINY,
    counted,
    hardly_legible,
)

PASSES, SHIFTS, FAILS = "passes", "shifts", "fails"
LEVELS = {
    PASSES: ("pass", "It looks as in the artwork"),
    SHIFTS: ("watch", "It works, but its colour shifts"),
    FAILS: ("fail", "It does not work like this"),
}


@dataclass(frozen=True, kw_only=True)
class SeenColourInputs:
    """One colour on one film over two paints, with or without white."""

    artwork_colour: str = colour(
        "Colour in the artwork",
        default="#e9b824",
        names="paint-colours",
        help="As it looks on bright white paper, such as #e9b824.",
    )
    film: str = film()
    white_material: str = white_beneath()
    white_layers: int = whole_number(
        "Layers of white", unit="", low=0, high=MOST_LAYERS, default=0, help="0 if there is no white beneath."
    )
    base_a: str = first_paint()
    base_b: str = second_paint()
    border_limit: float = border_limit(default=ACCEPTED_DELTA_E)


@dataclass(frozen=True, kw_only=True)
class AtEnd:
    """The look at one end of the hiding ranges of film and white."""

    end: str = words("Film and white")
    seen_a: str = colour_result("Over the paint")
    seen_b: str = colour_result("Over the second")
    shift_a: float = measure("Shift", decimals=1)
    shift_b: float = measure("Shift over the second", decimals=1)
    border_delta_e: float = measure("Border", decimals=1)
    contrast_a: float = measure("From the paint", decimals=1)
    contrast_b: float = measure("From the second", decimals=1)
    layers_needed: int | None = measure("Layers needed", decimals=0)
    verdict: str = verdict("Verdict", levels=LEVELS)


@dataclass(frozen=True, kw_only=True)
class SeenColourOutputs:
    """How it looks over both paints, and the white that hides their border."""

    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    seen_a: str = colour_result("Colour over the paint")
    seen_b: str = colour_result("Colour over the second paint")
    shift_a: float = measure("Shift from the artwork, over the paint (ΔE 2000)", decimals=1)
    shift_b: float = measure("Shift from the artwork, over the second paint (ΔE 2000)", decimals=1)
    border_delta_e: float = measure("Difference across the border (ΔE 2000)", decimals=1)
    contrast_a: float = measure("Difference from the paint around it (ΔE 2000)", decimals=1)
    contrast_b: float = measure("Difference from the second paint around it (ΔE 2000)", decimals=1)
    layers_needed: int | None = measure(
        "Layers of this white that hide the border",
        decimals=0,
        help="with this film, both at the low end of their ranges",
    )
    swatches: Figure = figure("The artwork, and what you see")
    section: Figure = figure("The layers, cut through")
    chart: Figure = figure("Border and contrast against layers of white")
    at_both_ends: tuple[AtEnd, ...] = table(
        "At both ends of the hiding of film and white",
        row=AtEnd,
        decides=("end", "layers_needed", "verdict"),
        help="differences as ΔE 2000",
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.SEEN_COLOUR)


class _End:
    """One end of the ranges: the marking with the chosen layers, and with 0 to ``LOOKED_AT``."""

    def __init__(self, label: str, here: Seen, counts: tuple[Seen, ...], limit: float) -> None:
        self.label = label
        self.here = here
        self.counts = counts
        self.limit = limit

    @property
    def layers_needed(self) -> int | None:
        """The least count from which the border stays within the limit; None if that is too many."""
        return _holds_from([each.border <= self.limit + TINY for each in self.counts])

    @property
    def layers_legible(self) -> int | None:
        """The least count from which the marking stays legible over both paints."""
        return _holds_from([not any(hardly_legible(side) for side in each.sides) for each in self.counts])

    @property
    def verdict(self) -> str:
        """The verdict on the marking at this end."""
        sides = self.here.sides
        if self.here.border > self.limit + TINY or any(
            hardly_legible(each) or each.shift > FAR_DELTA_E for each in sides
        ):
            return FAILS
        return SHIFTS if any(each.shift > ACCEPTED_DELTA_E for each in sides) else PASSES


def _holds_from(holds: list[bool]) -> int | None:
    """Return the first place from which all hold to the end, if the field accepts that many layers."""
    fails = [count for count, each in enumerate(holds) if not each]
    first = fails[-1] + 1 if fails else 0
    return first if first <= MOST_LAYERS else None


def seen_colour(inputs: SeenColourInputs) -> SeenColourOutputs:
    """Return the look of one colour over one or two paints, and the layers of white that hide their border.

    The model is ink as a filter over Kubelka-Munk layers with K = 0 over paint, by reflectance spectra under D65 at 2
    degrees. Differences are CIEDE2000. An ink with a red beyond any screen counts as stronger than its colour
    (estimate). The hiding of film and white is a range: values beside the table are for its low end. The model ignores
    surface reflection and the gloss of the paint. It holds for flat colours, not for metallic, pearl or fluorescent
    ones.
    """
    film, white = tables.row("materials", inputs.film), tables.row("materials", inputs.white_material)
    marking = Marking(inputs.artwork_colour, inputs.base_a, inputs.base_b)
    low, high = (
        _end(inputs, marking, label, scattering_power(film_ratio), scattering_power(white_ratio))
        for label, film_ratio, white_ratio in (
            (messages.HIDES_LEAST, film.contrast_ratio.low, white.contrast_ratio.low),
            (messages.HIDES_MOST, film.contrast_ratio.high, white.contrast_ratio.high),
        )
    )
    here = low.here
    one_paint = inputs.base_a == inputs.base_b
    return SeenColourOutputs(
        verdict=low.verdict,
        reasons=_reasons(inputs, low, high, one_paint),
        seen_a=here.sides[0].colour,
        seen_b=here.sides[1].colour,
        shift_a=here.sides[0].shift,
        shift_b=here.sides[1].shift,
        border_delta_e=here.border,
        contrast_a=here.sides[0].contrast,
        contrast_b=here.sides[1].contrast,
        layers_needed=low.layers_needed,
        swatches=swatches_figure(inputs.artwork_colour, here, inputs.base_a, inputs.base_b),
        section=section_figure(
            inputs.artwork_colour, film.label, inputs.film != "clear", inputs.white_layers, inputs.base_a, inputs.base_b
        ),
        chart=layers_chart(
            [each.counts[: MOST_LAYERS + 1] for each in (low, high)],
            inputs.white_layers,
            inputs.border_limit,
            LEGIBLE_DELTA_E,
        ),
        at_both_ends=tuple(_at_end(each) for each in (low, high)),
    )


def _end(inputs: SeenColourInputs, marking: Marking, label: str, film_power: float, white_power: float) -> _End:
    counts = tuple(marking.over_white(film_power + count * white_power) for count in range(LOOKED_AT + 1))
    return _End(label, counts[inputs.white_layers], counts, inputs.border_limit)


def _at_end(end: _End) -> AtEnd:
    first, second = end.here.sides
    return AtEnd(
        end=end.label,
        seen_a=first.colour,
        seen_b=second.colour,
        shift_a=first.shift,
        shift_b=second.shift,
        border_delta_e=end.here.border,
        contrast_a=first.contrast,
        contrast_b=second.contrast,
        layers_needed=end.layers_needed,
        verdict=end.verdict,
    )


def _reasons(inputs: SeenColourInputs, low: _End, high: _End, one_paint: bool) -> tuple[Message, ...]:
    here, reasons = low.here, []
    of_border = {"border": _rendered(here.border), "limit": _rendered(low.limit)}
    hidden = here.border <= low.limit + TINY
    if not one_paint and not hidden:
        reasons.append(message(messages.BORDER_SHOWS, **of_border))
    places = (messages.THE_PAINT,) if one_paint else (messages.FIRST_PAINT, messages.SECOND_PAINT)
    seen = list(zip(places, here.sides, strict=False))
    for place, side in seen:
        if hardly_legible(side):
            reasons.append(
                message(
                    messages.NOT_LEGIBLE,
                    paint=place,
                    seen=side.colour,
                    contrast=_rendered(side.contrast),
                    lightness=_rendered(side.lightness),
                )
            )
    for place, side in sorted(seen, key=lambda each: -each[1].shift):
        if side.shift > ACCEPTED_DELTA_E:
            sentence = messages.FAR_FROM_MEANT if side.shift > FAR_DELTA_E else messages.SHIFTED
            reasons.append(message(sentence, paint=place, shift=_rendered(side.shift)))
    if all(side.shift <= ACCEPTED_DELTA_E for _place, side in seen):
        reasons.append(message(messages.AS_MEANT, within=_rendered(ACCEPTED_DELTA_E)))
    if not one_paint and hidden:
        reasons.append(message(messages.BORDER_HIDDEN, **of_border))
    if is_beyond(inputs.artwork_colour):
        reasons.append(message(messages.INK_BEYOND))
    reasons += _advice(inputs, low, one_paint)
    if low.verdict != high.verdict:
        reasons.append(message(messages.ENDS_DIFFER, verdict=LEVELS[high.verdict][1].lower()))
    return tuple(reasons)


def _advice(inputs: SeenColourInputs, low: _End, one_paint: bool) -> list[Message]:
    """Return the messages on the effect of white beneath."""
    reasons, needed, legible = [], low.layers_needed, low.layers_legible
    if not one_paint:
        if needed is None:
            reasons.append(advice(messages.LAYERS_NEVER, layers=counted(MOST_LAYERS)))
        elif needed == 0:
            reasons.append(message(messages.NO_WHITE_NEEDED))
        elif needed != inputs.white_layers:
            reasons.append(advice(messages.LAYERS_HIDE, layers=counted(needed)))
    if legible and inputs.white_layers < legible:
        reasons.append(advice(messages.LAYERS_READ, layers=counted(legible)))
    return reasons


def _rendered(delta_e: float) -> str:
    return f"{delta_e:.1f}"


CALCULATOR = Calculator(
    id="seen-colour",
    title="What will be seen on the paint?",
    summary=(
        "Shows one ink on one film over one paint, or over the border of two: the colour you see, and the "
        "white it needs."
    ),
    also=("yellow", "dull", "opaque", "colour over black", "see through", "translucent"),
    stage="underlay",
    about=MARKING,
    inputs=SeenColourInputs,
    outputs=SeenColourOutputs,
    compute=seen_colour,
    sources=SOURCES,
    order=10,
)
