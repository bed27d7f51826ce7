"""What the air must leave for a coat, or for film before it is printed: the checks, each with its own verdict."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators import messages, numbers
from calculators.declare import Message, message
from calculators.seal.dew_point import Air
from calculators.tables.coating_rows import Coat
from calculators.tables.declaration import Fact
from calculators.tables.printing_rows import Substrate

#: How far a surface is kept above the dew point: coating practice (ISO 8502-4 and ISO 12944-7, from memory).
ABOVE_DEW_K = 3.0

PASSES, DEPENDS, FAILS = "passes", "depends", "fails"
LEVELS = {PASSES: ("pass", "Passes"), DEPENDS: ("watch", "Depends"), FAILS: ("fail", "Fails")}
DEW, COOLING, HUMIDITY, COLD = "dew", "cooling", "humidity", "cold"


@dataclass(frozen=True)
class Check:
    """One check: its level, why it does not pass, what it wants and what there is."""

    id: str
    name: str
    level: str
    why: Message | None
    wants: Message
    has: Message


def checks_of_coat(air: Air, coat: Coat) -> list[Check]:
    """Return the checks of a coat in this air, without those for which its row has no figures."""
    checks = [_dew(air)]
    if coat.cooling:
        checks.append(_cooling(air, coat.cooling))
    if coat.humidity:
        checks.append(
            _humidity(air, coat.humidity, messages.CHECK_HUMIDITY, messages.AIR_HUMID, messages.AIR_HUMID_AT_WORST)
        )
    if coat.coldest:
        checks.append(_cold(air, coat.coldest))
    return checks


def checks_of_film(air: Air, film: Substrate) -> list[Check]:
    """Return the checks of film that is to be printed in this air."""
    checks = [_dew(air)]
    if film.humidity:
        checks.append(
            _humidity(
                air, film.humidity, messages.CHECK_FILM_HUMIDITY, messages.FILM_HUMID, messages.FILM_HUMID_AT_WORST
            )
        )
    return checks


def level_of(checks: Sequence[Check]) -> str:
    """Return the worst level of all checks."""
    levels = {each.level for each in checks}
    return FAILS if FAILS in levels else DEPENDS if DEPENDS in levels else PASSES


def highest_humidity(air: Air, cooling: Fact | None, humidity: Fact | None) -> float | None:
    """Return the highest reading that passes dew point and blush at the bad end of all ranges; None if none does."""
    by_dew = air.highest_humidity(ABOVE_DEW_K + (cooling.high if cooling else 0.0))
    if by_dew is None or humidity is None:
        return by_dew
    most = min(by_dew, humidity.low - air.humidity_error)
    return most if most > 0 else None


def _level(passes_at_worst: bool, passes_at_best: bool) -> str:
    return PASSES if passes_at_worst else DEPENDS if passes_at_best else FAILS


def _dew(air: Air) -> Check:
    level = _level(air.worst_margin >= ABOVE_DEW_K, air.margin >= ABOVE_DEW_K)
    values = {"margin_kelvin": air.margin, "worst_kelvin": air.worst_margin, "needed_kelvin": ABOVE_DEW_K}
    why = {
        FAILS: message(messages.AIR_BELOW_DEW, below_kelvin=-air.margin, dew_celsius=air.dew_celsius)
        if air.margin < 0
        else message(messages.AIR_WET, dew_celsius=air.dew_celsius, **values),
        DEPENDS: message(messages.AIR_WET_AT_WORST, **values),
    }
    wants = message(messages.KELVIN_ABOVE, needed_kelvin=ABOVE_DEW_K)
    return Check(DEW, messages.CHECK_DEW, level, why.get(level), wants, message(messages.KELVIN_BEST_WORST, **values))


def _cooling(air: Air, cooling: Fact) -> Check:
    """The surface stays above the dew point while the coat cools it, at worst by the high end of the range."""
    left = air.worst_margin - cooling.high
    level = _level(left >= ABOVE_DEW_K, air.margin - cooling.low >= ABOVE_DEW_K)
    values = {"low_kelvin": cooling.low, "high_kelvin": cooling.high, "needed_kelvin": ABOVE_DEW_K}
    why = {
        FAILS: message(messages.AIR_COOLED, **values),
        DEPENDS: message(messages.AIR_COOLED_AT_WORST, left_kelvin=left, **values),
    }
    return Check(
        COOLING,
        messages.CHECK_COOLING,
        level,
        why.get(level),
        message(messages.KELVIN_ABOVE, needed_kelvin=ABOVE_DEW_K),
        message(messages.KELVIN_BEST_WORST, margin_kelvin=air.margin - cooling.low, worst_kelvin=left),
    )


def _humidity(air: Air, most: Fact, name: str, too_humid: str, at_worst: str) -> Check:
    level = _level(air.worst_humidity <= most.low, air.humidity_percent <= most.high)
    values = {
        "low": numbers.plain(most.low),
        "high": numbers.plain(most.high),
        "percent": numbers.significant(air.humidity_percent),
        "worst": numbers.significant(air.worst_humidity),
    }
    why = {FAILS: message(too_humid, **values), DEPENDS: message(at_worst, **values)}
    return Check(
        HUMIDITY,
        name,
        level,
        why.get(level),
        message(messages.PERCENT_AT_MOST, **values),
        message(messages.PERCENT_BEST_WORST, **values),
    )


def _cold(air: Air, coldest: Fact) -> Check:
    colder = min(air.air_celsius, air.surface_celsius)
    level = _level(air.coldest_celsius >= coldest.high, colder >= coldest.low)
    values = {"low_celsius": coldest.low, "high_celsius": coldest.high}
    return Check(
        COLD,
        messages.CHECK_COLD,
        level,
        None if level == PASSES else message(messages.AIR_COLD, **values),
        message(messages.CELSIUS_AT_LEAST, **values),
        message(messages.CELSIUS_COLDEST, coldest_celsius=colder, worst_celsius=air.coldest_celsius),
    )
