"""How big is a marking on the model, and does its thinnest line survive?"""

from __future__ import annotations

from dataclasses import dataclass

from calculators import messages, numbers, sight, tables
from calculators.declare import (
    MARKING,
    Calculator,
    Lead,
    Message,
    advice,
    leads,
    measure,
    number,
    reasons,
    shared,
    table,
    verdict,
    words,
)
from calculators.job_fields import looked_at_from, marking_lines, marking_printer, scale_of_model
from calculators.printed_lines import thinnest_held
from calculators.size import next_steps
from calculators.size.lines import LEVELS, judged_line

#: How many scales of the table are listed on either side of the chosen one.
NEIGHBOURS = 3
#: Scales that differ by less look the same and share a row.
ALIKE = 0.01


@dataclass(frozen=True, kw_only=True)
class ScaleSizeInputs:
    full_size_mm: float = shared(
        "full-size",
        number(
            "Size on the real thing",
            unit="mm",
            low=0.1,
            high=1_000_000,
            default=600,
            help="Its width or its height. You can type 12 in, 1'6\" or 3 cm.",
        ),
        MARKING,
    )
    scale: float = scale_of_model()
    thinnest_line_full_mm: float | None = number(
        "Its thinnest line, on the real thing",
        unit="mm",
        low=0.01,
        high=1_000_000,
        help="A stroke, a border or a gap. Leave it empty if you do not know.",
        without="the verdict is on the whole marking.",
    )
    line: str = marking_lines()
    printer: str = marking_printer()
    viewing_distance_mm: float = looked_at_from()


@dataclass(frozen=True, kw_only=True)
class AtScale:
    scale: float = measure("Scale", unit="1:n", decimals=1)
    name: str = words("Also called")
    model_size_mm: float = measure("Size on the model", unit="mm", decimals=2)


@dataclass(frozen=True, kw_only=True)
class ScaleSizeOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    model_size_mm: float = measure("Size on the model", unit="mm", decimals=2)
    thinnest_printed_full_mm: float = measure(
        "Thinnest line that certainly prints, on the real thing", unit="mm", decimals=1
    )
    thinnest_printed_at_best_full_mm: float = measure(
        "Thinnest line that may print, on the real thing", unit="mm", decimals=1
    )
    thinnest_seen_full_mm: float = measure("Thinnest line that an eye sees, on the real thing", unit="mm", decimals=1)
    at_neighbouring_scales: tuple[AtScale, ...] = table("The same at neighbouring scales", row=AtScale)
    next_steps: tuple[Lead, ...] = leads(next_steps.SCALE_SIZE)


def model_size_mm(full_size_mm: float, scale: float) -> float:
    """Return the size on a model at 1:``scale``, in mm.

    >>> round(model_size_mm(304.8, 72), 4)
    4.2333
    """
    return full_size_mm / scale


def neighbours(scale: float) -> tuple[tuple[float, str], ...]:
    """Return (ratio, names) of the table's scales nearest to ``scale``, larger models first.

    Ratios that differ by less than ``ALIKE`` share a row under ``scale`` itself or else the shortest ratio.
    """
    groups: list[dict[float, list[str]]] = []
    for ratio, names in sorted(_named_ratios(scale).items()):
        if groups and ratio < min(groups[-1]) * (1 + ALIKE):
            groups[-1][ratio] = names
        else:
            groups.append({ratio: names})
    ratios = [
        (
            scale if scale in group else min(group, key=lambda each: len(numbers.plain(each))),
            ", ".join(name for names in group.values() for name in names),
        )
        for group in groups
    ]
    here = [ratio for ratio, _names in ratios].index(scale)
    return tuple(ratios[max(0, here - NEIGHBOURS) : here + NEIGHBOURS + 1])


def _named_ratios(scale: float) -> dict[float, list[str]]:
    """Return every ratio of the table, and ``scale``, with the labels that are names."""
    named: dict[float, list[str]] = {scale: []}
    for row in tables.load("scales"):
        names = named.setdefault(float(row.ratio.value), [])
        if not row.label.startswith("1:"):
            names.append(row.label)
    return named


def scale_size(inputs: ScaleSizeInputs) -> ScaleSizeOutputs:
    """Return the size on the model, and whether its thinnest line can be printed and seen.

    ``thinnest_printed_full_mm`` takes the worst that printers of the kind do, the
    other the best, for lines such as these.
    """
    printer = tables.row("printers", inputs.printer)
    held = thinnest_held(printer, inputs.line)
    unknown = inputs.thinnest_line_full_mm is None
    judged_mm = inputs.full_size_mm if inputs.thinnest_line_full_mm is None else inputs.thinnest_line_full_mm
    verdict_here, why = judged_line(
        model_size_mm(judged_mm, inputs.scale), inputs.line, printer, inputs.viewing_distance_mm, whole=unknown
    )
    return ScaleSizeOutputs(
        verdict=verdict_here,
        reasons=(why, advice(messages.TYPE_THINNEST_LINE)) if unknown else (why,),
        model_size_mm=model_size_mm(inputs.full_size_mm, inputs.scale),
        thinnest_printed_full_mm=held.high * inputs.scale,
        thinnest_printed_at_best_full_mm=held.low * inputs.scale,
        thinnest_seen_full_mm=sight.resolved_mm(inputs.viewing_distance_mm) * inputs.scale,
        at_neighbouring_scales=tuple(
            AtScale(scale=ratio, name=name, model_size_mm=model_size_mm(inputs.full_size_mm, ratio))
            for ratio, name in neighbours(inputs.scale)
        ),
    )


CALCULATOR = Calculator(
    id="scale-size",
    title="How big is it on the model?",
    summary="Goes from the size on the real thing to the size on your model, and checks its thinnest line.",
    also=(
        "scale conversion",
        "scale converter",
        "how big",
        "resize",
        "registration",
        "tail number",
        "1/72",
        "1/48",
        "1/35",
        "1/87",
        "HO",
        "OO",
        "N gauge",
        "convert",
    ),
    stage="size",
    about=MARKING,
    inputs=ScaleSizeInputs,
    outputs=ScaleSizeOutputs,
    compute=scale_size,
    sources=("iso-8596", tables.COMMON_PRACTICE, tables.ESTIMATE),
    order=10,
)
