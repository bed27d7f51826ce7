"""How much vapour is in the air of a room, and how near it comes to the limits of agencies: for planning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import fsum, isfinite

from calculators import messages, numbers, tables
from calculators.declare import JOB, Calculator, Message, Problem, Refused, advice, message
from calculators.seal import vapour_fields as fields
from calculators.seal.vapour_chart import vapour_chart
from calculators.seal.vapour_curve import Curve, mass_of_ppm, ppm_of_mass
from calculators.seal.vapour_fields import LimitRow, PartInputs, VapourInputs, VapourOutputs
from calculators.seal.vapour_limits import (
    DAY,
    DAY_H,
    EXPLOSIVE,
    EXPLOSIVE_SHARE,
    SHORT_H,
    Near,
    Part,
    limit_of,
    limit_ppm,
    mixture,
    nearness,
)
from calculators.tables.coating_rows import Coat

#: Near the work it is as many times the well-mixed figure (common practice, estimates).
FACTORS = (1.0, 3.0, 10.0)
#: No room at a hobby bench has more fresh air, in m³/h.
MOST_FLOW = 100_000.0
#: Gases that drive a can.
PROPELLANTS = ("propane", "n-butane", "isobutane", "dimethyl-ether")
#: The cautions that belong beside every answer.
_ALWAYS = (messages.VAPOUR_PLANNING, messages.VAPOUR_NOT_COUNTED, messages.VAPOUR_GOVERNS)


@dataclass(frozen=True)
class Room:
    """What evaporates in which room: the parts, as ppm were the room closed, and how it comes and goes."""

    parts: tuple[Part, ...]
    release_h: float
    volume_m3: float
    flow_m3h: float

    def curve(self, flow_m3h: float) -> Curve:
        """Return how it comes and goes at an airflow."""
        return Curve(self.release_h, flow_m3h / self.volume_m3)


def vapour(inputs: VapourInputs) -> VapourOutputs:
    """Return the vapour in well-mixed air against ceilings, 15-minute, working-day and explosive limits, for planning.

    ppm at 25 °C (24.45 L/mol); the stricter of NIOSH, OSHA and the reader's own; mixtures by 29 CFR 1910.1000(d)(2).
    Two-part urethane is refused. Raises Refused where the amount cannot be worked out.
    """
    if inputs.product == fields.TWO_PART:
        return _refused()
    room = _room(inputs)
    curve = room.curve(room.flow_m3h)
    found = nearness(room.parts, curve)
    verdict = _verdict(found)
    leading = _leading(room.parts)
    needed = [needed_flow(room, factor) for factor in FACTORS]
    return VapourOutputs(
        verdict=verdict,
        reasons=tuple(_reasons(inputs, found, verdict, room, needed)),
        peak=_in_air(leading, curve.peak),
        worst_15_min=_in_air(leading, curve.worst_mean(SHORT_H)),
        worst_8_h=_in_air(leading, curve.worst_mean(DAY_H)),
        explosive_percent=next(
            (100 * each.share for each in found if each.kind == EXPLOSIVE and each.share is not None), None
        ),
        flow_m3h=room.flow_m3h,
        until_share_h=_until(room, curve, inputs.share_percent / 100),
        # None in place of 0: nobody is to read that no fresh air will do.
        needed_m3h=needed[0] or None,
        needed_3_m3h=needed[1] or None,
        needed_10_m3h=needed[2] or None,
        face_speed_m_s=_face_speed(inputs, room.flow_m3h),
        chart=vapour_chart(leading, curve, FACTORS),
        limits=tuple(_row(each) for each in found),
    )


# -- What evaporates, and where


def airflow_m3h(inputs: VapourInputs) -> float:
    """Return the fresh air, measured or as a third of a fan's label, in m³/h."""
    match inputs.airflow_by:
        case fields.FLOW:
            return inputs.flow_m3h
        case fields.CHANGES:
            return inputs.changes_per_h * inputs.room_m3
        case fields.BAG:
            return inputs.bag_l / 1000 / inputs.bag_s * 3600
        case fields.LABEL:
            return inputs.label_m3h * fields.LABEL_SHARE
    return 0.0


