"""A marking to judge: its colours, the paints beneath it, and the reader's equipment and weights."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import fsum

from calculators import messages
from calculators.colour.difference import delta_e
from calculators.colour.srgb import Triple, lab_of, light_of
from calculators.declare import Message
from calculators.tables.rows import Way
from calculators.underlay.judging import ACCEPTED_DELTA_E, FAR_DELTA_E, TINY

#: The terms, each with its default weight.
TERMS = {"border": 5, "contrast": 4, "shift": 3, "edge": 3, "register": 2, "wait": 3, "cost": 1, "detail": 3}
#: A colour with a smaller share of the marking than the first does not decide; below the
#: second, neither does its loss in the paint.
LEAST_SHARE, LOST_SHARE = 0.01, 1 / 3
#: The way that supplies only white suits markings with at least this share of white.
MOSTLY = 0.5
#: A colour this near to the paint beneath it stands for that paint (ΔE 2000); a field of it
#: round letters has at least this share (estimates).
BODY_DELTA_E, PATCH_SHARE = 10.0, 0.3
#: Paint this near to pure white serves as a white base for colours (ΔE 2000, estimate).
WHITE_PAINT_DELTA_E = 6.0
_PURE_WHITE = lab_of((1.0, 1.0, 1.0))


@dataclass(frozen=True)
class Part:
    """One colour of the marking: #rrggbb, its share of the whole, and whether it
    lies over the first and the second paint.
    """

    colour: str
    share: float
    over: tuple[bool, bool] = (True, True)
    is_white: bool = False

    @property
    def name(self) -> str:
        """The name for a reader."""
        return messages.WANTED_WHITE if self.is_white else self.colour

    @property
    def crosses(self) -> bool:
        """Whether the border of the two paints runs through it."""
        return all(self.over)


@dataclass(frozen=True, kw_only=True)
class Case:
    """A marking, the paints beneath it, and the reader's equipment and weights.

    Narrowest parts in mm, prices in any money.

    ``white_edge`` is the share of the outline along which wanted white itself meets the paint.
    """

    parts: tuple[Part, ...]
    base_a: str
    base_b: str
    border_limit: float = ACCEPTED_DELTA_E
    outline_mm: float = 2.0
    inside_mm: float = 0.5
    white_edge: float = 0.0
    surface: str = "usual"
    metallic: bool = False
    own_printer: bool = False
    sprays: bool = True
    painted: bool = False
    prices: Mapping[str, float] = field(default_factory=dict)
    weights: Mapping[str, float] = field(default_factory=dict)

    def weight(self, term: str) -> float:
        """Return the weight of a term."""
        return self.weights.get(term, TERMS[term])

    @property
    def white_share(self) -> float:
        """The share of wanted white."""
        return fsum(part.share for part in self.parts if part.is_white)

    @property
    def counting(self) -> list[Part]:
        """The parts with a share that counts."""
        return [part for part in self.parts if part.share >= LEAST_SHARE]

    @property
    def has_colours(self) -> bool:
        """Whether any colour besides white counts."""
        return any(not part.is_white for part in self.counting)

    @property
    def spans_border(self) -> bool:
        """Whether it lies on two paints at all."""
        return self.base_a != self.base_b and all(any(part.over[side] for part in self.parts) for side in (0, 1))

    @cached_property
    def patch(self) -> tuple[Part, ...]:
        """The parts that form a field of body colour round white within the artwork; empty without such a field."""
        near = [part for part in self.counting if not part.is_white and self.from_paint(part) <= BODY_DELTA_E]
        share, whole = fsum(part.share for part in near), fsum(part.share for part in self.parts)
        if not self.white_share or share < PATCH_SHARE * whole:
            return ()
        return tuple(near) if self.white_share >= MOSTLY * (whole - share) else ()

    def from_paint(self, part: Part) -> float:
        """Return the difference (ΔE 2000) of a colour from the paint beneath it, the larger one of two paints."""
        colour = _lab(part.colour)
        return max(
            (
                delta_e(colour, _lab(base))
                for over, base in zip(part.over, (self.base_a, self.base_b), strict=True)
                if over
            ),
            default=0.0,
        )

    @property
    def needed_mm(self) -> float:
        """The narrowest part that needs white beneath: that of the letters, if the field round them is body colour."""
        return min(self.outline_mm, self.inside_mm) if self.patch else self.outline_mm

    @property
    def white_paint(self) -> str | None:
        """The model's white paint, if one of its two is white."""
        if self.base_a == self.base_b:
            return None
        found = sorted((delta_e(_lab(base), _PURE_WHITE), base) for base in (self.base_a, self.base_b))
        return found[0][1] if found[0][0] <= WHITE_PAINT_DELTA_E else None

    @property
    def on_colour(self) -> bool:
        """Whether any part lies on a paint other than the white one."""
        return any(
            over and base != self.white_paint
            for part in self.parts
            for over, base in zip(part.over, (self.base_a, self.base_b), strict=True)
        )


@dataclass(frozen=True)
class Looks:
    """The worst deciding values over all parts: differences (ΔE 2000), and the names of their parts."""

    border: float
    contrast: float | None
    shift: float
    worst_shift: float
    colours: Mapping[str, str]
    legible: bool

    def passes(self, limit: float) -> bool:
        """Whether it rules nothing out."""
        return self.border <= limit + TINY and self.legible and self.worst_shift <= FAR_DELTA_E


@dataclass(frozen=True)
class Against:
    """Why a way is ruled out: a sentence, its gravity (1 is grave) and, if only width is missing,
    the width in mm that the narrowest parts need.
    """

    sentence: Message
    grave: float
    needs_mm: float | None = None


@dataclass(frozen=True)
class Judged:
    """One way for one marking.

    ``out`` holds the reasons that rule it out; ``short`` those that would, if another way were left. ``terms`` run from
    0 to 1, and ``total`` is their weighted sum. With ``thickened`` the narrowest parts count as that wide, in mm.
    """

    way: Way
    layers: int
    looks: Looks
    edge_um: tuple[float, float]
    pieces: int
    wait_h: tuple[float, float]
    cost: float | None
    terms: Mapping[str, float]
    hangs: bool
    out: tuple[Against, ...]
    short: tuple[Against, ...] = ()
    thickened: float | None = None
    total: float = 0.0


def _lab(colour: str) -> Triple:
    return lab_of(light_of(colour))
