"""From what the reader asks for to what is cut: artwork, openings, bridges, places to look at."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from dataclasses import dataclass

from calculators import example, messages
from calculators.cache import PICTURES, Operation
from calculators.cut import judgement, openings
from calculators.cut.artwork import CutArtwork, from_outlines
from calculators.cut.bridges import Bridged, Laid, bridged, laid, shared_out
from calculators.cut.judgement import Limits, Place
from calculators.cut.layout import Format
from calculators.cut.openings import Opening
from calculators.cut.plane import Flat
from calculators.cut.traced import MOST_TRACED_POINTS, TooManyPoints, from_picture
from calculators.declare import Message, Progress, message
from calculators.files.outline_pixels import with_pixels
from calculators.files.picture import Picture
from calculators.marking_widths import Widths, with_widths
from calculators.pixels.connected import TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.flat_colours import NotFlat
from calculators.pixels.raster import raster_of
from calculators.pixels.tracing import NothingToTrace
from calculators.pixels.white_areas import WhiteAreas, areas, marked
from calculators.shapes.nesting import Part
from calculators.shapes.planar_map import MOST_ARCS, TooManyArcs, TooManySteps
from calculators.shapes.register import CLEAR_MM
from calculators.underlay import cut_sentences as sentences
from calculators.underlay.cut_fields import (
    BACKING,
    COLOURS,
    CUT_OUTS,
    LOOSE,
    MANY,
    NOT_FLAT,
    NOTHING,
    OUTLINE,
    STENCILS,
    TOO_FINE,
    WHITE,
    CutFileInputs,
)
from calculators.values import part_of_work

#: Nobody lays more stencils than this one over the other (estimate).
MOST_COLOURS = 12
#: Outlines with more points than this take too long.
MOST_POINTS = 90_000


@dataclass(frozen=True)
class Cutting:
    """One piece. ``flat`` are the openings of a stencil, its bridges left out, or the piece itself.

    ``colour`` (#rrggbb) is what is painted through it, "" for none. ``islands`` are those of a mask, ``held`` says how
    a loose stencil is held.
    """

    name: str
    colour: str
    flat: Flat
    places: tuple[Place, ...]
    islands: tuple[Part, ...] = ()
    held: Bridged | None = None
    is_mask: bool = False


@dataclass(frozen=True)
class Prepared:
    """The inputs, with the width of the whole picture; the picture with its pixels, and its white areas."""

    inputs: CutFileInputs
    picture: Picture
    widths: Widths
    whites: WhiteAreas


class Unanswered(Exception):
    """Nothing can be cut: the verdict, and why."""

    def __init__(self, verdict: str, *reasons: Message) -> None:
        super().__init__(verdict)
        self.verdict, self.reasons = verdict, reasons


def prepared(inputs: CutFileInputs) -> Generator[Progress, None, Prepared]:
    """Return what the work begins with. Yields progress. Raises Unanswered, BadMark, Refused."""
    picture = yield from with_pixels(inputs.picture or example.picture())
    inputs, widths = with_widths(inputs, picture)
    raster = worked(raster_of(picture))
    operation = ("white areas", raster.width, raster.height, inputs.white_tolerance)
    try:
        unmarked = yield from PICTURES.worked_out(
            raster.source, operation, lambda: areas(raster, "", inputs.white_tolerance)
        )
    except TooManyRuns:
        raise Unanswered(NOT_FLAT, message(messages.PICTURE_TOO_SCATTERED)) from None
    return Prepared(inputs, picture, widths, marked(unmarked, inputs.white_marks))


def artwork_of(job: Prepared) -> Generator[Progress, None, CutArtwork]:
    """Return the regions of the picture. Yields progress. Raises Unanswered, TooTangled."""
    try:
        artwork = yield from PICTURES.worked_out(job.picture.digest, _of_artwork(job), lambda: _artwork(job))
    except NotFlat as trouble:
        raise Unanswered(NOT_FLAT, message(messages.NOT_TRACED_FLAT, colours=str(trouble.colours))) from None
    except TooManySteps as trouble:
        raise Unanswered(TOO_FINE, message(messages.NOT_TRACED_NOISE, steps=str(trouble.steps))) from None
    except TooManyArcs:
        raise Unanswered(TOO_FINE, message(messages.NOT_TRACED_ARCS, most=str(MOST_ARCS))) from None
    except TooManyPoints as trouble:
        raise _too_many(trouble.points, MOST_TRACED_POINTS) from None
    except NothingToTrace:
        raise Unanswered(NOTHING, message(sentences.NO_WHITE)) from None
    flats = [*artwork.colours.values(), artwork.white]
    points = sum(len(ring) for flat in flats for ring in flat)
    if points > MOST_POINTS:
        raise _too_many(points, MOST_POINTS)
    if not any(flats):
        raise Unanswered(NOTHING, message(sentences.NO_WHITE))
    return artwork


def _too_many(points: int, most: int) -> Unanswered:
    why = message(sentences.MANY_POINTS, count=str(points), most=str(most))
    return Unanswered(TOO_FINE, why, message(sentences.DRAW_SIMPLY))


def _of_artwork(job: Prepared) -> Operation:
    return ("cut artwork", job.inputs.width_mm, job.inputs.white_marks, job.inputs.white_tolerance)


def _artwork(job: Prepared) -> Generator[Progress, None, CutArtwork]:
    if job.picture.outlines:
        size = (job.whites.width, job.whites.height)
        return (yield from from_outlines(job.picture.outlines, job.whites.meaning(), size, job.inputs.width_mm))
    whole = raster_of(job.picture)
    raster = worked(whole)
    # Halving drops an odd last column.
    halved = whole.width // raster.width
    width_mm = job.inputs.width_mm * raster.width * halved / whole.width
    return (yield from from_picture(raster, job.whites.meaning(), width_mm))


def format_of(inputs: CutFileInputs, artwork: CutArtwork) -> Format:
    """Return how the pieces lie on their sheet."""
    return Format(
        artwork.size,
        beyond=max(0.0, inputs.rim_mm - CLEAR_MM) if inputs.piece == OUTLINE else 0.0,
        mirrored=inputs.mirrored,
        has_frame=inputs.has_frame,
        has_waste_cuts=inputs.has_frame and inputs.waste_cuts,
        sheet_width=inputs.sheet_width_mm,
    )


def limits_of(inputs: CutFileInputs) -> Limits:
    """Return what can be cut."""
    return Limits(inputs.smallest_piece_mm, inputs.smallest_opening_mm, inputs.thinnest_bridge_mm)


def cuttings_of(job: Prepared, artwork: CutArtwork, form: Format) -> Generator[Progress, None, list[Cutting]]:
    """Return the pieces. Yields progress. Raises Unanswered, BadChange, TooTangled."""
    inputs, plane = job.inputs, artwork.plane
    made = yield from part_of_work(_openings(job, artwork), 0.0, 0.5)
    if inputs.piece not in STENCILS:
        ((name, colour, opening),) = made
        yield Progress(0.9, sentences.JUDGING)
        places = judgement.places_in_piece(plane, opening.flat, limits_of(inputs))
        return [Cutting(name, colour, opening.flat, (*_vanished(artwork, opening), *places))]
    sheet = plane.box(*form.upright)
    if inputs.stencil_kind == LOOSE:
        return (yield from part_of_work(_loose(job, artwork, made, sheet), 0.5, 1.0))
    cuttings: list[Cutting] = []
    for name, colour, opening in made:
        yield Progress(0.5 + 0.5 * len(cuttings) / len(made), sentences.JUDGING)
        islands = judgement.islands(plane, opening.flat, sheet)
        places = judgement.places_in_mask(plane, opening.flat, sheet, islands, limits_of(inputs))
        places = [*_vanished(artwork, opening), *places]
        cuttings.append(Cutting(name, colour, opening.flat, tuple(places), tuple(islands), is_mask=True))
    return cuttings


#: The name of a piece, the colour that is painted through it, and what is cut.
_Made = tuple[str, str, Opening]


def _openings(job: Prepared, artwork: CutArtwork) -> Generator[Progress, None, list[_Made]]:
    inputs = job.inputs
    if inputs.piece == COLOURS:
        count = len(artwork.colours) + bool(artwork.white and openings.WHITE not in artwork.colours)
        if count > MOST_COLOURS:
            why = message(sentences.MANY_COLOURS, count=str(count), most=str(MOST_COLOURS))
            raise Unanswered(MANY, why, message(sentences.JOIN_COLOURS))
        painted = yield from PICTURES.worked_out(
            job.picture.digest, _of_openings(job), lambda: _painted(artwork, inputs.spread_mm, count)
        )
        return [
            (sentences.COLOUR_NAME.format(number=number, count=count, colour=colour), colour, opening)
            for number, (colour, opening) in enumerate(painted, 1)
            if opening.flat
        ]
    yield Progress(0.1, messages.MAKING_PIECES)
    name, make = {
        BACKING: (sentences.BACKING_NAME, lambda: openings.beneath(artwork, inputs.choke_mm)),
        WHITE: (sentences.WHITE_NAME, lambda: openings.beneath(artwork, inputs.choke_mm)),
        OUTLINE: (sentences.OUTLINE_NAME, lambda: openings.outline(artwork, inputs.rim_mm)),
        CUT_OUTS: (sentences.CUT_OUTS_NAME, lambda: openings.cut_outs(artwork, inputs.inside_mm)),
    }[inputs.piece]
    opening = PICTURES.remembered(job.picture.digest, _of_openings(job), make)
    return [(name, openings.WHITE if inputs.piece in (BACKING, WHITE) else "", opening)]


def _of_openings(job: Prepared) -> Operation:
    inputs = job.inputs
    by = {COLOURS: inputs.spread_mm, OUTLINE: inputs.rim_mm, CUT_OUTS: inputs.inside_mm}
    # White beneath is the same for a stencil and for a backing piece.
    piece = WHITE if inputs.piece == BACKING else inputs.piece
    return (*_of_artwork(job), piece, by.get(inputs.piece, inputs.choke_mm))


def _painted(artwork: CutArtwork, spread_mm: float, count: int) -> Generator[Progress, None, list[tuple[str, Opening]]]:
    made: list[tuple[str, Opening]] = []
    for each in openings.painted(artwork, spread_mm):
        made.append(each)
        yield Progress(len(made) / count, sentences.MAKING_STENCILS.format(number=len(made), count=count))
    return made


def _loose(
    job: Prepared, artwork: CutArtwork, made: Sequence[_Made], sheet: Flat
) -> Generator[Progress, None, list[Cutting]]:
    inputs, plane = job.inputs, artwork.plane
    width = inputs.thinnest_bridge_mm
    operation = (*_of_openings(job), "laid", width)

    def lay() -> Generator[Progress, None, list[Laid]]:
        found: list[Laid] = []
        for number, (_name, _colour, opening) in enumerate(made, 1):
            yield Progress((number - 1) / len(made), sentences.LAYING_BRIDGES.format(number=number, count=len(made)))
            found.append(laid(plane, opening.flat, sheet, width, 1 + sum(len(each.bridges) for each in found)))
        return found

    every = yield from part_of_work(PICTURES.worked_out(job.picture.digest, operation, lay), 0.0, 0.7)
    cuttings: list[Cutting] = []
    for (name, colour, opening), one, changes in zip(made, every, shared_out(every, inputs.changes), strict=True):
        yield Progress(0.7 + 0.3 * len(cuttings) / len(made), sentences.JUDGING)
        held = bridged(one, changes)
        places = judgement.places_in_loose_stencil(plane, held, sheet, limits_of(inputs))
        places = [*_vanished(artwork, opening), *places]
        cuttings.append(Cutting(name, colour, held.openings, tuple(places), held=held))
    return cuttings


def _vanished(artwork: CutArtwork, opening: Opening) -> list[Place]:
    return list(judgement.part_places(artwork.plane, opening.vanished, judgement.VANISHED))
