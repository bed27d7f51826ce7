"""A text laid out by the sizes of a rule: where each character stands, and the outlines of all.

Lengths are mm at full size, y down from the top of the first line. Gaps are between the boxes round characters, before
they are slanted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, radians, tan

from calculators.lettering import MOST_SLANT, sentences
from calculators.lettering.alphabet import CHARACTERS, SOLID, Ring, Style, outline
from calculators.lettering.sizes import FEWEST_ACROSS, Sizes, Unfit, check
from calculators.messages import legible
from calculators.values import message

#: Characters and lines that are drawn at once.
MOST_CHARACTERS, MOST_LINES = 40, 2
#: How far letters may be expanded to a wanted length, as a multiple of the usual widths and gaps.
MOST_EXPANDED = 3.0


@dataclass(frozen=True)
class Placed:
    """A character with the left top corner of its box and its width."""

    character: str
    place: complex
    width: float


@dataclass(frozen=True)
class Lettering:
    """A text that is laid out: ``length`` and ``height`` of the box round all boxes, before slanting."""

    sizes: Sizes
    placed: tuple[Placed, ...]
    length: float
    height: float
    style: Style = SOLID
    slant_degrees: float = 0.0

    @property
    def letter_height(self) -> float:
        """How high the letters are."""
        return self.sizes.height

    def rings(self) -> list[list[Ring]]:
        """Return the outlines of each character, in its place and slanted."""
        lean = tan(radians(self.slant_degrees))
        made = []
        for each in self.placed:
            foot = each.place.imag + self.sizes.height
            rings = outline(each.character, each.width, self.sizes.height, self.sizes.stroke, self.style)
            made.append([tuple(_moved(piece, each.place, lean, foot) for piece in ring) for ring in rings])
        return made


def _moved(piece: Sequence[complex], by: complex, lean: float, foot: float) -> tuple[complex, ...]:
    moved = [point + by for point in piece]
    return tuple(point + lean * (foot - point.imag) for point in moved) if lean else tuple(moved)


def lines_of(text: str) -> list[str]:
    """Return the lines of a text in capitals, each with single blanks between its groups.

    Raises Unfit for a text without characters, with too many, or with some that are not drawn.
    """
    # Only the letters of the alphabet have capitals here: that of ß would be two.
    capitals = "".join(sign.upper() if sign.isascii() else sign for sign in text)
    lines = [" ".join(line.split()) for line in capitals.splitlines()]
    lines = [line for line in lines if line]
    strange = sorted({sign for line in lines for sign in line} - set(CHARACTERS) - {" "})
    if strange:
        raise Unfit(message(sentences.NOT_DRAWN, characters=named(strange)))
    if not lines:
        raise Unfit(message(sentences.NO_TEXT))
    count = sum(map(len, lines))
    if count > MOST_CHARACTERS:
        raise Unfit(message(sentences.TOO_MANY, count=str(count), most=str(MOST_CHARACTERS)))
    if len(lines) > MOST_LINES:
        raise Unfit(message(sentences.TOO_MANY_LINES, count=str(len(lines))))
    return lines


def named(characters: Sequence[str]) -> str:
    """Return characters for a sentence, those that cannot be printed by their number."""
    return ", ".join(
        sign if sign.isprintable() and legible(sign) == sign else f"U+{ord(sign):04X}" for sign in characters
    )


def laid_out(text: str, sizes: Sizes, style: Style = SOLID, slant_degrees: float = 0.0) -> Lettering:
    """Return a text laid out, its lines centred on each other. Raises Unfit."""
    if not 0 <= slant_degrees <= MOST_SLANT:
        parts = {"degrees": f"{slant_degrees:g}", "most": f"{MOST_SLANT:g}"}
        raise Unfit(message(sentences.TOO_SLANTED, **parts))
    room = (sizes.width - 2 * sizes.stroke) / 2
    if style.stencil > room:
        raise Unfit(message(sentences.BREAK_TOO_WIDE, gap_mm=style.stencil, most_mm=room))
    rows = [_row(line, sizes) for line in lines_of(text)]
    longest = max(length for _placed, length in rows)
    placed = [
        replace(each, place=each.place + complex((longest - length) / 2, number * (sizes.height + sizes.line_gap)))
        for number, (row, length) in enumerate(rows)
        for each in row
    ]
    height = len(rows) * sizes.height + (len(rows) - 1) * sizes.line_gap
    return Lettering(sizes, tuple(placed), longest, height, style, slant_degrees)


def _row(line: str, sizes: Sizes) -> tuple[list[Placed], float]:
    placed: list[Placed] = []
    end = 0.0
    gap = 0.0
    for character in line:
        if character == " ":
            gap = sizes.group_gap
            continue
        start = end + gap if placed else 0.0
        width = sizes.width_of(character)
        placed.append(Placed(character, complex(start, 0.0), width))
        end, gap = start + width, sizes.gap
    return placed, end


def length_of(text: str, sizes: Sizes) -> float:
    """Return the length of a text without drawing it. Raises Unfit."""
    return max(_row(line, sizes)[1] for line in lines_of(text))


def fitted_length(text: str, sizes: Sizes, length: float) -> Sizes:
    """Return ``sizes`` with widths and gaps condensed or expanded so that the text has a ``length``; strokes stay.

    Raises Unfit for a length that cannot be had.
    """
    least = FEWEST_ACROSS * sizes.stroke / min(sizes.width, sizes.wide, sizes.hyphen * FEWEST_ACROSS)
    low, high = min(1.0, least), MOST_EXPANDED
    shortest, longest = (length_of(text, sizes.stretched(factor)) for factor in (low, high))
    if not shortest <= length <= longest:
        parts = {"shortest_mm": shortest, "longest_mm": longest, "length_mm": length}
        raise Unfit(message(sentences.NOT_THAT_LENGTH, **parts))
    # The length grows with the factor, in straight lines that meet where narrow characters stop to shrink.
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if length_of(text, sizes.stretched(middle)) < length:
            low = middle
        else:
            high = middle
    made = sizes.stretched(high)
    check(made)
    return made


def largest_fitting(text: str, sizes: Sizes, length: float, height: float = inf) -> Sizes:
    """Return ``sizes`` made smaller as a whole until the text fits a surface of ``length`` and ``height``.

    They stay as they are where it fits already. Raises Unfit.
    """
    lines = len(lines_of(text))
    high = lines * sizes.height + (lines - 1) * sizes.line_gap
    return sizes.scaled(min(1.0, length / length_of(text, sizes), height / high))