def _room(inputs: VapourInputs) -> Room:
    whole = fsum(row.parts for row in inputs.parts)
    grams = _grams(inputs, whole)
    parts = [
        _part(row, place, grams * row.parts / whole, inputs.room_m3)
        for place, row in enumerate(inputs.parts, 1)
        if row.solvent != fields.STAYS
    ]
    if not parts:
        raise Refused(Problem("parts", messages.NOTHING_EVAPORATES, messages.ADD_A_PART))
    if inputs.product == fields.CAN and not any(row.solvent in PROPELLANTS for row in inputs.parts):
        parts.append(Part(messages.PROPELLANT_PART, None, None))
    return Room(tuple(parts), inputs.release_min / 60, inputs.room_m3, airflow_m3h(inputs))


def _part(row: PartInputs, place: int, grams: float, room_m3: float) -> Part:
    if row.solvent == fields.OTHER:
        name = messages.ANOTHER_PART.format(row=place)
        return Part(name, None, None, row.local_day_ppm, row.local_short_ppm)
    solvent = tables.row("solvents", row.solvent)
    name = messages.in_sentence(solvent.label)
    part = Part(name, solvent, None, row.local_day_ppm, row.local_short_ppm)
    molar = part.molar_mass
    return replace(part, closed_ppm=ppm_of_mass(grams, molar, room_m3)) if molar else part


def _grams(inputs: VapourInputs, whole: float) -> float:
    """Return the weight of all that was typed; raises Refused where a volume has no density."""
    if inputs.amount_by == fields.BY_WEIGHT:
        return inputs.amount_g
    if inputs.density is not None:
        return inputs.amount_ml * inputs.density
    volume, lacking = 0.0, []
    for place, row in enumerate(inputs.parts, 1):
        solvent = None if row.solvent in (fields.OTHER, fields.STAYS) else tables.row("solvents", row.solvent)
        if solvent and solvent.density:
            # Of a range the high end, which makes more vapour.
            volume += row.parts / whole / solvent.density.high
        else:
            lacking.append(messages.in_sentence(solvent.label) if solvent else messages.ANOTHER_PART.format(row=place))
    if lacking:
        problem = messages.NO_DENSITY.format(names=", ".join(lacking))
        raise Refused(Problem("amount_ml", problem, messages.TYPE_DENSITY))
    return inputs.amount_ml / volume


# -- What it comes to


def _verdict(found: Sequence[Near]) -> str:
    worst = max((_weighed(each) for each in found), default=0.0)
    if worst > 1:
        return fields.OVER
    if any(each.kind == DAY and each.share is None for each in found):
        return fields.UNKNOWN
    return fields.NEAR_WORK if FACTORS[-1] * worst > 1 else fields.BELOW


def _weighed(near: Near) -> float:
    """Return the share of a limit, 0 where it is unknown; of the explosive limit a tenth is the limit."""
    return (near.share or 0.0) / (EXPLOSIVE_SHARE if near.kind == EXPLOSIVE else 1.0)


def needed_flow(room: Room, factor: float) -> float | None:
    """Return the fresh air in m³/h at which ``factor`` times the well-mixed air stays below every limit that is known.

    None where no airflow that a room may have does it, or where no limit of a working day is known.
    """
    if any(each.kind == DAY and each.share is None for each in nearness(room.parts, room.curve(0.0))):
        return None

    def passes(flow_m3h: float) -> bool:
        return all(factor * _weighed(each) <= 1 for each in nearness(room.parts, room.curve(flow_m3h)))

    if passes(0.0):
        return 0.0
    low, high = 0.01, MOST_FLOW
    if not passes(high):
        return None
    while high / low > 1.001:
        middle = (low * high) ** 0.5
        low, high = (low, middle) if passes(middle) else (middle, high)
    return high


