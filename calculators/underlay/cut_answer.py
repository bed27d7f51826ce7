"""The answer about pieces that are cut: the verdict with its reasons, tables, drawing and files."""

from __future__ import annotations

from binascii import b2a_base64
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from math import radians, sin
from typing import Any

from calculators import example, messages
from calculators.cut import judgement
from calculators.cut.artwork import CutArtwork
from calculators.cut.bridges import BadChange
from calculators.cut.judgement import Place
from calculators.cut.layout import Format, Wanted, across_sheet, drawn_copies, laid_out, stays_on_sheet
from calculators.cut.plane import Flat, Plane
from calculators.declare import Figure, Message, NamedFile, Problem, Progress, Refused, advice, message
from calculators.figures.areas import MEANT, areas_figure
from calculators.figures.losses import merged_reasons
from calculators.files.cut_files import cut_sheet, dxf_of_sheet, note_of_sheet, pdf_of_sheet, svg_of_sheet
from calculators.numbers import at_most, plain
from calculators.pixels.white_areas import BadMark, WhiteAreas
from calculators.pixels.white_guess import BACKGROUND
from calculators.shapes.cut_pieces import Layer, NotCuttable, Run
from calculators.shapes.cutting_order import cutting_length, cutting_order, run_length
from calculators.shapes.offsets import as_pieces
from calculators.shapes.snap_rounding import TooTangled
from calculators.shapes.waste import corners_of
from calculators.underlay import cut_sentences as sentences
from calculators.underlay.cut_fields import (
    BACKING,
    CLEANLY,
    COLOURS,
    CUT_OUTS,
    LOOSE,
    MASK,
    NOT_LIKE_THIS,
    NOTHING,
    OUTLINE,
    PIECES,
    STENCILS,
    TOO_WIDE,
    WHITE,
    WITH_CARE,
    CutFileInputs,
    CutFileOutputs,
    IslandRow,
    PieceRow,
    PlaceRow,
)
from calculators.underlay.cut_figure import pieces_figure
from calculators.underlay.cut_making import (
    Cutting,
    Prepared,
    Unanswered,
    artwork_of,
    cuttings_of,
    format_of,
    limits_of,
    prepared,
)
from calculators.values import part_of_work

LAYERS = {
    BACKING: Layer.BACKING,
    WHITE: Layer.STENCIL,
    COLOURS: Layer.STENCIL,
    OUTLINE: Layer.OUTLINE,
    CUT_OUTS: Layer.CUT_OUT,
}
#: So many places have letters and rows, so many of them are named in a sentence, and so many islands have rows.
MOST_LETTERED, MOST_NAMED, MOST_ISLANDS = 26, 6, 60
#: Kinds of places, those that decide first.
KINDS = (
    judgement.LOOSE,
    judgement.STARVED,
    judgement.TOUCHING,
    judgement.LEFT_OUT,
    judgement.SMALL_PIECE,
    judgement.SMALL_OPENING,
    judgement.THIN,
    judgement.VANISHED,
    judgement.SHARP,
)
#: The angle at the tips of a five-pointed star, in degrees.
STAR = 36.0


def answered(inputs: CutFileInputs) -> Generator[Progress, None, CutFileOutputs]:
    """Return the answer. Yields progress. Raises Refused."""
    try:
        job = yield from part_of_work(prepared(inputs), 0.0, 0.1)
    except BadMark as bad:
        raise Refused(_bad_mark(bad)) from None
    except Unanswered as nothing:
        return _nothing(nothing.verdict, nothing.reasons, None)
    areas = _areas_figure(job.inputs, job.whites)
    try:
        artwork = yield from part_of_work(artwork_of(job), 0.1, 0.5)
        form = format_of(job.inputs, artwork)
        cuttings = yield from part_of_work(cuttings_of(job, artwork, form), 0.5, 0.9)
    except Unanswered as nothing:
        return _nothing(nothing.verdict, nothing.reasons, areas)
    except TooTangled:
        raise Refused(Problem("picture", sentences.TANGLED, sentences.TANGLED_HINT)) from None
    except BadChange as bad:
        raise Refused(_bad_change(bad)) from None
    if not any(each.flat for each in cuttings):
        return _nothing(NOTHING, _why_nothing(job.inputs), areas)
    yield Progress(0.92, sentences.WRITING_FILES)
    try:
        return _outputs(job, artwork, form, [each for each in cuttings if each.flat], areas)
    except NotCuttable:
        low, high = form.upright
        size = {"width_mm": (high - low).real, "height_mm": (high - low).imag}
        return _nothing(TOO_WIDE, [message(sentences.TOO_LARGE, **size), advice(sentences.SMALLER)], areas)


