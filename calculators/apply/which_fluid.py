"""Which setting and softening fluid suits this job, and which thinner the clear withstands?"""

from __future__ import annotations

from dataclasses import dataclass

from calculators import messages, tables
from calculators.apply import next_steps
from calculators.apply.fluid_rules import (
    NEVER,
    SAFE,
    TEST_FIRST,
    Answer,
    Met,
    answer_of,
    harshest,
    order_of_trying,
)
from calculators.declare import (
    MARKING,
    Calculator,
    Lead,
    Message,
    advice,
    choice,
    folded,
    leads,
    measure,
    message,
    reasons,
    shared,
    table,
    verdict,
    words,
    yes_no,
)
from calculators.job_fields import marking_printer
from calculators.tables.coating_rows import Coat, DryingTime, Fluid

UNSEALED, WRONG_FILM, REFUSED = "unsealed", "wrong-film", "refused"
LEVELS = {
    "safe": ("pass", "One softening fluid is marked safe here"),
    "test-first": ("watch", "Test the mildest fluid first"),
    "never": ("fail", "No softening fluid suits this job"),
    UNSEALED: ("fail", "Seal it first: no fluid suits it"),
    WRONG_FILM: ("fail", "This film must not go through that printer"),
    REFUSED: ("fail", "Not at a hobby bench"),
}
ROW_LEVELS = {SAFE: ("pass", "Safe"), TEST_FIRST: ("watch", "Test first"), NEVER: ("fail", "Never")}
#: The uses of fluids that go under or over a marking.
_SETS = ("wetting", "setting", "softening")


@dataclass(frozen=True, kw_only=True)
class WhichFluidInputs:
    film: str = shared(
        "substrate",
        choice("Film", table="substrates", where=("kind", "clear film", "white film"), default="clear-inkjet"),
        MARKING,
    )
    printer: str = marking_printer()
    sealed: bool = yes_no("The sheet is sealed", default=True)
    seal: str = shared(
        "seal-coat",
        choice(
            "Seal",
            table="coats",
            where=("uses", "seal coat"),
            default="clear-lacquer",
            only_when=("sealed", "yes"),
        ),
        MARKING,
    )
    glossed: bool = yes_no("A gloss coat lies beneath the marking", default=True)
    gloss: str = choice(
        "Gloss coat",
        table="coats",
        where=("uses", "gloss coat"),
        default="clear-lacquer",
        only_when=("glossed", "yes"),
    )
    paint: str = choice("Paint", table="coats", where=("uses", "paint"), default="paint-acrylic-water")
    clear: str = choice(
        "Clear that protects it, before weathering",
        table="coats",
        where=("uses", "final coat"),
        default="clear-lacquer",
        help="The thinners of weathering meet this coat.",
    )


@dataclass(frozen=True, kw_only=True)
class FluidRow:
    """One fluid against all that it meets."""

    fluid: str = words("Fluid")
    verdict: str = verdict("Verdict", levels=ROW_LEVELS)
    why: str = words("What decides")
    use: str = words("Used for")
    how: str = words("How")
    caution: str = words("Caution")
    order: int | None = measure("Place in the order", decimals=0)


@dataclass(frozen=True, kw_only=True)
class PairRow:
    """One fluid with one thing that it meets."""

    fluid: str = words("Fluid")
    part: str = words("On")
    what: str = words("What it is")
    verdict: str = verdict("Verdict", levels=ROW_LEVELS)
    why: str = words("Why")


@dataclass(frozen=True, kw_only=True)
class ThinnerRow:
    """A thinner of weathering against the protecting clear."""

    thinner: str = words("Thinner")
    carries: str = words("In weathering")
    verdict: str = verdict("Verdict", levels=ROW_LEVELS)
    why: str = words("Why")


@dataclass(frozen=True, kw_only=True)
class StepRow:
    """A wait of the job around the fluids."""

    step: str = words("Step")
    wait: str = words("How long")
    ends: str = words("What ends it, or how")


