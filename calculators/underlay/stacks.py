"""A whole marking on its paints: the look of each colour under one stack of film and white, and pictures of it."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass
from functools import cached_property

from calculators import messages, tables
from calculators.cache import PICTURES
from calculators.colour.seen import Marking, Seen, Side
from calculators.colour.white_layers import scattering_power
from calculators.declare import Message, Progress, Scene, Scenes, advice, message
from calculators.pixels.rendering import Ground, rendered
from calculators.underlay.case import LEAST_SHARE, Part
from calculators.underlay.fineness import MAY_BE_LOST, TOO_FINE
from calculators.underlay.judging import (
    ACCEPTED_DELTA_E,
    FAR_DELTA_E,
    LOOKED_AT,
    MOST_LAYERS,
    TINY,
    counted,
    hardly_legible,
)
from calculators.underlay.parts import Artwork

PASSES, SHIFTS, FAILS, NOTHING = "passes", "shifts", "fails", "nothing"
LEVELS = {
    PASSES: ("pass", "It looks as in the artwork"),
    SHIFTS: ("watch", "It works, but colours shift"),
    FAILS: ("fail", "It does not work like this"),
    TOO_FINE: ("fail", "Too fine to print at this size"),
    MAY_BE_LOST: ("watch", "Its finest parts may be lost"),
    NOTHING: ("watch", "You would see nothing of it"),
}
#: Pictures of an artwork up to this many pixels are cached: six of them take 24 MB.
MOST_STORED_PX = 1_000_000
#: The most colours named for each trouble, the largest first, and the most troubles in all.
MOST_OF_A_KIND, MOST_REASONS = 2, 4


@dataclass(frozen=True)
class Stack:
    """The layers between ink and paint: ids from the table of materials, and the number of white layers."""

    film: str
    white: str
    layers: int

    def power(self, end: str) -> float:
        """Return its scattering power at the ``low`` or ``high`` end of its ranges."""
        film, white = (
            scattering_power(getattr(tables.row("materials", each).contrast_ratio, end))
            for each in (self.film, self.white)
        )
        return film + self.layers * white

    @property
    def label(self) -> str:
        """The stack in a few words."""
        if not self.layers:
            return messages.SCENE_BARE if self.film == "clear" else messages.SCENE_WHITE_FILM
        film = tables.row("materials", self.film).label
        return messages.SCENE_LAYERS.format(film=film, layers=counted(self.layers))


@dataclass(frozen=True)
class PartSeen:
    """One colour of the marking under a stack. ``lost`` says for each paint whether it is hard to see there."""

    label: int
    part: Part
    seen: Seen
    lost: tuple[bool, bool]
    limit: float

    @property
    def shift(self) -> float:
        """The larger of its shifts over the paints that it lies on."""
        return max(
            (side.shift for over, side in zip(self.part.over, self.seen.sides, strict=True) if over), default=0.0
        )

    @property
    def contrast(self) -> float:
        """The smaller of its differences from the paints that it lies on."""
        return min(
            (side.contrast for over, side in zip(self.part.over, self.seen.sides, strict=True) if over), default=0.0
        )

    @property
    def shows_border(self) -> bool:
        """Whether the border shows through it."""
        return self.part.crosses and self.seen.border > self.limit + TINY

    @property
    def verdict(self) -> str:
        """The verdict on this colour."""
        if self.shows_border or any(self.lost) or self.shift > FAR_DELTA_E:
            return FAILS
        return SHIFTS if self.shift > ACCEPTED_DELTA_E else PASSES


@dataclass(frozen=True)
class Looks:
    """All colours of the marking under one stack."""

    parts: tuple[PartSeen, ...]

    @property
    def verdict(self) -> str:
        """The worst of the verdicts of the colours that decide."""
        verdicts = {each.verdict for each in self.deciding}
        return next(each for each in (FAILS, SHIFTS, PASSES) if each in verdicts)

    @property
    def deciding(self) -> tuple[PartSeen, ...]:
        """The colours with a share large enough to decide, or all if none has."""
        return tuple(each for each in self.parts if each.part.share >= LEAST_SHARE) or self.parts


@dataclass(frozen=True)
class Whole:
    """A marking as parts (label to part) on two paints, with the greatest accepted difference across their border."""

    parts: Mapping[int, Part]
    base_a: str
    base_b: str
    limit: float

    @property
    def one_paint(self) -> bool:
        """Whether both paints are the same."""
        return self.base_a == self.base_b

    @cached_property
    def _markings(self) -> dict[int, Marking]:
        return {label: Marking(part.colour, self.base_a, self.base_b) for label, part in self.parts.items()}

    @cached_property
    def _meant(self) -> dict[int, tuple[Side, Side]]:
        return {label: marking.as_meant for label, marking in self._markings.items()}

    def under(self, stack: Stack, end: str) -> Looks:
        """Return the look under ``stack`` at one end of its ranges."""
        return self._over(stack.power(end))

    def layers_needed(self, stack: Stack) -> dict[int, int | None]:
        """Return for each label the fewest layers from which it works, with any number above; None if too many.

        At the low end.
        """
        counts = [self.under(Stack(stack.film, stack.white, count), "low") for count in range(LOOKED_AT + 1)]
        needed = dict.fromkeys(self.parts, 0)
        for count, looks in enumerate(counts):
            needed.update({each.label: count + 1 for each in looks.parts if each.verdict == FAILS})
        return {label: count if count <= MOST_LAYERS else None for label, count in needed.items()}

    def _over(self, power: float) -> Looks:
        return Looks(tuple(self._seen(label, part, power) for label, part in self.parts.items()))

    def _seen(self, label: int, part: Part, power: float) -> PartSeen:
        seen = self._markings[label].over_white(power)
        # A colour that is near the paint anyway is not lost in it.
        first, second = (
            over and hardly_legible(side) and not hardly_legible(meant)
            for over, meant, side in zip(part.over, self._meant[label], seen.sides, strict=True)
        )
        return PartSeen(label, part, seen, (first, second), self.limit)


# -- How it looks


def scenes_of(artwork: Artwork, whole: Whole, stack: Stack, needed: int | None) -> Generator[Progress, None, Scenes]:
    """Yield ``Progress``, and return the marking bare, on white film, and over layers of white, opened on the chosen
    one. With no layers chosen, the last scene has as many as are ``needed``.
    """
    layers = stack.layers or needed or 1
    every = [Stack("clear", stack.white, 0), Stack("white", stack.white, 0), Stack(stack.film, stack.white, layers)]
    grounds = [Ground(paint, each.power("low")) for each in every for paint in (whole.base_a, whole.base_b)]
    pictures = yield from _rendered(artwork, tuple(grounds))
    scenes = tuple(
        Scene(
            each.label, (pictures[2 * place], pictures[2 * place + 1]), _marks(artwork, whole.under(each, "low"), each)
        )
        for place, each in enumerate(every)
    )
    return Scenes(
        artwork.picture.width, artwork.picture.height, (whole.base_a, whole.base_b), scenes, every.index(stack)
    )


def _rendered(artwork: Artwork, grounds: tuple[Ground, ...]) -> Generator[Progress, None, list[bytes]]:
    """Return the pictures; for a small artwork, reuse those that have not changed."""
    picture = artwork.picture
    source = picture.source if picture.width * picture.height <= MOST_STORED_PX else ""
    return (
        yield from PICTURES.worked_out(
            source, ("rendered", artwork.found_by, grounds), lambda: rendered(picture, artwork.covered, grounds)
        )
    )


def _marks(artwork: Artwork, looks: Looks, stack: Stack) -> dict[str, str]:
    """Return what to mark: white that does not print, colours lost in either paint, colours that show the border."""
    is_bare = stack.film == "clear" and not stack.layers
    bare = {each.label for each in looks.parts if each.part.is_white and is_bare}
    chosen = {
        "bare": bare,
        "lost-a": {each.label for each in looks.parts if each.lost[0]} - bare,
        "lost-b": {each.label for each in looks.parts if each.lost[1]} - bare,
        "border": {each.label for each in looks.parts if each.shows_border} - bare,
    }
    return {kind: artwork.path(labels) if labels else "" for kind, labels in chosen.items()}


# -- In sentences


def reasons_for(
    whole: Whole, stack: Stack, low: Looks, high: Looks, needed: int | None, *, printable: bool
) -> list[Message]:
    """Return the reasons for the verdict with the deciding colours; no praise for a marking that cannot be printed."""
    reasons = [*_no_white(whole, stack), *_troubles(whole, stack, low)]
    if low.verdict == PASSES and printable:
        reasons.append(message(messages.ALL_AS_MEANT, within=f"{ACCEPTED_DELTA_E:.1f}"))
    if low.verdict == FAILS:
        if needed is None:
            reasons.append(advice(messages.NO_LAYERS_FOR_ALL, layers=counted(MOST_LAYERS)))
        else:
            reasons.append(advice(messages.LAYERS_FOR_ALL, layers=counted(needed)))
    reasons += _white(whole)
    if low.verdict != high.verdict and printable:
        reasons.append(message(messages.ENDS_OF_WHITE_DIFFER, verdict=LEVELS[high.verdict][1].lower()))
    return reasons


def _no_white(whole: Whole, stack: Stack) -> list[Message]:
    """Return the message that wanted white is missing, if it is."""
    white = next((part for part in whole.parts.values() if part.is_white), None)
    if white and stack.film == "clear" and not stack.layers:
        return [message(messages.PART_NO_WHITE, share=_percent(white))]
    return []


def _white(whole: Whole) -> list[Message]:
    """Return the message that all or none of the marking is wanted white; an empty list otherwise."""
    if not any(part.is_white for part in whole.parts.values()):
        return [message(messages.NO_WHITE_IN_IT)]
    return [message(messages.ALL_WHITE)] if len(whole.parts) == 1 else []


def _troubles(whole: Whole, stack: Stack, looks: Looks) -> list[Message]:
    reasons = []
    bare_white = stack.film == "clear" and not stack.layers
    parts = sorted(
        (each for each in looks.deciding if not (each.part.is_white and bare_white)), key=lambda each: -each.part.share
    )
    reasons += [
        message(
            messages.PART_BORDER, colour=each.part.name, share=_percent(each.part), border=f"{each.seen.border:.1f}"
        )
        for each in [each for each in parts if each.shows_border][:MOST_OF_A_KIND]
    ]
    places = (messages.THE_PAINT,) * 2 if whole.one_paint else (messages.FIRST_PAINT, messages.SECOND_PAINT)
    lost = [(each, side) for each in parts for side in (0, 1) if each.lost[side] and (side == 0 or not whole.one_paint)]
    reasons += [
        message(
            messages.PART_LOST,
            colour=each.part.name,
            share=_percent(each.part),
            paint=places[side],
            contrast=f"{each.seen.sides[side].contrast:.1f}",
        )
        for each, side in lost[:MOST_OF_A_KIND]
    ]
    far = [each for each in parts if each.shift > FAR_DELTA_E]
    reasons += [
        message(
            messages.PART_FAR,
            colour=each.part.name,
            share=_percent(each.part),
            shift=f"{each.shift:.1f}",
            paint=places[_worse(each)],
        )
        for each in far[:MOST_OF_A_KIND]
    ]
    if not reasons and (shifting := [each for each in parts if each.verdict == SHIFTS]):
        worst = max(shifting, key=lambda each: each.shift)
        reasons.append(
            message(
                messages.PART_SHIFTS, colour=worst.part.name, share=_percent(worst.part), shift=f"{worst.shift:.1f}"
            )
        )
    return reasons[:MOST_REASONS]


def _worse(each: PartSeen) -> int:
    first, second = (side.shift if over else 0.0 for over, side in zip(each.part.over, each.seen.sides, strict=True))
    return int(second > first)


def _percent(part: Part) -> str:
    return f"{100 * part.share:.0f}" if part.share >= 0.01 else f"{100 * part.share:.1g}"
