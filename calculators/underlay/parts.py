"""The parts of a marking: its flat colours and its wanted white, and the place of each."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Generator, Mapping
from dataclasses import dataclass

from calculators import messages
from calculators.cache import PICTURES, Operation
from calculators.colour.difference import delta_e
from calculators.colour.srgb import lab_of
from calculators.declare import Progress
from calculators.files.picture import Picture
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, hex_of, lab, within
from calculators.pixels.connected import Area, TooManyRuns
from calculators.pixels.downscaling import worked
from calculators.pixels.flat_colours import NONE, NotFlat, flat_colours
from calculators.pixels.narrowest import OF_COLOUR, Narrowest, narrowest
from calculators.pixels.raster import Raster, raster_of
from calculators.pixels.white_areas import BARE, PRINTED, WHITE, WhiteAreas, areas, marked
from calculators.pixels.white_free import is_free_of_white
from calculators.pixels.white_guess import BACKGROUND
from calculators.shapes.border import Border
from calculators.underlay.case import LEAST_SHARE, Part
from calculators.underlay.edges import THIN_PX, covered_width, edge_share, fringes

#: Colours are found in a picture reduced to at most this many pixels: their shares stay the same.
LOOKED_AT_PX = 160_000
#: Limits of flat colours and of shades; beyond them, this many colours represent the
#: picture, at least this far apart (delta E 2000).
MOST_PARTS, MOST_SHADES, STANDING_FOR, APART = 20, 6000, 12, 8.0
#: Up to this many shades are no grain; more are, if they make this share of the pixels.
FEW_SHADES, GRAIN = 100, 0.3
#: The label of wanted white, besides the places of the colours; ``NONE`` means that nothing prints.
WHITE_LABEL = 254
WHITE_COLOUR = "#ffffff"
#: A table that maps every label but the bare one to 1.
COVERED = bytes([1]) * NONE + b"\0"
#: The steps along the longer side in the outlines of areas.
STEPS = 96


@dataclass(frozen=True)
class Artwork:
    """A picture as a marking. ``covered`` has one byte a pixel, 0 for bare paint.

    ``labels``, of ``width`` x ``height`` and smaller than the picture, holds the place of each pixel's colour.
    ``stands_for_more`` means that the picture has many more colours. ``whites`` are its white areas, if they can be
    separated. ``found_by`` is its key in the cache: the size searched, marks and tolerance. ``looked_at`` has the size
    of the labels.
    """

    picture: Raster
    covered: bytes
    colours: tuple[str, ...]
    labels: bytes
    width: int
    height: int
    stands_for_more: bool
    whites: WhiteAreas | None
    found_by: Operation
    looked_at: Raster

    def border(self, percent: float, degrees: float) -> Border:
        """Return the border across the labels."""
        return Border(self.width, self.height, percent, degrees)

    def parts(self, percent: float, degrees: float) -> dict[int, Part]:
        """Return the parts by label, each with its share and the paints beneath it,
        wanted white first, then by share.
        """
        sides = self.border(percent, degrees).split(self.labels)
        counts = {label: [side.count(label) for side in sides] for label in (WHITE_LABEL, *range(len(self.colours)))}
        whole = sum(map(sum, counts.values())) or 1
        made = {}
        for label, both in sorted(counts.items(), key=lambda item: (item[0] != WHITE_LABEL, -sum(item[1]))):
            if sum(both):
                # A few pixels of an edge make no part on that side.
                over = both[0] > 0.02 * sum(both), both[1] > 0.02 * sum(both)
                is_white = label == WHITE_LABEL
                made[label] = Part(WHITE_COLOUR if is_white else self.colours[label], sum(both) / whole, over, is_white)
        return made

    def narrowest(
        self, parts: Mapping[int, Part], most: int
    ) -> Generator[Progress, None, tuple[Narrowest, dict[int, Narrowest]]]:
        """Yield ``Progress``, and return the narrowest strokes of the whole outline and of each deciding colour,
        in pixels of the labels, up to ``most``.
        """
        deciding = tuple(at for at, part in parts.items() if part.share >= LEAST_SHARE)
        operation = ("narrowest", self.found_by, deciding, most)
        made = yield from PICTURES.worked_out(self.picture.source, operation, lambda: self._narrowest(deciding, most))
        return made

    def _narrowest(
        self, deciding: tuple[int, ...], most: int
    ) -> Generator[Progress, None, tuple[Narrowest, dict[int, Narrowest]]]:
        every = narrowest(self.labels.translate(COVERED), self.width, self.height, most, is_fringe=self._is_speck)
        by_colour: dict[int, Narrowest] = {}
        for label in deciding:
            yield Progress((1 + len(by_colour)) / (1 + len(deciding)), messages.MEASURING_PARTS)
            by_colour[label] = self._narrowest_of(label, most)
        yield Progress(1.0, messages.MEASURING_PARTS)
        return every, by_colour

    def _narrowest_of(self, label: int, most: int) -> Narrowest:
        plane = self.labels.translate(bytes(label == other for other in range(256)))
        is_fringe = fringes(self.labels, self.width, self.height, label, self.colours)
        found = narrowest(plane, self.width, self.height, most, OF_COLOUR, is_fringe)
        if not found.strokes or found.px > THIN_PX:
            return found
        # Such a thin stroke is paler than its true colour; its greys give its width.
        return Narrowest(covered_width(self.looked_at, self.labels, label, self.colours, found), found.strokes)

    def _is_speck(self, piece: Area) -> bool:
        """Return whether a piece is only white on white paper, as the noise of a JPEG is."""
        on_paper = self.whites is not None and any(
            each.meant == BACKGROUND and not each.clear for each in self.whites.areas
        )
        return (
            on_paper and 2 * sum(self.labels[start:stop].count(WHITE_LABEL) for start, stop in piece.runs) >= piece.size
        )

    def white_edge(self) -> float:
        """Return the share of the outline, towards bare film or the paint, that wanted white itself forms."""
        operation = ("white edge", self.found_by)
        return PICTURES.remembered(
            self.picture.source, operation, lambda: edge_share(self.labels, self.width, self.height, WHITE_LABEL, NONE)
        )

    def path(self, labels: set[int]) -> str:
        """Return the areas of ``labels`` as the data of an SVG path, in thousandths of the width."""
        step = max(1, -(-max(self.width, self.height) // STEPS))
        chosen = bytes(label in labels for label in range(256))
        unit = 1000 / self.width
        parts = []
        for row in range(step // 2, self.height, step):
            line = self.labels[row * self.width : (row + 1) * self.width][step // 2 :: step].translate(chosen)
            top = (row - step // 2) * unit
            for run in re.finditer(b"\1+", line):
                left, length = run.start() * step * unit, (run.end() - run.start()) * step * unit
                parts.append(f"M{left:.0f} {top:.0f}h{length:.0f}v{step * unit:.0f}h-{length:.0f}z")
        return "".join(parts)


def artwork_of(picture: Picture, marks: str, tolerance: float) -> Generator[Progress, None, Artwork]:
    """Yield ``Progress``, and return ``picture`` with the white areas within
    ``tolerance`` of white, and ``marks`` applied.

    The result is cached, so that a change of paint or border alone does not search for its colours again.
    Raises ``white_areas.BadMark``.
    """
    found_by = ("artwork", picture.width_px, picture.height_px, marks, tolerance)
    return (
        yield from PICTURES.worked_out(picture.digest, found_by, lambda: _artwork(picture, found_by, marks, tolerance))
    )


def _artwork(picture: Picture, found_by: Operation, marks: str, tolerance: float) -> Generator[Progress, None, Artwork]:
    raster = worked(raster_of(picture))
    try:
        if is_free_of_white(raster, tolerance):
            whites = marked(WhiteAreas(raster.width, raster.height, (), (), 0), marks)
        else:
            whites = yield from areas(raster, marks, tolerance)
        covered = whites.meaning()
    except TooManyRuns:
        # White is scattered all over, as in a photograph: none of it is an area, and only transparent pixels are bare.
        whites, covered = None, raster.rgba[3::4].translate(bytes([BARE]) + bytes([PRINTED]) * 255)
    return (yield from _labelled(raster, covered, tolerance, whites, found_by))


def _labelled(
    raster: Raster, covered: bytes, tolerance: float, whites: WhiteAreas | None, found_by: Operation
) -> Generator[Progress, None, Artwork]:
    small = worked(raster, LOOKED_AT_PX)
    plane, width, height = covered, raster.width, raster.height
    while (width, height) != (small.width, small.height):
        plane = b"".join(plane[row * width : row * width + width // 2 * 2 : 2] for row in range(0, height // 2 * 2, 2))
        width, height = width // 2, height // 2
    colours, own, stands_for_more = yield from _colours_of(small)
    labels_of_meanings = {WHITE: WHITE_LABEL, BARE: NONE}
    # The soft edge of a white area has a label of its own but is no colour.
    edge = WHITE_LABEL if WHITE in plane else NONE
    near = within(lab_of((1.0, 1.0, 1.0)), tolerance)
    named_white = bytes(edge if label < len(colours) and near(lab(colours[label])) else label for label in range(256))
    labels = bytes(
        [
            label if means == PRINTED else labels_of_meanings[means]
            for label, means in zip(own.translate(named_white), plane, strict=True)
        ]
    )
    return Artwork(
        raster, covered, tuple(map(hex_of, colours)), labels, width, height, stands_for_more, whites, found_by, small
    )


def _colours_of(raster: Raster) -> Generator[Progress, None, tuple[list[Rgb], bytes, bool]]:
    """Return the colours of a picture, the place of each pixel's colour, and whether they stand for more."""
    shades = len(set(memoryview(raster.rgba).cast("I")))
    # Grain has its own shade for every few pixels; a small drawing does not.
    if shades <= MOST_SHADES and shades <= max(FEW_SHADES, GRAIN * raster.width * raster.height):
        try:
            flat = yield from flat_colours(raster)
            if len(flat.colours) <= MOST_PARTS:
                return [each.rgb for each in flat.colours], flat.labels, False
        except NotFlat:
            pass
    return *_standing_for(raster), True


