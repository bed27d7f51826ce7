"""The ranked ways for a reader: rows of a table, and the reasoning in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calculators import messages, numbers
from calculators.declare import Message, Prose, measure, message, verdict, words
from calculators.markup import escape
from calculators.tables.rows import Way
from calculators.underlay.case import TERMS, Case, Judged
from calculators.underlay.ways import MATCHED_DELTA_E, open_costs

FIRST, POSSIBLE, HANGS, NEAREST, OUT = "first", "possible", "hangs", "nearest", "out"
PLACES = {
    FIRST: ("pass", "First"),
    POSSIBLE: ("watch", "Possible"),
    HANGS: ("watch", "Depends on your white"),
    NEAREST: ("watch", "Comes nearest"),
    OUT: ("fail", "Ruled out"),
}
#: Two ways are level on terms that differ by less than this.
TELLS = 0.05
#: White along a smaller share of the outline than this is only a few stray pixels.
LEAST_EDGE = 0.01
#: The number of terms named, those with the most weight.
NAMED = 2


@dataclass(frozen=True, kw_only=True)
class WayRow:
    """One way with all its costs."""

    way: str = words("Way")
    place: str = verdict("Place", levels=PLACES)
    layers: int | None = measure("Layers of white", decimals=0)
    border: float = measure("Border (ΔE)", decimals=1)
    contrast: float | None = measure("From the paint (ΔE)", decimals=1)
    shift: float = measure("Mean shift (ΔE)", decimals=1)
    edge: str = words("Edge")
    register: Message | str = words("To line up")
    wait: str = words("Added wait")
    cost: float | None = measure("Cost", decimals=2)
    weighed: float | None = measure("Total", decimals=1)


def way_rows(judged: Sequence[Judged]) -> tuple[WayRow, ...]:
    """Return a row for each way, in order."""
    return tuple(_row(place, each) for place, each in enumerate(judged))


def _row(place: int, each: Judged) -> WayRow:
    return WayRow(
        way=each.way.label,
        place=_place(place, each),
        layers=each.layers if each.way.white else None,
        border=each.looks.border,
        contrast=each.looks.contrast,
        shift=each.looks.shift,
        edge=_edge(each),
        register=_register(each),
        wait=_wait(each),
        cost=each.cost,
        weighed=None if each.out else each.total,
    )


def _place(place: int, each: Judged) -> str:
    return OUT if each.out else NEAREST if each.short else HANGS if each.hangs else FIRST if place == 0 else POSSIBLE


def ways_in_words(case: Case, judged: Sequence[Judged], chosen: str | None) -> Prose:
    """Return every way with the reason for its rank, its needs and its outlines; then the reasoning of the order."""
    first, *others = (*_reasoning(case, judged, chosen), *_weighed(case, judged))
    listed = [(each, _listed_way(case, place, each, chosen)) for place, each in enumerate(judged)]
    left, out = (
        [part for each, parts in listed if bool(each.out) is ruled for part in parts] for ruled in (False, True)
    )
    parts: list[str | Message] = ['<div class="dw-ways-all"><p>', first, '</p><ol class="dw-ways">', *left, "</ol>"]
    if out:
        count = messages.plural(sum(bool(each.out) for each in judged), "way")
        parts += [
            f"<details><summary>{escape(messages.WAYS_OUT.format(ways=count))}</summary>",
            '<ol class="dw-ways">',
            *out,
            "</ol></details>",
        ]
    parts += [f"<details><summary>{escape(messages.WAY_ORDER)}</summary>", *_paragraphs(others), "</details></div>"]
    return Prose(tuple(parts))


def _listed_way(case: Case, place: int, each: Judged, chosen: str | None) -> list[str | Message]:
    """Return a way as a list item: its name and place, one sentence, and the rest folded."""
    level, title = PLACES[_place(place, each)]
    why = _why(case, each)
    facts = {
        messages.WAY_HOW: each.way.how,
        messages.WAY_SPOILS: each.way.spoils,
        messages.WAY_TOOLS: "; ".join(each.way.tools) or messages.NO_TOOLS,
        messages.WAY_NEEDS: " ".join(each.way.outlines),
    }
    rows = "".join(f"<dt>{escape(name)}</dt><dd>{escape(words)}</dd>" for name, words in facts.items())
    return [
        (
            f'<li data-level="{level}"><p class="dw-way-name">{escape(each.way.label)}'
            f' <span class="dw-way-place" data-level="{level}">{escape(title)}</span></p><p>'
        ),
        why[0],
        f"</p><details><summary>{escape(messages.WAY_MORE)}</summary>",
        *_paragraphs(why[1:]),
        f"<dl>{rows}</dl>{_choosing(each, chosen)}</details></li>",
    ]


def _paragraphs(sentences: Sequence[Message]) -> list[str | Message]:
    return [part for each in sentences for part in ("<p>", each, "</p>")]


def _choosing(each: Judged, chosen: str | None) -> str:
    """Return the button that chooses a way; it stays pressed for the chosen one."""
    label, pressed = (messages.WAY_IS_CHOSEN, "true") if each.way.id == chosen else (messages.WAY_CHOOSE, "false")
    return (
        f'<button type="button" data-chooses="way" data-value="{escape(each.way.id)}" aria-pressed="{pressed}"'
        f' aria-label="{escape(f"{label}: {each.way.label}")}">{escape(label)}</button>'
    )


def _why(case: Case, each: Judged) -> list[Message]:
    """Return the reasons that rule a way out, or the strongest ones against it."""
    if each.out:
        return [against.sentence for against in each.out]
    reasons = []
    reasons += [against.sentence for against in each.short]
    if each.hangs and not each.short:
        reasons.append(message(messages.WAY_HANGS))
    if each.way.for_white:
        reasons.append(message(messages.WAY_MATCH, match=f"{MATCHED_DELTA_E:.0f}"))
    if each.way.own_white:
        reasons.append(message(messages.WAY_UNPAINTED))
    weighed = {
        name: each.terms[name] * case.weight(name) for name in TERMS if each.terms[name] >= TELLS and case.weight(name)
    }
    worst = sorted(weighed, key=lambda name: -weighed[name])
    if worst:
        reasons.append(message(messages.WAY_COSTS, terms=_listed([_term(name, each) for name in worst[:NAMED]])))
    else:
        reasons.append(message(messages.WAY_NOTHING_AGAINST))
    return reasons


def _listed(parts: Sequence[Message]) -> Message:
    """Return one part, or several in a row."""
    first, *others = parts
    for other in others:
        first = message(messages.WAY_AND, one=first, other=other)
    return first


def _reasoning(case: Case, judged: Sequence[Judged], chosen: str | None) -> list[Message]:
    """Return why the first way is first, and the needs of the chosen one."""
    left = [each for each in judged if not each.out]
    reasons = [
        message(messages.WAY_PATCH, colour=part.name, difference=f"{case.from_paint(part):.1f}") for part in case.patch
    ]
    if left[0].thickened:
        reasons.append(message(messages.WAY_THICKENED, wide_mm=left[0].thickened))
    reasons += _first(case, left)
    if chosen:
        each = next(each for each in judged if each.way.id == chosen)
        if each.out:
            reasons += [message(messages.WAY_CHOSEN_OUT, way=each.way.label), *_why(case, each)]
        else:
            reasons.append(message(messages.WAY_CHOSEN, way=each.way.label, how=each.way.how))
        reasons += _outlines(case, each.way)
    else:
        reasons += _outlines(case, left[0].way)
    return reasons


def _first(case: Case, left: list[Judged]) -> list[Message]:
    if left[0].short:
        return [
            message(messages.WAY_NEAREST, first=left[0].way.label),
            *(against.sentence for against in left[0].short),
        ]
    if len(left) == 1:
        return [message(messages.WAY_ALONE, first=left[0].way.label)]
    return [_compared(case, left)]


def _compared(case: Case, left: list[Judged]) -> Message:
    first, second = left[:2]
    weighed = {name: case.weight(name) * (second.terms[name] - first.terms[name]) for name in TERMS}
    gains = [name for name in sorted(weighed, key=lambda name: -weighed[name]) if weighed[name] >= TELLS][:NAMED]
    losses = [name for name in sorted(weighed, key=weighed.__getitem__) if weighed[name] <= -TELLS][:NAMED]
    labels = {"first": first.way.label, "second": second.way.label}
    if not gains:
        return message(messages.WAY_LEVEL, **labels)
    parts = {"gains": _against(gains, first, second)}
    if losses:
        return message(messages.WAY_BETTER_LOSES, **labels, **parts, losses=_against(losses, first, second))
    return message(messages.WAY_BETTER, **labels, **parts)


def _against(names: list[str], first: Judged, second: Judged) -> Message:
    """Return the named terms in words, each with both values."""
    parts = []
    for name in names:
        values = _value(name, first), _value(name, second)
        parts.append(
            message(
                messages.WAY_TERMS[name],
                value=message(messages.WAY_INSTEAD, value=values[0], other=values[1]) if all(values) else values[0],
            )
        )
    return _listed(parts)


def _outlines(case: Case, way: Way) -> list[Message]:
    needs = messages.WAY_ONE_OUTLINE if len(way.outlines) == 1 else messages.WAY_OUTLINES
    reasons = [message(needs, outlines=" ".join(way.outlines))]
    if way.choke:
        reasons.append(message(messages.WAY_CHOKE, low_mm=way.choke.low, high_mm=way.choke.high))
        if case.white_edge >= LEAST_EDGE:
            reasons.append(message(messages.WAY_CHOKE_WHITE, share=f"{100 * case.white_edge:.0f}"))
        elif case.white_share:
            reasons.append(message(messages.WAY_CHOKE_ALL))
    return reasons


def _weighed(case: Case, judged: Sequence[Judged]) -> list[Message]:
    """Return the messages on the weights, and on whether cost is among them."""
    reasons = []
    if case.prices and (left_open := open_costs(judged)):
        reasons.append(message(messages.WAY_COSTS_OPEN, ways=", ".join(f"“{each.way.label}”" for each in left_open)))
    weights = ", ".join(f"{messages.WEIGHT_NAMES[term]} {numbers.plain(case.weight(term))}" for term in TERMS)
    return [*reasons, message(messages.WEIGHTS_ARE, weights=weights)]


def _term(name: str, each: Judged) -> Message:
    """Return a term in words, with its value."""
    return message(messages.WAY_TERMS[name], value=_value(name, each))


def _value(name: str, each: Judged) -> Message | str:
    match name:
        case "border":
            return f"ΔE {each.looks.border:.1f}"
        case "contrast":
            return "" if each.looks.contrast is None else f"ΔE {each.looks.contrast:.1f}"
        case "shift":
            return f"ΔE {each.looks.shift:.1f}"
        case "edge":
            return _edge(each)
        case "register":
            return _register(each)
        case "wait":
            return _wait(each)
        case "cost":
            return "" if each.cost is None else numbers.significant(each.cost)
    limits = [needs.low for needs in (each.way.outline, each.way.inside) if needs]
    return message(messages.DETAIL_DOWN_TO, low_mm=max(limits)) if limits else ""


def _edge(each: Judged) -> str:
    low, high = each.edge_um
    return messages.EDGE_UM.format(low=numbers.plain(low), high=numbers.plain(high))


def _register(each: Judged) -> Message | str:
    if not each.pieces:
        return messages.NO_PIECES
    pieces = messages.ONE_PIECE if each.pieces == 1 else messages.PIECES.format(count=each.pieces)
    tolerance = each.way.tolerance
    return (
        message(messages.PIECES_WITHIN, pieces=pieces, low_mm=tolerance.low, high_mm=tolerance.high)
        if tolerance
        else pieces
    )


def _wait(each: Judged) -> str:
    low, high = each.wait_h
    if not high:
        return messages.NO_WAIT
    for sentence, hours in ((messages.DAYS_WAIT, 24.0), (messages.HOURS_WAIT, 1.0)):
        if low >= hours:
            return sentence.format(low=numbers.significant(low / hours, 2), high=numbers.significant(high / hours, 2))
    return messages.MINUTES_WAIT.format(low=numbers.significant(60 * low, 2), high=numbers.significant(60 * high, 2))
