"""A text set in a font: glyph after glyph on a line or along an arc, at the height of its capitals or its figures.

Lengths are mm at full size, y down. The origin is at the left of the ink; its top is that of the capitals on a straight
line, and that of the ink on an arc.
"""

from __future__ import annotations

import unicodedata
from cmath import rect
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import pi, radians, tan

from calculators.lettering import ARCH, MOST_SLANT, STRAIGHT
from calculators.lettering import sentences as of_lettering
from calculators.lettering.alphabet import Ring
from calculators.lettering.fonts import sentences
from calculators.lettering.fonts.font import Font
from calculators.lettering.fonts.scripts import refused_scripts, script_tag
from calculators.lettering.fonts.strokes import mean_width, stem_and_bar
from calculators.lettering.layout import MOST_CHARACTERS, MOST_LINES, Placed, named
from calculators.lettering.sizes import Unfit
from calculators.shapes.areas import backwards
from calculators.shapes.extents import bounds
from calculators.values import message

#: How far letters may be condensed or expanded to a wanted length, as a share of their own width (estimate).
NARROWEST, WIDEST = 0.4, 2.5
#: The distance of two baselines that fonts have, as shares of the height; beyond it is a damaged font's.
_LINE_DISTANCES = (1.1, 3.0)
#: How much of a circle a text may take.
_MOST_OF_CIRCLE = 0.95
#: The least radius of an arc, as a multiple of the height.
_LEAST_RADIUS = 1.5


class Refusal(ValueError):
    """A text that is not set in a font; text and hint are for the reader."""

    def __init__(self, text: str, hint: str = "") -> None:
        super().__init__(text)
        self.text, self.hint = text, hint


@dataclass(frozen=True, kw_only=True)
class Setting:
    """How a text is set. ``height`` is that of the ``reference`` characters of the font; ``stretch`` is its width as a
    share of the font's own. ``radius`` is that of the baseline on an arc.
    """

    height: float
    reference: str
    kerned: bool = True
    letter_space: float = 0.0
    word_space: float = 0.0
    stretch: float = 1.0
    slant_degrees: float = 0.0
    line: str = STRAIGHT
    radius: float = 1.0


def lines_in_font(text: str, font: Font) -> list[str]:
    """Return the lines of a text, each with single blanks, its letters and marks joined to one character.

    Raises Refusal for scripts that are not set and characters that the font lacks, Unfit for too much text or none.
    """
    lines = [" ".join(line.split()) for line in unicodedata.normalize("NFC", text).splitlines()]
    lines = [line for line in lines if line]
    if not lines:
        raise Unfit(message(of_lettering.NO_TEXT))
    whole = "".join(lines)
    if scripts := refused_scripts(whole):
        words = ". ".join(sentences.SCRIPT.format(script=name, why=sentences.WHY[why]) for name, why in scripts)
        raise Refusal(words, sentences.DRAW_IT)
    signs = sorted(set(whole) - {" "})
    if marks := [sign for sign in signs if unicodedata.category(sign)[0] == "M"]:
        raise Refusal(sentences.MARKS.format(characters=named(marks)), sentences.ONE_CHARACTER)
    # Fonts may have an empty glyph for characters that control something.
    if lacking := [sign for sign in signs if not font.glyph(sign) or unicodedata.category(sign) in ("Cc", "Cf")]:
        raise Refusal(sentences.LACKS.format(characters=named(lacking)), sentences.ANOTHER_FONT)
    if len(whole) > MOST_CHARACTERS:
        raise Unfit(message(of_lettering.TOO_MANY, count=str(len(whole)), most=str(MOST_CHARACTERS)))
    if len(lines) > MOST_LINES:
        raise Unfit(message(of_lettering.TOO_MANY_LINES, count=str(len(lines))))
    return lines


