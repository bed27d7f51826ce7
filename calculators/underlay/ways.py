"""The ways to get white beneath a marking: what each would look like and cost, which cannot do it, and their order.

Each way of the table ``ways`` is worked out for one marking, at the cautious end of what its white hides. What it
costs is put on one scale from 0 (nothing against it) to 1, term by term, and weighed. A larger weight on a term can
so only help the ways that are better in it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import fsum

from calculators import messages, tables
from calculators.colour.seen import Marking, Seen
from calculators.colour.white_layers import scattering_power
from calculators.declare import Said, said
from calculators.underlay.judging import ACCEPTED_DELTA_E, FAR_DELTA_E, LEGIBLE_DELTA_E, TINY, hardly_legible

#: What is weighed, each with the weight it has unless the reader moves it.
TERMS = {"border": 5, "contrast": 4, "shift": 3, "edge": 3, "register": 2, "wait": 2, "cost": 1, "detail": 3}
#: A term is half of the worst at this: a step of 30 µm, a day, one piece to within 0.2 mm, a shift of ΔE 10 (estimates).
HALF_EDGE_UM, HALF_WAIT_H, HALF_SHIFT, REGISTER_MM = 30.0, 24.0, 10.0, 0.2
#: Money is told against two sheets of clear film, or this if their price is not given.
HALF_COST = 20.0
#: How much an edge counts, by what it lies on (estimates); and where it may lie at a panel line.
SURFACES = {"plain-gloss": 3.0, "usual": 1.0, "broken": 0.4}
ELSEWHERE = 0.6
#: A colour with less than this share of the marking does not decide; nor does being lost in the paint, below this one.
LEAST_SHARE, LOST_SHARE = 0.01, 1 / 3
#: Printed body colour matched to paint by a grid of swatches comes about so near (estimate).
MATCHED_DELTA_E = 2.0
#: The way that only white can be had by is for markings with at least this share of it.
MOSTLY = 0.5


@dataclass(frozen=True)
class Part:
    """One colour of the marking: #rrggbb, its share of the whole, and whether it lies over the first and the second paint."""

    colour: str
    share: float
    over: tuple[bool, bool] = (True, True)
    is_white: bool = False

    @property
    def name(self) -> str:
        """What a reader knows it by."""
        return messages.WANTED_WHITE if self.is_white else self.colour

    @property
    def crosses(self) -> bool:
        """Whether the border of the two paints runs through it."""
        return all(self.over)


@dataclass(frozen=True, kw_only=True)
class Case:
    """A marking, the paints beneath it, and what the reader has and weighs. Narrowest parts in mm, prices in any money."""

    parts: tuple[Part, ...]
    base_a: str
    base_b: str
    border_limit: float = ACCEPTED_DELTA_E
    outline_mm: float = 2.0
    inside_mm: float = 0.5
    surface: str = "usual"
    metallic: bool = False
    own_printer: bool = False
    sprays: bool = True
    prices: Mapping[str, float] = field(default_factory=dict)
    weights: Mapping[str, float] = field(default_factory=dict)

    def weight(self, term: str) -> float:
        """Return how much a term counts."""
        return self.weights.get(term, TERMS[term])

    @property
    def white_share(self) -> float:
        """The share of wanted white."""
        return fsum(part.share for part in self.parts if part.is_white)

    @property
    def spans_border(self) -> bool:
        """Whether it lies on two paints at all."""
        return self.base_a != self.base_b and all(any(part.over[side] for part in self.parts) for side in (0, 1))


@dataclass(frozen=True)
class Looks:
    """The worst of what decides, over all parts: differences (ΔE 2000), and the names of the parts they belong to."""

    border: float
    contrast: float | None
    shift: float
    worst_shift: float
    colours: Mapping[str, str]
    legible: bool

    def passes(self, limit: float) -> bool:
        """Whether nothing in it is ruled out."""
        return self.border <= limit + TINY and self.legible and self.worst_shift <= FAR_DELTA_E