def _until(room: Room, curve: Curve, share: float) -> float | None:
    """Return the hours until all parts together are below a share of their working-day limits; None if unknown."""
    whole = mixture(room.parts, DAY, limit_ppm(DAY), 1.0).share
    if whole is None:
        return None
    hours = curve.hours_until(share / whole) if whole else 0.0
    return hours if isfinite(hours) else None


def _leading(parts: Sequence[Part]) -> Part:
    """Return the part that comes nearest to its working-day limit; without one, the first whose amount is known."""

    def rank(part: Part) -> tuple[bool, float]:
        limit = limit_of(part, DAY)
        known = part.closed_ppm is not None
        return known, part.closed_ppm / limit.ppm if limit and part.closed_ppm is not None else 0.0

    return max(parts, key=rank)


def _face_speed(inputs: VapourInputs, flow_m3h: float) -> float | None:
    if inputs.booth_width_mm is None or inputs.booth_height_mm is None:
        return None
    return flow_m3h / 3600 / (inputs.booth_width_mm * inputs.booth_height_mm * 1e-6)


# -- In words


def _in_air(part: Part, share: float) -> str | None:
    if part.closed_ppm is None:
        return None
    return f"{_amounts(part.closed_ppm * share, part.molar_mass)}, {part.name}"


def _amounts(ppm: float, molar_mass: float | None) -> str:
    shown = numbers.significant(ppm)
    if molar_mass is None:
        return f"{shown} ppm"
    return messages.PPM_MASS.format(ppm=shown, mass=numbers.significant(mass_of_ppm(ppm, molar_mass)))


def _row(near: Near) -> LimitRow:
    share = None if near.share is None else 100 * _weighed(near)
    limit = near.limit
    if limit:
        sentence = messages.LIMIT_PPM_MASS if limit.mass else messages.LIMIT_PPM
        wants = sentence.format(
            ppm=numbers.significant(limit.ppm),
            mass=numbers.significant(limit.mass or 0.0),
            agency=messages.AGENCIES[limit.agency],
        )
    elif near.share is None:
        wants = messages.NO_LIMIT
    else:
        wants = messages.SUM_OF_SHARES
    here = None
    if near.ppm is not None:
        here = f"{numbers.significant(near.ppm)} ppm"
        if near.mass is not None:
            here = messages.PPM_MASS.format(ppm=numbers.significant(near.ppm), mass=numbers.significant(near.mass))
    return LimitRow(
        part=near.name or messages.MIXTURE,
        when=messages.VAPOUR_ROWS[near.kind],
        here=here,
        limit=wants,
        share=share,
        share_3=None if share is None else 3 * share,
        share_10=None if share is None else 10 * share,
        verdict=_row_verdict(share),
    )


def _row_verdict(share: float | None) -> str:
    if share is None:
        return fields.ROW_UNKNOWN
    if share > 100:
        return fields.ROW_OVER
    return fields.ROW_NEAR if FACTORS[-1] * share > 100 else fields.ROW_BELOW