@dataclass(frozen=True)
class FontLettering:
    """A text that is set in a font; ``placed`` are its characters with where each begins on its baseline, before it is
    slanted or bent, and the width of its ink. ``length`` and ``height`` are as the module says.
    """

    font: Font
    setting: Setting
    placed: tuple[Placed, ...]
    factor: float

    @property
    def letter_height(self) -> float:
        """How high the letters are."""
        return self.setting.height

    @cached_property
    def _bent(self) -> tuple[list[list[Ring]], complex, complex]:
        """The outlines of each character, and the corners of the box around all of them."""
        place_of = _line_of(self)
        made = []
        for each in self.placed:
            rings = self._upright(each.character)
            made.append([tuple(place_of(each, piece) for piece in ring) for ring in rings])
        every = [ring for rings in made for ring in rings]
        return made, *bounds(every)

    def _upright(self, character: str) -> list[Ring]:
        """Return the outlines of a character from where it begins on its baseline, slanted."""
        wide, high = self.factor * self.setting.stretch, self.factor
        lean = tan(radians(self.setting.slant_degrees))
        # Turned upside down, outlines run the other way round what they fill. So they are reversed too.
        return [
            tuple(
                tuple(complex(wide * at.real + lean * high * at.imag, -high * at.imag) for at in piece)
                for piece in backwards(ring)
            )
            for ring in self.font.rings(character)
        ]

    @property
    def _corner(self) -> complex:
        """What of the text is the origin."""
        _made, first, _last = self._bent
        return complex(self.ends[0], -self.setting.height) if self.setting.line == STRAIGHT else first

    def ink(self, each: Placed) -> tuple[float, float]:
        """Return where the ink of a character begins and ends on a straight line, before it is slanted."""
        start = each.place.real
        if not each.width:
            return start, start
        first, last = bounds(self.font.rings(each.character))
        wide = self.factor * self.setting.stretch
        return start + wide * first.real, start + wide * last.real

    @cached_property
    def ends(self) -> tuple[float, float]:
        """Where the ink of the text begins and ends on a straight line, before it is slanted."""
        every = [self.ink(each) for each in self.placed if each.width]
        return min(start for start, _end in every), max(end for _start, end in every)

    @cached_property
    def length(self) -> float:
        """How long the ink is: before it is slanted on a straight line, that of its box on an arc."""
        _made, first, last = self._bent
        if self.setting.line != STRAIGHT:
            return (last - first).real
        return self.ends[1] - self.ends[0]

    @cached_property
    def height(self) -> float:
        """From the top of the capitals to the last baseline, or that of the box of the ink on an arc."""
        if self.setting.line != STRAIGHT:
            _made, first, last = self._bent
            return (last - first).imag
        return self.setting.height + max(each.place.imag for each in self.placed)

    def rings(self) -> list[list[Ring]]:
        """Return the outlines of each character, in its place."""
        made, _first, _last = self._bent
        corner = self._corner
        return [[tuple(tuple(at - corner for at in piece) for piece in ring) for ring in rings] for rings in made]


def set_in_font(text: str, font: Font, setting: Setting) -> FontLettering:
    """Return a text set in a font, its lines centred on each other. Raises Refusal, Unfit and Unreadable."""
    if not 0 <= setting.slant_degrees <= MOST_SLANT:
        parts = {"degrees": f"{setting.slant_degrees:g}", "most": f"{MOST_SLANT:g}"}
        raise Unfit(message(of_lettering.TOO_SLANTED, **parts))
    lines = lines_in_font(text, font)
    if setting.line != STRAIGHT and len(lines) > 1:
        raise Unfit(message(sentences.ONE_LINE_ON_ARC))
    factor = setting.height / font.height(setting.reference)
    script = script_tag(text)
    low, high = _LINE_DISTANCES
    distance = min(max(font.line_distance * factor, low * setting.height), high * setting.height)
    rows = [_row(line, font, setting, factor, script) for line in lines]
    longest = max(length for _placed, length in rows)
    placed = [
        replace(each, place=each.place + complex((longest - length) / 2, number * distance))
        for number, (row, length) in enumerate(rows)
        for each in row
    ]
    if not any(each.width for each in placed):
        raise Refusal(sentences.NOTHING_DRAWN, sentences.ANOTHER_FONT)
    made = FontLettering(font, setting, tuple(placed), factor)
    if setting.line != STRAIGHT:
        _check_arc(made)
    return made


