"""The extent of a marking in its picture: the box round all that differs from white, paper or transparency.

A ground of any other colour may be the field of a sign or a flag, so it counts as marking.

JPEG and scans make the ground uneven beside the marking: they add ripples and spread colour over whole blocks. So in a
picture with many faint pixels, an edge lies where the brightness differs half as much as one block further in. The
figures are estimates, set on drawings of the corpus of web pictures.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from calculators.cache import PICTURES
from calculators.colour.difference import delta_e
from calculators.colour.srgb import lab_of
from calculators.files.picture import Picture
from calculators.pixels.border import border_of
from calculators.pixels.colour_table import OPAQUE_FROM, Rgb, lab
from calculators.pixels.connected import MOST_RUNS, TooManyRuns, connected, painted
from calculators.pixels.downscaling import thinned
from calculators.pixels.paper import FURTHEST, even_ground
from calculators.pixels.raster import ACROSS, DOWN, Raster, raster_of
from calculators.values import in_one_go

Box = tuple[int, int, int, int]

#: The distance from the ground (delta E 2000) that makes a pixel part of the marking: usually, and in noise.
DIFFERS, DIFFERS_IN_NOISE = 6.0, 10.0
#: A pixel outside the marking is faint if it is off the ground by more than this many levels. A picture with
#: more faint pixels than edges of its marking is noisy.
FAINT_LEVELS = 2
#: What has fewer pixels than this, or less than the square of this share of the longer side, is a speck.
SPECK_PX, SPECK_SHARE = 4, 0.004
#: With more pixels of specks than this outside the marking, all areas are found at once.
MOST_SPECKS = 4000
#: In noise an edge needs this share of the contrast within this many pixels, but never more than this brightness
#: (as in ``Raster``); the search covers this many lines.
EDGE_SHARE, WITHIN_PX, ENOUGH, LOOKED_AT = 0.5, 16, 120, 40
_WHITE = lab_of((1.0, 1.0, 1.0))


@dataclass(frozen=True)
class Extent:
    """Where the marking lies: ``box`` is left, top, right, bottom (the last two beyond it) in a picture of that size.

    ``field`` is the colour that runs all round within that box, where it may be ground or marking.
    """

    box: Box
    width: int
    height: int
    field: Rgb | None = None

    @property
    def share(self) -> float:
        """How much of the picture's width the marking takes up."""
        return (self.box[2] - self.box[0]) / self.width


def extent(picture: Picture) -> Extent:
    """Return where the marking lies in a picture that was read with its pixels.

    The whole of it where it has no margin.
    """
    return PICTURES.remembered(
        picture.digest, ("extent", picture.width_px), lambda: _extent(thinned(raster_of(picture)))
    )


def _extent(raster: Raster) -> Extent:
    whole = Extent((0, 0, raster.width, raster.height), raster.width, raster.height)
    ground = even_ground(raster)
    if ground is None and not _clear_round(raster):
        return whole
    opaque = raster.rgba[3::4].translate(bytes(OPAQUE_FROM) + b"\1" * (256 - OPAQUE_FROM))
    try:
        box = _box_on(raster, opaque, ground) if ground else _box_of(opaque, raster)
    except TooManyRuns:
        return whole
    if box is None:
        return whole
    if ground is None or delta_e(lab(ground), _WHITE) <= FURTHEST:
        return Extent(box, raster.width, raster.height)
    free = box[0] > 0 and box[1] > 0 and box[2] < raster.width and box[3] < raster.height
    return replace(whole, field=ground) if free else whole


def _clear_round(raster: Raster) -> bool:
    """Return whether the picture is clear along most of its border."""
    alpha, width = raster.rgba[3::4], raster.width
    border = border_of(alpha, width)
    return 2 * sum(level < OPAQUE_FROM for level in border) > len(border)


def _box_on(raster: Raster, opaque: bytes, ground: Rgb) -> Box | None:
    marking = _off(raster, opaque, ground, DIFFERS)
    faint = _off(raster, opaque, ground, 0.0).count(1) - marking.count(1)
    plane = int.from_bytes(marking, "little")
    edges = (plane & ~(plane << 8)).bit_count()
    if faint <= edges:
        return _box_of(marking, raster)
    box, remaining = _without_specks(_off(raster, opaque, ground, DIFFERS_IN_NOISE), raster)
    return box and _sharpened(raster, remaining, ground, box)


def _off(raster: Raster, opaque: bytes, ground: Rgb, differs: float) -> bytes:
    """Return 1 for each pixel with a channel that by itself makes a colour differ so
    much from the ground; for 0, by levels.
    """
    found = 0
    for channel in range(3):
        table = bytes(_is_off(ground, channel, level, differs) for level in range(256))
        found |= int.from_bytes(raster.rgba[channel::4].translate(table), "little")
    return (found & int.from_bytes(opaque, "little")).to_bytes(len(opaque), "little")