@dataclass(frozen=True)
class Judged:
    """One way for one marking. ``out`` are the reasons that rule it out, ``terms`` its terms from 0 to 1, ``total`` all of them weighed."""

    way: tables.Row
    layers: int
    looks: Looks
    edge_um: tuple[float, float]
    pieces: int
    wait_h: tuple[float, float]
    cost: float | None
    terms: Mapping[str, float]
    hangs: bool
    out: tuple[Said, ...]
    total: float = 0.0


def ranked(case: Case) -> list[Judged]:
    """Return every way, the best first; those that are ruled out come last, in the order of the table."""
    markings = [(part, Marking(part.colour, case.base_a, case.base_b)) for part in case.parts]
    judged = [_judged(case, way, markings) for way in tables.load("ways")]
    if open_costs(judged):
        # A way without a price would stand as if it cost nothing.
        judged = [replace(each, terms={**each.terms, "cost": 0.0}) for each in judged]
    judged = [replace(each, total=fsum(case.weight(term) * each.terms[term] for term in TERMS)) for each in judged]
    return sorted(judged, key=lambda each: (bool(each.out), 0.0 if each.out else each.total))


def open_costs(judged: Sequence[Judged]) -> list[Judged]:
    """Return the ways that are left and whose cost is not known; cost counts once there are none."""
    return [each for each in judged if not each.out and each.cost is None]


def _judged(case: Case, way: tables.Row, markings: list[tuple[Part, Marking]]) -> Judged:
    layers, low, high = _seen_at_both_ends(case, way, markings)
    edge = tuple(
        getattr(way.edge, end) + (layers * getattr(way.edge_layer, end) if way.edge_layer else 0) for end in ("low", "high")
    )
    pieces = way.pieces * (max(1, len(_counting(case))) if way.paints else 1)
    wait = _wait(way, len(_counting(case)) if way.paints else 1)
    cost = _cost(way, case.prices)
    terms = _terms(case, way, low, sum(edge) / 2, pieces, sum(wait) / 2, cost)
    out = (*_cannot(case, way), *_looks_wrong(case, way, high, layers))
    return Judged(way, layers, low, edge, pieces, wait, cost, terms, not low.passes(case.border_limit), out)


# -- What is seen


def _seen_at_both_ends(case: Case, way: tables.Row, markings: list[tuple[Part, Marking]]) -> tuple[int, Looks, Looks]:
    """Return the fewest layers with which it passes, else the most, and its looks at both ends of the ranges."""
    counts = range(1 if way.most_layers else 0, way.most_layers + 1)
    for layers in counts:
        low = _looks(case, way, markings, layers, "low")
        if low.passes(case.border_limit):
            break
    return layers, low, _looks(case, way, markings, layers, "high")


def _looks(case: Case, way: tables.Row, markings: list[tuple[Part, Marking]], layers: int, end: str) -> Looks:
    power = 0.0
    if way.film != "none":
        power += scattering_power(getattr(tables.row("materials", way.film).contrast_ratio, end))
    if way.white:
        # A coat of the colour itself hides about as much as one of white.
        power += (layers + way.paints) * scattering_power(getattr(tables.row("materials", way.white).contrast_ratio, end))
    border, contrast, shifts, worst_shift, lost, colours = 0.0, None, [], 0.0, [], {}
    for part, marking in markings:
        seen = marking.over_white(power)
        shift = 0.0 if way.paints else _mean(part, seen)
        shifts.append(part.share * shift)
        if part.share < LEAST_SHARE:
            continue
        if part.crosses and seen.border > border:
            border, colours["border"] = seen.border, part.name
        if shift > worst_shift:
            worst_shift, colours["shift"] = shift, part.name
        for over, side, meant in zip(part.over, seen.sides, marking.as_meant, strict=True):
            # What is near the paint by itself is not lost in it.
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


