"""Find the white areas of a picture and what each means."""

from __future__ import annotations

from binascii import b2a_base64
from collections.abc import Generator
from dataclasses import dataclass

from calculators import example, messages, tables
from calculators.artwork import next_steps
from calculators.cache import PICTURES
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    PictureStage,
    Problem,
    Progress,
    Refused,
    advice,
    figure,
    folded,
    leads,
    measure,
    message,
    named,
    reasons,
    shared,
    table,
    text,
    verdict,
    words,
)
from calculators.figures.areas import MEANT, areas_figure, numbers_of
from calculators.files.outline_pixels import outline_reasons, with_pixels
from calculators.files.picture import Picture
from calculators.job_fields import (
    marking_picture,
    own_width,
    own_width_result,
    picture_width_result,
    printed_width,
    white_tolerance,
    width_is_of,
)
from calculators.marking_widths import Widths, with_widths
from calculators.pixels.colour_table import hex_of
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.paper import paper_ground
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.white_areas import TOLERANCE, BadMark, Signed, WhiteAreas, areas, marked, read_marks
from calculators.pixels.white_guess import BACKGROUND, WANTED

NONE, NO_NEED, PAPER, NEEDED, EMPTY, CLEAR, SCATTERED = (
    "none",
    "no-need",
    "paper",
    "needed",
    "empty",
    "clear",
    "scattered",
)
LEVELS = {
    NONE: ("pass", "No white in it"),
    NO_NEED: ("pass", "No white is wanted: bare film is enough"),
    PAPER: ("watch", "Its background looks like paper and does not count as white"),
    NEEDED: ("watch", "White is wanted, and no printer at home prints it"),
    EMPTY: ("fail", "There is only white"),
    CLEAR: ("fail", "There is nothing in the picture"),
    SCATTERED: ("fail", "No areas found"),
}


@dataclass(frozen=True, kw_only=True)
class WhiteAreasInputs:
    picture: Picture | None = marking_picture(without="the page uses the demonstration crest.", or_outlines=True)
    width_of: str = width_is_of()
    width_mm: float = printed_width()
    own_width_mm: float = own_width()
    tolerance: float = folded(white_tolerance(default=TOLERANCE))
    marks: str = shared(
        "white-marks",
        text(
            "Your marks",
            default="",
            most=800,
            may_be_empty=True,
            marks="shown",
            grammar=read_marks,
            help=(
                "Tap in the drawing, choose in the table, or type: A hole for a group, 5 wanted for one area. "
                "Empty: all guesses stand."
            ),
        ),
        MARKING,
    )


@dataclass(frozen=True, kw_only=True)
class AreaRow:
    number: str = words("Area or group")
    meant: str = named("Means", names=MEANT)
    size_mm2: float = measure("Size", unit="mm²", decimals=2)
    guess: Message = words("First guess, and why")


@dataclass(frozen=True, kw_only=True)
class WhiteAreasOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    picture_width_mm: float | None = folded(picture_width_result())
    own_width_mm: float | None = own_width_result()
    wanted_mm2: float | None = measure("Wanted white", unit="mm²", decimals=1)
    bare_percent: float | None = measure("Of the picture, left bare", unit="%", decimals=0, help="background and holes")
    specks: int | None = folded(
        measure("Specks left out", decimals=0, help="of a few pixels; they take the colour around them")
    )
    shown: Figure | None = figure("The areas, numbered")
    areas: tuple[AreaRow, ...] = table("The areas", row=AreaRow)
    next_steps: tuple[Lead, ...] = leads(next_steps.WHITE_AREAS)


def white_areas(inputs: WhiteAreasInputs) -> Generator[Progress, None, WhiteAreasOutputs]:
    """Return the white areas of a picture, or of drawn outlines, numbered in reading order, with their meaning.

    White is measured by CIEDE2000 from #ffffff. Its surroundings suggest its meaning, and the reader's marks overrule
    the guess. A picture of more than four million pixels is halved first, and a reason says so. Yields progress. Raises
    Refused if a mark names no area or cannot be read.
    """
    picture = yield from with_pixels(inputs.picture or example.picture())
    whole = raster_of(picture)
    raster = worked(whole)
    inputs, widths = with_widths(inputs, picture)
    reasons = [*outline_reasons(picture, inputs.width_mm), *widths.reasons]
    if raster is not whole:
        reasons.append(
            message(
                messages.WORKED_SMALLER,
                width_px=raster.width,
                height_px=raster.height,
                from_width_px=whole.width,
                from_height_px=whole.height,
            )
        )
    # Cached, so that a new mark does not search for them again.
    operation = ("white areas", raster.width, raster.height, inputs.tolerance)
    try:
        unmarked = yield from PICTURES.worked_out(raster.source, operation, lambda: areas(raster, "", inputs.tolerance))
        found = marked(unmarked, inputs.marks)
    except TooManyRuns:
        return WhiteAreasOutputs(
            verdict=SCATTERED,
            reasons=(message(messages.PICTURE_TOO_SCATTERED), *reasons),
            picture_width_mm=widths.picture_mm,
            own_width_mm=widths.own_mm,
            wanted_mm2=None,
            bare_percent=None,
            specks=None,
            shown=None,
            areas=(),
        )
    except BadMark as bad:
        raise Refused(_problem(bad, len(unmarked.areas))) from None
    return _outputs(inputs, raster, found, widths, reasons)