def _is_off(ground: Rgb, channel: int, level: int, differs: float) -> bool:
    if not differs:
        return abs(level - ground[channel]) > FAINT_LEVELS
    red, green, blue = (level if place == channel else own for place, own in enumerate(ground))
    return delta_e(lab(ground), lab((red, green, blue))) > differs


def _without_specks(plane: bytes, raster: Raster) -> tuple[Box | None, bytes]:
    """Return the box round what is marking in a plane, and the plane without
    specks; no box where nothing else is there.
    """
    found = in_one_go(connected(plane, raster.width, raster.height, by_corners=(1,)))
    areas = [area for area in found if area.value == 1 and area.size >= _least(raster)]
    if not areas:
        return None, bytes(len(plane))
    lefts, tops, rights, bottoms = zip(*(area.box for area in areas), strict=True)
    return (min(lefts), min(tops), max(rights), max(bottoms)), painted(areas, [1] * len(areas), len(plane))


def _least(raster: Raster) -> float:
    """Return the number of pixels from which on an area is no speck."""
    return max(SPECK_PX, (SPECK_SHARE * max(raster.width, raster.height)) ** 2)


def _box_of(plane: bytes, raster: Raster) -> Box | None:
    """Return the box of ``_without_specks`` from what is met first on each side, in a tenth of the time.

    Raises TooManyRuns as it does.
    """
    width, height = raster.width, raster.height
    whole = int.from_bytes(plane, "little")
    changes = (whole ^ (whole >> 8)).bit_count() - plane[-1]
    ends = zip(plane[width - 1 : -1 : width], plane[width::width], strict=True)
    if height + changes - sum(one != other for one, other in ends) > MOST_RUNS:
        raise TooManyRuns
    corners = _Corners(plane, width, height, _least(raster))
    try:
        rows = (range(height), range(height)[::-1])
        top, bottom = (corners.first(order, lambda row: row * width, 1, width) for order in rows)
        if top is None or bottom is None:
            return None
        columns = (range(width), range(width)[::-1])
        left, right = (corners.first(order, lambda column: column, width, height) for order in columns)
    except _TooManySpecks:
        return _without_specks(plane, raster)[0]
    return (left or 0, top, (right or 0) + 1, bottom + 1)


class _TooManySpecks(Exception):
    """So many that all areas are found sooner."""


class _Corners:
    """Looks for the first row or column that has a pixel of an area with at least so many."""

    def __init__(self, plane: bytes, width: int, height: int, least: float) -> None:
        self._plane, self._width, self._height, self._least = plane, width, height, least
        self._specks: set[int] = set()

    def first(self, lines: range, begins: Callable[[int], int], step: int, count: int) -> int | None:
        """Return the first of ``lines``; a line is ``count`` pixels, ``step`` apart. Raises _TooManySpecks."""
        for line in lines:
            start = begins(line)
            pixels = self._plane[start : start + step * count : step]
            place = pixels.find(1)
            while place >= 0:
                if self._is_large(start + step * place):
                    return line
                place = pixels.find(1, place + 1)
        return None

    def _is_large(self, start: int) -> bool:
        if start in self._specks:
            return False
        found, pending = {start}, [start]
        while pending and len(found) < self._least:
            row, column = divmod(pending.pop(), self._width)
            for down in range(max(0, row - 1), min(self._height, row + 2)):
                for across in range(max(0, column - 1), min(self._width, column + 2)):
                    place = down * self._width + across
                    if self._plane[place] == 1 and place not in found:
                        found.add(place)
                        pending.append(place)
        if len(found) >= self._least:
            return True
        self._specks |= found
        if len(self._specks) > MOST_SPECKS:
            raise _TooManySpecks
        return False


def _sharpened(raster: Raster, remaining: bytes, ground: Rgb, box: Box) -> Box:
    """Return ``box`` without what only ripples and colour that ran have added on each side."""
    left, top, right, bottom = box
    lines = {
        DOWN: lambda at: remaining[top * raster.width + at : bottom * raster.width : raster.width],
        ACROSS: lambda at: remaining[at * raster.width + left : at * raster.width + right],
    }
    spans = {DOWN: (top, bottom), ACROSS: (left, right)}
    level = ground[0] + 2 * ground[1] + ground[2]

    def moved(axis: str, places: range) -> int:
        contrasts = []
        for place in places[:LOOKED_AT]:
            bright = raster.brightness(axis, place, *spans[axis], False)
            contrasts.append(
                max(
                    (abs(each - level) for each, remains in zip(bright, lines[axis](place), strict=True) if remains),
                    default=0,
                )
            )
        for at, contrast in enumerate(contrasts):
            if contrast >= min(ENOUGH, EDGE_SHARE * max(contrasts[at : at + WITHIN_PX])):
                return at
        return 0

    across, down = range(left, right), range(top, bottom)
    return (
        left + moved(DOWN, across),
        top + moved(ACROSS, down),
        right - moved(DOWN, across[::-1]),
        bottom - moved(ACROSS, down[::-1]),
    )