def _mean(part: Part, seen: Seen) -> float:
    shifts = [side.shift for over, side in zip(part.over, seen.sides, strict=True) if over]
    return fsum(shifts) / len(shifts) if shifts else 0.0


# -- What it costs


def _counting(case: Case) -> list[Part]:
    return [part for part in case.parts if part.share >= LEAST_SHARE]


def _wait(way: tables.Row, times: int) -> tuple[float, float]:
    """Return the usual added waits in hours, ``times`` over, from the shorter to the longer end."""
    waits = [tables.row("drying-times", each).usual.hours for each in way.waits] * times
    waits += [way.delivery.hours] if way.delivery else []
    return fsum(low for low, _high in waits), fsum(high for _low, high in waits)


def _cost(way: tables.Row, prices: Mapping[str, float]) -> float | None:
    """Return what one sheet, pot or order of all that the way uses up costs; None where a price is missing."""
    if way.bought:
        uses = ["service"]
    elif way.own_printer:
        uses = ["white_print"]
    else:
        uses = [way.film] * (way.film != "none") + ["white"] * (way.white == "backing-film") + ["paint", "stencil"] * bool(way.sprays)
    if any(each not in prices for each in uses):
        return None
    return fsum(prices[each] for each in uses)


def _terms(
    case: Case, way: tables.Row, looks: Looks, edge: float, pieces: int, wait: float, cost: float | None
) -> dict[str, float]:
    edge *= SURFACES[case.surface] * (ELSEWHERE if way.edge_away else 1.0)
    tolerance = (way.tolerance.low + way.tolerance.high) / 2 if way.tolerance else REGISTER_MM
    half_cost = 2 * case.prices["clear"] if case.prices.get("clear") else HALF_COST
    fine = max(way.outline.high / (way.outline.high + case.outline_mm), way.inside.high / (way.inside.high + case.inside_mm))
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


# -- What rules it out


def _cannot(case: Case, way: tables.Row) -> list[Said]:
    """Return why the way cannot be gone at all, whatever its white hides."""
    told = []
    if case.metallic and not way.paints:
        told.append(said(messages.WAY_NO_METALLIC))
    if way.own_printer and not case.own_printer:
        told.append(said(messages.WAY_NO_PRINTER))
    if way.sprays and not case.sprays:
        told.append(said(messages.WAY_NO_SPRAY))
    if way.for_white and case.white_share < MOSTLY:
        told.append(said(messages.WAY_NOT_FOR_COLOURS, share=f"{100 * case.white_share:.0f}"))
    if way.for_white and case.spans_border:
        told.append(said(messages.WAY_MEETS_BORDER))
    count = len(_counting(case))
    if way.most_colours and count > way.most_colours:
        told.append(said(messages.WAY_MANY_COLOURS, count=count, most=way.most_colours))
    for sentence, has, needs in (
        (messages.WAY_OUTLINE_FINE, case.outline_mm, way.outline.low),
        (messages.WAY_INSIDE_FINE, case.inside_mm, way.inside.low),
    ):
        if has < needs:
            told.append(said(sentence, has_mm=has, needs_mm=needs))
    return told


def _looks_wrong(case: Case, way: tables.Row, high: Looks, layers: int) -> list[Said]:
    """Return why the way is ruled out by what is seen, even where film and white hide as much as they may."""
    told = []
    if high.border > case.border_limit + TINY:
        told.append(said(messages.WAY_BORDER, colour=high.colours["border"], border=f"{high.border:.1f}", limit=f"{case.border_limit:.1f}"))
    if not high.legible:
        told.append(said(messages.WAY_NOT_LEGIBLE, colour=high.colours["contrast"], contrast=f"{high.contrast:.1f}"))
    if high.worst_shift > FAR_DELTA_E:
        told.append(said(messages.WAY_FAR, colour=high.colours["shift"], shift=f"{high.worst_shift:.1f}"))
    return told