@dataclass(frozen=True, kw_only=True)
class WhichFluidOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    first: str | None = words("Try first", help="the mildest softening fluid that nothing here forbids")
    fluids: tuple[FluidRow, ...] = table("In the order of trying", row=FluidRow, decides=("fluid", "verdict", "why"))
    thinners: tuple[ThinnerRow, ...] = table(
        "Thinners of weathering on the clear", row=ThinnerRow, decides=("thinner", "verdict", "why")
    )
    steps: tuple[StepRow, ...] = table("Waits around it", row=StepRow)
    pairs: tuple[PairRow, ...] = folded(
        table("Each pair by itself", row=PairRow, decides=("fluid", "part", "verdict", "why"))
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.WHICH_FLUID)


def which_fluid(inputs: WhichFluidInputs) -> WhichFluidOutputs:
    """Return a verdict with its reason for every fluid on this job, the order of trying, and for every thinner.

    The verdicts of the table are common practice; a pair that it lacks is never safe.
    """
    refused = [row for row in _coats_met(inputs) if row.bench == "never"]
    if refused:
        return _refused(refused[0])
    met = met_by_fluids(inputs)
    rows: tuple[Fluid, ...] = tables.load("fluids")
    judged = [(fluid, [answer_of(fluid, each) for each in met]) for fluid in rows if fluid.use in _SETS]
    decided = [(fluid, answers, harshest(answers)) for fluid, answers in judged]
    decided.sort(key=lambda each: order_of_trying(each[0], each[2].verdict))
    softening = [(fluid, decides) for fluid, _answers, decides in decided if fluid.use == "softening"]
    first = next(((fluid, decides) for fluid, decides in softening if decides.verdict != NEVER), None)
    level, why = _verdict(inputs, first)
    return WhichFluidOutputs(
        verdict=level,
        reasons=(*why, message(messages.FLUID_PRACTICE), message(messages.FLUID_SHEET)),
        first=first[0].label if first and level in (SAFE, "test-first") else None,
        fluids=tuple(
            _fluid_row(place if decides.verdict != NEVER else None, fluid, decides)
            for place, (fluid, _answers, decides) in enumerate(decided, 1)
        ),
        thinners=tuple(_thinner_row(fluid, inputs.clear) for fluid in rows if fluid.weathering),
        steps=_steps(inputs),
        pairs=tuple(_pair_row(fluid, answer) for fluid, answers, _decides in decided for answer in answers),
    )


def met_by_fluids(inputs: WhichFluidInputs) -> list[Met]:
    """Return what a fluid meets on this job, from the film down to the paint."""
    met = [Met(messages.MEETS_FILM if inputs.sealed else messages.MEETS_BARE_FILM, "substrates", inputs.film)]
    if inputs.sealed:
        met.append(Met(messages.MEETS_SEAL, "coats", inputs.seal))
    else:
        met.append(Met(messages.MEETS_INK, "printers", inputs.printer))
    if inputs.glossed:
        met.append(Met(messages.MEETS_GLOSS, "coats", inputs.gloss))
    return [*met, Met(messages.MEETS_PAINT, "coats", inputs.paint, beneath=inputs.glossed)]


def _coats_met(inputs: WhichFluidInputs) -> list[Coat]:
    return [tables.row("coats", each) for each in (*([inputs.gloss] if inputs.glossed else []), inputs.clear)]


def _verdict(inputs: WhichFluidInputs, first: tuple[Fluid, Answer] | None) -> tuple[str, list[Message]]:
    film = tables.row("substrates", inputs.film)
    if inputs.printer in film.never_printers:
        return WRONG_FILM, [message(messages.FLUID_WRONG_FILM, why=film.why_never)]
    if not inputs.sealed and film.seal == "must":
        return UNSEALED, [message(messages.FLUID_UNSEALED), advice(messages.DO_SEAL_FIRST)]
    if first is None:
        return NEVER, [message(messages.FLUID_NONE), advice(messages.DO_MILD_ONLY)]
    fluid, decides = first
    values = {"fluid": messages.in_sentence(fluid.label), "why": decides.why}
    if decides.verdict == SAFE:
        return SAFE, [message(messages.FLUID_FIRST, **values), advice(messages.DO_FLUID_TEST)]
    return "test-first", [message(messages.FLUID_TEST, **values), advice(messages.DO_FLUID_TEST)]


