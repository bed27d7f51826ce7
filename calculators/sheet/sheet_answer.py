"""The answer about the sheet: what is collected, laid out, refused, drawn and counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from calculators import messages, tables
from calculators.declare import Message, Problem, Progress, Refused, advice, message
from calculators.jobs.demo import demo_job
from calculators.jobs.model import Job
from calculators.jobs.whole import Whole, read_whole
from calculators.sheet import sheet_sentences as sentences
from calculators.sheet.sheet import (
    BY_CUTTER,
    FITS,
    INCOMPLETE,
    LEFT_OUT,
    NO_BARS,
    NO_ROOM,
    NOTHING,
    REFUSED,
    SEVERAL,
    TONER,
    TOO_MANY,
    MissingRow,
    PieceRow,
    SheetInputs,
    SheetOutputs,
    SheetRow,
)
from calculators.sheet.sheet_figure import sheets_figure
from calculators.sheet.sheet_files import Files, drawn, made_files, without_ink
from calculators.sheets.collect import ENOUGH, LACKING, WHITE, Collected, Wanted, collect
from calculators.sheets.contents import Steps
from calculators.sheets.layout import (
    BAR_MM,
    MOST_PIECES,
    MOST_SHEETS,
    LaidOut,
    Spacing,
    Stock,
    TooMany,
    lay_out,
)
from calculators.sheets.model import Item, Part, SheetLayout
from calculators.sheets.room import free_corner

#: Gap and bleed in mm, by hand and by cutter (estimates).
GAP_MM = {False: 3.0, True: 1.0}
BLEED_MM = {False: 1.0, True: 0.5}
#: Sheets of the table of papers that are cut in two, so that their edges are not all whole.
CUT_PAPERS = ("half-a4", "half-letter")
#: So many markings that do not fit are named in the verdict.
MOST_NAMED = 3


@dataclass(frozen=True)
class _Prices:
    """Prices of a whole sheet, by film."""

    sheets: Mapping[str, float | None]
    area: float

    def of_area(self, film: str, area: float) -> float | None:
        """Return what so many mm² of film cost."""
        price = self.sheets.get(film)
        return None if price is None else price * area / self.area


def answered(inputs: SheetInputs) -> Steps[SheetOutputs]:
    """Return the sheets of the whole job. Yields progress and asks for pixels. Raises Refused."""
    yield Progress(0.0, sentences.READING_JOB)
    whole = _whole(inputs)
    stock = _stock(inputs)
    unfit = tuple(_unfit(inputs, stock))
    if unfit:
        return _nothing(REFUSED, *unfit)
    if min(_printable(inputs, stock)) <= 0:
        size = stock.size
        return _nothing(NO_ROOM, message(sentences.NO_ROOM, width_mm=size.real, height_mm=size.imag))
    collected = collect(whole, _wanted(inputs, whole.job))
    _check_films(collected)
    collected, contents = yield from drawn(whole, collected, inputs)
    yield Progress(0.3, sentences.LAYING_OUT)
    gap = GAP_MM[inputs.cut_by == BY_CUTTER] if inputs.gap_mm is None else inputs.gap_mm
    try:
        laid_out = lay_out(collected.items, stock, Spacing(gap, inputs.bars, inputs.tests))
    except TooMany as many:
        pieces, sheets = messages.plural(many.pieces, "piece"), messages.plural(many.sheets, "sheet")
        most = {"most_pieces": str(MOST_PIECES), "most_sheets": str(MOST_SHEETS)}
        return _nothing(
            TOO_MANY, message(sentences.TOO_MANY, pieces=pieces, sheets=sheets), advice(sentences.FEWER, **most)
        )
    yield Progress(0.4, sentences.LOOKING_FOR_ROOM)
    blank = tuple(without_ink(inputs, collected, contents))
    title = whole.job.name or sentences.UNNAMED
    files = (yield from made_files(inputs, title, laid_out.sheets, contents)) if laid_out.sheets else Files()
    return _outputs(inputs, collected, laid_out, stock, gap, replace(files, troubles=(*blank, *files.troubles)))


def _nothing(verdict: str, *reasons: Message) -> SheetOutputs:
    """Return an answer without sheets."""
    return SheetOutputs(
        verdict=verdict,
        reasons=reasons,
        pieces=0,
        used_mm=0.0,
        share=None,
        cost=None,
        cost_spares=None,
        cost_white=None,
        layout=None,
        print_clear=None,
        print_white=None,
        proof=None,
        png=None,
        png_white=None,
        cuts_svg=None,
        cuts_dxf=None,
        sheets=(),
        missing=(),
        placed=(),
    )


def _whole(inputs: SheetInputs) -> Whole:
    if inputs.job is None:
        return demo_job()
    try:
        return read_whole(inputs.job.data, inputs.job.name)
    except Refused as refused:
        raise Refused(*(Problem("job", each.text, each.hint) for each in refused.problems)) from None


def _stock(inputs: SheetInputs) -> Stock:
    paper = tables.row("papers", inputs.paper)
    size = complex(paper.width.value, paper.height.value)
    if inputs.own_size:
        size = complex(inputs.width_mm, inputs.height_mm)
    margins = (inputs.sides_mm, inputs.leading_mm, inputs.sides_mm, inputs.trailing_mm)
    marks = inputs.marks_mm if inputs.cut_by == BY_CUTTER else 0.0
    used = {inputs.used_film: inputs.used_mm} if inputs.part_used else {}
    return Stock("" if inputs.own_size else inputs.paper, size, margins, marks, inputs.shortest_mm, used)


def _printable(inputs: SheetInputs, stock: Stock) -> tuple[float, float]:
    """Return width and length of what the printer reaches of a whole sheet, the room for marks taken off."""
    left, top, right, bottom = stock.margins
    return stock.size.real - left - right - 2 * stock.marks, stock.size.imag - top - bottom - 2 * stock.marks


def _unfit(inputs: SheetInputs, stock: Stock) -> Iterator[Message]:
    """Yield why a part-used or cut sheet must not go into the printer, and what to do: it would jam, or burn."""
    is_cut = not inputs.own_size and inputs.paper in CUT_PAPERS
    if (inputs.part_used or is_cut) and inputs.printer in TONER and not inputs.maker_permits:
        yield message(sentences.TONER_PART_USED)
        yield advice(sentences.ASK_THE_MAKER)
    if not inputs.part_used:
        return
    rest = stock.size.imag - inputs.used_mm
    if rest < inputs.shortest_mm:
        yield message(sentences.USED_UP, rest_mm=max(rest, 0.0), shortest_mm=inputs.shortest_mm)
        yield advice(sentences.USE_A_WHOLE_ONE)
    elif rest + _printable(inputs, stock)[1] <= stock.size.imag:
        yield message(sentences.NO_ROOM_LEFT, rest_mm=rest)
        yield advice(sentences.USE_A_WHOLE_ONE)
    for field, text, cure in (
        ("cut_straight", sentences.NOT_STRAIGHT, sentences.CUT_STRAIGHT),
        ("whole_edge_first", sentences.CUT_EDGE_FIRST, sentences.TURN_IT),
        ("no_tape", sentences.TAPE, sentences.CUT_TAPE_AWAY),
    ):
        if not getattr(inputs, field):
            yield message(text)
            yield advice(cure)


def _wanted(inputs: SheetInputs, job: Job) -> Wanted:
    by_cutter = inputs.cut_by == BY_CUTTER
    least = inputs.cutter_error_mm if by_cutter else 0.0
    bleed = BLEED_MM[by_cutter] if inputs.bleed_mm is None else inputs.bleed_mm
    return Wanted(
        bleed=max(bleed, least),
        rim=max(inputs.rim_mm, least),
        tab=inputs.tab_mm,
        spares=inputs.spares,
        face_down=_face_down(inputs.seen_through, job),
        trial=inputs.tests,
    )


def _face_down(typed: str, job: Job) -> frozenset[str]:
    """Return the ids of the markings whose names or ids are typed; a name may have commas itself. Raises Refused."""
    by_name = {text.casefold(): each.id for each in job.markings for text in (each.id, each.name)}
    found, left = set(), typed.strip().casefold()
    while left:
        name = max((each for each in by_name if left == each or left.startswith(f"{each},")), key=len, default="")
        if not name:
            names = ", ".join(each.name for each in job.markings[:8])
            first = messages.quoted(left.partition(",")[0])
            hint = sentences.NO_SUCH_MARKING_HINT.format(names=names)
            raise Refused(Problem("seen_through", sentences.NO_SUCH_MARKING.format(name=first), hint))
        found.add(by_name[name])
        left = left[len(name) :].lstrip(" ,;\n")
    return frozenset(found)


def _check_films(collected: Collected) -> None:
    for item in collected.items:
        if item.face_down and item.film == WHITE and item.part is Part.COLOUR:
            text = sentences.FACE_DOWN_ON_WHITE.format(name=item.name)
            raise Refused(Problem("seen_through", text, sentences.FACE_DOWN_ON_WHITE_HINT))


def _outputs(
    inputs: SheetInputs, collected: Collected, laid_out: LaidOut, stock: Stock, gap: float, files: Files
) -> SheetOutputs:
    sheets = laid_out.sheets
    numbers = {item.id: place for place, item in enumerate(collected.items, 1)}
    prices = _Prices({"clear": inputs.price_clear, "white": inputs.price_white}, stock.size.real * stock.size.imag)
    used = sum(each.used_length for each in sheets)
    covered = sum(each.used_share * each.used_length for each in sheets)
    by_film = [each.film for each in sheets]
    verdict = FITS if len(set(by_film)) == len(by_film) else SEVERAL
    if files.troubles or any(each.why in LACKING for each in collected.missing):
        verdict = INCOMPLETE
    if laid_out.left_out:
        verdict = LEFT_OUT
    elif not sheets:
        verdict = NOTHING
    costs = [prices.of_area(each.film, each.used_length * each.size.real) for each in sheets]
    return SheetOutputs(
        verdict=verdict,
        reasons=(*files.troubles, *_reasons(inputs, collected, laid_out, stock, verdict)),
        pieces=sum(len(each.placements) for each in sheets),
        used_mm=used,
        share=100 * covered / used if used else None,
        cost=_sum(costs),
        cost_spares=_sum([_cost(each, each.spares, gap, prices) for each in collected.items if each.spares]),
        cost_white=_sum(
            [_cost(each, each.pieces, gap, prices) for each in collected.items if each.part is Part.WHITE_UNDER]
        ),
        layout=sheets_figure(sheets, numbers) if sheets else None,
        print_clear=files.clear,
        print_white=files.white,
        proof=files.proof,
        png=files.png,
        png_white=files.png_white,
        cuts_svg=files.cut_svg,
        cuts_dxf=files.cut_dxf,
        sheets=tuple(_sheet_rows(sheets, costs)),
        missing=tuple(_missing_rows(collected, laid_out)),
        placed=tuple(_piece_rows(collected, sheets, numbers, gap, prices)),
    )


def _reasons(
    inputs: SheetInputs, collected: Collected, laid_out: LaidOut, stock: Stock, verdict: str
) -> Iterator[Message]:
    """Yield the reasons, the one that decides first."""
    sheets = laid_out.sheets
    pieces = messages.plural(sum(len(each.placements) for each in sheets), "piece")
    if verdict == LEFT_OUT:
        for each in laid_out.left_out[:MOST_NAMED]:
            yield message(sentences.LEFT_OUT, pieces=messages.plural(each.pieces, "piece"), name=_name(each.item))
        if len(laid_out.left_out) > MOST_NAMED:
            yield message(sentences.LEFT_OUT_MORE, count=str(len(laid_out.left_out) - MOST_NAMED))
        yield advice(sentences.TURN_OR_SPLIT)
    if verdict == NOTHING:
        yield message(sentences.NOTHING)
    not_printed = [each for each in collected.missing if each.why != ENOUGH]
    if not_printed:
        yield message(sentences.NOT_PRINTED, markings=messages.plural(len(not_printed), "marking"))
    if sheets:
        yield message(sentences.ON_SHEETS, pieces=pieces, sheets=messages.plural(len(sheets), "sheet"))
    if inputs.job is None:
        yield message(sentences.OF_DEMO)
    if inputs.tests and sheets:
        yield advice(sentences.TESTS_FIRST)
    for sheet in sheets:
        yield from _about_rest(sheet, stock)
        yield from _about_bars(sheet, inputs.bars)
    if any(each.set_id or each.fixed_turn for each in collected.items):
        yield message(sentences.FIXED)
    if collected.mirrored_by_hand:
        yield message(sentences.TEXT_BY_HAND, names=", ".join(collected.mirrored_by_hand))


def _about_rest(sheet: SheetLayout, stock: Stock) -> Iterator[Message]:
    if sheet.remainder:
        yield message(sentences.REST, rest_mm=sheet.size.imag - sheet.used_length, number=str(sheet.number))
    elif sheet.size.imag - sheet.used_length > 1:
        yield message(sentences.NONE_LEFT, shortest_mm=stock.shortest)


def _about_bars(sheet: SheetLayout, wanted: str) -> Iterator[Message]:
    lengths = [abs(end - start) for start, end in sheet.bars]
    if wanted != NO_BARS and not lengths:
        yield message(sentences.NO_BARS, number=str(sheet.number))
    elif wanted == "both" and (len(lengths) < 2 or min(lengths) < BAR_MM - 1e-6):
        across, along = (*lengths, 0.0, 0.0)[:2]
        yield message(sentences.NO_ROOM_FOR_BARS, number=str(sheet.number), across_mm=across, along_mm=along)


def _sheet_rows(sheets: Sequence[SheetLayout], costs: Sequence[float | None]) -> Iterator[SheetRow]:
    for each, cost in zip(sheets, costs, strict=True):
        rest = each.size.imag - each.used_length if each.remainder else None
        yield SheetRow(
            number=each.number,
            film=each.film,
            pieces=len(each.placements),
            used_mm=each.used_length,
            share=100 * each.used_share,
            rest_mm=rest,
            cost=cost,
        )


def _missing_rows(collected: Collected, laid_out: LaidOut) -> Iterator[MissingRow]:
    for left in laid_out.left_out:
        yield MissingRow(name=_name(left.item), pieces=left.pieces, why=message(sentences.WHY[left.why]))
    for each in collected.missing:
        yield MissingRow(name=each.name, pieces=None, why=message(sentences.WHY[each.why]))


def _piece_rows(
    collected: Collected, sheets: Sequence[SheetLayout], numbers: Mapping[str, int], gap: float, prices: _Prices
) -> Iterator[PieceRow]:
    lies_on: dict[str, set[int]] = {}
    for sheet in sheets:
        for placed in sheet.placements:
            lies_on.setdefault(placed.item.id, set()).add(sheet.number)
    last = {each.film: each for each in sheets}
    more: dict[tuple[str, complex], float] = {}
    for item in collected.items:
        if item.id not in lies_on:
            continue
        key = item.film, item.footprint
        if key not in more:
            more[key] = _one_more(item, last[item.film], gap)
        yield PieceRow(
            number=numbers[item.id],
            name=_name(item),
            part=item.part.value,
            sheets=", ".join(map(str, sorted(lies_on[item.id]))),
            copies=item.copies,
            spares=item.spares,
            suggested=collected.suggested.get(item.id.partition("/")[0]) if item.part is Part.COLOUR else None,
            width_mm=item.size.real,
            height_mm=item.size.imag,
            more_mm=more[key],
            cost=_cost(item, 1, gap, prices),
        )


def _one_more(item: Item, sheet: SheetLayout, gap: float) -> float:
    """Return how much more length of the sheet one more piece takes, in mm: 0 where it fits between the others."""
    left, top, right, _ = sheet.printable
    taken = [
        (each[0] - left, each[1] - top, each[2] - left, each[3] - top)
        for each in (
            *(placed.footprint for placed in sheet.placements),
            *((one.real, one.imag, other.real, other.imag) for one, other in sheet.bars),
        )
    ]
    end = max(each[3] for each in taken)
    sizes = [item.footprint]
    if not item.fixed_turn:
        sizes.append(complex(item.footprint.imag, item.footprint.real))
    sizes = [each for each in sizes if each.real <= right - left]
    if any(free_corner(taken, complex(right - left, end), each, gap) is not None for each in sizes):
        return 0.0
    return gap + min((each.imag for each in sizes), default=item.footprint.imag)


def _cost(item: Item, pieces: int, gap: float, prices: _Prices) -> float | None:
    """Return what pieces cost by the film that they take, with the gap round them."""
    size = item.footprint + complex(gap, gap)
    return prices.of_area(item.film, pieces * size.real * size.imag)


def _sum(costs: Sequence[float | None]) -> float | None:
    """Return the sum of what is known; None where nothing is."""
    known = [each for each in costs if each is not None]
    return sum(known) if known else None


def _name(item: Item) -> str:
    by_part = {Part.TRIAL: sentences.TRIAL_NAME, Part.WHITE_UNDER: sentences.WHITE_NAME}
    return (
        by_part.get(item.part, "{name}").format(name=item.name) if item.part is not Part.STRIP else sentences.STRIP_NAME
    )