def _row(line: str, font: Font, setting: Setting, factor: float, script: str) -> tuple[list[Placed], float]:
    placed = []
    here = 0.0
    wide = factor * setting.stretch
    for character, following in zip(line, [*line[1:], ""], strict=True):
        if character == " ":
            here += setting.word_space * setting.stretch
        else:
            rings = font.rings(character)
            width = (bounds(rings)[1] - bounds(rings)[0]).real * wide if rings else 0.0
            placed.append(Placed(character, complex(here), width))
        here += wide * font.advance(character) if font.glyph(character) else wide * font.units / 4
        if following:
            kerning = font.kerning(character, following, script) if setting.kerned else 0.0
            here += wide * kerning + setting.letter_space * setting.stretch
    return placed, here


def stroke_of(texts: Sequence[str], font: Font, setting: Setting) -> tuple[float, bool]:
    """Return the width of the strokes, and whether it was measured on an H and not worked out of all ``texts``."""
    drawn = [set_in_font(text, font, replace(setting, line=STRAIGHT)) for text in texts]
    high = drawn[0].factor
    if font.glyph("H") and (rings := font.rings("H")) and (measured := stem_and_bar(rings)):
        stem, bar = measured
        return min(stem * high * setting.stretch, bar * high), True
    return mean_width([ring for each in drawn for rings in each.rings() for ring in rings]), False


def stretched_to(text: str, font: Font, setting: Setting, length: float) -> Setting:
    """Return the setting with letters and spaces condensed or expanded to a ``length``. Raises as ``set_in_font``."""
    straight = replace(setting, stretch=1.0, line=STRAIGHT)
    usual = set_in_font(text, font, straight).length
    if not NARROWEST * usual <= length <= WIDEST * usual:
        parts = {"shortest_mm": NARROWEST * usual, "longest_mm": WIDEST * usual, "length_mm": length}
        raise Unfit(message(sentences.NOT_THAT_LENGTH, **parts))
    return replace(setting, stretch=length / usual)


def fitted_to(text: str, font: Font, setting: Setting, room: float) -> Setting:
    """Return the setting made smaller as a whole until the text is no longer than ``room``. Raises as above."""
    length = set_in_font(text, font, replace(setting, line=STRAIGHT)).length
    if length <= room:
        return setting
    share = room / length
    return replace(
        setting,
        height=setting.height * share,
        letter_space=setting.letter_space * share,
        word_space=setting.word_space * share,
    )


def _check_arc(made: FontLettering) -> None:
    """Raise Unfit for an arc on which letters would meet each other."""
    start, end = made.ends
    least = max((end - start) / (2 * pi * _MOST_OF_CIRCLE), _LEAST_RADIUS * made.setting.height)
    if made.setting.radius < least:
        raise Unfit(message(sentences.ARC_TOO_TIGHT, least_mm=least))


def _line_of(made: FontLettering) -> Callable[[Placed, tuple[complex, ...]], tuple[complex, ...]]:
    """Return what puts a piece of a character in its place, on a straight line or along an arc.

    On an arc each character is turned about the middle of its ink, and the middle of the text is at its highest or
    lowest place.
    """
    setting = made.setting
    if setting.line == STRAIGHT:
        return lambda each, piece: tuple(at + each.place for at in piece)
    centre = sum(made.ends) / 2
    sense = 1 if setting.line == ARCH else -1

    def placed(each: Placed, piece: tuple[complex, ...]) -> tuple[complex, ...]:
        middle = sum(made.ink(each)) / 2
        turn = rect(1, sense * (middle - centre) / setting.radius)
        # The centre of the circle lies below an arch and above a bowl.
        foot = 1j * sense * setting.radius * (1 - turn)
        return tuple(foot + turn * (at + each.place - middle) for at in piece)

    return placed
