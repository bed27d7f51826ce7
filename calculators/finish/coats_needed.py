"""How many coats of clear bury the edge of the film?"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, fsum

from calculators import messages, numbers, tables
from calculators.declare import (
    MARKING,
    Calculator,
    Figure,
    Lead,
    Message,
    advice,
    choice,
    figure,
    folded,
    leads,
    measure,
    message,
    number,
    reasons,
    shared,
    table,
    verdict,
    words,
    yes_no,
)
from calculators.finish import next_steps
from calculators.finish.clear_figure import clear_figure
from calculators.finish.film_height import dry_um, volume_ml, wet_um_of_rate
from calculators.tables.coating_rows import Coat, DryingTime

#: Kept over the print when it is sanded, and lost to the paper, in µm (estimates).
COVER_UM, SANDED_UM = 10.0, 10.0
#: What overspray takes of what is sprayed (estimates).
LOST = (0.4, 0.7)
#: Coats that are few, and those that are more than is worth it (estimates).
FEW_COATS, MOST_COATS = 5, 10

OF_TABLE, OF_WET_FILM, OF_RATE = "table", "wet-film", "rate"
FEW, MANY, TOO_MANY, REFUSED = "few", "many", "too-many", "refused"
LEVELS = {
    FEW: ("pass", "A few coats bury the edge"),
    MANY: ("watch", "It may take many coats"),
    TOO_MANY: ("fail", "Too many coats for this edge"),
    REFUSED: ("fail", "Not at a hobby bench"),
}

Span = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class CoatsNeededInputs:
    film: str = shared(
        "substrate",
        choice("Film", table="substrates", where=("kind", "clear film", "white film"), default="clear-inkjet"),
        MARKING,
    )
    edge_um: float | None = number(
        "Edge height, if you measured it",
        unit="µm",
        low=1,
        high=1000,
        help="Of film with its seal, with a calliper or by folding: ten layers, divided by ten.",
        without="film and seal are as thick as the tables say.",
    )
    sealed: bool = yes_no("The sheet is sealed", default=True)
    seal: str = shared(
        "seal-coat",
        choice(
            "Seal",
            table="coats",
            where=("uses", "seal coat"),
            default="clear-lacquer",
            only_when=("sealed", "yes"),
            help="Its coats add to the edge.",
        ),
        MARKING,
    )
    clear: str = choice("Clear to level with", table="coats", where=("uses", "levelling coat"), default="clear-lacquer")
    solids_percent: float | None = number(
        "Solids of the clear, by volume",
        unit="%",
        low=1,
        high=100,
        help="From its data sheet.",
        without="they are as in the table, as it leaves the nozzle.",
    )
    thinner_percent: float = number(
        "Thinner added to 100 parts of it",
        unit="%",
        low=0,
        high=400,
        default=0,
        only_when=("solids_percent", None),
        help="By volume: 50 for one part of thinner to two of clear.",
    )
    laid: str = choice(
        "How thick a wet pass is",
        default=OF_TABLE,
        options={OF_TABLE: "As in the table", OF_WET_FILM: "I measured the wet film", OF_RATE: "By spreading rate"},
    )
    wet_film_um: float = number(
        "Wet film of a pass", unit="µm", low=1, high=300, default=20, only_when=("laid", OF_WET_FILM)
    )
    rate_m2_per_l: float = number(
        "Spreading rate of a pass",
        unit="m²/L",
        low=1,
        high=500,
        default=50,
        only_when=("laid", OF_RATE),
        help="Square metres that a litre covers in one pass, as you lay it.",
    )
    area_cm2: float = number(
        "Area of the panel",
        unit="cm²",
        low=1,
        high=100_000,
        default=100,
        help="All of it up to an edge of the model, not only the marking.",
    )
    cover_um: float = folded(
        number("Clear to keep over the print", unit="µm", low=1, high=100, default=COVER_UM, help="An estimate.")
    )
    sanded_um: float = folded(
        number("Clear lost to sanding", unit="µm", low=0, high=200, default=SANDED_UM, help="An estimate.")
    )


@dataclass(frozen=True, kw_only=True)
class EndRow:
    """One end of all ranges."""

    end: str = words("End of the ranges")
    edge: float = measure("Edge", unit="µm", decimals=0)
    clear: float = measure("Dry clear", unit="µm", decimals=0)
    a_pass: float = measure("Dry pass", unit="µm", decimals=1)
    passes: int = measure("Passes", decimals=0)
    coats: int = measure("Coats", decimals=0)
    volume_ml: float = measure("To spray", unit="mL", decimals=1)
    time: str = words("Until sanding")


@dataclass(frozen=True, kw_only=True)
class CoatsNeededOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    coats: Message | None = words("Coats")
    dry_clear: Message | None = words("Dry clear in all", help="edge, cover and what sanding takes")
    volume_low_ml: float | None = measure("Clear to spray, at least", unit="mL", decimals=1)
    volume_high_ml: float | None = measure(
        "Clear to spray, at most", unit="mL", decimals=1, help="40 to 70 % is lost as overspray, an estimate"
    )
    section: Figure | None = figure("The edge under its clear, at worst")
    ends: tuple[EndRow, ...] = table(
        "Both ends of the ranges", row=EndRow, decides=("end", "edge", "clear", "passes", "coats")
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.COATS_NEEDED)


@dataclass(frozen=True)
class Work:
    """What both ends of the ranges come to: (at best, at worst)."""

    edge: Span
    clear: Span
    a_pass: Span
    passes: tuple[int, int]
    coats: tuple[int, int]
    volume: Span
    hours: Span


def coats_needed(inputs: CoatsNeededInputs) -> CoatsNeededOutputs:
    """Return the coats of clear that bury an edge, their volume and their time, at both ends of all ranges.

    Dry clear is edge + cover + what sanding takes: it rises over marking and paint alike, and only sanding removes the
    step. Dry film is wet film times solids by volume.
    """
    coat: Coat = tables.row("coats", inputs.clear)
    if coat.bench == "never":
        return _refused(coat)
    work = _work(inputs, coat)
    level = FEW if work.coats[1] <= FEW_COATS else MANY if work.coats[0] <= MOST_COATS else TOO_MANY
    return CoatsNeededOutputs(
        verdict=level,
        reasons=tuple(_reasons(inputs, coat, work, level)),
        coats=message(_counts(work.coats)),
        dry_clear=_span(work.clear),
        volume_low_ml=work.volume[0],
        volume_high_ml=work.volume[1],
        section=clear_figure(
            work.edge[1],
            work.clear[1],
            inputs.cover_um,
            messages.CLEAR_ALT.format(edge=_plain_um(work.edge[1]), dry=_plain_um(work.clear[1])),
        ),
        ends=tuple(_row(work, end) for end in (0, 1)),
    )


def edge_of(inputs: CoatsNeededInputs) -> Span:
    """Return the height of the edge in µm: measured, or film and seal of the tables."""
    if inputs.edge_um is not None:
        return inputs.edge_um, inputs.edge_um
    film = tables.row("substrates", inputs.film).thickness
    low, high = film.low, film.high
    if inputs.sealed:
        seal: Coat = tables.row("coats", inputs.seal)
        if seal.passes and seal.wet_film and seal.solids:
            low += seal.passes.low * dry_um(seal.wet_film.low, seal.solids.low)
            high += seal.passes.high * dry_um(seal.wet_film.high, seal.solids.high)
    return low, high


def _work(inputs: CoatsNeededInputs, coat: Coat) -> Work:
    edge = edge_of(inputs)
    more = inputs.cover_um + inputs.sanded_um
    clear = edge[0] + more, edge[1] + more
    wet, solids = _wet(inputs, coat), _solids(inputs, coat)
    thinner = 0.0 if inputs.solids_percent is None else inputs.thinner_percent
    # At best a pass leaves most, and few of them are needed.
    a_pass = dry_um(wet[1], solids[1], thinner), dry_um(wet[0], solids[0], thinner)
    passes = _whole(clear[0] / a_pass[0]), _whole(clear[1] / a_pass[1])
    in_coat = (coat.passes.high, coat.passes.low) if coat.passes else (1.0, 1.0)
    coats = _whole(passes[0] / in_coat[0]), _whole(passes[1] / in_coat[1])
    volume = (
        volume_ml(inputs.area_cm2, passes[0] * wet[1], LOST[0]),
        volume_ml(inputs.area_cm2, passes[1] * wet[0], LOST[1]),
    )
    return Work(edge, clear, a_pass, passes, coats, volume, _hours(coat, coats))


def _whole(count: float) -> int:
    """Return the next whole number, taking one that is only just exceeded by rounding as met."""
    return max(1, ceil(count - 1e-9))


def _wet(inputs: CoatsNeededInputs, coat: Coat) -> Span:
    """Return the wet film of a pass, in µm."""
    if inputs.laid == OF_WET_FILM:
        return inputs.wet_film_um, inputs.wet_film_um
    if inputs.laid == OF_RATE:
        wet = wet_um_of_rate(inputs.rate_m2_per_l)
        return wet, wet
    if coat.wet_film is None:
        raise ValueError(f"{coat.id} has no wet film")
    return coat.wet_film.low, coat.wet_film.high


def _solids(inputs: CoatsNeededInputs, coat: Coat) -> Span:
    if inputs.solids_percent is not None:
        return inputs.solids_percent, inputs.solids_percent
    if coat.solids is None:
        raise ValueError(f"{coat.id} has no solids")
    return coat.solids.low, coat.solids.high


def between_coats(coat: Coat) -> DryingTime:
    """Return the wait between levelling coats of ``coat``."""
    rows: tuple[DryingTime, ...] = tables.load("drying-times")
    return next(
        row for row in rows if row.stage == "finish" and row.id.endswith("between-coats") and coat.id in row.coats
    )


def _hours(coat: Coat, coats: tuple[int, int]) -> Span:
    """Return the usual waits between the coats and before sanding, in hours."""
    between = between_coats(coat).usual.hours
    sanding = tables.row("drying-times", "levelling-before-sanding").usual.hours
    low, high = (fsum([(count - 1) * between[end], sanding[end]]) for end, count in enumerate(coats))
    return low, high


def _reasons(inputs: CoatsNeededInputs, coat: Coat, work: Work, level: str) -> list[Message]:
    sentence = {FEW: messages.COATS_FEW, MANY: messages.COATS_MANY, TOO_MANY: messages.COATS_TOO_MANY}[level]
    to_do = {FEW: messages.DO_FEW_COATS, MANY: messages.DO_MANY_COATS, TOO_MANY: messages.DO_OTHER_WAY}[level]
    coats = f"{_counts(work.coats)} coats" if level != TOO_MANY else messages.plural(work.coats[0], "coat")
    typed = inputs.edge_um is not None or inputs.solids_percent is not None or inputs.laid != OF_TABLE
    between = between_coats(coat)
    window = (
        message(
            messages.COATS_WINDOW,
            until=coat.recoat_until.in_words,
            late=tables.row("drying-times", "lacquer-past-its-window").usual.in_words
            if coat.carrier == "lacquer"
            else messages.MATTED_FIRST,
        )
        if coat.recoat_until
        else message(messages.COATS_NO_WINDOW, between=between.usual.in_words)
    )
    return [
        message(
            sentence,
            edge=_span(work.edge),
            dry=_span(work.clear),
            coats=coats,
            passes=_counts(work.passes) if level == MANY else str(work.passes[1]),
        ),
        advice(to_do),
        message(messages.COATS_SANDED),
        message(messages.COATS_OF_YOURS if typed else messages.COATS_OF_TABLE),
        window,
        message(messages.COATS_TIME, time=_time(*work.hours)),
    ]


def _counts(counts: tuple[int, int]) -> str:
    low, high = counts
    return str(low) if low == high else messages.FROM_TO_COUNT.format(low=low, high=high)


def _plain_um(value: float) -> str:
    return f"{numbers.at_most(value, 0)} µm"


def _span(span: Span) -> Message:
    low, high = (round(each) for each in span)
    return (
        message(messages.ABOUT_UM, one_um=low)
        if low == high
        else message(messages.FROM_TO_UM, low_um=low, high_um=high)
    )


def _time(*hours: float) -> str:
    """Return one time or a span, in days if it is a day at least."""
    sentence, unit = (messages.DAYS, 24.0) if hours[0] >= 24 else (messages.HOURS, 1.0)
    return sentence.format(time=messages.TO.join(numbers.significant(each / unit, 2) for each in hours))


def _row(work: Work, end: int) -> EndRow:
    return EndRow(
        end=(messages.COATS_BEST, messages.COATS_WORST)[end],
        edge=work.edge[end],
        clear=work.clear[end],
        a_pass=work.a_pass[end],
        passes=work.passes[end],
        coats=work.coats[end],
        volume_ml=work.volume[end],
        time=_time(work.hours[end]),
    )


def _refused(coat: Coat) -> CoatsNeededOutputs:
    """Return no figures: this clear does not belong at a hobby bench."""
    return CoatsNeededOutputs(
        verdict=REFUSED,
        reasons=coat.refusal,
        coats=None,
        dry_clear=None,
        volume_low_ml=None,
        volume_high_ml=None,
        section=None,
        ends=(),
    )


CALCULATOR = Calculator(
    id="coats-needed",
    title="How many coats bury the edge?",
    summary="Tells the coats, the clear and the days that level the edge of the film.",
    also=("decal edge", "film step", "clear coat thickness", "how much varnish", "wet film", "microns", "build up"),
    stage="finish",
    about=MARKING,
    inputs=CoatsNeededInputs,
    outputs=CoatsNeededOutputs,
    compute=coats_needed,
    sources=(tables.COMMON_PRACTICE, tables.ESTIMATE),
    order=10,
)
