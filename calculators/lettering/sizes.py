"""The sizes of lettering in millimetres, as a rule and the reader's own measures give them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from fractions import Fraction
from typing import Any

from calculators.lettering import sentences
from calculators.tables.declaration import LENGTHS, SHARES, Fact
from calculators.tables.lettering_rows import LetteringRule, characters_of
from calculators.values import Message, Problem, message

#: What is drawn where neither a rule nor the reader gives it, as shares of the height (estimates): width, stroke, gap.
USUAL_WIDTH, USUAL_STROKE, USUAL_GAP = Fraction(2, 3), Fraction(1, 6), Fraction(1, 6)
#: How much wider than a gap the gap between words is where it is open, as a share of the width (estimate).
USUAL_BLANK = Fraction(3, 5)
#: The gap between two lines where it is open, as a share of the height (estimate).
USUAL_LINE_GAP = Fraction(1, 3)
#: A hyphen and a slash as shares of the width, where no rule gives them (estimates).
HYPHEN_SHARE, SLASH_SHARE = Fraction(3, 4), Fraction(3, 4)
#: The figure 1 as a share of the width where no rule makes it a bare stroke, which would be taken for an I (estimate).
ONE_SHARE = Fraction(17, 25)
#: Letters narrower or lower than so many strokes have no room between them.
FEWEST_ACROSS, FEWEST_DOWN = 3, 5


class Unfit(ValueError):
    """Sizes that no letter can be drawn with; ``problem`` is the sentence for the reader."""

    def __init__(self, problem: Message) -> None:
        super().__init__(problem.sentence)
        self.problem = problem

    def beside(self, field: str) -> Problem:
        """Return the sentence as a problem of a field: what follows its first sentence is the hint."""
        text, _, hint = self.problem.sentence.removesuffix(".").partition(". ")
        values = self.problem.values
        return Problem(field, text.format(**values), hint.format(**values) + ("." if hint else ""))


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """Sizes of the characters at full size, in mm; ``narrow`` and ``wide`` are those of the characters named beside."""

    height: float
    width: float
    stroke: float
    gap: float
    group_gap: float
    line_gap: float
    hyphen: float
    narrow: float
    narrow_characters: str = "1I"
    wide: float
    wide_characters: str = "MW"

    def width_of(self, character: str) -> float:
        """Return how wide a character's box is."""
        if character in self.narrow_characters:
            return self.narrow
        if character in self.wide_characters:
            return self.wide
        shares = {
            "-": self.hyphen,
            ".": self.stroke,
            "/": float(SLASH_SHARE * Fraction(self.width)),
            "1": float(ONE_SHARE * Fraction(self.width)),
        }
        return shares.get(character, self.width)

    def scaled(self, factor: float) -> Sizes:
        """Return all sizes multiplied by ``factor``."""
        lengths = {each.name: getattr(self, each.name) for each in fields(self)}
        scaled: dict[str, Any] = {name: each * factor for name, each in lengths.items() if isinstance(each, float)}
        return replace(self, **scaled)

    def stretched(self, factor: float) -> Sizes:
        """Return widths and gaps multiplied by ``factor``, strokes and height as they are."""
        names = ("width", "gap", "group_gap", "hyphen", "wide")
        changed: dict[str, Any] = {name: getattr(self, name) * factor for name in names}
        return replace(self, **changed, narrow=max(self.stroke, self.narrow * factor))


@dataclass(frozen=True)
class Chosen:
    """Sizes that the reader chose or measured, in mm at full size; None for those of the rule."""

    height: float | None = None
    width: float | None = None
    wide: float | None = None
    stroke: float | None = None
    gap: float | None = None


