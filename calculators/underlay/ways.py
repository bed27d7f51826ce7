"""The ways to get white beneath a marking: the look and cost of each, those ruled out, and their order.

Each way of the table ``ways`` is worked out for one marking, at the cautious end of its white's hiding range. Each term
of its cost gets a value from 0 (nothing against it) to 1 and a weight. So a larger weight on a term only helps the ways
that are better in it.

A reason against all ways alike cannot rank them. Parts too narrow for every way count as wide as the least demanding
way needs. If every way is still ruled out, the nearest one stays, with its shortcomings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import fsum

from calculators import tables
from calculators.colour.difference import delta_e
from calculators.colour.seen import Marking, Seen, Side
from calculators.colour.srgb import lab_of, light_of
from calculators.colour.white_layers import scattering_power
from calculators.tables.rows import Way
from calculators.underlay.case import LEAST_SHARE, LOST_SHARE, TERMS, Case, Judged, Looks, Part
from calculators.underlay.judging import LEGIBLE_DELTA_E, hardly_legible
from calculators.underlay.ruled_out import cannot, looks_wrong

#: The value that makes a term 0.5: a step of 30 µm, three days, one piece to within
#: 0.2 mm, a shift of ΔE 10 (estimates).
HALF_EDGE_UM, HALF_WAIT_H, HALF_SHIFT, REGISTER_MM = 30.0, 72.0, 10.0, 0.2
#: Money is compared with two sheets of clear film, or with this if their price is unknown.
HALF_COST = 20.0
#: The weight of an edge by the surface around it (estimates), and the surfaces where it can follow a panel line.
SURFACES = {"plain-gloss": 3.0, "usual": 1.0, "broken": 0.4}
ELSEWHERE = 0.6
#: The remaining difference of printed body colour matched to paint by a grid of swatches (estimate).
MATCHED_DELTA_E = 2.0


def ranked(case: Case) -> list[Judged]:
    """Return every way, the best first; those ruled out come last, in the order of the table.

    At least one is not ruled out.
    """
    judged = _all_judged(case)
    if all(each.out for each in judged):
        judged = _as_if_thickened(case, judged)
    if all(each.out for each in judged):
        nearest = min(judged, key=lambda each: fsum(against.grave for against in each.out))
        judged = [replace(each, out=(), short=each.out) if each is nearest else each for each in judged]
    if open_costs(judged):
        # A way without a price would look free.
        judged = [replace(each, terms={**each.terms, "cost": 0.0}) for each in judged]
    judged = [replace(each, total=fsum(case.weight(term) * each.terms[term] for term in TERMS)) for each in judged]
    return sorted(judged, key=lambda each: (bool(each.out), 0.0 if each.out else each.total))


def open_costs(judged: Sequence[Judged]) -> list[Judged]:
    """Return the ways not ruled out that have no known cost; cost only counts if there are none."""
    return [each for each in judged if not each.out and each.cost is None]


def _all_judged(case: Case) -> list[Judged]:
    markings = [(part, Marking(part.colour, case.base_a, case.base_b)) for part in case.parts if part not in case.patch]
    return [_judged(case, way, markings) for way in tables.load("ways")]


def _as_if_thickened(case: Case, judged: list[Judged]) -> list[Judged]:
    """Return the ways for a marking with parts just wide enough for one way, if only width rules some out."""
    widths = [[against.needs_mm or 0.0 for against in each.out] for each in judged]
    needs = [max(each) for each in widths if all(each)]
    if not needs:
        return judged
    least = min(needs)
    wider = replace(case, outline_mm=max(case.outline_mm, least), inside_mm=max(case.inside_mm, least))
    return [replace(each, thickened=least) for each in _all_judged(wider)]


def _judged(case: Case, way: Way, markings: list[tuple[Part, Marking]]) -> Judged:
    layers, low, high = _seen_at_both_ends(case, way, markings)
    edge = _edge(case, way, layers)
    times = max(1, len(case.counting)) if way.paints else 1
    pieces = 0 if way.own_white and not case.has_colours else way.pieces * times
    wait = _wait(way, times)
    cost = _cost(case, way)
    terms = _terms(case, way, low, sum(edge) / 2, pieces, sum(wait) / 2, cost)
    out = (*cannot(case, way), *looks_wrong(case, high))
    return Judged(way, layers, low, edge, pieces, wait, cost, terms, not low.passes(case.border_limit), out)


# -- What is seen


def _seen_at_both_ends(case: Case, way: Way, markings: list[tuple[Part, Marking]]) -> tuple[int, Looks, Looks]:
    """Return the fewest layers that pass, else the most, and its looks at both ends of the ranges."""
    # A painted colour may hide enough by itself.
    counts = range(1 if way.most_layers and not way.paints else 0, way.most_layers + 1)
    for layers in counts:
        low = _looks(case, way, markings, layers, "low")
        if low.passes(case.border_limit):
            break
    return layers, low, _looks(case, way, markings, layers, "high")


def _looks(case: Case, way: Way, markings: list[tuple[Part, Marking]], layers: int, end: str) -> Looks:
    power = _power(case, way, layers, end)
    border, contrast, shifts, worst_shift, lost, colours = 0.0, None, [], 0.0, [], {}
    for part, marking in markings:
        own = case.white_paint if way.own_white else None
        seen = _on_own_white(case, part, own, power) if own else marking.over_white(power)
        shift = 0.0 if way.paints else _mean(part, seen)
        shifts.append(part.share * shift)
        if part.share < LEAST_SHARE:
            continue
        if part.crosses and seen.border > border:
            border, colours["border"] = seen.border, part.name
        if shift > worst_shift:
            worst_shift, colours["shift"] = shift, part.name
        for over, side, meant in zip(part.over, seen.sides, marking.as_meant, strict=True):
            # A colour that is near the paint anyway is not lost in it.
            if not over or hardly_legible(meant):
                continue
            here = meant.contrast if way.paints else side.contrast
            if contrast is None or here < contrast:
                contrast, colours["contrast"] = here, part.name
            if hardly_legible(side) and not way.paints:
                lost.append(part.share / sum(part.over))
    whole = fsum(part.share for part, _marking in markings) or 1.0
    if way.for_white:
        shifts.append(MATCHED_DELTA_E * whole)
    return Looks(border, contrast, fsum(shifts) / whole, worst_shift, colours, fsum(lost) < LOST_SHARE * whole)


def _power(case: Case, way: Way, layers: int, end: str) -> float:
    """Return the scattering power of film and white at one end of their ranges."""
    power = 0.0
    film = "clear" if way.own_white and case.has_colours else way.film
    if film != "none":
        power += scattering_power(getattr(tables.row("materials", film).contrast_ratio, end))
    if way.white:
        # A coat of the colour itself hides about as much as one of white.
        power += (layers + way.paints) * scattering_power(
            getattr(tables.row("materials", way.white).contrast_ratio, end)
        )
    return power


def _on_own_white(case: Case, part: Part, own: str, power: float) -> Seen:
    """Return the look of a part on the model's own white, at any place on the model."""
    white = Marking(part.colour, own, own).over_white(power).sides[0]
    paints = [lab_of(light_of(base)) for base in (case.base_a, case.base_b)]
    first, second = (
        Side(white.light, white.lab, white.shift, delta_e(white.lab, paint), abs(white.lab[0] - paint[0]))
        for paint in paints
    )
    return Seen((first, second), 0.0)


