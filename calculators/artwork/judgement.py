"""Judge whether the pixels of a picture show in print, from typed numbers or from the picture itself."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace
from math import ceil

from calculators import messages, sight
from calculators.declare import Message, Progress, advice, measure, message, verdict, words
from calculators.files.picture import Picture
from calculators.pixels.detail import Detail
from calculators.pixels.inspection import Inspection, inspected
from calculators.printed_lines import LINES_IN_WORDS, thinnest_held
from calculators.tables.printing_rows import Printer
from calculators.units import MM_PER_INCH

#: The usual aim for printed artwork at final size (common practice, no source).
AIM_PPI = 300.0

SHARP, GOOD_ENOUGH, STEPS_SHOW, UNKNOWN = "sharp", "good-enough", "steps-show", "unknown"
LEVELS = {
    SHARP: ("pass", "Sharp"),
    GOOD_ENOUGH: ("pass", "Good enough"),
    STEPS_SHOW: ("fail", "Its pixels will show"),
    UNKNOWN: ("watch", "Nobody can tell: look at a test print"),
}
SOFT, HARD = "soft", "hard"
#: The widest angle in arcminutes that a pixel may fill, by kind of edge.
PASSES_ARCMIN = {SOFT: sight.SOFT_ARCMIN, HARD: sight.EYE_ARCMIN}
#: Sizes that should be equal differ in the last bits; ignore a difference up to this.
TINY = 1e-9


@dataclass(frozen=True, kw_only=True)
class SeenFrom:
    """What the eye alone sees from one distance; the usual aim of 300 ppi does not count here."""

    place: str = words("How you look")
    distance_mm: float = measure("From", unit="mm", decimals=0)
    eye_ppi: float = measure("An eye resolves", unit="ppi", decimals=0)
    pixel_arcmin: float | None = measure("A pixel takes up", unit="arcmin", decimals=1)
    verdict: str = verdict("Verdict", levels=LEVELS)


@dataclass(frozen=True)
class Looked:
    """How a print is judged: viewing distance, soft or hard edges, the printer, and the kind of line."""

    distance_mm: float
    edges: str
    printer: Printer
    line: str


@dataclass(frozen=True)
class Judgement:
    """The verdict on a number of pixels at a printed size, its reasons, and the largest sizes that still pass."""

    verdict: str
    reasons: tuple[Message, ...]
    printed_ppi: float
    largest_sharp_width_mm: float
    largest_good_width_mm: float
    pixels_needed_wide: int
    at_distances: tuple[SeenFrom, ...]


@dataclass(frozen=True)
class Findings:
    """What was found in a picture of ``size_px`` that matters for its verdict; ``edges`` are soft or hard."""

    size_px: tuple[int, int]
    detail: Detail
    edges: str
    jpeg_damage: bool


def printed_ppi(width_px: int, height_px: int, width_mm: float, height_mm: float) -> float:
    """Return the printed pixels per inch, the lower of across and down.

    >>> round(printed_ppi(200, 200, 25.4, 25.4), 6)
    200.0
    """
    return min(width_px / width_mm, height_px / height_mm) * MM_PER_INCH


def judged(ppi: float, distance_mm: float, edges: str, *, aim_counts: bool = True) -> str:
    """Return the verdict on ``ppi`` in print at ``distance_mm`` from the eye, with soft or hard ``edges``.

    Sharp: at least the resolution of the eye there or, if ``aim_counts``, the usual 300 ppi. Good enough: a pixel
    fills at most 1 arcminute (hard) or 2 (soft, an estimate).

    >>> judged(200, 300, "soft"), judged(100, 300, "soft"), judged(300, 300, "hard")
    ('good-enough', 'steps-show', 'sharp')
    """
    if ppi >= sight.resolved_ppi(distance_mm) * (1 - TINY) or (aim_counts and ppi >= AIM_PPI * (1 - TINY)):
        return SHARP
    passes = sight.resolved_ppi(distance_mm, PASSES_ARCMIN[edges])
    return GOOD_ENOUGH if ppi >= passes * (1 - TINY) else STEPS_SHOW


def of_pixels(width_px: int, height_px: int, width_mm: float, height_mm: float, looked: Looked) -> Judgement:
    """Return the judgement on a number of pixels at that size, assuming that each holds real detail."""
    distance, edges = looked.distance_mm, looked.edges
    ppi = printed_ppi(width_px, height_px, width_mm, height_mm)
    sharp_ppi = min(sight.resolved_ppi(distance), AIM_PPI)
    good_ppi = min(sharp_ppi, sight.resolved_ppi(distance, PASSES_ARCMIN[edges]))
    good_mm = width_mm * ppi / good_ppi
    verdict_here = judged(ppi, distance, edges)
    seen = tuple(
        SeenFrom(
            place=place,
            distance_mm=at,
            eye_ppi=sight.resolved_ppi(at),
            pixel_arcmin=sight.angle_arcmin(MM_PER_INCH / ppi, at),
            verdict=judged(ppi, at, edges, aim_counts=False),
        )
        for place, at in places(distance)
    )
    reasons = [_first_reason(ppi, looked, verdict_here)]
    if verdict_here == STEPS_SHOW:
        reasons.append(advice(messages.NARROWER_OR_MORE, good_mm=good_mm, wanted_px=_ceil(width_px * good_ppi / ppi)))
    elif seen[1].verdict == STEPS_SHOW and distance > sight.MAGNIFIER_MM:
        sentence = messages.MAGNIFIER_SHOWS if edges == HARD else messages.MAGNIFIER_SHOWS_SOFT
        reasons.append(message(sentence, distance_mm=sight.MAGNIFIER_MM))
    across, down = width_px / width_mm, height_px / height_mm
    if abs(across - down) > 0.01 * max(across, down):
        reasons.append(message(messages.UNEVEN_PIXELS, across_ppi=across * MM_PER_INCH, down_ppi=down * MM_PER_INCH))
    holds = thinnest_held(looked.printer, looked.line)
    if MM_PER_INCH / ppi < holds.low:
        lines = LINES_IN_WORDS[looked.line]
        reasons.append(
            message(messages.PRINTER_LIMITS, lines=lines, printed_low_mm=holds.low, printed_high_mm=holds.high)
        )
    return Judgement(
        verdict=verdict_here,
        reasons=tuple(reasons),
        printed_ppi=ppi,
        largest_sharp_width_mm=width_mm * ppi / sharp_ppi,
        largest_good_width_mm=good_mm,
        pixels_needed_wide=_ceil(width_mm / MM_PER_INCH * sharp_ppi),
        at_distances=seen,
    )


def of_picture(
    picture: Picture, width_mm: float, height_mm: float | None, looked: Looked
) -> Generator[Progress, None, tuple[Inspection, Looked, Judgement]]:
    """Return the findings in the pixels of ``picture``, how it is viewed, and the judgement on its true detail.

    Without ``height_mm`` the picture keeps its proportions. The picture decides the edges that ``looked``
    leaves open. The detail and the JPEG damage are estimates.
    """
    yield Progress(0.1, messages.LOOKING_AT_PIXELS)
    found = inspected(picture)
    findings = Findings(picture.size_px, found.detail, found.edges, found.jpeg.found)
    return found, *of_findings(findings, width_mm, height_mm, looked)


def of_findings(found: Findings, width_mm: float, height_mm: float | None, looked: Looked) -> tuple[Looked, Judgement]:
    """Return how a picture is viewed and the judgement on its true detail, from what was found in it before."""
    if looked.edges not in PASSES_ARCMIN:
        looked = replace(looked, edges=found.edges)
    # Use the proportions of the file: those of the detail are rounded.
    width_px, height_px = found.size_px
    height_mm = height_mm or width_mm * height_px / width_px
    judgement = of_pixels(*certain_px(found.detail), width_mm, height_mm, looked)
    if judgement.verdict == STEPS_SHOW and found.detail.least_width_px:
        if of_pixels(width_px, height_px, width_mm, height_mm, looked).verdict != STEPS_SHOW:
            judgement = replace(judgement, verdict=UNKNOWN)
    return looked, _with_findings(found, judgement)


def detail_px(found: Inspection) -> tuple[int, int]:
    """Return the width and height in pixels of the detail that a picture certainly has."""
    return certain_px(found.detail)


def certain_px(detail: Detail) -> tuple[int, int]:
    """Return the width and height in pixels of the detail that a picture certainly has."""
    if not detail.least_width_px:
        return detail.width_px, detail.height_px
    return detail.least_width_px, max(1, round(detail.height_px * detail.least_width_px / detail.width_px))


def _with_findings(found: Findings, judgement: Judgement) -> Judgement:
    reasons = list(judgement.reasons)
    if found.detail.enlarged:
        reasons.append(message(messages.DETAIL_BELOW_PIXELS, has_px=found.detail.width_px, file_px=found.size_px[0]))
    elif found.detail.least_width_px:
        reasons.insert(
            0, message(messages.DETAIL_UNKNOWN, least_px=found.detail.least_width_px, file_px=found.size_px[0])
        )
    if found.jpeg_damage:
        reasons.append(message(messages.JPEG_MARKS))
    return replace(judgement, reasons=tuple(reasons))


def _first_reason(ppi: float, looked: Looked, verdict_here: str) -> Message:
    distance, pixel_mm = looked.distance_mm, MM_PER_INCH / ppi
    if verdict_here == SHARP and ppi < sight.resolved_ppi(distance) * (1 - TINY):
        sentence = messages.PIXEL_SHARP_AIM
    else:
        sentence = {
            (SHARP, SOFT): messages.PIXEL_SHARP_EYE,
            (SHARP, HARD): messages.PIXEL_SHARP_EYE,
            (GOOD_ENOUGH, SOFT): messages.PIXEL_SOFT_PASSES,
            (GOOD_ENOUGH, HARD): messages.PIXEL_HARD_PASSES,
            (STEPS_SHOW, SOFT): messages.PIXEL_SOFTNESS,
            (STEPS_SHOW, HARD): messages.PIXEL_STEPS,
        }[verdict_here, looked.edges]
    angle = sight.angle_arcmin(pixel_mm, distance)
    return message(sentence, pixel_mm=pixel_mm, angle_arcmin=angle, distance_mm=distance, printed_ppi=ppi)


def places(distance_mm: float) -> tuple[tuple[str, float], ...]:
    """Return the viewing places of a marking, ``distance_mm`` first."""
    return (
        (messages.AS_TYPED, distance_mm),
        (messages.UNDER_MAGNIFIER, sight.MAGNIFIER_MM),
        (messages.ON_SHELF, sight.SHELF_MM),
    )


def _ceil(count: float) -> int:
    """Return the next whole number of pixels; a whole number with an error in its last bits stays."""
    return ceil(count * (1 - TINY))
