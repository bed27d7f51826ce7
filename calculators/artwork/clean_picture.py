"""Take a marking out of its picture: remove the background and flatten the colours."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace

from calculators import example, messages, tables
from calculators.artwork import next_steps
from calculators.artwork.cleaned_figure import cleaned_figure, on_card
from calculators.artwork.fine_detail import FINE, TOO_FINE, fine_detail_reasons, try_fine_detail
from calculators.artwork.palette import FLUORESCENT, METALLIC, ColourChange, ColourRow, Palette
from calculators.cache import PICTURES
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
    part_of_work,
    reasons,
    rows,
    table,
    verdict,
    whole_number,
    yes_no,
)
from calculators.figures.losses import loss_reasons, merged_reasons
from calculators.files.picture import Picture
from calculators.files.png import png_in_steps
from calculators.job_fields import marking_picture
from calculators.pixels.border import border_of
from calculators.pixels.cleaning import Background, cleaned, cropped, fills_picture, flooded, marking_box
from calculators.pixels.colour_table import hex_of
from calculators.pixels.connected import MOST_RUNS, TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.fidelity import losses
from calculators.pixels.flat_colours import NONE, FlatColours, NotFlat, known_flat_colours
from calculators.pixels.lost_parts import Losses
from calculators.pixels.merged_colours import MERGED_APART
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.small_parts import rendered_flat

CLEAN, WHOLE, LEFT, KEPT, LOST, MANY, NOT_FLAT, NOTHING = (
    "clean",
    "whole",
    "left",
    "kept",
    "lost",
    "many",
    "not-flat",
    "nothing",
)
LEVELS = {
    CLEAN: ("pass", "The marking is cut out, in flat colours"),
    WHOLE: ("pass", "The marking fills the picture, in flat colours"),
    LOST: ("watch", "Parts of the marking were lost or washed out"),
    MANY: ("watch", "The marking is cut out, but has many colours"),
    LEFT: ("watch", "In flat colours; its background stays"),
    KEPT: ("watch", "There is no even background to remove"),
    NOT_FLAT: ("fail", "This is not flat artwork"),
    FINE: TOO_FINE,
    NOTHING: ("fail", "Nothing of the picture is left"),
}
#: Common practice: artwork of more flat colours than this is rare, and tedious to handle.
MANY_FROM = 13
#: Shares of all the work done after each step: colours found, background flooded,
#: edges mixed, file written, losses found.
FOUND, FLOODED, CLEANED, WRITTEN, COMPARED = 0.6, 0.7, 0.8, 0.9, 0.95
#: Shades are merged on purpose within this many times the chosen tolerance.
ON_PURPOSE = 1.2


@dataclass(frozen=True, kw_only=True)
class CleanPictureInputs:
    picture: Picture | None = marking_picture(without="the page uses the demonstration crest on a card.")
    background: str = choice(
        "Background",
        options={
            "border": "Remove it from the border inwards",
            "everywhere": "Remove its colour everywhere",
            "keep": "Leave it",
        },
        default="border",
    )
    background_tolerance: float = folded(
        number(
            "Background tolerance",
            unit="ΔE",
            low=0,
            high=40,
            default=6,
            help=(
                "How much a shade may differ from the border and still count as background. Unevenly scanned paper "
                "needs 10 or more."
            ),
        )
    )
    crop: bool = yes_no("Crop to the marking", default=True)
    colour_tolerance: float = folded(
        number(
            "Colour tolerance",
            unit="ΔE",
            low=1,
            high=20,
            default=5,
            help="Colours closer together than this count as one.",
        )
    )
    colours: int | None = whole_number(
        "Number of colours",
        unit="",
        low=1,
        high=24,
        help="The closest are joined until this many are left.",
        without="the page keeps all the colours it finds.",
    )
    changes: tuple[ColourChange, ...] = rows(
        "Changes to colours",
        row=ColourChange,
        default=(),
        fewest=0,
        most=24,
        help="Join, recolour, drop or name colours, and mark which are metallic or fluorescent.",
    )
    fine_detail: bool = folded(try_fine_detail())


@dataclass(frozen=True, kw_only=True)
class CleanPictureOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    colour_count: int | None = measure("Flat colours", decimals=0)
    background: str | None = colour_result("Background removed")
    width_px: int | None = measure("Marking width", unit="px", decimals=0)
    height_px: int | None = measure("Marking height", unit="px", decimals=0)
    shown: Figure = figure("Before and after")
    colours: tuple[ColourRow, ...] = table(
        "The colours", row=ColourRow, help="shares of everything that is not transparent"
    )
    cleaned: NamedFile | None = file_result(
        "The marking alone, PNG", shares="picture", help="Transparent round the marking, in flat colours."
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.CLEAN_PICTURE)


def clean_picture(inputs: CleanPictureInputs) -> Generator[Progress, None, CleanPictureOutputs]:
    """Return the marking of a picture in flat colours without its background, with a table of its colours.

    CIEDE2000 separates background and colours. A picture of more than four million pixels is halved first, and a reason
    says so. Yields progress. Raises Refused if a change names a colour that does not exist.
    """
    picture = inputs.picture or on_card(example.picture())
    whole = raster_of(picture)
    raster = worked(whole)
    reasons = _of_size(raster, whole)
    own = inputs.picture is not None
    # Along a row, every second edge begins a colour.
    if not (inputs.fine_detail or inputs.colours) and (fine := fine_detail_reasons(raster, 2 * MOST_RUNS)):
        return _nothing(FINE, [*fine, *reasons], picture, own)
    try:
        # A change to one colour does not search for all of them again.
        finding = known_flat_colours(raster, tolerance=inputs.colour_tolerance, count=inputs.colours)
        flat = yield from part_of_work(finding, 0.0, FOUND)
        background = None
        if inputs.background != "keep":
            flooding = flooded(raster, flat, inputs.background_tolerance, enclosed=inputs.background == "everywhere")
            background = yield from part_of_work(flooding, FOUND, FLOODED)
    except NotFlat as trouble:
        reasons.insert(0, message(messages.NOT_FLAT, colours=str(trouble.colours)))
        return _nothing(NOT_FLAT, reasons, picture, own)
    except TooManyRuns:
        return _nothing(NOT_FLAT, [message(messages.PICTURE_TOO_SCATTERED), *reasons], picture, own)
    palette = Palette(flat, background, inputs.changes)
    rgba = yield from part_of_work(cleaned(raster, flat, background, palette.becomes), FLOODED, CLEANED)
    box = marking_box(bytes(rgba[3::4]), raster.width, raster.height)
    if box is None:
        return _nothing(NOTHING, [*_why_nothing(flat, background), *reasons], picture, own)
    if inputs.crop and box[2] - box[0] < raster.width:
        reasons.append(message(messages.CROPPED_WIDTH))
    marking = cropped(rgba, raster.width, box if inputs.crop else (0, 0, raster.width, raster.height))
    file = yield from part_of_work(png_in_steps(marking.width, marking.height, marking.rgba), CLEANED, WRITTEN)
    yield Progress(WRITTEN, messages.COMPARING)
    lost = PICTURES.remembered(
        raster.source,
        ("losses", raster.width, raster.height, inputs.colour_tolerance, inputs.colours),
        lambda: _losses(raster, flat, inputs.colour_tolerance),
    )
    lost = replace(lost, washed=tuple(each for each in lost.washed if not palette.changed(each.now)))
    yield Progress(COMPARED, messages.WRITING_PICTURE)
    drawing = cleaned_figure(
        picture,
        marking,
        len(palette.left),
        own=own,
        lost=lost,
        places=(raster.width, *(box if inputs.crop else (0, 0))[:2]),
    )
    return _outputs(
        inputs,
        picture,
        marking,
        NamedFile(f"{_title(picture)}-clean.png", "image/png", file),
        palette,
        drawing,
        lost,
        reasons,
    )


def _of_size(raster: Raster, whole: Raster) -> list[Message]:
    if raster is whole:
        return []
    return [
        message(
            messages.WORKED_SMALLER,
            width_px=raster.width,
            height_px=raster.height,
            from_width_px=whole.width,
            from_height_px=whole.height,
        )
    ]


def _losses(raster: Raster, flat: FlatColours, tolerance: float) -> Losses:
    """Return what the flat colours lose of the picture, ignoring the reader's own changes: those are wanted."""
    colours, apart = [each.rgb for each in flat.colours], max(MERGED_APART, ON_PURPOSE * tolerance)
    return losses(raster, flat.labels, colours, apart, rendered_flat(flat))


