"""The white areas of a picture one by one, and what each is guessed to mean.

Printers of the home print no white, so an area of white, or of nothing, is one of three: the background
round the marking, white that is wanted, or a hole through which the paint shows. Where it lies tells which,
more often than not; the reader's marks overrule that.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Sequence
from dataclasses import dataclass, replace

from calculators.colour.srgb import lab_of
from calculators.pixels.colour_table import CLEAR, Rgb, lab, within
from calculators.pixels.connected import Area, connected, painted
from calculators.pixels.flat_colours import MOST_COLOURS, NotFlat, flat_colours
from calculators.pixels.raster import Raster
from calculators.pixels.white_guess import BACKGROUND, HOLE, WANTED, guessed
from calculators.pixels.white_guess import CLEAR as _CLEAR
from calculators.pixels.white_guess import WHITE as _WHITE
from calculators.values import Progress, Said, part_of_work, said

MEANINGS = (BACKGROUND, WANTED, HOLE)
#: One byte a pixel of what ``meaning`` returns.
BARE, WHITE, PRINTED = 0, 1, 2
#: So near to white (delta E 2000) counts as white, unless another tolerance is asked for.
TOLERANCE = 5.0
#: At most so many areas are numbered, the largest; smaller ones keep their guess.
MOST_NUMBERED = 60
#: An area smaller than this share of the picture, or than so many pixels, is a speck and no area.
SPECK_SHARE, SPECK_PX = 0.00005, 6

_WHITE_LAB = lab_of((1.0, 1.0, 1.0))
_MARK = re.compile(r"\s*(\d{1,4})\s*[:=]?\s*([a-z]+)\s*", re.IGNORECASE)


class BadMark(ValueError):
    """A mark that cannot be read: ``text`` is what was typed, ``number`` an area that there is not, else None."""

    def __init__(self, text: str, number: int | None = None) -> None:
        super().__init__(text)
        self.text, self.number = text, number


@dataclass(frozen=True)
class WhiteArea:
    """One white or clear area: its number from 1, pixels, guess, why, and what is meant."""

    number: int
    area: Area
    clear: bool
    guess: str
    why: Said
    meant: str

    @property
    def size_px(self) -> int:
        """How many pixels it has."""
        return self.area.size


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

    def meaning(self) -> bytes:
        """Return one byte a pixel: ``BARE`` (nothing prints and the paint shows), ``WHITE`` (wanted), ``PRINTED``."""
        every = (*self.areas, *self.unnumbered)
        values = [WHITE if each.meant == WANTED else BARE for each in every]
        return painted([each.area for each in every], values, self.width * self.height, PRINTED)


def meaning(raster: Raster, marks_text: str = "", tolerance: float = TOLERANCE) -> bytes:
    """Return one byte a pixel of ``raster``: 0 nothing prints and the paint shows, 1 wanted white, 2 printed colour.

    Raises BadMark, TooManyRuns.
    """
    steps = areas(raster, marks_text, tolerance)
    while True:
        try:
            next(steps)
        except StopIteration as stop:
            return stop.value.meaning()


def areas(
    raster: Raster, marks_text: str = "", tolerance: float = TOLERANCE
) -> Generator[Progress, None, WhiteAreas]:
    """Return the white and clear areas of ``raster``, guessed and then marked. Yields progress.

    White is a flat colour within ``tolerance`` (delta E 2000) of #ffffff; of a picture that is not flat, a pixel
    within it. Raises BadMark, TooManyRuns.
    """
    plane, colours = yield from part_of_work(_classes(raster, tolerance), 0.0, 0.8)
    finding = connected(plane, raster.width, raster.height, by_corners=range(MOST_COLOURS))
    found = yield from part_of_work(finding, 0.8, 1.0)
    return marked(replace(_told(found, plane, raster.width, raster.height, colours or ()), flat=colours is not None), marks_text)


def _classes(raster: Raster, tolerance: float) -> Generator[Progress, None, tuple[bytes, list[Rgb] | None]]:
    """Return one byte a pixel: ``_WHITE``, ``_CLEAR``, or the label of a colour; and those colours, None if the picture is not flat."""
    near = within(_WHITE_LAB, tolerance)
    try:
        flat = yield from flat_colours(raster)
    except NotFlat as trouble:
        table = trouble.table
        return table.plane_of_few({CLEAR: _CLEAR} | {packed: _WHITE for packed, seen in table.labs.items() if near(seen)}), None
    to = bytes(_WHITE if near(lab(each.rgb)) else label for label, each in enumerate(flat.colours))
    return flat.labels.translate(to + bytes(range(len(to), 256))), [each.rgb for each in flat.colours]


def marked(told: WhiteAreas, marks_text: str) -> WhiteAreas:
    """Return ``told`` with the marks of the reader, such as "3 hole, 5 wanted". Raises BadMark."""
    marks = read_marks(marks_text)
    beyond = next((number for number in marks if not 1 <= number <= len(told.areas)), None)
    if beyond is not None:
        raise BadMark(f"{beyond} {marks[beyond]}", beyond)
    return replace(
        told, areas=tuple(replace(each, meant=marks.get(each.number, each.guess)) for each in told.areas)
    )


def read_marks(text: str) -> dict[int, str]:
    """Return area number to meaning; a word may be cut short. Raises BadMark.

    >>> read_marks("3 hole, 5 Wanted")
    {3: 'hole', 5: 'wanted'}
    """
    marks = {}
    for part in filter(str.strip, re.split(r"[,;\n]", text)):
        found = _MARK.fullmatch(part)
        word = found and next((each for each in MEANINGS if each.startswith(found[2].lower())), None)
        if not word:
            raise BadMark(part.strip())
        marks[int(found[1])] = word
    return marks


def _told(found: list[Area], plane: bytes, width: int, height: int, colours: Sequence[Rgb]) -> WhiteAreas:
    least = max(min(SPECK_PX, width * height / 10), SPECK_SHARE * width * height)
    bare = [each for each in found if each.value >= _WHITE]
    large = [each for each in bare if each.size >= least]
    guesses = guessed(found, large, plane, width, height, colours)
    numbered = {id(each) for each in sorted(large, key=lambda each: -each.size)[:MOST_NUMBERED]}
    shown, others = [], []
    for each, guess in zip(large, guesses, strict=True):
        into = shown if id(each) in numbered else others
        into.append(WhiteArea(len(into) + 1 if into is shown else 0, each, each.value == _CLEAR, guess.meaning, said(guess.why), guess.meaning))
    return WhiteAreas(width, height, tuple(shown), tuple(others), len(bare) - len(large))
