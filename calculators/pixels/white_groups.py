"""White areas that belong together and share one mark: in a line of lettering, in a texture, round the marking."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.pixels.connected import Area
from calculators.pixels.lines import Box, gathered, lines
from calculators.pixels.white_guess import BACKGROUND, Guess

#: Letters of a line: the higher is at most so many times as high, they share so much of their height, and
#: letters without an area of their own may stand between.
HIGHER, LEVEL, GAP = 1.7, 0.5, 2.5
#: A speck is at most this share of the picture's longer side; a texture has at least so many, each within so many times
#: its size of another. Small lettering has more than a share of its areas in lines.
SPECK, MANY, NEAR, IN_LINES = 0.04, 5, 6.0, 0.7
#: The most groups with a letter.
MOST_GROUPS = 60


def groups(areas: Sequence[Area], guesses: Sequence[Guess], width: int, height: int) -> list[str]:
    """Return the letter of the group of each area, "" for one that stands alone: A for the group that begins first."""
    alike: dict[tuple[str, int], list[int]] = {}
    for place, (area, guess) in enumerate(zip(areas, guesses, strict=True)):
        alike.setdefault((guess.meaning, area.value), []).append(place)
    together = []
    for (meaning, _value), places in alike.items():
        together += (
            [places]
            if meaning == BACKGROUND
            else _by_place(places, [guesses[each].box for each in places], SPECK * max(width, height))
        )
    several = sorted((sorted(each) for each in together if len(each) > 1), key=lambda each: each[0])
    letters = [""] * len(areas)
    for order, places in enumerate(several[:MOST_GROUPS]):
        for place in places:
            letters[place] = _letter(order)
    return letters


def _by_place(places: list[int], boxes: list[Box], speck: float) -> list[list[int]]:
    """Return ``places`` in lines, and small ones outside lines in textures."""
    found = lines(boxes, higher=HIGHER, level=LEVEL, gap=GAP)
    in_row = {each for row in found if len(row) >= MANY for each in row}
    small = [each for each, box in enumerate(boxes) if max(_size(box)) <= speck]
    clusters = [[small[each] for each in row] for row in gathered([boxes[each] for each in small], _near)]
    textures = [
        row for row in clusters if len(row) >= MANY and sum(each in in_row for each in row) < IN_LINES * len(row)
    ]
    taken = {each for row in textures for each in row}
    return [
        [places[each] for each in row]
        for row in [*([each for each in row if each not in taken] for row in found), *textures]
    ]


def _size(box: Box) -> tuple[int, int]:
    return box[2] - box[0], box[3] - box[1]


def _near(one: Box, other: Box) -> bool:
    reach = NEAR * max(*_size(one), *_size(other))
    return (
        max(one[0], other[0]) - min(one[2], other[2]) <= reach
        and max(one[1], other[1]) - min(one[3], other[3]) <= reach
    )


def _letter(order: int) -> str:
    """Return A to Z, then AA, AB and so on."""
    return ("" if order < 26 else chr(64 + order // 26)) + chr(65 + order % 26)