def _title(picture: Picture) -> str:
    return picture.name.rpartition(".")[0] or picture.name


def _why_nothing(flat: FlatColours, background: Background | None) -> list[Message]:
    if not flat.colours:
        return [message(messages.PICTURE_IS_CLEAR)]
    if background and (one := _of_one_colour(flat)):
        return [*one, message(messages.ALL_IS_BACKGROUND)]
    return [message(messages.NOTHING_LEFT)]


def _of_one_colour(flat: FlatColours) -> list[Message]:
    """Return the message for a picture of a single colour; an empty list for any other."""
    if flat.labels.count(0) < len(flat.labels):
        return []
    return [message(messages.PICTURE_IS_ONE_COLOUR, colour=flat.colours[0].hex)]


def _outputs(
    inputs: CleanPictureInputs,
    picture: Picture,
    marking: Raster,
    file: NamedFile,
    palette: Palette,
    drawing: Figure,
    lost: Losses,
    reasons: list[Message],
) -> CleanPictureOutputs:
    background, left = palette.background, palette.left
    labels, width = palette.flat.labels, palette.flat.width
    border = border_of(labels, width)
    wanted, coloured = inputs.background != "keep", border.count(NONE) * 2 < len(border)
    filled = wanted and not background and fills_picture(palette.flat)
    uneven = wanted and not background and coloured and not filled
    counted = message(messages.FLAT_COLOUR) if len(left) == 1 else message(messages.FLAT_COLOURS, count=len(left))
    reasons = [
        _of_background(inputs, background, filled, uneven),
        *_of_one_colour(palette.flat),
        counted,
        *merged_reasons(lost),
        *reasons,
    ]
    if lost.washed:
        reasons.append(message(messages.WASHED_JOIN))
    if len(left) >= MANY_FROM:
        reasons.append(message(messages.MANY_COLOURS))
    reasons += _of_inks(palette)
    judged = (
        KEPT
        if uneven
        else LEFT
        if coloured and not wanted
        else LOST
        if lost
        else MANY
        if len(left) >= MANY_FROM
        else WHOLE
        if filled
        else CLEAN
    )
    cure, of_flat = messages.LOST_CURE, messages.LOST_CURE_FLAT
    if inputs.colours:
        cure, of_flat = messages.LOST_CURE_COUNT, messages.LOST_CURE_FLAT_COUNT
    of_losses = loss_reasons(lost, cure, of_flat)
    return CleanPictureOutputs(
        verdict=judged,
        reasons=(*of_losses, *reasons) if judged == LOST else (*reasons, *of_losses),
        colour_count=len(left),
        background=hex_of(background.rgb) if background else None,
        width_px=marking.width,
        height_px=marking.height,
        shown=drawing,
        colours=palette.rows(),
        cleaned=file,
    )


