"""Is the air right for this coat, or for printing on this film?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators import messages, tables
from calculators.declare import (
    JOB,
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
    table,
    verdict,
    words,
)
from calculators.seal import next_steps
from calculators.seal.air_chart import air_chart
from calculators.seal.air_checks import (
    ABOVE_DEW_K,
    COLD,
    COOLING,
    DEW,
    FAILS,
    HUMIDITY,
    PASSES,
    Check,
    checks_of_coat,
    checks_of_film,
    highest_humidity,
    level_of,
)
from calculators.seal.air_checks import LEVELS as CHECK_LEVELS
from calculators.seal.dew_point import Air, humidity_percent
from calculators.tables.coating_rows import Coat
from calculators.tables.printing_rows import Substrate

COAT, FILM = "coat", "film"
DRY, TEST_FIRST, MAY_BLUSH, CONDENSES, TOO_COLD, REFUSED = (
    "dry",
    "test-first",
    "may-blush",
    "condenses",
    "too-cold",
    "refused",
)
FILM_DRY, FILM_TEST, FILM_DAMP = "film-dry", "film-test", "film-damp"
VERDICTS = {
    DRY: ("pass", "Dry enough for this coat"),
    TEST_FIRST: ("watch", "Near the limit: try a waste corner first"),
    MAY_BLUSH: ("fail", "This coat may turn milky"),
    CONDENSES: ("fail", "Too damp: water may settle"),
    TOO_COLD: ("fail", "Too cold for this coat"),
    REFUSED: ("fail", "Not at a hobby bench"),
    FILM_DRY: ("pass", "Dry enough to print on it"),
    FILM_TEST: ("watch", "Near the limit for this film"),
    FILM_DAMP: ("fail", "Too damp for this film"),
}
#: The verdict where a check fails, the first that counts.
_FAILED = ((DEW, CONDENSES), (COLD, TOO_COLD), (COOLING, MAY_BLUSH), (HUMIDITY, MAY_BLUSH))
#: What warming the room is worked out for.
_WARMED_BY_K = 5.0
#: The most coats that are named as passing.
_MOST_NAMED = 4


@dataclass(frozen=True, kw_only=True)
class DryingAirInputs:
    purpose: str = choice(
        "What the air is for",
        default=COAT,
        options={COAT: "A coat", FILM: "Film, before it is printed"},
        help="A coat can turn milky in damp air, and film takes up water before it is printed.",
    )
    carrier: str = choice(
        "Coat, by what carries it",
        table="coats",
        default="clear-lacquer",
        only_when=("purpose", COAT),
        help="Lacquer cools as it dries, and blushes first.",
    )
    film: str = choice(
        "Film",
        table="substrates",
        where=("kind", "clear film", "white film"),
        default="clear-inkjet",
        only_when=("purpose", FILM),
    )
    air_c: float = number(
        "Air",
        unit="°C",
        low=-35,
        high=50,
        default=20,
        help="Where you work, after the meter has settled. You can type Fahrenheit: 68 F.",
    )
    relative_humidity_percent: float = number(
        "Humidity", unit="%", low=1, high=100, default=50, help="Relative, as a meter reads it."
    )
    surface_c: float | None = number(
        "Surface of sheet or model",
        unit="°C",
        low=-35,
        high=50,
        help="A sheet from a cold room is colder than the air.",
        without="the surface is as warm as the air.",
    )
    humidity_error_percent: float = folded(
        number("The humidity meter may be off by", unit="%", low=0, high=20, default=5, help="Usual meters: 3 to 5 %.")
    )
    air_error_c: float = folded(number("The air thermometer may be off by", unit="K", low=0, high=5, default=1))
    surface_error_c: float = folded(number("The surface may be off by", unit="K", low=0, high=5, default=1))


@dataclass(frozen=True, kw_only=True)
class CheckRow:
    check: str = words("Check")
    level: str = verdict("Verdict", levels=CHECK_LEVELS)
    has: Message = words("There is")
    wants: Message = words("It wants")


@dataclass(frozen=True, kw_only=True)
class DryingAirOutputs:
    verdict: str = verdict("Verdict", levels=VERDICTS)
    reasons: tuple[Message, ...] = reasons()
    dew_point_c: float | None = measure("Dew point", unit="°C", decimals=2, help="Water settles on what is colder.")
    dew_point_worst_c: float | None = measure("Dew point, if the instruments err the bad way", unit="°C", decimals=1)
    margin_k: float | None = measure("Surface above the dew point", unit="K", decimals=1)
    margin_worst_k: float | None = measure("The same, if the instruments err the bad way", unit="K", decimals=1)
    needed_surface_c: float | None = measure(
        "Surface that is 3 °C above the dew point", unit="°C", decimals=2, help="for condensation alone"
    )
    cooled_surface_c: float | None = measure(
        "Surface while the coat dries, at its coldest", unit="°C", decimals=1, help="an estimate"
    )
    highest_humidity_percent: float | None = measure(
        "Highest humidity that passes", unit="%", decimals=0, help="both condensation and blush, at the bad end of all"
    )
    lowest_temperature_c: float | None = measure(
        "Lowest temperature for this coat", unit="°C", decimals=0, help="the cautious end of an estimate"
    )
    chart: Figure | None = figure("Air that passes")
    checks: tuple[CheckRow, ...] = table("Each check by itself", row=CheckRow)
    next_steps: tuple[Lead, ...] = leads(next_steps.DRYING_AIR)


def drying_air(inputs: DryingAirInputs) -> DryingAirOutputs:
    """Return whether water settles on the surface, whether the coat may blush, and what to do instead.

    Every verdict is for the bad end of the instruments' errors and of the table's ranges. Dew point after WMO-No. 8,
    annex 4.B, for air from -45 to 60 °C.
    """
    air = Air(
        inputs.air_c,
        inputs.relative_humidity_percent,
        inputs.air_c if inputs.surface_c is None else inputs.surface_c,
        inputs.air_error_c,
        inputs.humidity_error_percent,
        inputs.surface_error_c,
    )
    if inputs.purpose == FILM:
        return _of_film(air, tables.row("substrates", inputs.film))
    coat: Coat = tables.row("coats", inputs.carrier)
    return _refused(coat) if coat.bench == "never" else _of_coat(air, coat)


def _of_coat(air: Air, coat: Coat) -> DryingAirOutputs:
    checks = checks_of_coat(air, coat)
    failed = {each.id for each in checks if each.level == FAILS}
    otherwise = DRY if level_of(checks) == PASSES else TEST_FIRST
    verdict_here = next((verdict for check, verdict in _FAILED if check in failed), otherwise)
    most = highest_humidity(air, coat.cooling, coat.humidity)
    why = [
        *_why(checks, [message(messages.AIR_PASSES, high_kelvin=coat.cooling.high)] if coat.cooling else [], air),
        *_to_do(verdict_here, air, most),
        *_other_coats(verdict_here, air, coat),
    ]
    return _outputs(
        verdict_here,
        why,
        air,
        checks,
        most,
        air_chart(
            air,
            lambda there: there.highest_humidity(ABOVE_DEW_K),
            lambda there: _passing_humidity(there, coat),
        ),
        coat,
    )


def _passing_humidity(air: Air, coat: Coat) -> float | None:
    """Return the highest humidity at which all checks of a coat pass; None where it is too cold for it."""
    if coat.coldest and air.coldest_celsius < coat.coldest.high:
        return None
    return highest_humidity(air, coat.cooling, coat.humidity)


def _of_film(air: Air, film: Substrate) -> DryingAirOutputs:
    checks = checks_of_film(air, film)
    level = level_of(checks)
    verdict_here = FILM_DAMP if level == FAILS else FILM_DRY if level == PASSES else FILM_TEST
    most = highest_humidity(air, None, film.humidity)
    fuser = {"laser", "led", "white-toner"} & set(film.printers)
    harm = message(messages.FILM_IN_FUSER if fuser else messages.FILM_IN_INKJET)
    why = [
        *_why(checks, [message(messages.FILM_PASSES)], air),
        harm,
        advice(messages.DO_PRINT if verdict_here == FILM_DRY else messages.DO_KEEP_FILM),
    ]
    return _outputs(
        verdict_here,
        why,
        air,
        checks,
        most,
        air_chart(
            air,
            lambda there: there.highest_humidity(ABOVE_DEW_K),
            lambda there: highest_humidity(there, None, film.humidity),
        ),
    )


def _why(checks: Sequence[Check], passing: list[Message], air: Air) -> list[Message]:
    """Return why, the failing checks first; where all pass, what speaks for it."""
    against = sorted((each for each in checks if each.why), key=lambda each: each.level != FAILS)
    if against:
        return [each.why for each in against if each.why]
    above = message(
        messages.AIR_ABOVE_DEW, margin_kelvin=air.margin, worst_kelvin=air.worst_margin, needed_kelvin=ABOVE_DEW_K
    )
    return [above, *passing]


def _to_do(verdict_here: str, air: Air, most: float | None) -> list[Message]:
    """Return what to do about the air, the most helpful first."""
    if verdict_here == DRY:
        return [advice(messages.DO_GO_ON)]
    if verdict_here == TOO_COLD:
        return [advice(messages.DO_WARM_ROOM)]
    steps = [advice(messages.DO_TEST)] if verdict_here == TEST_FIRST else []
    if air.surface_celsius < air.air_celsius:
        steps.append(advice(messages.DO_WARM_SURFACE, needed_celsius=air.dew_celsius + ABOVE_DEW_K))
    if most is None:
        steps.append(advice(messages.DO_NOT_HERE))
    elif most < air.humidity_percent:
        steps.append(advice(messages.DO_DRY_AIR, most=f"{most:.0f}"))
    warmed = humidity_percent(air.air_celsius + _WARMED_BY_K, air.dew_celsius)
    return [*steps, message(messages.WARMED_AIR, by_kelvin=_WARMED_BY_K, percent=f"{warmed:.0f}")]


def _other_coats(verdict_here: str, air: Air, coat: Coat) -> list[Message]:
    """Return a sentence with coats of the same use that pass in this air, if this one does not."""
    if verdict_here in (DRY, TOO_COLD):
        return []
    others = [
        row.label
        for row in tables.load("coats")
        if row.id != coat.id
        and row.bench != "never"
        and set(row.uses) & set(coat.uses)
        and level_of(checks_of_coat(air, row)) == PASSES
    ]
    return [message(messages.DO_TAKE_ANOTHER, coats="; ".join(others[:_MOST_NAMED]))] if others else []


def _outputs(
    verdict_here: str,
    why: list[Message],
    air: Air,
    checks: Sequence[Check],
    most: float | None,
    chart: Figure,
    coat: Coat | None = None,
) -> DryingAirOutputs:
    cooling = coat.cooling if coat else None
    return DryingAirOutputs(
        verdict=verdict_here,
        reasons=tuple(why),
        dew_point_c=air.dew_celsius,
        dew_point_worst_c=air.worst_dew_celsius,
        margin_k=air.margin,
        margin_worst_k=air.worst_margin,
        needed_surface_c=air.dew_celsius + ABOVE_DEW_K,
        cooled_surface_c=air.surface_celsius - air.surface_error - cooling.high if cooling else None,
        highest_humidity_percent=most,
        lowest_temperature_c=float(coat.coldest.high) if coat and coat.coldest else None,
        chart=chart,
        checks=tuple(CheckRow(check=each.name, level=each.level, has=each.has, wants=each.wants) for each in checks),
    )


def _refused(coat: Coat) -> DryingAirOutputs:
    """Return no figures: this coat does not belong at a hobby bench."""
    return DryingAirOutputs(
        verdict=REFUSED,
        reasons=coat.refusal,
        dew_point_c=None,
        dew_point_worst_c=None,
        margin_k=None,
        margin_worst_k=None,
        needed_surface_c=None,
        cooled_surface_c=None,
        highest_humidity_percent=None,
        lowest_temperature_c=None,
        chart=None,
        checks=(),
    )


CALCULATOR = Calculator(
    id="drying-air",
    title="Is the air right for this coat?",
    summary="Tells whether water settles on the surface, whether the coat may turn milky, and what to do instead.",
    also=("dew point", "blushing", "relative humidity", "cold shed", "rainy day", "condensation", "hygrometer"),
    stage="seal",
    about=JOB,
    inputs=DryingAirInputs,
    outputs=DryingAirOutputs,
    compute=drying_air,
    sources=("wmo-8", "iso-8502-4", tables.COMMON_PRACTICE, tables.ESTIMATE),
    order=10,
)
