"""Is a picture of so many pixels good enough at that printed size?"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from calculators import messages, sight, tables
from calculators.artwork.steps_figure import outline_figure, steps_figure
from calculators.declare import (
    Calculator,
    Figure,
    Said,
    choice,
    figure,
    measure,
    number,
    picture,
    reasons,
    said,
    shared,
    table,
    verdict,
    whole_number,
    words,
)
from calculators.files.picture import Picture
from calculators.units import MM_PER_INCH

#: The usual aim for printed artwork at final size (common practice, no source).
AIM_PPI = 300.0

SHARP, GOOD_ENOUGH, STEPS_SHOW = "sharp", "good-enough", "steps-show"
LEVELS = {
    SHARP: ("pass", "Sharp"),
    GOOD_ENOUGH: ("pass", "Good enough"),
    STEPS_SHOW: ("fail", "Its pixels will show"),
}
#: The widest angle in arcminutes under which a pixel passes, by kind of edge.
PASSES_ARCMIN = {"soft": sight.SOFT_ARCMIN, "hard": sight.EYE_ARCMIN}
#: Sizes that ought to be equal differ in the last bits; this much is nothing.
TINY = 1e-9


@dataclass(frozen=True, kw_only=True)
class ResolutionInputs:
    picture: Picture | None = shared("picture", picture(
        "Picture", fills={"width_px": "width_px", "height_px": "height_px"},
        help="PNG, JPEG, GIF, WebP, BMP, TIFF or SVG. It stays on this device.",
        without="the pixel size below is used.",
    ))  # fmt: skip
    width_px: int = whole_number("Picture width", unit="px", low=1, high=100_000, default=200)
    height_px: int = whole_number("Picture height", unit="px", low=1, high=100_000, default=200)
    width_mm: float = shared("width", number(
        "Printed width", unit="mm", low=0.1, high=5000, default=25.4, help="Its width on the model. You can type inches: 1 in."
    ))
    height_mm: float | None = number(
        "Printed height", unit="mm", low=0.1, high=5000,
        help="Leave it empty to keep the picture's proportions.", without="the picture keeps its proportions.",
    )  # fmt: skip
    viewing_distance_mm: float = number(
        "Looked at from", unit="mm", low=50, high=10_000, default=sight.IN_THE_HAND_MM,
        help="In the hand is about 300 mm, a shelf 800 mm.",
    )  # fmt: skip
    edges: str = choice(
        "Edges in the picture", default="soft",
        options={"soft": "Soft, with in-between shades", "hard": "Hard, stepped"},
        help="Zoom in: most pictures are soft.",
    )  # fmt: skip
    printer: str = choice("Printer", table="printers", default="inkjet-pigment")


@dataclass(frozen=True, kw_only=True)
class SeenFrom:
    """What is seen from one distance, by eye alone: the usual aim of 300 ppi does not count here."""

    place: str = words("Looked at")
    distance_mm: float = measure("From", unit="mm", decimals=0)
    eye_ppi: float = measure("An eye resolves", unit="ppi", decimals=0)
    pixel_arcmin: float | None = measure("A pixel fills", unit="arcmin", decimals=1)
    verdict: str = verdict("Verdict", levels=LEVELS)


@dataclass(frozen=True, kw_only=True)
class ResolutionOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Said, ...] = reasons()
    printed_ppi: float | None = measure("Printed resolution", unit="ppi", decimals=0)
    eye_ppi: float = measure("An eye resolves, from there", unit="ppi", decimals=0)
    largest_sharp_width_mm: float | None = measure("Widest that stays sharp", unit="mm", decimals=1)
    largest_good_width_mm: float | None = measure("Widest that stays good enough", unit="mm", decimals=1)
    pixels_needed_wide: int | None = measure("Pixels across, to be sharp at this size", unit="px", decimals=0)
    printer_holds: Said = words("Thinnest line the printer holds")
    steps: Figure = figure("Pixels beside what an eye resolves")
    at_distances: tuple[SeenFrom, ...] = table("The same, seen otherwise", row=SeenFrom)


def printed_ppi(width_px: int, height_px: int, width_mm: float, height_mm: float) -> float:
    """Return pixels per inch in print, the lower of across and down.

    >>> round(printed_ppi(200, 200, 25.4, 25.4), 6)
    200.0
    """
    return min(width_px / width_mm, height_px / height_mm) * MM_PER_INCH


def judged(ppi: float, distance_mm: float, edges: str, *, aim_counts: bool = True) -> str:
    """Return the verdict on ``ppi`` in print, seen from ``distance_mm`` with soft or hard ``edges``.

    Sharp: at least what an eye resolves there or, where ``aim_counts``, the usual 300 ppi. Good
    enough: a pixel fills at most 1 arcminute (hard) or 2 (soft, an estimate).

    >>> judged(200, 300, "soft"), judged(100, 300, "soft"), judged(300, 300, "hard")
    ('good-enough', 'steps-show', 'sharp')
    """
    if ppi >= sight.resolved_ppi(distance_mm) * (1 - TINY) or aim_counts and ppi >= AIM_PPI * (1 - TINY):
        return SHARP
    passes = sight.resolved_ppi(distance_mm, PASSES_ARCMIN[edges])
    return GOOD_ENOUGH if ppi >= passes * (1 - TINY) else STEPS_SHOW


def resolution(inputs: ResolutionInputs) -> ResolutionOutputs:
    """Return whether a picture is good enough in print, and how far it could be enlarged.

    Holds for pictures looked at with full acuity; the 2 arcminutes for soft edges are an estimate.
    """
    printer = tables.row("printers", inputs.printer)
    holds = said(
        messages.FROM_TO, low_mm=printer.thinnest_line.low, high_mm=printer.thinnest_line.high
    )
    if inputs.picture and inputs.picture.width_px is None:
        return _outlines(inputs, holds)
    height_mm = inputs.height_mm or inputs.width_mm * inputs.height_px / inputs.width_px
    ppi = printed_ppi(inputs.width_px, inputs.height_px, inputs.width_mm, height_mm)
    return _pixels(inputs, ppi, height_mm, printer.thinnest_line, holds)


def _pixels(
    inputs: ResolutionInputs, ppi: float, height_mm: float, line: tables.Fact, holds: Said
) -> ResolutionOutputs:
    distance = inputs.viewing_distance_mm
    sharp_ppi = min(sight.resolved_ppi(distance), AIM_PPI)
    good_ppi = min(sharp_ppi, sight.resolved_ppi(distance, PASSES_ARCMIN[inputs.edges]))
    good_mm = inputs.width_mm * ppi / good_ppi
    verdict_here = judged(ppi, distance, inputs.edges)
    seen = tuple(
        SeenFrom(
            place=place, distance_mm=at, eye_ppi=sight.resolved_ppi(at),
            pixel_arcmin=sight.angle_arcmin(MM_PER_INCH / ppi, at),
            verdict=judged(ppi, at, inputs.edges, aim_counts=False),
        )
        for place, at in _places(distance)
    )  # fmt: skip
    told = [_first_reason(inputs, ppi, verdict_here)]
    if verdict_here == STEPS_SHOW:
        wanted_px = _ceil(inputs.width_px * good_ppi / ppi)
        told.append(said(messages.NARROWER_OR_MORE, good_mm=good_mm, wanted_px=wanted_px))
    elif seen[1].verdict == STEPS_SHOW and distance > sight.MAGNIFIER_MM:
        sentence = messages.MAGNIFIER_SHOWS if inputs.edges == "hard" else messages.MAGNIFIER_SHOWS_SOFT
        told.append(said(sentence, distance_mm=sight.MAGNIFIER_MM))
    across, down = inputs.width_px / inputs.width_mm, inputs.height_px / height_mm
    if abs(across - down) > 0.01 * max(across, down):
        told.append(said(messages.UNEVEN_PIXELS, across_ppi=across * MM_PER_INCH, down_ppi=down * MM_PER_INCH))
    if MM_PER_INCH / ppi < line.low:
        told.append(said(messages.PRINTER_LIMITS, printed_low_mm=line.low, printed_high_mm=line.high))
    return ResolutionOutputs(
        verdict=verdict_here,
        reasons=tuple(told),
        printed_ppi=ppi,
        eye_ppi=sight.resolved_ppi(distance),
        largest_sharp_width_mm=inputs.width_mm * ppi / sharp_ppi,
        largest_good_width_mm=good_mm,
        pixels_needed_wide=_ceil(inputs.width_mm / MM_PER_INCH * sharp_ppi),
        printer_holds=holds,
        steps=steps_figure(MM_PER_INCH / ppi, sight.resolved_mm(distance), soft=inputs.edges == "soft"),
        at_distances=seen,
    )


def _first_reason(inputs: ResolutionInputs, ppi: float, verdict_here: str) -> Said:
    distance, pixel_mm = inputs.viewing_distance_mm, MM_PER_INCH / ppi
    if verdict_here == SHARP and ppi < sight.resolved_ppi(distance) * (1 - TINY):
        sentence = messages.PIXEL_SHARP_AIM
    else:
        sentence = {
            (SHARP, "soft"): messages.PIXEL_SHARP_EYE,
            (SHARP, "hard"): messages.PIXEL_SHARP_EYE,
            (GOOD_ENOUGH, "soft"): messages.PIXEL_SOFT_PASSES,
            (GOOD_ENOUGH, "hard"): messages.PIXEL_HARD_PASSES,
            (STEPS_SHOW, "soft"): messages.PIXEL_SOFTNESS,
            (STEPS_SHOW, "hard"): messages.PIXEL_STEPS,
        }[verdict_here, inputs.edges]
    angle = sight.angle_arcmin(pixel_mm, distance)
    return said(sentence, pixel_mm=pixel_mm, angle_arcmin=angle, distance_mm=distance, printed_ppi=ppi)


def _outlines(inputs: ResolutionInputs, holds: Said) -> ResolutionOutputs:
    """Outlines have no pixels and so no limit; a picture placed inside them has."""
    told = [said(messages.OUTLINES_NO_LIMIT)]
    if inputs.picture.header.holds_picture:
        told.append(said(messages.OUTLINES_HOLD_PICTURE))
    distance = inputs.viewing_distance_mm
    return ResolutionOutputs(
        verdict=SHARP,
        reasons=tuple(told),
        printed_ppi=None,
        eye_ppi=sight.resolved_ppi(distance),
        largest_sharp_width_mm=None,
        largest_good_width_mm=None,
        pixels_needed_wide=None,
        printer_holds=holds,
        steps=outline_figure(sight.resolved_mm(distance)),
        at_distances=tuple(
            SeenFrom(place=place, distance_mm=at, eye_ppi=sight.resolved_ppi(at), pixel_arcmin=None, verdict=SHARP)
            for place, at in _places(distance)
        ),
    )


def _places(distance_mm: float) -> tuple[tuple[str, float], ...]:
    return (
        (messages.AS_TYPED, distance_mm),
        (messages.UNDER_MAGNIFIER, sight.MAGNIFIER_MM),
        (messages.ON_SHELF, sight.SHELF_MM),
    )


def _ceil(count: float) -> int:
    """Return the next whole number of pixels, forgiving the last bits of a whole one."""
    return ceil(count * (1 - TINY))


CALCULATOR = Calculator(
    id="resolution",
    title="Is this picture good enough?",
    summary="Printed at the size you want, will its pixels show?",
    stage="artwork",
    inputs=ResolutionInputs,
    outputs=ResolutionOutputs,
    compute=resolution,
    sources=("iso-8596", tables.COMMON_PRACTICE),
    order=10,
)
