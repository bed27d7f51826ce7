"""What a marking is made of: its flat colours and its wanted white, and where each lies."""

from __future__ import annotations

import re
from collections.abc import Generator
from dataclasses import dataclass
from functools import lru_cache

from calculators.artwork.colour_table import lab, within
from calculators.artwork.connected import TooManyRuns
from calculators.artwork.flat_colours import NONE, NotFlat, flat_colours
from calculators.artwork.smaller import worked
from calculators.artwork.whites import BARE, PRINTED, TOLERANCE, WHITE, areas
from calculators.declare import Progress
from calculators.files.picture import Picture
from calculators.files.pixels import Raster
from calculators.underlay.border import Border
from calculators.underlay.srgb import lab_of
from calculators.underlay.ways import Part

#: Colours are told on a picture made smaller to at most so many pixels: their shares are the same.
LOOKED_AT_PX = 160_000
#: A picture with more colours than this is told by the so many that stand for it.
MOST_PARTS, STANDING_FOR = 20, 12
#: The label of wanted white, beside the places of the colours; ``NONE`` is where nothing prints.
WHITE_LABEL = 254
WHITE_COLOUR = "#ffffff"
#: Areas are outlined in so many steps along the longer side.
STEPS = 96


@dataclass(frozen=True)
class Artwork:
    """A picture as a marking. ``covered`` is a byte a pixel, 0 where nothing lies on the paint.

    ``labels``, of ``width`` x ``height`` and smaller than the picture, holds for each pixel the place of its colour.
    ``stands_for_more`` tells that the picture has many colours more.
    """

    picture: Raster
    covered: bytes
    colours: tuple[str, ...]
    labels: bytes
    width: int
    height: int
    stands_for_more: bool

    def border(self, percent: float, degrees: float) -> Border:
        """Return the border across the labels."""
        return Border(self.width, self.height, percent, degrees)

    def parts(self, percent: float, degrees: float) -> dict[int, Part]:
        """Return each colour by its label: its share and the paints it lies on, wanted white first, then by share."""
        sides = self.border(percent, degrees).split(self.labels)
        counts = {label: [side.count(label) for side in sides] for label in (WHITE_LABEL, *range(len(self.colours)))}
        whole = sum(map(sum, counts.values())) or 1
        made = {}
        for label, both in sorted(counts.items(), key=lambda item: (item[0] != WHITE_LABEL, -sum(item[1]))):
            if sum(both):
                # A few pixels of an edge are not a part on that side.
                over = tuple(count > 0.02 * sum(both) for count in both)
                is_white = label == WHITE_LABEL
                made[label] = Part(WHITE_COLOUR if is_white else self.colours[label], sum(both) / whole, over, is_white)
        return made

    def path(self, labels: set[int]) -> str:
        """Return the areas of ``labels`` as the data of an SVG path, in shares of a thousandth of the width."""
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


def artwork_of(picture: Picture, marks: str) -> Generator[Progress, None, Artwork]:
    """Yield ``Progress``, and return ``picture`` with its white areas read as ``marks`` say.

    The last picture is kept, so that a change of paint or border alone does not look for its colours again.
    Raises ``whites.BadMark``.
    """
    kept = _kept(picture, marks)
    if not kept:
        raster = worked(Raster(picture.rgba, picture.width_px, picture.height_px))
        try:
            covered = (yield from areas(raster, marks)).meaning()
        except TooManyRuns:
            # White is scattered all over, as in a photograph: none of it is an area, and only what is clear is none.
            covered = raster.rgba[3::4].translate(bytes([BARE]) + bytes([PRINTED]) * 255)
        kept.append((yield from _labelled(raster, covered)))
    return kept[0]


@lru_cache(maxsize=1)
def _kept(picture: Picture, marks: str) -> list[Artwork]:
    """Return the list that holds the artwork of a picture once it was looked at."""
    return []


def _labelled(raster: Raster, covered: bytes) -> Generator[Progress, None, Artwork]:
    small = worked(raster, LOOKED_AT_PX)
    plane, width, height = covered, raster.width, raster.height
    while (width, height) != (small.width, small.height):
        plane = b"".join(plane[row * width : row * width + width // 2 * 2 : 2] for row in range(0, height // 2 * 2, 2))
        width, height = width // 2, height // 2
    try:
        flat = yield from flat_colours(small)
        is_flat = len(flat.colours) <= MOST_PARTS
    except NotFlat:
        is_flat = False
    if not is_flat:
        flat = yield from flat_colours(small, count=STANDING_FOR)
    kept = {WHITE: WHITE_LABEL, BARE: NONE}
    # The soft edge of a white area, which is a colour by its label only.
    edge = WHITE_LABEL if WHITE in plane else NONE
    near = within(lab_of((1.0, 1.0, 1.0)), TOLERANCE)
    whites = bytes(edge if label < len(flat.colours) and near(lab(flat.colours[label].rgb)) else label for label in range(256))
    labels = bytes([label if means == PRINTED else kept[means]
                    for label, means in zip(flat.labels.translate(whites), plane, strict=True)])  # fmt: skip
    return Artwork(raster, covered, tuple(each.hex for each in flat.colours), labels, width, height, not is_flat)