def sizes_of(rule: LetteringRule, chosen: Chosen = Chosen()) -> Sizes:
    """Return the sizes by ``rule`` and what was ``chosen``. Raises Unfit."""
    height = _taken(chosen.height, rule.height, {})
    if height is None:
        raise Unfit(message(sentences.SIZE_MISSING, size=sentences.SIZES["height"]))
    wholes = {"height": height}
    width = _taken(chosen.width, rule.width, wholes) or height * USUAL_WIDTH
    wholes["width"] = width
    stroke = _taken(chosen.stroke, rule.stroke, wholes) or height * USUAL_STROKE
    gap = _taken(chosen.gap, rule.gap, wholes)
    gap = height * USUAL_GAP if gap is None else gap
    group_gap, line_gap = (_taken(None, each, wholes) for each in (rule.group_gap, rule.line_gap))
    made = Sizes(
        height=float(height),
        width=float(width),
        stroke=float(stroke),
        gap=float(gap),
        group_gap=float(gap + width * USUAL_BLANK if group_gap is None else group_gap),
        line_gap=float(height * USUAL_LINE_GAP if line_gap is None else line_gap),
        hyphen=float(_taken(None, rule.hyphen, wholes) or width * HYPHEN_SHARE),
        narrow=float(_taken(None, rule.narrow, wholes) or stroke),
        narrow_characters=rule.narrow_characters if rule.width else "I",
        wide=float(_taken(chosen.wide, rule.wide, wholes) or width),
        wide_characters=rule.wide_characters or "MW",
    )
    check(made)
    return made


def check(sizes: Sizes) -> None:
    """Raise Unfit if letters of these sizes would close up."""
    if sizes.narrow < sizes.stroke * (1 - 1e-9):
        raise Unfit(message(sentences.NARROWER_THAN_STROKE, stroke_mm=sizes.stroke))
    least = min(sizes.width, sizes.wide, sizes.hyphen * FEWEST_ACROSS)
    most = min(least / FEWEST_ACROSS, sizes.height / FEWEST_DOWN)
    if sizes.stroke > most * (1 + 1e-9):
        parts = {"stroke_mm": sizes.stroke, "width_mm": least, "height_mm": sizes.height, "most_mm": most}
        raise Unfit(message(sentences.STROKE_TOO_WIDE, **parts))


def departures(rule: LetteringRule, sizes: Sizes) -> list[Message]:
    """Return how ``sizes`` depart from what ``rule`` asks for, a sentence each."""
    found: list[Message] = []
    wholes = {"height": Fraction(sizes.height), "width": Fraction(sizes.width)}
    kinds: Mapping[str, tuple[Fact | None, str]] = {
        "height": (rule.height, rule.height_is),
        "width": (rule.width, "exact"),
        "wide": (rule.wide, "most"),
        "stroke": (rule.stroke, "exact"),
        "gap": (rule.gap, rule.gap_is),
    }
    sentence_of = {
        "exact": sentences.OTHER_THAN_RULE,
        "about": sentences.OTHER_THAN_RULE,
        "least": sentences.LESS_THAN_RULE,
        "most": sentences.MORE_THAN_RULE,
    }
    for name, (fact, kind) in kinds.items():
        asked = _taken(None, fact, wholes)
        if asked is None:
            continue
        off = getattr(sizes, name) - float(asked)
        slack = 1e-9 * sizes.height + (0.05 * float(asked) if kind == "about" else 0.0)
        if abs(off) <= slack or (kind == "least" and off > 0) or (kind == "most" and off < 0):
            continue
        parts = {"rule_mm": float(asked), "chosen_mm": getattr(sizes, name)}
        found.append(message(sentence_of[kind], size=sentences.SIZES[name], **parts))
    return found


def characters(rule: LetteringRule) -> str:
    """Return the characters that a text of the rule may have."""
    return characters_of(rule.characters)


def _taken(chosen: float | None, fact: Fact | None, wholes: Mapping[str, Fraction]) -> Fraction | None:
    """Return a size in mm: the chosen one, or else that of the rule; None if both are open."""
    if chosen is not None:
        return Fraction(chosen)
    if fact is None:
        return None
    value = Fraction(str(fact.value))
    if fact.unit in SHARES:
        whole, parts, _one, _many = SHARES[fact.unit]
        return value * wholes[whole] / parts
    return value * Fraction(str(LENGTHS[fact.unit]))