def _of_background(inputs: CleanPictureInputs, background: Background | None, filled: bool, uneven: bool) -> Message:
    """Return what became of the background."""
    if background:
        sentence = messages.BACKGROUND_TAKEN_ALL if inputs.background == "everywhere" else messages.BACKGROUND_TAKEN
        return message(sentence, colour=hex_of(background.rgb), percent=f"{100 * background.share:.0f}")
    if inputs.background == "keep":
        return message(messages.BACKGROUND_LEFT)
    if filled:
        return message(messages.BACKGROUND_FILLED)
    return message(messages.BACKGROUND_UNEVEN if uneven else messages.BACKGROUND_IS_CLEAR)


def _of_inks(palette: Palette) -> list[Message]:
    """Return the messages about colours that a printer has no ink for."""
    without = [palette.name(label) for label in palette.left if palette.does.get(label) in (METALLIC, FLUORESCENT)]
    reasons = [message(messages.NO_INK_FOR, names=", ".join(without))] if without else []
    return [*reasons, message(messages.WHITE_IS_BARE)] if any(map(palette.is_white, palette.left)) else reasons


def _nothing(verdict: str, reasons: list[Message], picture: Picture, own: bool) -> CleanPictureOutputs:
    return CleanPictureOutputs(
        verdict=verdict,
        reasons=tuple(reasons),
        colour_count=None,
        background=None,
        width_px=None,
        height_px=None,
        shown=cleaned_figure(picture, None, 0, own=own),
        colours=(),
        cleaned=None,
    )


CALCULATOR = Calculator(
    id="clean-picture",
    title="How is the marking taken out of its picture?",
    summary="Removes its background, reduces its colours to the flat ones it was drawn in, and saves a clean PNG.",
    also=("transparent background", "alpha", "cut out", "cut out the logo", "remove background", "logo", "png"),
    stage="artwork",
    about=MARKING,
    inputs=CleanPictureInputs,
    outputs=CleanPictureOutputs,
    compute=clean_picture,
    sources=("ciede2000", "iec-61966-2-1", tables.COMMON_PRACTICE),
    limit_s=90,
    order=30,
    picture_stage=PictureStage(of="shown", numbers=("colour_count", "background")),
)
