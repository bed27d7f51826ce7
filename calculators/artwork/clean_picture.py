"""How is the marking taken out of its picture?"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace

from calculators import example, messages, tables
from calculators.artwork import next_steps
from calculators.artwork.cleaned_figure import cleaned_figure, on_card
from calculators.artwork.fine_detail import FINE, TOO_FINE, told_of_fine_detail, try_fine_detail
from calculators.cache import PICTURES
from calculators.colour.difference import delta_e
from calculators.declare import (
    Calculator,
    Figure,
    Lead,
    NamedFile,
    PictureStage,
    Problem,
    Progress,
    Refused,
    Said,
    choice,
    colour,
    colour_result,
    figure,
    file_result,
    folded,
    leads,
    measure,
    number,
    part_of_work,
    reasons,
    rows,
    said,
    table,
    text,
    verdict,
    whole_number,
    words,
    yes_no,
)
from calculators.figures.losses import taken_as_one, told_of
from calculators.files.picture import Picture
from calculators.files.png import png_in_steps
from calculators.job_fields import marking_picture
from calculators.pixels.cleaning import Background, cleaned, cropped, flooded, marking_box
from calculators.pixels.colour_table import Rgb, hex_of, lab, rgb_of
from calculators.pixels.connected import MOST_RUNS, TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.fidelity import Losses, losses
from calculators.pixels.flat_colours import NONE, FlatColours, NotFlat, flat_colours
from calculators.pixels.merged_colours import MERGED_APART
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.small_parts import shown_flat

CLEAN, LEFT, KEPT, LOST, MANY, NOT_FLAT, NOTHING = "clean", "left", "kept", "lost", "many", "not-flat", "nothing"
LEVELS = {
    CLEAN: ("pass", "The marking is cut out, in flat colours"),
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
#: A colour with no more than this share of the marking is a few stray pixels.
SPECK_SHARE = 0.0002
#: White as no printer has it; a name of a paint colour fits from so near (both delta E 2000).
WHITE_WITHIN, NAMED_WITHIN = 3.0, 9.0
#: Of all the work, so much is done once the colours are found, the background is flooded, the edges are
#: mixed, the file is written, and losses are looked for.
FOUND, FLOODED, CLEANED, WRITTEN, COMPARED = 0.6, 0.7, 0.8, 0.9, 0.95
#: Shades are merged on purpose within this many of the tolerances that were asked for.
ON_PURPOSE = 1.2

STAYS, JOINS, BECOMES, DROPPED, METALLIC, FLUORESCENT = (
    "stays",
    "joins",
    "becomes",
    "dropped",
    "metallic",
    "fluorescent",
)
DOES = {
    STAYS: "Stays",
    JOINS: "Joins another",
    BECOMES: "Changes colour",
    DROPPED: "Is dropped",
    METALLIC: "Is metallic",
    FLUORESCENT: "Is fluorescent",
}
PRINTS, NO_WHITE = "Prints", "No white ink"
PRINTS_AS = {METALLIC: "No metallic ink", FLUORESCENT: "No fluorescent ink", DROPPED: "Dropped"}


@dataclass(frozen=True, kw_only=True)
class ColourChange:
    which: int = whole_number(
        "Colour no.", unit="", low=1, high=32, default=1, help="Its number in the table of colours."
    )
    does: str = choice(
        "What happens to it", options=DOES, default=STAYS, help="Nothing prints where you drop a colour."
    )
    joins: int = whole_number(
        "Colour no. that it joins",
        unit="",
        low=1,
        high=32,
        default=2,
        only_when=("does", JOINS),
        help="Its number in the table of colours.",
    )
    becomes: str = colour("New colour", default="#7a2232", names="paint-colours", only_when=("does", BECOMES))
    name: str = text("Name", default="", most=40, may_be_empty=True, help="Such as “rowan red”. It may stay empty.")


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
class ColourRow:
    number: str = words("No.")
    colour: str = colour_result("Colour")
    name: str = words("Name")
    share: float = measure("Share", unit="%", decimals=1)
    prints: str = words("In print")


@dataclass(frozen=True, kw_only=True)
class CleanPictureOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Said, ...] = reasons()
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
    """Return the marking of a picture without its background, in flat colours, and what those are.

    Background and colours are told apart by CIEDE2000. A picture of more than four million pixels is halved first, and
    that is said. Yields progress. Raises Refused where a change names a colour that there is not.
    """
    given = inputs.picture or on_card(example.picture())
    whole = raster_of(given)
    raster = worked(whole)
    told = []
    if raster is not whole:
        told.append(
            said(
                messages.WORKED_SMALLER,
                width_px=raster.width,
                height_px=raster.height,
                from_width_px=whole.width,
                from_height_px=whole.height,
            )
        )
    own = inputs.picture is not None
    # Along a row a colour begins with every second of the edges.
    if not (inputs.fine_detail or inputs.colours) and (fine := told_of_fine_detail(raster, 2 * MOST_RUNS)):
        return _nothing(FINE, [*fine, *told], given, own)
    try:
        # Kept, so that a change to one colour is answered without finding them anew.
        operation = ("flat colours", raster.width, raster.height, inputs.colour_tolerance, inputs.colours)
        finding = PICTURES.worked_out(
            raster.source,
            operation,
            lambda: flat_colours(raster, tolerance=inputs.colour_tolerance, count=inputs.colours),
        )
        flat = yield from part_of_work(finding, 0.0, FOUND)
        background = None
        if inputs.background != "keep":
            flooding = flooded(raster, flat, inputs.background_tolerance, enclosed=inputs.background == "everywhere")
            background = yield from part_of_work(flooding, FOUND, FLOODED)
    except NotFlat as trouble:
        told.insert(0, said(messages.NOT_FLAT, colours=str(trouble.colours)))
        return _nothing(NOT_FLAT, told, given, own)
    except TooManyRuns:
        return _nothing(NOT_FLAT, [said(messages.PICTURE_TOO_SCATTERED), *told], given, own)
    palette = _Palette(flat, background, inputs.changes)
    rgba = yield from part_of_work(cleaned(raster, flat, background, palette.becomes), FLOODED, CLEANED)
    box = marking_box(bytes(rgba[3::4]), raster.width, raster.height)
    if box is None:
        return _nothing(NOTHING, [*_why_nothing(flat, background), *told], given, own)
    if inputs.crop and box[2] - box[0] < raster.width:
        told.append(said(messages.CROPPED_WIDTH))
    marking = cropped(rgba, raster.width, box if inputs.crop else (0, 0, raster.width, raster.height))
    file = yield from part_of_work(png_in_steps(marking.width, marking.height, marking.rgba), CLEANED, WRITTEN)
    yield Progress(WRITTEN, messages.COMPARING)
    lost = PICTURES.remembered(
        raster.source, ("losses", *operation), lambda: _losses(raster, flat, inputs.colour_tolerance)
    )
    lost = replace(lost, washed=tuple(each for each in lost.washed if not palette.changed(each.now)))
    yield Progress(COMPARED, messages.WRITING_PICTURE)
    shown = cleaned_figure(
        given,
        marking,
        len(palette.left),
        own=own,
        lost=lost,
        places=(raster.width, *(box if inputs.crop else (0, 0))[:2]),
    )
    return _outputs(
        inputs, given, marking, NamedFile(f"{_title(given)}-clean.png", "image/png", file), palette, shown, lost, told
    )


def _losses(raster: Raster, flat: FlatColours, tolerance: float) -> Losses:
    """Return what the flat colours lost of the picture, before the reader changed any: those changes are wanted."""
    colours, apart = [each.rgb for each in flat.colours], max(MERGED_APART, ON_PURPOSE * tolerance)
    return losses(raster, flat.labels, colours, apart, shown_flat(flat))


def _title(given: Picture) -> str:
    return given.name.rpartition(".")[0] or given.name


def _why_nothing(flat: FlatColours, background: Background | None) -> list[Said]:
    if not flat.colours:
        return [said(messages.PICTURE_IS_CLEAR)]
    if background and (one := _of_one_colour(flat)):
        return [*one, said(messages.ALL_IS_BACKGROUND)]
    return [said(messages.NOTHING_LEFT)]


def _of_one_colour(flat: FlatColours) -> list[Said]:
    """Return what is said of a picture that is one colour all over; nothing of any other."""
    if flat.labels.count(0) < len(flat.labels):
        return []
    return [said(messages.PICTURE_IS_ONE_COLOUR, colour=flat.colours[0].hex)]


class _Palette:
    """The colours of a marking after the changes: what each becomes, is called, and prints as."""

    def __init__(self, flat: FlatColours, background: Background | None, changes: tuple[ColourChange, ...]) -> None:
        self.flat, self.background = flat, background
        gone = background.plane if background else bytes(len(flat.labels))
        kept = int.from_bytes(flat.labels, "little") | int.from_bytes(gone.translate(b"\0\xff" + bytes(254)), "little")
        planes = kept.to_bytes(len(flat.labels), "little")
        self.counts = [planes.count(label) for label in range(len(flat.colours))]
        self.becomes: dict[int, Rgb | None] = {}
        self._take_specks()
        #: Labels that the marking has, in the order of the table.
        self.shown = [label for label, count in enumerate(self.counts) if count]
        self.does: dict[int, str] = {}
        self.joins: dict[int, int] = {}
        self.names: dict[int, str] = {}
        problems = [problem for place, change in enumerate(changes) for problem in self._take(place, change)]
        if problems:
            raise Refused(*problems)
        for label, other in self.joins.items():
            self.becomes[label] = self.becomes.get(other, flat.colours[other].rgb)

    def _take_specks(self) -> None:
        """Let what is left of a colour in a few pixels only, once the background is
        gone, go with the colour nearest to it.
        """
        least = SPECK_SHARE * sum(self.counts)
        stay = [label for label, count in enumerate(self.counts) if count > least]
        for label, count in enumerate(self.counts):
            if 0 < count <= least:
                here = lab(self.flat.colours[label].rgb)
                nearest = min(stay, key=lambda other: delta_e(here, lab(self.flat.colours[other].rgb)))
                self.becomes[label] = self.flat.colours[nearest].rgb
                self.counts[nearest] += count
                self.counts[label] = 0

    def _take(self, place: int, change: ColourChange) -> list[Problem]:
        asked = [("which", change.which)] + ([("joins", change.joins)] if change.does == JOINS else [])
        problems = [
            Problem(
                f"changes[{place}].{name}",
                messages.NO_SUCH_COLOUR.format(number=number),
                messages.COLOURS_ARE.format(colours=messages.plural(len(self.shown), "colour")),
            )
            for name, number in asked
            if number > len(self.shown)
        ]
        if not problems and change.does == JOINS and change.joins == change.which:
            problems = [Problem(f"changes[{place}].joins", messages.JOINS_ITSELF, messages.JOINS_OTHER)]
        if problems:
            return problems
        label = self.shown[change.which - 1]
        self.does[label] = change.does
        if change.name.strip():
            self.names[label] = change.name.strip()
        if change.does == JOINS:
            self.joins[label] = self.shown[change.joins - 1]
        elif change.does == BECOMES:
            self.becomes[label] = rgb_of(change.becomes)
        elif change.does == DROPPED:
            self.becomes[label] = None
        return []

    def rows(self) -> tuple[ColourRow, ...]:
        """Return a row for each colour found, by number; one that was joined or dropped keeps its row."""
        whole = sum(self.counts)
        return tuple(
            ColourRow(
                number=str(number),
                colour=hex_of(self.colour(label)),
                name=self.name(label),
                share=100 * self.counts[label] / whole,
                prints=self.prints(label),
            )
            for number, label in enumerate(self.shown, 1)
        )

    def colour(self, label: int) -> Rgb:
        """Return the colour that a label has now, or had before it was dropped."""
        return self.becomes.get(label) or self.flat.colours[label].rgb

    def name(self, label: int) -> str:
        """Return what the reader calls a colour, else the nearest paint colour, else its number."""
        if label in self.names:
            return self.names[label]
        here = lab(self.colour(label))
        apart, nearest = min(
            (delta_e(here, lab(rgb_of(row.colour))), row.label) for row in tables.load("paint-colours")
        )
        nearest = nearest.partition(",")[0]
        return nearest if apart <= NAMED_WITHIN else messages.COLOUR_NUMBERED.format(number=self.shown.index(label) + 1)

    def prints(self, label: int) -> str:
        """Return in words whether a printer has ink for a colour."""
        if label in self.joins:
            return messages.JOINED_TO.format(number=self.shown.index(self.joins[label]) + 1)
        if self.does.get(label) in PRINTS_AS:
            return PRINTS_AS[self.does[label]]
        return NO_WHITE if self.is_white(label) else PRINTS

    def changed(self, rgb: Rgb) -> bool:
        """Return whether the reader gave another colour to the one that was found as ``rgb``, or dropped it."""
        return any(
            each.rgb == rgb and self.does.get(label, STAYS) in (JOINS, BECOMES, DROPPED)
            for label, each in enumerate(self.flat.colours)
        )

    def is_white(self, label: int) -> bool:
        """Return whether a colour is white, as it is now."""
        return delta_e(lab(self.colour(label)), (100.0, 0.0, 0.0)) <= WHITE_WITHIN

    @property
    def left(self) -> list[int]:
        """Labels that are neither joined to another nor dropped, one for each colour."""
        stay = [label for label in self.shown if label not in self.joins and self.does.get(label) != DROPPED]
        return list({self.colour(label): label for label in reversed(stay)}.values())[::-1]


def _outputs(
    inputs: CleanPictureInputs,
    given: Picture,
    marking: Raster,
    file: NamedFile,
    palette: _Palette,
    shown: Figure,
    lost: Losses,
    told: list[Said],
) -> CleanPictureOutputs:
    background, left = palette.background, palette.left
    labels, width = palette.flat.labels, palette.flat.width
    border = labels[:width] + labels[-width:] + labels[::width] + labels[width - 1 :: width]
    wanted, coloured = inputs.background != "keep", border.count(NONE) * 2 < len(border)
    uneven = wanted and not background and coloured
    if background:
        sentence = messages.BACKGROUND_TAKEN_ALL if inputs.background == "everywhere" else messages.BACKGROUND_TAKEN
        first = said(sentence, colour=hex_of(background.rgb), percent=f"{100 * background.share:.0f}")
    elif not wanted:
        first = said(messages.BACKGROUND_LEFT)
    else:
        first = said(messages.BACKGROUND_UNEVEN if uneven else messages.BACKGROUND_IS_CLEAR)
    counted = said(messages.FLAT_COLOUR) if len(left) == 1 else said(messages.FLAT_COLOURS, count=len(left))
    told = [
        first,
        *_of_one_colour(palette.flat),
        counted,
        *taken_as_one(lost),
        *told,
    ]
    if lost.washed:
        told.append(said(messages.WASHED_JOIN))
    if len(left) >= MANY_FROM:
        told.append(said(messages.MANY_COLOURS))
    without_ink = [palette.name(label) for label in left if palette.does.get(label) in (METALLIC, FLUORESCENT)]
    if without_ink:
        told.append(said(messages.NO_INK_FOR, names=", ".join(without_ink)))
    if any(palette.is_white(label) for label in left):
        told.append(said(messages.WHITE_IS_BARE))
    judged = (
        KEPT
        if uneven
        else LEFT
        if coloured and not wanted
        else LOST
        if lost
        else MANY
        if len(left) >= MANY_FROM
        else CLEAN
    )
    of_losses = told_of(lost, messages.LOST_CURE_COUNT if inputs.colours else messages.LOST_CURE)
    return CleanPictureOutputs(
        verdict=judged,
        reasons=(*of_losses, *told) if judged == LOST else (*told, *of_losses),
        colour_count=len(left),
        background=hex_of(background.rgb) if background else None,
        width_px=marking.width,
        height_px=marking.height,
        shown=shown,
        colours=palette.rows(),
        cleaned=file,
    )


def _nothing(verdict: str, told: list[Said], given: Picture, own: bool) -> CleanPictureOutputs:
    return CleanPictureOutputs(
        verdict=verdict,
        reasons=tuple(told),
        colour_count=None,
        background=None,
        width_px=None,
        height_px=None,
        shown=cleaned_figure(given, None, 0, own=own),
        colours=(),
        cleaned=None,
    )


CALCULATOR = Calculator(
    id="clean-picture",
    title="How is the marking taken out of its picture?",
    summary="Removes its background, reduces its colours to the flat ones it was drawn in, and saves a clean PNG.",
    also=("transparent background", "alpha", "cut out", "cut out the logo", "remove background", "logo", "png"),
    stage="artwork",
    inputs=CleanPictureInputs,
    outputs=CleanPictureOutputs,
    compute=clean_picture,
    sources=("ciede2000", "iec-61966-2-1", tables.COMMON_PRACTICE),
    limit_s=90,
    order=30,
    picture_stage=PictureStage(of="shown", numbers=("colour_count", "background")),
)
