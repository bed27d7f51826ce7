"""A grid of swatches: neighbours of a colour by steps of CIEDE2000, each with a name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from string import ascii_uppercase

from calculators.colour.neighbours import Axes, Neighbour, axes_of, neighbour
from calculators.declare import Figure
from calculators.markup import escape
from calculators.numbers import plain
from calculators.print import chart_sentences as sentences
from calculators.print.chart_page import Block, Box, Words

#: Steps of lightness in the columns of a block, of hue in its rows, and of chroma from block to block.
LIGHT, HUE, CHROMA = (2, 1, 0, -1, -2), (1, 0, -1), (-1, 0, 1)
#: In mm: between two patches, letters, and the room for the names above and left of them.
GAP_MM, LETTERS_MM, NAMES_MM = 0.6, 2.4, 4.0
#: Of the drawing in SVG units: a patch, the gap between two, between blocks, and the room for names.
_PATCH, _GAP, _BETWEEN, _NAMES, _SIZE = 28, 3, 13, 22, 15
SOFT, INK = "#586066", "#1c2226"


@dataclass(frozen=True)
class Swatch:
    """One place of the grid: steps from the middle, and its colour if sRGB has it."""

    light: int
    chroma: int
    hue: int
    found: Neighbour

    @property
    def name(self) -> str:
        """The letter of its column and the number of its row."""
        return f"{ascii_uppercase[self.column]}{HUE.index(self.hue) + 1}"

    @property
    def column(self) -> int:
        """Its column among those of all blocks, from 0."""
        return CHROMA.index(self.chroma) * len(LIGHT) + LIGHT.index(self.light)

    @property
    def is_at_the_edge(self) -> bool:
        """Whether a better match may lie beyond the grid."""
        return abs(self.light) == max(LIGHT) or self.chroma != 0 or self.hue != 0


@dataclass(frozen=True)
class Grid:
    """All swatches round a colour, by block, row and column."""

    colour: str
    step: float
    axes: Axes
    swatches: tuple[Swatch, ...]

    def block(self, chroma: int) -> Iterator[Swatch]:
        """Yield the swatches of one block."""
        return (each for each in self.swatches if each.chroma == chroma)

    def named(self, name: str) -> Swatch | None:
        """Return the swatch of that name."""
        return next((each for each in self.swatches if each.name == name), None)


@lru_cache(maxsize=8)
def grid_round(colour: str, step: float) -> Grid:
    """Return the swatches round ``colour`` (#rrggbb), ``step`` apart (CIEDE2000).

    The result is cached, since most changes of a form concern the sheet and not its colours.
    """
    most = step * max(*CHROMA, *HUE)
    swatches = tuple(
        Swatch(light, chroma, hue, neighbour(colour, light * step, chroma * step, hue * step, most))
        for chroma in CHROMA
        for hue in HUE
        for light in LIGHT
    )
    return Grid(colour, step, axes_of(colour, most), swatches)


def grid_blocks(grid: Grid, patch_mm: float) -> list[Block]:
    """Return the blocks of a grid, and one with what its columns and rows mean."""
    pitch = patch_mm + GAP_MM
    size = (NAMES_MM + len(LIGHT) * pitch, NAMES_MM + len(HUE) * pitch)
    blocks = []
    for chroma in CHROMA:
        shapes: list[Box | Words] = []
        for each in grid.block(chroma):
            x, y = (NAMES_MM + place * pitch for place in (LIGHT.index(each.light), HUE.index(each.hue)))
            if each.hue == HUE[0]:
                shapes.append(Words(each.name[0], x + patch_mm / 2 - LETTERS_MM / 3, NAMES_MM - 1, LETTERS_MM))
            if each.light == LIGHT[0]:
                shapes.append(Words(each.name[1], 1, y + patch_mm / 2 + LETTERS_MM / 3, LETTERS_MM))
            if each.found.colour:
                shapes.append(Box(x, y, patch_mm, patch_mm, each.found.colour))
        blocks.append(Block(*size, tuple(shapes)))
    words = _words(grid)
    wide = 0.5 * 2.0 * max(map(len, words))
    lines = tuple(Words(each, 0, 2.4 + 3 * line, 2.0) for line, each in enumerate(words))
    return [*blocks, Block(wide, 3.0 * len(words) + 0.6, lines)]


def grid_figure(grid: Grid) -> Figure:
    """Return the grid as a drawing whose names can be read."""
    pitch, body = _PATCH + _GAP, ""
    for each in grid.swatches:
        x = _NAMES + each.column * pitch + CHROMA.index(each.chroma) * _BETWEEN
        y = _NAMES + HUE.index(each.hue) * pitch
        if each.hue == HUE[0]:
            body += _text(each.name[0], x + _PATCH / 2, _NAMES - 7)
        if each.column == 0:
            body += _text(each.name[1:], 8, y + _PATCH / 2 + 5)
        if each.found.colour:
            body += f'<path fill="{each.found.colour}" d="M{x} {y}h{_PATCH}v{_PATCH}h-{_PATCH}z"/>'
        else:
            inner = _PATCH - 2
            body += (
                f'<path class="dw-soft-line" fill="none" stroke="{SOFT}" stroke-dasharray="3 3" '
                f'd="M{x + 1} {y + 1}h{inner}v{inner}h-{inner}z"/>'
            )
    low, high = _NAMES + len(HUE) * pitch, _NAMES + 3 * len(LIGHT) * pitch + 2 * _BETWEEN
    for place, words in enumerate((grid.axes.chroma[1], sentences.SAME, grid.axes.chroma[0])):
        middle = _NAMES + (place + 0.5) * len(LIGHT) * pitch + place * _BETWEEN
        body += _text(words, middle, low + 15)
    alt = sentences.GRID_ALT.format(colour=grid.colour, **_directions(grid))
    return Figure(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {high} {low + 22}" role="img"><title>'
        f"{escape(alt)}</title>{body}</svg>",
        alt,
    )


def steps_in_words(count: int, ways: tuple[str, str]) -> str:
    """Return how far a swatch lies one way or the other: up, down."""
    return sentences.SAME if not count else f"{abs(count)} {ways[0] if count > 0 else ways[1]}"


def _directions(grid: Grid) -> dict[str, str]:
    high, low = grid.axes.chroma
    up, down = grid.axes.hue
    return {"low": low, "high": high, "up": up, "down": down}


def _words(grid: Grid) -> list[str]:
    """Return what is written on the film beside the blocks."""
    letters = [ascii_uppercase[first : first + len(LIGHT)] for first in range(0, 3 * len(LIGHT), len(LIGHT))]
    first, second, third = (f"{each[0]}-{each[-1]}" for each in letters)
    centre = next(each.name for each in grid.swatches if not (each.light or each.chroma or each.hue))
    values = {"step": plain(grid.step), "centre": centre, "colour": grid.colour, **_directions(grid)}
    return [each.format(first=first, second=second, third=third, **values) for each in sentences.GRID_WORDS]


def _text(words: str, x: float, y: float) -> str:
    return (
        f'<text class="dw-label" x="{x:.0f}" y="{y:.0f}" font-size="{_SIZE}" text-anchor="middle" '
        f'fill="{INK}">{escape(words)}</text>'
    )