def _fluid_row(order: int | None, fluid: Fluid, decides: Answer) -> FluidRow:
    return FluidRow(
        order=order,
        fluid=fluid.label,
        verdict=decides.verdict,
        why=f"{decides.met.part}: {decides.why}",
        use=fluid.use,
        how=fluid.how,
        caution=fluid.caution,
    )


def _thinner_row(fluid: Fluid, clear: str) -> ThinnerRow:
    answer = answer_of(fluid, Met(messages.MEETS_CLEAR, "coats", clear))
    return ThinnerRow(thinner=fluid.label, carries=fluid.weathering, verdict=answer.verdict, why=answer.why)


def _pair_row(fluid: Fluid, answer: Answer) -> PairRow:
    return PairRow(
        fluid=fluid.label,
        part=answer.met.part,
        what=answer.met.row.label,
        verdict=answer.verdict,
        why=answer.why,
    )


def _steps(inputs: WhichFluidInputs) -> tuple[StepRow, ...]:
    """Return the waits of the job around the fluids, from the table, each with the test that ends it."""
    steps = []
    if inputs.sealed:
        rows: tuple[DryingTime, ...] = tables.load("drying-times")
        inks = [row for row in rows if row.before == "Sealing it." and inputs.film in row.substrates]
        # The row of fewest films is the one that is meant for this one.
        ink = min(inks, key=lambda row: len(row.substrates))
        seal: Coat = tables.row("coats", inputs.seal)
        dry = next(row for row in rows if row.before == "Cutting it and putting it in water." and seal.id in row.coats)
        over = next((each for each in seal.over if each.what == f"printers/{inputs.printer}"), None)
        inkjet = inputs.printer.startswith("inkjet")
        steps = [
            StepRow(step=messages.STEP_INK, wait=_from(ink), ends=ink.ends),
            StepRow(
                step=messages.STEP_SEAL,
                wait=messages.STEP_MIST if inkjet else messages.STEP_LIGHT,
                ends=f"{over.why} {seal.how}" if over else seal.how,
            ),
            StepRow(step=messages.STEP_SEALED, wait=_from(dry), ends=dry.ends),
        ]
    soak, settle = (tables.row("drying-times", each) for each in ("soak", "settle-after-softener"))
    at_most = messages.STEP_AT_MOST.format(usual=soak.usual.in_words, longest=soak.longest.in_words)
    return (
        *steps,
        StepRow(step=messages.STEP_WATER, wait=at_most, ends=soak.ends),
        StepRow(step=messages.STEP_SETTLE, wait=_from(settle), ends=settle.ends),
    )


def _from(row: DryingTime) -> str:
    return messages.STEP_FROM.format(shortest=row.shortest.in_words, usual=row.usual.in_words)


def _refused(coat: Coat) -> WhichFluidOutputs:
    """Return no verdicts: this clear does not belong at a hobby bench."""
    return WhichFluidOutputs(
        verdict=REFUSED,
        reasons=coat.refusal,
        first=None,
        fluids=(),
        thinners=(),
        steps=(),
        pairs=(),
    )


CALCULATOR = Calculator(
    id="which-fluid",
    title="Which fluid suits this job?",
    summary="Tells which setting and softening fluids suit film, ink, seal and paint, and which thinners the clear.",
    also=("decal solution", "setting solution", "softening solution", "enamel wash", "will it melt", "weathering wash"),
    stage="apply",
    about=MARKING,
    inputs=WhichFluidInputs,
    outputs=WhichFluidOutputs,
    compute=which_fluid,
    sources=(tables.COMMON_PRACTICE, tables.ESTIMATE),
    order=10,
)