def _nothing(verdict: str, reasons: Sequence[Message], areas: Figure | None) -> CutFileOutputs:
    names = "piece_count length_mm sheet_mm island_count bridge_count own_width_mm pieces dxf svg pdf note".split()
    nothing: dict[str, Any] = dict.fromkeys(names)
    return CutFileOutputs(
        verdict=verdict, reasons=tuple(reasons), areas=areas, places=(), each=(), islands=(), **nothing
    )


def _why_nothing(inputs: CutFileInputs) -> list[Message]:
    if inputs.piece == CUT_OUTS:
        return [message(sentences.NO_HOLES), advice(sentences.MARK_HOLES)]
    return [message(sentences.NOTHING_WIDE), advice(sentences.CHOKE_LESS)]


@dataclass(frozen=True)
class _Lettered:
    """The places of all pieces that have letters, and how many more there are of each kind."""

    places: list[tuple[str, Place, Cutting]]
    letters: list[list[str]]
    counts: dict[str, int]


def _outputs(
    job: Prepared, artwork: CutArtwork, form: Format, cuttings: list[Cutting], areas: Figure | None
) -> CutFileOutputs:
    inputs, plane = job.inputs, artwork.plane
    cuttings, lettered = _lettered(cuttings)
    material = _material(inputs)
    wanted = [Wanted(each.name, LAYERS[inputs.piece], material, each.flat, inputs.copies) for each in cuttings]
    pieces = laid_out(plane, wanted, form, (sentences.FRAME_NAME, sentences.WASTE_NAME))
    name = job.picture.name.rpartition(".")[0] or job.picture.name
    title, file = sentences.TITLE.format(what=PIECES[inputs.piece], name=name), f"{name}-{inputs.piece}"
    outlines = sum(len(each.flat) for each in cuttings)
    judged = judgement.judged([place for each in cuttings for place in each.places], outlines)
    # Lines that cut cleanly may have lost something of the picture.
    if judged == CLEANLY and (artwork.lost or artwork.is_grainy):
        judged = WITH_CARE
    verdict = judged if form.fits or judged == NOT_LIKE_THIS else TOO_WIDE
    order = cutting_order(pieces)
    low, high = corners_of(cut.run for cut in order)
    sheet = cut_sheet(order)
    return CutFileOutputs(
        verdict=verdict,
        reasons=tuple(_reasons(job, artwork, form, wanted, cuttings, lettered, verdict)),
        piece_count=len(cuttings) * inputs.copies,
        length_mm=cutting_length(order),
        sheet_mm=(high - low).imag,
        island_count=sum(len(each.islands) for each in cuttings) or None,
        bridge_count=sum(len(each.held.bridges) for each in cuttings if each.held) if _is(inputs, LOOSE) else None,
        own_width_mm=job.widths.own_mm,
        pieces=pieces_figure(plane, cuttings, form, lettered.letters),
        areas=areas,
        places=tuple(
            PlaceRow(
                letter=letter,
                what=_at_place(place),
                piece=each.name,
                x_mm=place.middle.real,
                y_mm=place.middle.imag,
            )
            for letter, place, each in lettered.places
        ),
        each=tuple(_piece_row(plane, each) for each in cuttings),
        islands=tuple(_island_rows(plane, cuttings)),
        dxf=NamedFile(f"{file}.dxf", "image/vnd.dxf", dxf_of_sheet(sheet)),
        svg=NamedFile(f"{file}.svg", "image/svg+xml", svg_of_sheet(sheet, title)),
        pdf=NamedFile(f"{file}.pdf", "application/pdf", pdf_of_sheet(sheet, title)),
        note=NamedFile(f"{file}.txt", "text/plain", note_of_sheet(sheet, pieces, title)),
    )


def _is(inputs: CutFileInputs, kind: str) -> bool:
    return inputs.piece in STENCILS and inputs.stencil_kind == kind