def _standing_for(raster: Raster) -> tuple[list[Rgb], bytes]:
    """Return a few colours that represent the many of a picture, and for each pixel the place of the nearest.

    It counts colours in cubes of 32 levels a side, and picks the fullest cubes that look different, each by its centre.
    """
    cut = bytes(level & 0xE0 for level in range(256))
    data = bytearray(raster.rgba).translate(cut)
    data[3::4] = raster.rgba[3::4].translate(bytes(255 if level >= OPAQUE_FROM else 0 for level in range(256)))
    words = memoryview(data).cast("I")
    counts = Counter(words)
    cubes = {
        word: ((word & 255) + 16, (word >> 8 & 255) + 16, (word >> 16 & 255) + 16) for word in counts if word >> 24
    }
    labs = {word: lab(rgb) for word, rgb in cubes.items()}
    chosen: list[int] = []
    for word in sorted(cubes, key=lambda word: (-counts[word], word)):
        if len(chosen) < STANDING_FOR and all(delta_e(labs[word], labs[each]) >= APART for each in chosen):
            chosen.append(word)
    label_of = {word: min(range(len(chosen)), key=lambda at: delta_e(labs[word], labs[chosen[at]])) for word in cubes}
    return [cubes[word] for word in chosen], bytes([label_of.get(word, NONE) for word in words])
