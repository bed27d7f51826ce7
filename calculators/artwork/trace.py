"""Trace the outlines of a picture."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass
from math import radians
from typing import Any

from calculators import example, messages, tables
from calculators.artwork import next_steps
from calculators.artwork.fine_detail import FINE, TOO_FINE, fine_detail_reasons, try_fine_detail
from calculators.artwork.trace_figure import detail_figure, outlines_figure
from calculators.artwork.traced_parts import (
    files_of,
    further_reasons,
    left_out_of,
    seams_of,
    stated_px,
    taken_of,
    uncertain_thin,
    why_not,
)
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    NamedFile,
    PictureStage,
    Progress,
    choice,
    colour_result,
    figure,
    file_result,
    folded,
    leads,
    measure,
    message,
    number,
    reasons,
    table,
    text,
    verdict,
    whole_number,
    words,
    yes_no,
)
from calculators.figures.losses import loss_reasons, merged_reasons
from calculators.files import NEEDS
from calculators.files.outline_files import SEAM_MM
from calculators.files.picture import Picture
from calculators.job_fields import (
    TRACED_OUTLINES,
    marking_picture,
    own_width,
    own_width_result,
    printed_width,
    width_is_of,
)
from calculators.marking_widths import Widths, with_widths
from calculators.pixels.colour_table import hex_of
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.flat_colours import NotFlat
from calculators.pixels.lost_parts import Losses
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.traced_losses import lost_of
from calculators.pixels.tracing import ONE, SEVERAL, TRANSPARENCY, NothingToTrace, Region, Traced, traced
from calculators.shapes.planar_map import MOST_ARCS, MOST_STEPS, TooManyArcs, TooManySteps

TRACED, LOST, STEPS, THIN, GRAINY, NOT_FLAT, NOISE, NOTHING = (
    "traced",
    "lost",
    "steps",
    "thin",
    "grainy",
    "not-flat",
    "noise",
    "nothing",
)
LEVELS = {
    TRACED: ("pass", "Outlines found: they stay sharp at any size"),
    LOST: ("watch", "Outlines found; some parts were lost or washed out"),
    STEPS: ("watch", "Outlines found, but through hard steps"),
    THIN: ("watch", "Outlines found; thin parts are less certain"),
    GRAINY: ("watch", "Outlines found, with its grain traced too"),
    NOT_FLAT: ("fail", "This is not flat artwork"),
    NOISE: ("fail", "Too many edges to trace"),
    FINE: TOO_FINE,
    NOTHING: ("fail", "There is nothing to trace"),
}
#: The default tolerance of curves in mm, and its limit in pixels.
TOLERANCE_MM, TOLERANCE_PX = 0.02, 0.1
#: From this share of all outlines, or of all ink, the reasons mention hard steps and thin parts.
MUCH_HARD, MUCH_THIN = 0.3, 0.02


@dataclass(frozen=True, kw_only=True)
class TraceInputs:
    picture: Picture | None = marking_picture(without="the page traces the demonstration crest.")
    width_of: str = width_is_of()
    width_mm: float = printed_width(low=1)
    own_width_mm: float = own_width(low=1)
    colours: str = choice(
        "What to trace",
        default=SEVERAL,
        options={
            SEVERAL: "Several flat colours",
            ONE: "One colour on its background",
            TRANSPARENCY: "Everything that is not transparent, as one",
        },
    )
    most_colours: int | None = whole_number(
        "Number of colours",
        unit="",
        low=1,
        high=24,
        only_when=("colours", SEVERAL),
        help="The closest are joined until this many are left, counting the background.",
        without="the page keeps all the colours it finds.",
    )
    leave_out: str = text(
        "Colours to leave out",
        default="",
        most=80,
        may_be_empty=True,
        only_when=("colours", SEVERAL),
        help="Numbers from the table of colours, such as 1, 3. Empty: none.",
    )
    keep_ground: bool = folded(
        yes_no(
            "Trace the background too",
            default=False,
            help="The background is the colour of the picture's border, as far as it reaches inwards.",
        )
    )
    curve_tolerance_mm: float | None = folded(
        number(
            "Curve tolerance",
            unit="mm",
            low=0.001,
            high=2,
            help="How far a curve may run from the edge in the picture.",
            without="0.02 mm, or a tenth of a pixel if that is less.",
        )
    )
    corner_angle_degrees: float = folded(
        number(
            "Corner from",
            unit="°",
            low=10,
            high=170,
            default=30,
            help="An edge that turns by at least this angle keeps a sharp corner.",
        )
    )
    smallest_area_mm2: float = folded(
        number(
            "Smallest area",
            unit="mm²",
            low=0,
            high=100,
            default=0.01,
            help="Specks smaller than this take the colour around them.",
        )
    )
    close_seams: bool = folded(
        yes_no(
            "Close the seams between colours",
            default=False,
            help=(
                "For a screen or a printer: puts a thin line of colour beneath each shared edge. Switch it off for "
                "a cutter."
            ),
        )
    )
    show_nodes: bool = folded(
        yes_no("Show the nodes", default=False, help="The points where curves meet. Squares mark the corners.")
    )
    fine_detail: bool = folded(try_fine_detail())


@dataclass(frozen=True, kw_only=True)
class TracedColour:
    number: str = words("No.")
    colour: str = colour_result("Colour")
    area_mm2: float = measure("Area", unit="mm²", decimals=2)
    outer: int = measure("Pieces", decimals=0)
    holes: int = measure("Holes", decimals=0)
    curves: int = measure("Curves and lines", decimals=0)
    taken: str = words("In the files")


@dataclass(frozen=True, kw_only=True)
class TraceOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    width_mm: float | None = measure("Width of the files", unit="mm", decimals=2)
    height_mm: float | None = measure("Height of the files", unit="mm", decimals=2)
    own_width_mm: float | None = own_width_result()
    colour_count: int | None = measure("Colours", decimals=0)
    piece_count: int | None = measure(
        "Curves and straight lines", decimals=0, help="An edge that two colours share counts once."
    )
    corner_count: int | None = measure("Corners rebuilt", decimals=0)
    speck_count: int | None = measure("Specks filled", decimals=0)
    worst_mm: float | None = measure(
        "Deviation, at most",
        unit="mm",
        decimals=3,
        is_bound=True,
        help="From the edges of the drawing, for 95 % of the outlines.",
    )
    outlines: Figure | None = figure("The outlines")
    detail: Figure | None = folded(figure("Enlarging check: a detail as pixels and as outlines"))
    colours: tuple[TracedColour, ...] = table(
        "By colour", row=TracedColour, decides=("number", "colour", "area_mm2", "outer", "taken")
    )
    svg: NamedFile | None = file_result("Outlines, SVG in millimetres", shares=TRACED_OUTLINES)
    pdf: NamedFile | None = file_result("Outlines, PDF at exact size")
    next_steps: tuple[Lead, ...] = leads(next_steps.TRACE)


TAKEN, LEFT_OUT = "Yes", "Left out"


def trace(inputs: TraceInputs) -> Generator[Progress, None, TraceOutputs]:
    """Return the outlines of a picture: sharp corners, cubic curves, borders shared by the regions beside them.

    An edge pixel is divided by where its colour lies between those of both sides, in sRGB as stored, which is how most
    programs blend. A picture of more than four million pixels is halved first, and a reason says so. Yields progress.
    Raises Refused if a colour to leave out does not exist.
    """
    left_out = left_out_of(inputs.leave_out) if inputs.colours == SEVERAL else frozenset()
    picture = inputs.picture or example.picture()
    inputs, widths = with_widths(inputs, picture)
    whole = raster_of(picture)
    raster = worked(whole)
    # Halving drops an odd last column.
    halved = whole.width // raster.width
    pixel_mm = inputs.width_mm / whole.width * halved
    reasons = [*widths.reasons]
    if raster is not whole:
        reasons.append(
            message(
                messages.TRACED_SMALLER,
                width_px=raster.width,
                height_px=raster.height,
                from_width_px=whole.width,
                from_height_px=whole.height,
            )
        )
    tolerance_mm = inputs.curve_tolerance_mm or min(TOLERANCE_MM, TOLERANCE_PX * pixel_mm)
    if not (inputs.fine_detail or inputs.colours == TRANSPARENCY or inputs.most_colours) and (
        fine := fine_detail_reasons(raster, MOST_STEPS)
    ):
        return _nothing(FINE, [*fine, *reasons])
    try:
        found = yield from traced(
            raster,
            by=inputs.colours,
            count=inputs.most_colours if inputs.colours == SEVERAL else None,
            keep_ground=inputs.keep_ground,
            tolerance=tolerance_mm / pixel_mm,
            angle=radians(inputs.corner_angle_degrees),
            smallest=inputs.smallest_area_mm2 / pixel_mm**2,
            closely=inputs.curve_tolerance_mm is not None,
        )
    except NotFlat as trouble:
        return _nothing(NOT_FLAT, [message(messages.NOT_TRACED_FLAT, colours=str(trouble.colours)), *reasons])
    except TooManySteps as trouble:
        return _nothing(NOISE, [message(messages.NOT_TRACED_NOISE, steps=str(trouble.steps)), *reasons])
    except TooManyArcs:
        return _nothing(NOISE, [message(messages.NOT_TRACED_ARCS, most=str(MOST_ARCS)), *reasons])
    except TooManyRuns:
        return _nothing(NOISE, [message(messages.PICTURE_TOO_SCATTERED), *reasons])
    except NothingToTrace as trouble:
        return _nothing(NOTHING, [why_not(trouble), *reasons])
    taken = taken_of(found, left_out)
    return (yield from _outputs(inputs, found, taken, raster, pixel_mm, picture, widths, reasons))


def _nothing(verdict: str, reasons: list[Message]) -> TraceOutputs:
    names = (
        "width_mm height_mm own_width_mm colour_count piece_count corner_count "
        "speck_count worst_mm outlines detail svg pdf"
    ).split()
    nothing: dict[str, Any] = dict.fromkeys(names)
    return TraceOutputs(verdict=verdict, reasons=tuple(reasons), colours=(), **nothing)


def _outputs(
    inputs: TraceInputs,
    found: Traced,
    taken: list[Region],
    raster: Raster,
    pixel_mm: float,
    picture: Picture,
    widths: Widths,
    reasons: list[Message],
) -> Generator[Progress, None, TraceOutputs]:
    yield Progress(0.95, messages.COMPARING)
    width_mm = inputs.width_mm
    height_mm = picture.height_mm(width_mm)
    worst_mm = stated_px(found) * pixel_mm
    lost = lost_of(found, raster, by=inputs.colours)
    thinner = found.thin
    if thinner >= MUCH_THIN and inputs.colours == SEVERAL:
        thinner = uncertain_thin(found, raster)
    judged = _judged(found, lost, thinner)
    hard = found.hard >= MUCH_HARD
    thin = [message(messages.TRACED_THIN, percent=f"{100 * thinner:.0f}")] if thinner >= MUCH_THIN else []
    grainy = [message(messages.TRACED_GRAINY)] if found.grainy else []
    cure = messages.LOST_CURE_COUNT if inputs.colours == SEVERAL and inputs.most_colours else messages.TRACED_LOST_CURE
    within = message(
        messages.TRACED_STEPS if hard else messages.TRACED_WITHIN,
        up_to_mm=worst_mm,
        **({} if hard else {"pixel_mm": pixel_mm}),
    )
    of_losses = loss_reasons(lost, cure, messages.TRACED_FLAT_CURE)
    # The deciding reason comes first.
    first = {GRAINY: grainy, LOST: of_losses, THIN: thin}.get(judged, [])
    others = (*of_losses, *merged_reasons(lost), *reasons, *grainy, *thin)
    reasons = [*first, within, *(each for each in others if each not in first)]
    reasons += further_reasons(found, inputs.most_colours if inputs.colours == SEVERAL else None)
    title = picture.name.rpartition(".")[0] or picture.name
    seams = seams_of(found, taken, pixel_mm) if inputs.close_seams else []
    if seams:
        reasons.append(message(messages.TRACED_SEAMS, seam_mm=SEAM_MM))
    svg, pdf = yield from files_of(taken, seams, pixel_mm, (width_mm, height_mm), title)
    return TraceOutputs(
        verdict=judged,
        reasons=tuple(reasons),
        width_mm=width_mm,
        height_mm=height_mm,
        own_width_mm=widths.own_mm,
        colour_count=len(taken),
        piece_count=sum(len(line.pieces) for line in found.lines),
        corner_count=sum(len(line.tips) for line in found.lines),
        speck_count=found.specks,
        worst_mm=worst_mm,
        outlines=outlines_figure(found, taken, lost, nodes=inputs.show_nodes),
        detail=detail_figure(found, taken, raster, pixel_mm),
        colours=_rows(found, taken, pixel_mm),
        svg=svg,
        pdf=pdf,
    )


def _rows(found: Traced, taken: list[Region], pixel_mm: float) -> tuple[TracedColour, ...]:
    return tuple(
        TracedColour(
            number=str(number),
            colour=hex_of(region.rgb),
            area_mm2=region.area * pixel_mm**2,
            outer=sum(ring.area > 0 for ring in region.rings),
            holes=sum(ring.area <= 0 for ring in region.rings),
            curves=sum(len(ring.pieces) for ring in region.rings),
            taken=TAKEN if region in taken else LEFT_OUT,
        )
        for number, region in enumerate(found.regions, 1)
    )


def _judged(found: Traced, lost: Losses, thinner: float) -> str:
    return (
        GRAINY
        if found.grainy
        else LOST
        if lost
        else STEPS
        if found.hard >= MUCH_HARD
        else THIN
        if thinner >= MUCH_THIN
        else TRACED
    )


CALCULATOR = Calculator(
    id="trace",
    title="What are the outlines of this picture?",
    summary="Finds where edges run within the pixels, and saves outlines that stay sharp at any size as SVG and PDF.",
    also=("vector", "vectorise", "vectorize", "svg", "outline", "autotrace", "convert to vector"),
    stage="artwork",
    about=MARKING,
    inputs=TraceInputs,
    outputs=TraceOutputs,
    compute=trace,
    sources=(tables.COMMON_PRACTICE,),
    needs=NEEDS,
    limit_s=120,
    order=50,
    picture_stage=PictureStage(of="outlines", numbers=("colour_count", "worst_mm")),
)