def _material(inputs: CutFileInputs) -> str:
    if inputs.piece in STENCILS:
        return sentences.MASK_SHEET if inputs.stencil_kind == MASK else sentences.LOOSE_SHEET
    return sentences.WHITE_FILM if inputs.piece == BACKING else sentences.PRINTED_FILM


def _lettered(cuttings: Sequence[Cutting]) -> tuple[list[Cutting], _Lettered]:
    """Return the pieces, their places in the order of their kinds, and letters for those that decide most."""
    order = sorted(
        ((KINDS.index(place.kind), number, place) for number, each in enumerate(cuttings) for place in each.places),
        key=lambda item: (item[0], item[1], round(item[2].middle.imag, 1), item[2].middle.real),
    )
    counts: dict[str, int] = {}
    places: list[tuple[str, Place, Cutting]] = []
    by_piece: list[list[tuple[str, Place]]] = [[] for _ in cuttings]
    for place_number, (kind, number, place) in enumerate(order):
        counts[KINDS[kind]] = counts.get(KINDS[kind], 0) + 1
        if place_number < MOST_LETTERED:
            letter = chr(ord("A") + place_number)
            places.append((letter, place, cuttings[number]))
            by_piece[number].append((letter, place))
    sorted_out = [
        Cutting(
            each.name,
            each.colour,
            each.flat,
            tuple(place for _letter, place in own)
            + tuple(place for place in each.places if all(place is not lettered for _letter, lettered in own)),
            each.islands,
            each.held,
            each.is_mask,
        )
        for each, own in zip(cuttings, by_piece, strict=True)
    ]
    return sorted_out, _Lettered(places, [[letter for letter, _place in own] for own in by_piece], counts)


def _reasons(
    job: Prepared,
    artwork: CutArtwork,
    form: Format,
    wanted: Sequence[Wanted],
    cuttings: Sequence[Cutting],
    lettered: _Lettered,
    verdict: str,
) -> Iterator[Message]:
    inputs = job.inputs
    if verdict == TOO_WIDE:
        yield message(sentences.WIDER_THAN_SHEET, piece_mm=across_sheet(form), sheet_mm=inputs.sheet_width_mm)
        yield advice(sentences.WIDER_SHEET)
    kinds = [kind for kind in KINDS if kind in lettered.counts]
    for kind in kinds:
        yield _of_kind(kind, lettered, inputs)
        yield advice(sentences.WHAT_TO_DO[kind])
    if artwork.is_grainy:
        yield message(sentences.GRAINY)
        yield advice(sentences.WITHOUT_GRAIN)
    if artwork.lost:
        yield message(sentences.LOST)
        yield advice(sentences.TRACE_IT)
    yield from merged_reasons(artwork.lost)
    if not kinds:
        yield message(sentences.ALL_WIDE_ENOUGH)
    yield from _of_piece(inputs, cuttings)
    yield message(sentences.CROSSES_FURTHER if form.beyond else sentences.SAME_CROSSES)
    if form.fits and not stays_on_sheet(wanted, form):
        yield message(sentences.BESIDE)
    if (drawn := drawn_copies(wanted, form)) < inputs.copies:
        yield message(sentences.FEWER_DRAWN, drawn=str(drawn), copies=str(inputs.copies))
    if inputs.mirrored:
        yield message(sentences.MIRRORED)
    yield message(sentences.LIMITS, piece_mm=inputs.smallest_piece_mm, opening_mm=inputs.smallest_opening_mm)
    yield message(sentences.NO_CORRECTION)
    yield message(sentences.NEVER_VINYL)
    yield from job.widths.reasons


def _of_kind(kind: str, lettered: _Lettered, inputs: CutFileInputs) -> Message:
    count = lettered.counts[kind]
    letters = [letter for letter, place, _cutting in lettered.places if place.kind == kind]
    named = ", ".join(letters[:MOST_NAMED])
    if count > len(letters[:MOST_NAMED]):
        rest = count - len(letters[:MOST_NAMED])
        named = sentences.AND_MORE.format(letters=named, count=rest) if named else sentences.UNMARKED
    limits = limits_of(inputs)
    least = {
        judgement.SMALL_PIECE: limits.smallest_piece,
        judgement.THIN: limits.thinnest_strip if _is(inputs, LOOSE) else limits.smallest_opening,
    }.get(kind, limits.smallest_opening)
    values: dict[str, Any] = {"places": messages.plural(count, "place"), "letters": named}
    if "{least_mm}" in sentences.OF_KIND[kind]:
        values["least_mm"] = least
    if "{angle}" in sentences.OF_KIND[kind]:
        values["angle"] = plain(limits.sharpest)
    return message(sentences.OF_KIND[kind], **values)