def _problem(bad: BadMark, count: int) -> Problem:
    if bad.number is None:
        return Problem("marks", messages.MARK_NOT_READ, messages.MARK_HINT.format(typed=messages.quoted(bad.text)))
    hint = (
        messages.AREAS_NUMBERED_TO.format(areas=messages.plural(count, "white area"))
        if count
        else messages.NO_AREAS_THERE
    )
    return Problem("marks", messages.NO_AREA_NUMBERED.format(number=bad.number), hint)


def _outputs(
    inputs: WhiteAreasInputs, raster: Raster, found: WhiteAreas, widths: Widths, reasons: list[Message]
) -> WhiteAreasOutputs:
    every = (*found.areas, *found.unnumbered)
    counts = {each: sum(area.meant == each for area in every) for each in MEANT}
    wanted_px = sum(each.size_px for each in every if each.meant == WANTED)
    bare_px = sum(each.size_px for each in every) - wanted_px
    nothing_prints = bare_px == found.width * found.height
    only = raster.rgba[:4] if raster.rgba == raster.rgba[:4] * (found.width * found.height) else None
    if nothing_prints and all(each.clear for each in every):
        reasons.insert(0, message(messages.PICTURE_IS_CLEAR))
        return _answered(inputs, CLEAR, reasons, found, widths, wanted_px, bare_px)
    if only:
        reasons.insert(0, message(messages.PICTURE_IS_ONE_COLOUR, colour=hex_of((only[0], only[1], only[2]))))
    elif every:
        reasons.insert(0, message(messages.AREAS_COUNTED, **{each: str(count) for each, count in counts.items()}))
    if counts[WANTED]:
        reasons.append(advice(messages.WHITE_NEEDED))
    grounded = any(each.meant == BACKGROUND for each in every)
    paper = None if grounded else paper_ground(raster, inputs.tolerance)
    if paper:
        reasons.insert(
            0,
            message(
                messages.PAPER_GROUND,
                colour=hex_of(paper.colour),
                difference=paper.difference,
                tolerance=str(paper.tolerance),
            ),
        )
    elif not grounded:
        reasons.append(message(messages.NO_BACKGROUND))
    if any(each.meant != each.guess for each in every):
        changed = sum(each.meant != each.guess for each in every)
        reasons.append(message(messages.MARKED_OTHERWISE, guesses=messages.plural(changed, "guess", "guesses")))
    elif every and not only:
        reasons.append(message(messages.ARE_GUESSES))
    if not found.flat:
        reasons.append(message(messages.WHITES_BY_COLOUR))
    if found.unnumbered:
        reasons.append(message(messages.AREAS_UNNUMBERED, count=len(found.unnumbered)))
    judged = EMPTY if nothing_prints else NEEDED if counts[WANTED] else PAPER if paper else NO_NEED if every else NONE
    return _answered(inputs, judged, reasons, found, widths, wanted_px, bare_px)


def _answered(
    inputs: WhiteAreasInputs,
    judged: str,
    reasons: list[Message],
    found: WhiteAreas,
    widths: Widths,
    wanted_px: int,
    bare_px: int,
) -> WhiteAreasOutputs:
    mm2_per_px = (inputs.width_mm / found.width) ** 2
    source = (
        'data-picture="picture"'
        if inputs.picture
        else f'xlink:href="data:image/png;base64,{b2a_base64(example.picture().data, newline=False).decode()}"'
    )
    return WhiteAreasOutputs(
        verdict=judged,
        reasons=tuple(reasons),
        picture_width_mm=widths.picture_mm,
        own_width_mm=widths.own_mm,
        wanted_mm2=wanted_px * mm2_per_px,
        bare_percent=100 * bare_px / (found.width * found.height),
        specks=found.specks or None,
        shown=areas_figure(found, source, MEANT, ("areas", "meant")),
        areas=tuple(_row(each, mm2_per_px) for each in found.signs()),
    )


def _row(signed: Signed, mm2_per_px: float) -> AreaRow:
    first = signed.areas[0]
    guess, why = MEANT[first.guess], first.why.sentence
    together = isinstance(signed.key, str)
    guessed = (
        message(messages.GUESSED_TOGETHER, guess=guess, count=len(signed.areas), numbers=numbers_of(signed), why=why)
        if together
        else message(messages.GUESSED, guess=guess, why=why)
    )
    return AreaRow(number=str(signed.key), meant=signed.meant, size_mm2=signed.size_px * mm2_per_px, guess=guessed)


CALCULATOR = Calculator(
    id="white-areas",
    title="Which white is meant?",
    summary="Sorts each white area of a picture: background, wanted white, or a hole through which the paint shows.",
    also=("white parts", "transparent parts"),
    stage="artwork",
    about=MARKING,
    inputs=WhiteAreasInputs,
    outputs=WhiteAreasOutputs,
    compute=white_areas,
    sources=("ciede2000", tables.COMMON_PRACTICE),
    limit_s=90,
    order=40,
    picture_stage=PictureStage(of="shown", numbers=("wanted_mm2", "bare_percent")),
)
