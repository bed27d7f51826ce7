"""The fields and results of the vapour in a room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calculators.declare import (
    Figure,
    Lead,
    Message,
    choice,
    figure,
    folded,
    leads,
    measure,
    number,
    reasons,
    rows,
    table,
    verdict,
    words,
)
from calculators.seal import next_steps

LIQUID, CAN, TWO_PART = "liquid", "can", "two-part"
BY_WEIGHT, BY_VOLUME = "weight", "volume"
FLOW, CHANGES, BAG, LABEL, NONE = "flow", "changes", "bag", "label", "none"
#: Parts that are in no row of the table of solvents.
OTHER, STAYS = "other", "stays"
#: A fan moves about a third of what its label says, once a filter and a duct are on it (common practice, an estimate).
LABEL_SHARE = 1 / 3

OVER, NEAR_WORK, UNKNOWN, BELOW, REFUSED = "over", "near-work", "unknown", "below", "refused"
#: No level is green: these figures are for planning and clear nobody.
LEVELS = {
    OVER: ("fail", "Over a limit, even in well-mixed air"),
    NEAR_WORK: ("fail", "Over a limit near the work"),
    UNKNOWN: ("watch", "No verdict: a limit is missing"),
    BELOW: ("watch", "Below these limits on paper: no clearance"),
    REFUSED: ("fail", "Refused: not without supplied air"),
}
ROW_OVER, ROW_NEAR, ROW_BELOW, ROW_UNKNOWN = "over", "near", "below", "unknown"
ROW_LEVELS = {
    ROW_OVER: ("fail", "Over"),
    ROW_NEAR: ("fail", "Over near the work"),
    ROW_BELOW: ("watch", "Below"),
    ROW_UNKNOWN: ("watch", "No verdict"),
}


def _local(label: str) -> Any:
    return number(
        label,
        unit="ppm",
        low=0.01,
        high=50_000,
        help="Of your own country, if you know it.",
        without="those of NIOSH and OSHA count alone.",
    )


@dataclass(frozen=True, kw_only=True)
class PartInputs:
    solvent: str = choice(
        "Part",
        table="solvents",
        options={OTHER: "Another part, not in this table", STAYS: "Solids and water"},
        default="acetone",
    )
    parts: float = number("Parts by weight", unit="", low=0.001, high=100_000, default=100)
    local_day_ppm: float | None = _local("Local limit, working day")
    local_short_ppm: float | None = _local("Local limit, 15 minutes")


@dataclass(frozen=True, kw_only=True)
class VapourInputs:
    product: str = choice(
        "What it is",
        default=LIQUID,
        options={
            LIQUID: "A liquid: thinner, fluid, paint",
            CAN: "A spray can",
            TWO_PART: "Two-part urethane clear, with hardener",
        },
    )
    parts: tuple[PartInputs, ...] = rows(
        "What it is made of",
        row=PartInputs,
        default=(PartInputs(solvent="acetone", parts=100.0),),
        most=12,
        help="By weight, as its data sheet lists it. Of a range take the most.",
    )
    amount_by: str = choice(
        "The amount is by", default=BY_WEIGHT, options={BY_WEIGHT: "Weight", BY_VOLUME: "Volume of liquid"}
    )
    amount_g: float = number(
        "Amount that evaporates",
        unit="g",
        low=0.01,
        high=100_000,
        default=10,
        only_when=("amount_by", BY_WEIGHT),
        help="Weigh the can or the cup before and after.",
    )
    amount_ml: float = number(
        "Amount that evaporates, liquid",
        unit="mL",
        low=0.01,
        high=100_000,
        default=10,
        only_when=("amount_by", BY_VOLUME),
        help="You can type fluid ounces: 1 fl oz.",
    )
    density: float | None = folded(
        number(
            "Density of the liquid",
            unit="g/mL",
            low=0.3,
            high=3,
            without="it is worked out from the densities in the table.",
        )
    )
    release_min: float = number(
        "Time over which it evaporates",
        unit="min",
        low=0.1,
        high=1440,
        default=30,
        help="From the first pass until it smells no more. Shorter makes a higher peak.",
    )
    room_m3: float = number(
        "Room",
        unit="m³",
        low=1,
        high=100_000,
        default=30,
        help="Length times width times height, without what stands in it. You can type cubic feet: 1000 ft3.",
    )
    airflow_by: str = choice(
        "Fresh air",
        default=CHANGES,
        options={
            FLOW: "I know the airflow",
            CHANGES: "By air changes",
            BAG: "I filled a bag at the outlet",
            LABEL: "By the label of the fan",
            NONE: "None",
        },
    )
    flow_m3h: float = number(
        "Airflow",
        unit="m³/h",
        low=0.1,
        high=1_000_000,
        default=100,
        only_when=("airflow_by", FLOW),
        help="You can type cubic feet per minute: 60 cfm.",
    )
    changes_per_h: float = number(
        "Air changes an hour",
        unit="",
        low=0.01,
        high=1000,
        default=0.5,
        only_when=("airflow_by", CHANGES),
        help="About 0.5 with windows shut, 3 with one open (estimates).",
    )
    bag_l: float = number("Bag", unit="L", low=1, high=10_000, default=60, only_when=("airflow_by", BAG))
    bag_s: float = number(
        "Time to fill it",
        unit="s",
        low=0.1,
        high=3600,
        default=5,
        only_when=("airflow_by", BAG),
        help="Hold its mouth tight round the outlet, with filter and duct in place.",
    )
    label_m3h: float = number(
        "Airflow on the label",
        unit="m³/h",
        low=0.1,
        high=1_000_000,
        default=300,
        only_when=("airflow_by", LABEL),
        help="A third of it counts: filter and duct take the rest (an estimate).",
    )
    share_percent: float = folded(
        number("Time until it falls below this share of the limit", unit="%", low=0.1, high=100, default=10)
    )
    booth_width_mm: float | None = folded(
        number("Booth, width of its opening", unit="mm", low=10, high=10_000, without="no face speed is worked out.")
    )
    booth_height_mm: float | None = folded(
        number("Booth, height of its opening", unit="mm", low=10, high=10_000, without="no face speed is worked out.")
    )


@dataclass(frozen=True, kw_only=True)
class LimitRow:
    """One limit of one part, or of all together."""

    part: str = words("Part")
    when: str = words("When")
    here: str | None = words("Well mixed")
    limit: str = words("Strictest limit")
    share: float | None = measure("Share of it", unit="%", decimals=0)
    share_3: float | None = measure("At 3 times", unit="%", decimals=0)
    share_10: float | None = measure("At 10 times", unit="%", decimals=0)
    verdict: str = verdict("Verdict", levels=ROW_LEVELS)


@dataclass(frozen=True, kw_only=True)
class VapourOutputs:
    verdict: str = verdict("Verdict", levels=LEVELS)
    reasons: tuple[Message, ...] = reasons()
    peak: str | None = words("Highest moment, well mixed")
    worst_15_min: str | None = words("Worst 15 minutes, well mixed")
    worst_8_h: str | None = words("Worst 8 hours, well mixed")
    explosive_percent: float | None = measure(
        "Highest moment, of the lower explosive limit",
        unit="%",
        decimals=1,
        help="well mixed; 10 times that near the work",
    )
    flow_m3h: float | None = measure("Fresh air", unit="m³/h", decimals=0)
    until_share_h: float | None = measure(
        "From the beginning until it has fallen to your share of the limit", unit="h", decimals=1
    )
    needed_m3h: float | None = measure("Fresh air to stay below every limit, well mixed", unit="m³/h", decimals=0)
    needed_3_m3h: float | None = measure("The same at 3 times", unit="m³/h", decimals=0)
    needed_10_m3h: float | None = measure("The same at 10 times", unit="m³/h", decimals=0)
    face_speed_m_s: float | None = measure(
        "Face speed of the booth", unit="m/s", decimals=2, help="about 0.5 m/s is wanted by common practice"
    )
    chart: Figure | None = figure("In the air over time")
    limits: tuple[LimitRow, ...] = table(
        "Each limit by itself", row=LimitRow, decides=("part", "when", "share", "verdict")
    )
    next_steps: tuple[Lead, ...] = leads(next_steps.VAPOUR)