def _mean(part: Part, seen: Seen) -> float:
    shifts = [side.shift for over, side in zip(part.over, seen.sides, strict=True) if over]
    return fsum(shifts) / len(shifts) if shifts else 0.0


# -- What it costs


def _edge(case: Case, way: Way, layers: int) -> tuple[float, float]:
    """Return the step at its edge in µm, including its white and any film that the colours add."""
    facts = [(way.edge, 1)]
    if way.edge_layer:
        facts.append((way.edge_layer, layers))
    if way.own_white and case.has_colours:
        facts.append((tables.row("ways", "bare-on-clear").edge, 1))
    return fsum(fact.low * times for fact, times in facts), fsum(fact.high * times for fact, times in facts)


def _wait(way: Way, times: int) -> tuple[float, float]:
    """Return the usual waits in hours, added up ``times`` times, at the shorter and the longer end."""
    waits = [tables.row("drying-times", each).usual.hours for each in way.waits] * times
    waits += [way.delivery.hours] if way.delivery else []
    return fsum(low for low, _high in waits), fsum(high for _low, high in waits)


def _cost(case: Case, way: Way) -> float | None:
    """Return the cost of one sheet, pot or order of each thing that the way uses up; None if a price is missing."""
    film = "clear" if way.own_white and case.has_colours else way.film
    if way.bought:
        uses = ["service"]
    elif way.own_printer:
        uses = ["white_print"]
    else:
        uses = [film] * (film != "none") + ["white"] * (way.white == "backing-film")
        # Masks are cut from stencil film; blank film is cut itself, and the model's own white is already there.
        uses += ["paint"] * (way.white in ("white-paint-spray", "white-paint-brush"))
        uses += ["stencil"] * bool(way.sprays and (film == "none" or not way.paints))
    if any(each not in case.prices for each in uses):
        return None
    return fsum(case.prices[each] for each in uses)


def _terms(
    case: Case, way: Way, looks: Looks, edge: float, pieces: int, wait: float, cost: float | None
) -> dict[str, float]:
    edge *= SURFACES[case.surface] * (ELSEWHERE if way.edge_away else 1.0)
    tolerance = (way.tolerance.low + way.tolerance.high) / 2 if way.tolerance else REGISTER_MM
    half_cost = 2 * case.prices["clear"] if case.prices.get("clear") else HALF_COST
    fine = max(
        (
            _share(needs.high, has)
            for needs, has in ((way.outline, case.needed_mm), (way.inside, case.inside_mm))
            if needs
        ),
        default=0.0,
    )
    return {
        "border": _share(looks.border, case.border_limit),
        "contrast": 0.0 if looks.contrast is None else LEGIBLE_DELTA_E / (LEGIBLE_DELTA_E + looks.contrast),
        "shift": _share(looks.shift, HALF_SHIFT),
        "edge": _share(edge, HALF_EDGE_UM),
        "register": _share(pieces * REGISTER_MM / tolerance, 1.0),
        "wait": _share(wait, HALF_WAIT_H),
        "cost": 0.0 if cost is None else _share(cost, half_cost),
        "detail": fine,
    }


def _share(value: float, half: float) -> float:
    return value / (value + half)
