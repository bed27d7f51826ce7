"""The white areas of a picture, each with a guess of its meaning.

Home printers print no white, so a white or transparent area is one of three: the background round the marking, wanted
white, or a hole that shows the paint. Its place usually shows which; the reader's marks overrule the guess.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Generator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain

from calculators.colour.srgb import lab_of
from calculators.pixels.colour_table import CLEAR, Rgb, lab, within
from calculators.pixels.connected import Area, connected, painted
from calculators.pixels.flat_colours import MOST_COLOURS, NotFlat, known_flat_colours
from calculators.pixels.lines import Box
from calculators.pixels.raster import Raster
from calculators.pixels.washed import seen
from calculators.pixels.white_groups import groups
from calculators.pixels.white_guess import BACKGROUND, HOLE, WANTED, guessed
from calculators.pixels.white_guess import CLEAR as _CLEAR
from calculators.pixels.white_guess import WHITE as _WHITE
from calculators.values import Message, Progress, in_one_go, message, part_of_work

MEANINGS = (BACKGROUND, WANTED, HOLE)
#: The values in the plane that ``meaning`` returns.
BARE, WHITE, PRINTED = 0, 1, 2
#: The default tolerance: colours this near to white (delta E 2000) count as white.
TOLERANCE = 5.0
#: The most areas with a number, the largest ones; smaller ones keep their guess.
MOST_NUMBERED = 60
#: An area smaller than this share of the picture, or than this many pixels, is a speck.
SPECK_SHARE, SPECK_PX = 0.00005, 6

#: Washed white is at most this many times the tolerance from white. It lies in stretches of at most this many pixels,
#: except for this share, and no single shade makes more than half of it. Set on the tuning half of the lettering in
#: tests/corpus.
WASHED_TIMES, SHORT, MOST_LONG, ONE_SHADE = 2.4, 8, 0.3, 0.5
#: Where a compressed picture has no other white: compression keeps brightness twice as finely as colour, so what was
#: white is this bright, and nearer. White letters of 12 to 24 px on red and blue, at quality 70 to 95 and 4:2:0, lie
#: within 9.5 of white and are 243 bright; drawn ivory is 227.
ALONE_TIMES, ALONE_LIGHT = 2.0, 240.0

_WHITE_LAB = lab_of((1.0, 1.0, 1.0))
_MARK = re.compile(r"\s*(?:(\d{1,4})\s*[:=]?|([a-z]{1,2})(?:\s*[:=]|\s))\s*([a-z]+)\s*", re.IGNORECASE)
#: The target of a mark: the number of an area, or the letter of a group.
Key = int | str


class BadMark(ValueError):
    """A mark that cannot be read: ``text`` is what was typed, ``number`` an area or
    group that there is not, else None.
    """

    def __init__(self, text: str, number: Key | None = None) -> None:
        super().__init__(text)
        self.text, self.number = text, number


@dataclass(frozen=True)
class WhiteArea:
    """One white or clear area: its number from 1, pixels, guess, why, and what is meant.

    ``group`` is the letter of those that belong together, "" for none; ``box`` is that
    of the letter it is part of, or its own.
    """

    number: int
    area: Area
    clear: bool
    guess: str
    why: Message
    meant: str
    group: str = ""
    box: Box = (0, 0, 0, 0)

    @property
    def size_px(self) -> int:
        """The number of its pixels."""
        return self.area.size


@dataclass(frozen=True)
class Signed:
    """Areas under one sign: a group that means one thing, or a single area. ``key`` is its letter or number."""

    key: Key
    areas: tuple[WhiteArea, ...]
    meant: str

    @property
    def size_px(self) -> int:
        """The number of their pixels."""
        return sum(each.size_px for each in self.areas)


@dataclass(frozen=True)
class WhiteAreas:
    """The numbered areas in reading order, those too many to number, and how many specks there are.

    ``flat``: the picture is flat artwork, so that the edges of its areas are those of its colours.
    """

    width: int
    height: int
    areas: tuple[WhiteArea, ...]
    unnumbered: tuple[WhiteArea, ...]
    specks: int
    flat: bool = True
    marks: Mapping[Key, str] = field(default_factory=dict)

    def signs(self) -> list[Signed]:
        """Return the areas by the sign they have in a drawing: a group, without those of it
        that mean something else, or a single area.
        """
        together: dict[Key, list[WhiteArea]] = {}
        for each in (*self.areas, *self.unnumbered):
            if each.group and each.meant == self.marks.get(each.group, each.guess):
                together.setdefault(each.group, []).append(each)
            elif each.number:
                together[each.number] = [each]
        return sorted(
            (Signed(key, tuple(some), some[0].meant) for key, some in together.items()),
            key=lambda each: each.areas[0].area.runs[0],
        )

    def meaning(self) -> bytes:
        """Return one byte a pixel: ``BARE`` (nothing prints and the paint shows), ``WHITE`` (wanted), ``PRINTED``."""
        every = (*self.areas, *self.unnumbered)
        values = [WHITE if each.meant == WANTED else BARE for each in every]
        return painted([each.area for each in every], values, self.width * self.height, PRINTED)


def meaning(raster: Raster, marks_text: str = "", tolerance: float = TOLERANCE) -> bytes:
    """Return one byte a pixel of ``raster``: 0 nothing prints and the paint shows, 1 wanted white, 2 printed colour.

    Raises BadMark, TooManyRuns.
    """
    return in_one_go(areas(raster, marks_text, tolerance)).meaning()


def areas(raster: Raster, marks_text: str = "", tolerance: float = TOLERANCE) -> Generator[Progress, None, WhiteAreas]:
    """Return the white and clear areas of ``raster``, guessed and then marked. Yields progress.

    White is a flat colour within ``tolerance`` (delta E 2000) of #ffffff; of a picture that is not flat, a pixel
    within it. Raises BadMark, TooManyRuns.
    """
    plane, colours = yield from part_of_work(_classes(raster, tolerance), 0.0, 0.8)
    finding = connected(plane, raster.width, raster.height, by_corners=range(MOST_COLOURS))
    found = yield from part_of_work(finding, 0.8, 1.0)
    return marked(
        replace(_numbered(found, plane, raster.width, raster.height, colours or ()), flat=colours is not None),
        marks_text,
    )


def _classes(raster: Raster, tolerance: float) -> Generator[Progress, None, tuple[bytes, list[Rgb] | None]]:
    """Return one byte a pixel: ``_WHITE``, ``_CLEAR``, or the label of a colour; and
    those colours, None if the picture is not flat.
    """
    near = within(_WHITE_LAB, tolerance)
    try:
        flat = yield from known_flat_colours(raster)
    except NotFlat as trouble:
        table = trouble.table
        return table.plane_of_few(
            {CLEAR: _CLEAR} | {packed: _WHITE for packed, seen in table.labs.items() if near(seen)}
        ), None
    labs = [lab(each.rgb) for each in flat.colours]
    white = {label for label, each in enumerate(labs) if near(each)}
    if white or flat.noisy:
        times, light = (WASHED_TIMES, 0.0) if white else (ALONE_TIMES, ALONE_LIGHT)
        further = within(_WHITE_LAB, times * tolerance)
        white |= {
            label
            for label, each in enumerate(labs)
            if label not in white
            and further(each)
            and seen(flat.colours[label].rgb)[0] >= light
            and _is_washed(raster, flat.labels, label)
        }
    to = bytes(_WHITE if label in white else label for label in range(len(labs)))
    return flat.labels.translate(to + bytes(range(len(to), 256))), [each.rgb for each in flat.colours]


def _is_washed(raster: Raster, labels: bytes, label: int) -> bool:
    """Return whether a pale colour is white that was washed by the colours beside it, as compression does.

    Washed white only lies in short stretches, and has many colours.
    """
    runs = [found.span() for found in re.finditer(re.escape(bytes([label])) + b"+", labels)]
    lengths = [stop - start for start, stop in runs]
    if sum(each for each in lengths if each > SHORT) > MOST_LONG * sum(lengths):
        return False
    pixels = memoryview(raster.rgba).cast("I")
    shades = Counter(chain.from_iterable(pixels[start:stop] for start, stop in runs))
    return max(shades.values()) <= ONE_SHADE * shades.total()


def marked(found: WhiteAreas, marks_text: str) -> WhiteAreas:
    """Return ``found`` with the marks of the reader, such as "A hole, 5 wanted": that
    of an area counts more than its group's.

    Raises BadMark.
    """
    marks = read_marks(marks_text)
    there = {*range(1, len(found.areas) + 1), *(each.group for each in (*found.areas, *found.unnumbered))}
    beyond = next((key for key in marks if key not in there), None)
    if beyond is not None:
        raise BadMark(f"{beyond} {marks[beyond]}", beyond)

    def meaning_of(each: WhiteArea) -> WhiteArea:
        return replace(each, meant=marks.get(each.number, marks.get(each.group, each.guess)))

    return replace(
        found,
        areas=tuple(map(meaning_of, found.areas)),
        unnumbered=tuple(map(meaning_of, found.unnumbered)),
        marks=marks,
    )


def read_marks(text: str) -> dict[Key, str]:
    """Return area number, or letter of a group, to meaning; a word may be cut short. Raises BadMark.

    >>> read_marks("3 hole, 5 Wanted, b background")
    {3: 'hole', 5: 'wanted', 'B': 'background'}
    """
    marks: dict[Key, str] = {}
    for part in filter(str.strip, re.split(r"[,;\n]", text)):
        found = _MARK.fullmatch(part)
        word = found and next((each for each in MEANINGS if each.startswith(found[3].lower())), None)
        if not found or not word:
            raise BadMark(part.strip())
        marks[int(found[1]) if found[1] else found[2].upper()] = word
    return marks


def _numbered(found: list[Area], plane: bytes, width: int, height: int, colours: Sequence[Rgb]) -> WhiteAreas:
    least = max(min(SPECK_PX, width * height / 10), SPECK_SHARE * width * height)
    bare = [each for each in found if each.value >= _WHITE]
    large = [each for each in bare if each.size >= least]
    guesses = guessed(found, large, plane, width, height, colours)
    numbered = {id(each) for each in sorted(large, key=lambda each: -each.size)[:MOST_NUMBERED]}
    letters = groups(large, guesses, width, height)
    numbered_areas: list[WhiteArea] = []
    others: list[WhiteArea] = []
    for each, guess, letter in zip(large, guesses, letters, strict=True):
        into = numbered_areas if id(each) in numbered else others
        number = len(into) + 1 if into is numbered_areas else 0
        into.append(
            WhiteArea(
                number, each, each.value == _CLEAR, guess.meaning, message(guess.why), guess.meaning, letter, guess.box
            )
        )
    return WhiteAreas(width, height, tuple(numbered_areas), tuple(others), len(bare) - len(large))