def _of_piece(inputs: CutFileInputs, cuttings: Sequence[Cutting]) -> Iterator[Message]:
    """Yield what is to be known of this kind of piece."""
    islands = sum(len(each.islands) for each in cuttings)
    if _is(inputs, MASK) and islands:
        yield message(sentences.MASK_ISLANDS, islands=messages.plural(islands, "island travels", "islands travel"))
    if _is(inputs, LOOSE) and any(each.held and each.held.bridges for each in cuttings):
        yield message(sentences.LOOSE_GAPS)
    if inputs.piece in (BACKING, WHITE) and inputs.choke_mm:
        yield message(sentences.CHOKED, choke_mm=inputs.choke_mm)
        yield message(sentences.TIPS, tip_mm=inputs.choke_mm / sin(radians(STAR / 2)))
    if inputs.piece == COLOURS and inputs.spread_mm and len(cuttings) > 1:
        yield message(sentences.SPREAD, spread_mm=inputs.spread_mm)


def _at_place(place: Place) -> Message:
    sentence = sentences.AT_PLACE[place.kind]
    if "{angle}" in sentence:
        return message(sentence, angle=at_most(place.size, 0))
    return message(sentence, size_mm=place.size) if "{size_mm}" in sentence else message(sentence)


def _runs(plane: Plane, flat: Flat) -> list[Run]:
    return [tuple(as_pieces(plane.polygon(ring))) for ring in flat]


def _piece_row(plane: Plane, each: Cutting) -> PieceRow:
    runs = _runs(plane, each.flat)
    low, high = corners_of(runs)
    return PieceRow(
        name=each.name,
        width_mm=(high - low).real,
        height_mm=(high - low).imag,
        outlines=len(runs),
        islands=len(each.islands) if each.is_mask else None,
        bridges=len(each.held.bridges) if each.held else None,
        lost_percent=100 * each.held.lost if each.held else None,
        length_mm=sum(map(run_length, runs)),
    )


def _island_rows(plane: Plane, cuttings: Sequence[Cutting]) -> Iterator[IslandRow]:
    found = [(each.name, *corners_of(_runs(plane, [part.outer]))) for each in cuttings for part in each.islands]
    for name, low, high in found[:MOST_ISLANDS]:
        middle, size = (low + high) / 2, high - low
        yield IslandRow(piece=name, x_mm=middle.real, y_mm=middle.imag, width_mm=size.real, height_mm=size.imag)


def _areas_figure(inputs: CutFileInputs, whites: WhiteAreas) -> Figure | None:
    """Return the drawing of white areas, if there is anything to mark: a transparent ground alone needs no mark."""
    if all(each.clear and each.meant == BACKGROUND for each in whites.areas):
        return None
    source = (
        'data-picture="picture"'
        if inputs.picture
        else f'xlink:href="data:image/png;base64,{b2a_base64(example.picture().data, newline=False).decode()}"'
    )
    return areas_figure(whites, source, MEANT, ("", ""))


def _bad_mark(bad: BadMark) -> Problem:
    if bad.number is not None:
        return Problem("white_marks", messages.NO_SUCH_AREA.format(number=bad.number), messages.AREAS_ARE)
    hint = f"{messages.TYPED.format(typed=messages.quoted(bad.text))} {messages.UNREAD_MARK_HINT}"
    return Problem("white_marks", messages.UNREAD_MARK, hint)


def _bad_change(bad: BadChange) -> Problem:
    if bad.number is not None:
        return Problem("changes", sentences.NO_SUCH_BRIDGE.format(number=bad.number), sentences.BRIDGES_ARE)
    if bad.place is not None:
        x, y = (at_most(each, 2) for each in (bad.place.real, bad.place.imag))
        return Problem("changes", sentences.NO_GAP_THERE.format(x=x, y=y), sentences.GAP_HINT)
    return Problem("changes", sentences.CHANGE_UNREAD, sentences.CHANGE_TYPED.format(typed=messages.quoted(bad.text)))
