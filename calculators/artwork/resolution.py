"""Judge whether a picture has enough pixels for its printed size."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace

from calculators import messages, sight, tables
from calculators.artwork import next_steps
from calculators.artwork.judgement import (
    LEVELS,
    PASSES_ARCMIN,
    SHARP,
    SOFT,
    Judgement,
    Looked,
    SeenFrom,
    detail_px,
    of_picture,
    of_pixels,
    places,
    printed_ppi,
)
from calculators.artwork.steps_figure import outline_figure, steps_figure
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    Progress,
    belonging,
    figure,
    leads,
    measure,
    message,
    number,
    picture,
    reasons,
    shared,
    table,
    verdict,
    whole_number,
    words,
)
from calculators.files.picture import Picture
from calculators.job_fields import (
    OF_PICTURE,
    looked_at_from,
    marking_edges,
    marking_lines,
    marking_printer,
    own_width,
    own_width_result,
    picture_width_result,
    printed_width,
    width_is_of,
)
from calculators.marking_widths import Widths, with_widths
from calculators.pixels.inspection import Inspection
from calculators.printed_lines import thinnest_held
from calculators.units import MM_PER_INCH


@dataclass(frozen=True, kw_only=True)
class ResolutionInputs:
    picture: Picture | None = shared(
        "picture",
        picture(
            "Picture",
            pixels=True,
            any_outlines=True,
            fills={"width_px": "width_px", "height_px": "height_px"},
            help="PNG, JPEG, GIF, WebP, BMP or SVG. It stays on this device.",
            without="the page uses the pixel size below.",
        ),
        MARKING,
    )
    width_px: int = whole_number("Picture width", unit="px", low=1, high=100_000, default=200)
    height_px: int = whole_number("Picture height", unit="px", low=1, high=100_000, default=200)
    width_of: str = width_is_of()
    width_mm: float = printed_width(low=0.1, high=5000, default=25.4)
    own_width_mm: float = own_width(low=0.1, high=5000, default=25.4)
    height_mm: float | None = belonging(
        number(
            "Printed height",
            unit="mm",
            low=0.1,
            high=5000,
            only_when=("width_of", OF_PICTURE),
            help="Leave it empty to keep the picture's proportions.",
            without="the picture keeps its proportions.",
        )
    )
    viewing_distance_mm: float = looked_at_from()
    edges: str = marking_edges()
    printer: str = marking_printer()
    line: str = marking_lines()


@dataclass(frozen=True, kw_only=True)
class ResolutionOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    picture_width_mm: float | None = picture_width_result()
    own_width_mm: float | None = own_width_result()
    printed_ppi: float | None = measure(
        "Printed resolution", unit="ppi", decimals=0, help="From the pixels in the file."
    )
    true_detail_width_px: int | None = measure("Real detail, across", unit="px", decimals=0, help=messages.DETAIL_HELP)
    true_detail_ppi: float | None = measure("Detail in print", unit="ppi", decimals=0)
    eye_ppi: float = measure("Limit of the eye at that distance", unit="ppi", decimals=0)
    largest_sharp_width_mm: float | None = measure("Widest that stays sharp", unit="mm", decimals=1)
    largest_good_width_mm: float | None = measure("Widest that stays good enough", unit="mm", decimals=1)
    pixels_needed_wide: int | None = measure("Pixels across to be sharp at this size", unit="px", decimals=0)
    printer_holds: Message = words("Thinnest line the printer holds")
    steps: Figure = figure("Pixels beside what an eye resolves")
    at_distances: tuple[SeenFrom, ...] = table(
        "The same at other distances", row=SeenFrom, decides=("place", "distance_mm", "verdict")
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.AT_ITS_SIZE)


def resolution(inputs: ResolutionInputs) -> Generator[Progress, None, ResolutionOutputs]:
    """Return whether a picture is good enough in print, and how large it could be printed.

    This assumes full acuity; the 2 arcminutes for soft edges are an estimate. Typed pixels count as real
    detail; a picture is judged by the detail found in it.
    """
    printer = tables.row("printers", inputs.printer)
    line = thinnest_held(printer, inputs.line)
    holds = message(messages.FROM_TO, low_mm=line.low, high_mm=line.high)
    if inputs.picture and inputs.picture.width_px is None:
        return _outlines(inputs, holds)
    inputs, widths = with_widths(inputs, inputs.picture)
    height_mm = inputs.height_mm or inputs.width_mm * inputs.height_px / inputs.width_px
    ppi = printed_ppi(inputs.width_px, inputs.height_px, inputs.width_mm, height_mm)
    looked = Looked(inputs.viewing_distance_mm, inputs.edges, printer, inputs.line)
    if inputs.picture:
        found, looked, judgement = yield from of_picture(inputs.picture, inputs.width_mm, inputs.height_mm, looked)
        return _outputs(looked, judgement, ppi, holds, widths, found)
    if looked.edges not in PASSES_ARCMIN:
        looked = replace(looked, edges=SOFT)
    return _outputs(
        looked, of_pixels(inputs.width_px, inputs.height_px, inputs.width_mm, height_mm, looked), ppi, holds, widths
    )


def _outputs(
    looked: Looked, judgement: Judgement, ppi: float, holds: Message, widths: Widths, found: Inspection | None = None
) -> ResolutionOutputs:
    pixel_mm = MM_PER_INCH / judgement.printed_ppi
    return ResolutionOutputs(
        verdict=judgement.verdict,
        reasons=(*judgement.reasons, *widths.reasons),
        picture_width_mm=widths.picture_mm,
        own_width_mm=widths.own_mm,
        printed_ppi=ppi,
        true_detail_width_px=detail_px(found)[0] if found else None,
        true_detail_ppi=judgement.printed_ppi if found else None,
        eye_ppi=sight.resolved_ppi(looked.distance_mm),
        largest_sharp_width_mm=judgement.largest_sharp_width_mm,
        largest_good_width_mm=judgement.largest_good_width_mm,
        pixels_needed_wide=judgement.pixels_needed_wide,
        printer_holds=holds,
        steps=steps_figure(pixel_mm, sight.resolved_mm(looked.distance_mm), soft=looked.edges == SOFT),
        at_distances=judgement.at_distances,
    )


def _outlines(inputs: ResolutionInputs, holds: Message) -> ResolutionOutputs:
    """Return the answer for outlines: they have no pixels and so no limit, but a picture placed inside them has one."""
    reasons = [message(messages.OUTLINES_NO_LIMIT)]
    if inputs.picture and inputs.picture.header.holds_picture:
        reasons.append(message(messages.OUTLINES_HOLD_PICTURE))
    distance = inputs.viewing_distance_mm
    return ResolutionOutputs(
        verdict=SHARP,
        reasons=tuple(reasons),
        picture_width_mm=None,
        own_width_mm=None,
        printed_ppi=None,
        true_detail_width_px=None,
        true_detail_ppi=None,
        eye_ppi=sight.resolved_ppi(distance),
        largest_sharp_width_mm=None,
        largest_good_width_mm=None,
        pixels_needed_wide=None,
        printer_holds=holds,
        steps=outline_figure(sight.resolved_mm(distance)),
        at_distances=tuple(
            SeenFrom(place=place, distance_mm=at, eye_ppi=sight.resolved_ppi(at), pixel_arcmin=None, verdict=SHARP)
            for place, at in places(distance)
        ),
    )


CALCULATOR = Calculator(
    id="resolution",
    title="Is this picture good enough?",
    summary="Tells whether its pixels will show at the size you want.",
    also=("dpi", "ppi", "blurry", "pixelated", "blocky", "low resolution", "jaggies", "pixels"),
    stage="artwork",
    about=MARKING,
    inputs=ResolutionInputs,
    outputs=ResolutionOutputs,
    compute=resolution,
    sources=("iso-8596", tables.COMMON_PRACTICE, tables.ESTIMATE),
    limit_s=60,
    order=10,
)