def _reasons(
    inputs: VapourInputs, found: Sequence[Near], verdict: str, room: Room, needed: Sequence[float | None]
) -> list[Message]:
    known = sorted((each for each in found if each.share is not None), key=_weighed, reverse=True)
    why = [_why(each) for each in known if _weighed(each) > 1]
    lacking = [name for each in found if each.kind == DAY for name in each.lacking]
    if verdict == fields.UNKNOWN:
        why.append(message(messages.VAPOUR_UNKNOWN, names=", ".join(dict.fromkeys(lacking))))
        why.append(advice(messages.DO_SHEET_FOR_LIMIT))
    elif verdict == fields.OVER:
        why.append(_do_air(needed[0]))
    elif verdict == fields.NEAR_WORK:
        times = numbers.significant(FACTORS[-1] * _weighed(known[0]), 2)
        why.append(message(messages.VAPOUR_NEAR_WORK, times=times, what=_what(known[0])))
        why.append(_do_air(needed[-1]))
    else:
        percent = numbers.significant(100 * FACTORS[-1] * _weighed(known[0]), 2)
        why.append(message(messages.VAPOUR_BELOW, percent=percent, what=_what(known[0])))
        why.append(advice(messages.DO_KEEP_AWAY))
    if through_skin := [part.name for part in room.parts if part.solvent and part.solvent.through_skin]:
        why.append(message(messages.VAPOUR_SKIN, names=", ".join(through_skin)))
    if not room.flow_m3h:
        why.append(message(messages.VAPOUR_STILL))
    if inputs.product == fields.CAN and any(part.name == messages.PROPELLANT_PART for part in room.parts):
        why.append(message(messages.VAPOUR_PROPELLANT))
    why += [
        message(messages.VAPOUR_LACKING, kind=messages.VAPOUR_ROWS[each.kind].lower(), names=", ".join(each.lacking))
        for each in found
        if each.share is None and (each.kind == EXPLOSIVE or (each.kind == DAY and not each.name))
    ]
    return [*why, *map(message, _ALWAYS)]


def _do_air(flow_m3h: float | None) -> Message:
    return advice(messages.DO_OUTDOORS) if flow_m3h is None else advice(messages.DO_AIR_MORE, flow_m3h=flow_m3h)


def _why(near: Near) -> Message:
    """Return the sentence on a limit that well-mixed air exceeds."""
    if near.kind == EXPLOSIVE:
        return message(messages.VAPOUR_EXPLOSIVE, percent=numbers.significant(100 * (near.share or 0.0), 2))
    kind, times = messages.VAPOUR_KINDS[near.kind], numbers.significant(near.share or 0.0, 2)
    if near.limit is None:
        return message(messages.VAPOUR_SUM_OVER, kind=kind, times=times)
    return message(
        messages.VAPOUR_OVER,
        name=messages.as_subject(near.name),
        ppm=numbers.significant(near.ppm or 0.0),
        mass=numbers.significant(near.mass or 0.0),
        times=times,
        kind=kind,
        limit=numbers.significant(near.limit.ppm),
        agency=messages.AGENCIES[near.limit.agency],
    )


def _what(near: Near) -> str:
    return f"{messages.VAPOUR_ROWS[near.kind].lower()}, {near.name or messages.ALL_PARTS}"


def _refused() -> VapourOutputs:
    """Return no figures: isocyanates are not for a hobby bench."""
    row: Coat = tables.row("coats", "clear-urethane-two-part")
    return VapourOutputs(
        verdict=fields.REFUSED,
        reasons=(*row.refusal, message(messages.VAPOUR_REFUSED_WHY)),
        peak=None,
        worst_15_min=None,
        worst_8_h=None,
        explosive_percent=None,
        flow_m3h=None,
        until_share_h=None,
        needed_m3h=None,
        needed_3_m3h=None,
        needed_10_m3h=None,
        face_speed_m_s=None,
        chart=None,
        limits=(),
    )


CALCULATOR = Calculator(
    id="vapour",
    title="How much vapour is in the room?",
    summary="Plans fresh air against the limits of two agencies. It clears nobody to breathe or to enter.",
    also=("fumes", "ppm", "exposure limit", "ventilation", "extractor fan", "air changes", "spray booth cfm", "smell"),
    stage="seal",
    about=JOB,
    inputs=VapourInputs,
    outputs=VapourOutputs,
    compute=vapour,
    sources=(
        "niosh-pocket-guide",
        "niosh-idlh",
        "osha-chemical-data",
        "osha-csi",
        "cfr-29-1910-1000",
        "chemicals-package",
        tables.COMMON_PRACTICE,
        tables.ESTIMATE,
    ),
    cautions=(f"{messages.VAPOUR_PLANNING} {messages.VAPOUR_NOT_COUNTED} {messages.VAPOUR_GOVERNS}",),
    order=20,
)
