"""Guess the meaning of a white area from its surroundings.

Background: it reaches the border of a picture whose ground is white. A hole: what encloses it is a stroke, that is, it
looks from within as it does from the ground outside, side by side; so do a ring, a letter, and a letter with an outline
or a shadow. Anything else that colour encloses was drawn white on purpose, so white is wanted there. Thresholds were
set on one half of the pictures in tests/corpus.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from calculators import messages
from calculators.colour.difference import delta_e
from calculators.pixels.border import border_of, has_outside, is_narrow
from calculators.pixels.colour_table import Rgb, lab
from calculators.pixels.connected import Area
from calculators.pixels.lines import Box, lines
from calculators.pixels.white_sides import BARE_FROM, Sides, Surroundings, alike, filled, main_colour, thickness

BACKGROUND, WANTED, HOLE = "background", "wanted", "hole"
#: Values in the plane: white and clear; those below are the labels of colours.
WHITE, CLEAR = BARE_FROM, 255

#: A white ground makes more than this share of the border, or this many corners of the picture.
GROUND_BORDER, GROUND_CORNERS = 0.5, 3
#: Ringed by one colour: at least this share of the sides round it is of that colour.
ONE_COLOUR = 0.9
#: The least match of a stroke's inside and outside view.
ALIKE = 0.6
#: The most counters of a letter; a shape that encloses more is a panel.
MOST_COUNTERS = 2
#: The inside of a letter fills at least this share of its convex hull; below the second it is surely no inside of one.
ROUNDED, BRANCHED = 0.88, 0.75
#: A stroke thinner than this share of what it encloses is the outline of a white
#: shape; a thicker one than this is a panel.
THIN, THICK = 0.055, 1.2
#: The greatest ratio in thickness of the outlines inside and round a letter.
SAME_LINE = 2.2
#: The least number of pieces of similar height in a row of lettering, and the least
#: height of a letter as a share of its object.
LETTERS, LETTER_HIGH = 3, 0.3
#: An object on white has at least this many pixels, and this share of the white's; less is noise.
LEAST_HELD, HELD_SHARE = 4, 0.01
#: A colour with this share of an object is a fill if the ground touches at most this part of that share.
FILL_SHARE, FILL_TOUCHES = 0.1, 0.25
#: A colour with this share is a shadow, or a fill, if it is this far from another (delta E 2000).
SECOND_SHARE, SECOND_FAR = 0.15, 18.0


@dataclass(frozen=True)
class Guess:
    """The guessed meaning of an area, the reason, and the box of its letter, or its own."""

    meaning: str
    why: str
    box: Box


def guessed(
    found: Sequence[Area], wanted: Sequence[Area], plane: bytes, width: int, height: int, colours: Sequence[Rgb] = ()
) -> list[Guess]:
    """Return the guess for each area of ``wanted``, which are among all those ``found`` in ``plane``.

    ``colours`` are those that the labels in the plane stand for, where it has labels.
    """
    guessing = _Guessing(found, wanted, plane, width, height, colours)
    return [guessing.guess(each) for each in wanted]


class _Guessing:
    def __init__(
        self,
        found: Sequence[Area],
        wanted: Sequence[Area],
        plane: bytes,
        width: int,
        height: int,
        colours: Sequence[Rgb],
    ) -> None:
        self.found, self.wanted, self.width, self.height, self.colours = found, wanted, width, height, colours
        self.round = Surroundings(found, plane, width, height)
        border = 2 * (width + height)
        bare = [each for each in wanted if each.at_border]
        self.has_clear = any(each.value == CLEAR for each in wanted)
        ground = CLEAR if any(each.value == CLEAR for each in bare) else WHITE
        at_border = sum(each.at_border for each in bare if each.value == ground)
        corners = sum(each.corners for each in bare if each.value == ground)
        most_of_border = at_border > GROUND_BORDER * border or corners >= GROUND_CORNERS
        self.ground = ground if most_of_border or (bare and self._outlined(plane)) else None
        self.holds: dict[int, list[Area]] = {}
        for ground, held in self.round.held().items():
            least = max(LEAST_HELD, HELD_SHARE * found[ground].size)
            if large := [each for each in held if each.size >= least]:
                self.holds[ground] = large
        self.place = {id(each): place for place, each in enumerate(found)}
        self.known: dict[int, Guess] = {}
        self.seen_outside: dict[int, Sides] = {}

    def _outlined(self, plane: bytes) -> bool:
        """Return whether the picture is cropped to an outline of the marking, with ground in its corners."""
        width = self.width
        line, _ = Counter(border_of(plane, width)).most_common(1)[0]
        return line < BARE_FROM and is_narrow(plane, width, line) and has_outside(plane, width, list(self.found), line)

    def guess(self, area: Area) -> Guess:
        """Return what ``area`` means; that of an area round it comes first."""
        place = self.place[id(area)]
        if place not in self.known:
            self.known[place] = self._guess(area, place)
        return self.known[place]

    def _guess(self, area: Area, place: int) -> Guess:
        def own(meaning: str, why: str) -> Guess:
            return Guess(meaning, why, area.box)

        if area.at_border and area.value == self.ground:
            return own(BACKGROUND, messages.WHITE_AT_BORDER)
        if area.value == CLEAR:
            return own(HOLE, messages.WHITE_IS_CLEAR)
        if self.has_clear:
            return own(WANTED, messages.WHITE_ON_CLEAR)
        if area.at_border:
            return own(WANTED, messages.WHITE_FILLS_BORDER)
        if place in self.holds:
            return own(WANTED, messages.WHITE_HOLDS_COLOUR)
        drawn = self.round.object_round(area)
        ground = None if drawn is None else self.round.ground_of(drawn)
        if drawn is None or ground is None:
            return own(WANTED, messages.WHITE_ON_COLOUR)
        if self.guess(self.found[ground]).meaning == WANTED:
            return self._in_white(area, drawn, self.found[ground])
        return self._in_object(area, drawn, self.found[ground])

    def _in_white(self, area: Area, drawn: Area, white: Area) -> Guess:
        """Return the meaning of an area within what stands on wanted white: the
        outline within a letter, or anything else.
        """
        around = self.round.object_round(white)
        beyond = None if around is None else self.round.ground_of(around)
        letter = (
            around is not None
            and beyond is not None
            and self.guess(self.found[beyond]).meaning != WANTED
            and len(self.holds.get(self.place[id(white)], ())) <= MOST_COUNTERS
            and alike(self.round.sides(area), self.round.sides(self.found[beyond], around.box), self.colours) >= ALIKE
            and 1 / SAME_LINE <= thickness(drawn) / thickness(around) <= SAME_LINE
        )
        if letter:
            return Guess(HOLE, messages.WHITE_IN_LETTER, white.box)
        return Guess(WANTED, messages.WHITE_ON_WHITE, area.box)

    def _in_object(self, area: Area, drawn: Area, ground: Area) -> Guess:
        """Return the meaning of an area in an object that stands on the background."""
        sides = self.round.sides(area)
        value, share = main_colour(sides)
        # An object may have many counters.
        if id(drawn) not in self.seen_outside:
            self.seen_outside[id(drawn)] = self.round.sides(ground, drawn.box)
        outside = self.seen_outside[id(drawn)]
        if alike(sides, outside, self.colours) < ALIKE:
            why = messages.WHITE_ON_COLOUR if share >= ONE_COLOUR else messages.WHITE_BETWEEN_COLOURS
            return Guess(WANTED, why, area.box)
        stroke, thick = self._stroke_round(area)
        hole = Guess(HOLE, messages.WHITE_IN_RING if share >= ONE_COLOUR else messages.WHITE_IN_LETTER, stroke.box)
        has_fill = self._has_fill(drawn, outside)
        if has_fill and self._is_lettering(drawn):
            return hole
        if not has_fill and value in self._outlines:
            return Guess(WANTED, messages.WHITE_IN_OUTLINE, area.box)
        beside = self._beside[id(stroke)]
        if any(filled(each, self.width) < ROUNDED for each in beside):
            return Guess(WANTED, messages.WHITE_ON_COLOUR, area.box)
        if self._is_lettering(drawn):
            return hole
        ratio = thick / (2 * thickness(area))
        if ratio < THIN:
            return Guess(WANTED, messages.WHITE_IN_OUTLINE, area.box)
        if ratio > THICK or len(beside) > MOST_COUNTERS:
            return Guess(WANTED, messages.WHITE_ON_COLOUR, area.box)
        return hole

    def _stroke_round(self, area: Area) -> tuple[Area, float]:
        """Return the piece that is the stroke round an area, without the outline on its
        inner side, and how thick it is with it.
        """
        line = self.found[self.round.piece_round(area)]
        beyond = None if line.outside is None else self.found[line.outside]
        wide = thickness(line)
        reach = 3 * wide + 2
        only_a_line = all(abs(mine - its) <= reach for mine, its in zip(line.box, area.box, strict=True))
        if beyond is None or beyond.value >= WHITE or not only_a_line:
            return line, wide
        return beyond, thickness(beyond) + 2 * wide

    @cached_property
    def _enclosed(self) -> list[Area]:
        return [
            each
            for each in self.wanted
            if not each.at_border and each.value == WHITE and self.place[id(each)] not in self.holds
        ]

    @cached_property
    def _beside(self) -> dict[int, list[Area]]:
        """The white areas by the stroke round them."""
        beside: dict[int, list[Area]] = {}
        for each in self._enclosed:
            beside.setdefault(id(self._stroke_round(each)[0]), []).append(each)
        return beside

    @cached_property
    def _outlines(self) -> set[int]:
        """The colours of outlines round letters that are white themselves: they
        branch, or have such an outline within.
        """
        votes: Counter[int] = Counter()
        for each in self.wanted:
            if each.at_border or each.value != WHITE:
                continue
            value, share = main_colour(self.round.sides(each))
            held = self.holds.get(self.place[id(each)], [])
            if share < ONE_COLOUR:
                continue
            if (
                held
                and len(held) <= MOST_COUNTERS
                and all(line.value == value and thickness(line) < thickness(each) for line in held)
            ):
                votes[value] += 2
            elif not held and filled(each, self.width) < BRANCHED:
                votes[value] += 1
        return {value for value, count in votes.items() if count >= 2}

    def _has_fill(self, drawn: Area, outside: Sides) -> bool:
        """Return whether other colours separate a colour of the object from the ground, as in
        outlined letters, or one is far from the others.

        In that case its letters are not white.
        """
        sizes: Counter[int] = Counter()
        for place in self._parts[id(drawn)]:
            sizes[self.found[place].value] += self.found[place].size
        touching = sum(outside, Counter())
        whole = max(1, touching.total())
        if any(
            size >= FILL_SHARE * drawn.size and touching[value] / whole < FILL_TOUCHES * size / drawn.size
            for value, size in sizes.items()
        ):
            return True
        labs = [
            lab(self.colours[value])
            for value, size in sizes.items()
            if self.colours and size >= SECOND_SHARE * drawn.size
        ]
        return any(delta_e(one, other) >= SECOND_FAR for place, one in enumerate(labs) for other in labs[:place])

    def _is_lettering(self, drawn: Area) -> bool:
        """Return whether a piece of an object stands in a row of its like."""
        return any(
            place in self._letters
            for place in self._parts[id(drawn)]
            if self.found[place].box[3] - self.found[place].box[1] >= LETTER_HIGH * (drawn.box[3] - drawn.box[1])
        )

    @cached_property
    def _parts(self) -> dict[int, list[int]]:
        """The places of the pieces of one colour, by object."""
        return self.round.parts()

    @cached_property
    def _letters(self) -> set[int]:
        """The places of pieces that stand in a row with others of their colour and height."""
        by_value: dict[int, list[int]] = {}
        for place, each in enumerate(self.found):
            if each.value < WHITE and each.size >= 12:
                by_value.setdefault(each.value, []).append(place)
        letters: set[int] = set()
        for places in by_value.values():
            places.sort(key=lambda place: -self.found[place].size)
            rows = lines([self.found[place].box for place in places], higher=1.35, level=0.7, gap=1.0)
            letters.update(places[each] for row in rows if len(row) >= LETTERS for each in row)
        return letters
