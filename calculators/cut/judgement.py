"""Whether pieces can be cut as they are, and where not."""

from __future__ import annotations

from cmath import phase
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import acos, ceil, degrees, floor
from operator import itemgetter

from calculators.cut.bridges import Bridged
from calculators.cut.plane import Flat, Plane
from calculators.shapes.nesting import Part
from calculators.shapes.offsets import Polygon

SMALL_PIECE, SMALL_OPENING, THIN, SHARP, TOUCHING, LOOSE, LEFT_OUT, STARVED, VANISHED = (
    "small-piece",
    "small-opening",
    "thin",
    "sharp",
    "touching",
    "loose",
    "left-out",
    "starved",
    "vanished",
)
CLEANLY, WITH_CARE, NOT_LIKE_THIS = "cleanly", "with-care", "not-like-this"
#: Where one of these is, the piece falls apart or is no longer what was drawn.
FATAL = frozenset((TOUCHING, LOOSE, STARVED))
#: With more than this share of its outlines round what is too small, nothing useful is left of a set.
MOST_SMALL = 0.5
#: Two stretches of an outline face one another if the cosines of the angles between them and the way across are above
#: this; so do those of a tip, but less than so many widths from one another along the outline.
FACING, TIP = 0.8, 6.0
#: Where a direction has more than this along an axis, what faces it lies further along that axis and looks back, since
#: the cosines leave no more than 37 degrees. By the sign of the direction: in which cells, 0 for its own, that is, and
#: whether what is there looks along the axis.
ASIDE = 0.61
OPPOSITE = {
    -1: ((-1, True), (0, True)),
    0: tuple((cell, ahead) for cell in (-1, 0, 1) for ahead in (False, True)),
    1: ((0, False), (1, False)),
}
#: An inward corner turns by more than so many radians.
CORNER = 0.3
#: Places of one neck lie within so many times the least width. Two points are apart from so many mm.
APART, ROUNDING_MM = 4.0, 0.002
#: An outline is looked at in so many places at most, besides its own corners.
MOST_SIDES = 20_000
#: Strips of at least this share of the least width count as wide enough: along curves a width is known no better.
NARROWER = 0.95
#: A corner is measured between points so many mm along the outline on either side (estimate).
REACH_MM = 0.2


@dataclass(frozen=True)
class Limits:
    """What can be cut, in mm and degrees (estimates; the reader may change the lengths)."""

    smallest_piece: float = 1.5
    smallest_opening: float = 0.5
    thinnest_strip: float = 0.8
    sharpest: float = 25.0


@dataclass(frozen=True)
class Place:
    """A place to look at: what is there, its middle in mm, and how wide, long or (degrees) sharp it is."""

    kind: str
    middle: complex
    size: float


def islands(plane: Plane, openings: Flat, sheet: Flat) -> list[Part]:
    """Return the parts of a stencil that nothing but tape holds: all but the largest. Raises TooTangled."""
    left = plane.parts(plane.minus(sheet, openings))
    return sorted(left, key=lambda part: -plane.area([part.outer]))[1:]


def places_in_mask(plane: Plane, openings: Flat, sheet: Flat, alone: Sequence[Part], limits: Limits) -> list[Place]:
    """Return the places of an adhesive mask, whose ``islands`` are ``alone``: those too small to hold among them.

    Raises TooTangled.
    """
    held = [ring for part in alone for ring in (part.outer, *part.holes)]
    return [
        *small_places(plane, held, SMALL_PIECE, limits.smallest_piece),
        *_in_stencil(plane, openings, sheet, limits, limits.smallest_opening),
    ]


def places_in_loose_stencil(plane: Plane, made: Bridged, sheet: Flat, limits: Limits) -> list[Place]:
    """Return the places of a loose stencil with its bridges. Raises TooTangled."""
    return [
        *part_places(plane, made.loose, LOOSE),
        *part_places(plane, made.starved, STARVED),
        *part_places(plane, made.left_out, LEFT_OUT),
        *_in_stencil(plane, made.openings, sheet, limits, limits.thinnest_strip),
    ]


def places_in_piece(plane: Plane, flat: Flat, limits: Limits) -> list[Place]:
    """Return the places of a piece that is used itself, such as a backing piece. Raises TooTangled."""
    holes = [hole[::-1] for part in plane.parts(flat) for hole in part.holes]
    return [
        *small_places(plane, flat, SMALL_PIECE, limits.smallest_piece),
        *narrow_places(plane, holes, SMALL_OPENING, limits.smallest_opening),
        *necks(plane, flat, limits.smallest_opening),
        *_of_outlines(plane, flat, limits),
    ]


def _in_stencil(plane: Plane, openings: Flat, sheet: Flat, limits: Limits, thinnest: float) -> Iterator[Place]:
    yield from narrow_places(plane, openings, SMALL_OPENING, limits.smallest_opening)
    yield from necks(plane, plane.minus(sheet, openings), thinnest)
    yield from _of_outlines(plane, openings, limits)


def _of_outlines(plane: Plane, flat: Flat, limits: Limits) -> Iterator[Place]:
    yield from sharp_corners(plane, flat, limits.sharpest)
    yield from touching_places(plane, flat)


def small_places(plane: Plane, flat: Flat, kind: str, least: float) -> Iterator[Place]:
    """Yield the parts of a region whose longer side is shorter than ``least`` mm."""
    for part in plane.parts(flat):
        box, side = _box(plane.polygon(part.outer))
        if side < least:
            yield Place(kind, box, side)


def narrow_places(plane: Plane, flat: Flat, kind: str, least: float) -> Iterator[Place]:
    """Yield the parts of a region that are narrower than ``least`` mm all over."""
    for part in plane.parts(flat):
        if not plane.is_wide([part.outer, *part.holes], least):
            yield _at(plane, part, kind)


def necks(plane: Plane, flat: Flat, least: float) -> list[Place]:
    """Return the places where a region is narrower than ``least`` mm, tips left out: where two stretches of its outline
    face one another across it, and are further apart along the outline.
    """
    length = sum(abs(end - start) for ring in flat for start, end in pairwise(plane.polygon(ring)))
    # By square cells, and by the way into the region.
    held: defaultdict[tuple[int, int, bool, bool], list[_Side]] = defaultdict(list)
    looking: defaultdict[tuple[int, int, int, int], list[_Side]] = defaultdict(list)
    for side in _sides(plane, flat, max(least / 4, length / MOST_SIDES)):
        point, x, y = side[0], side[1].real, side[1].imag
        column, row = floor(point.real / least), floor(point.imag / least)
        held[column, row, x > 0, y > 0].append(side)
        looking[column, row, (x > ASIDE) - (x < -ASIDE), (y > ASIDE) - (y < -ASIDE)].append(side)
    found: list[tuple[float, int, float, complex]] = []
    for (column, row, x_way, y_way), sides in looking.items():
        near: list[_Side] = []
        for x, to_right in OPPOSITE[x_way]:
            for y, down in OPPOSITE[y_way]:
                near += held.get((column + x, row + y, to_right, down), ())
        found += _facing(sides, near, least)
    # By width, and along the outlines where that is equal.
    found.sort(key=itemgetter(0, 1, 2))
    return merged((Place(THIN, middle, width) for width, _ring, _passed, middle in found), APART * least)


#: A point of an outline, the unit direction from it into the region, the number of its ring, how far along that it is,
#: and the length of the ring. A plain tuple, since there are many.
_Side = tuple[complex, complex, int, float, float]


def _facing(sides: Iterable[_Side], near: Sequence[_Side], least: float) -> Iterator[tuple[float, int, float, complex]]:
    """Yield for each of ``sides`` and each point across a neck from it how wide the neck is there, the number of the
    ring and how far along it the side is, and the middle.
    """
    most = NARROWER * least
    for point, inward, ring, passed, whole in sides:
        outward = inward.conjugate()
        for other in near:
            across = other[0] - point
            width = (across * outward).real
            if (
                ROUNDING_MM < width < most
                and width > FACING * abs(across)
                and (inward * other[1].conjugate()).real < -FACING
            ):
                apart = abs(passed - other[3])
                if ring != other[2] or min(apart, whole - apart) > TIP * width:
                    yield width, ring, passed, (point + other[0]) / 2


def _sides(plane: Plane, flat: Flat, every: float) -> Iterator[_Side]:
    for number, ring in enumerate(flat):
        polygon = plane.polygon(ring)
        parts = list(pairwise([*polygon, polygon[0]]))
        whole = sum(abs(end - start) for start, end in parts)
        passed = 0.0
        before = parts[-1][1] - parts[-1][0]
        for start, end in parts:
            way = end - start
            length = abs(way)
            inward = 1j * way / length
            # Across from an inward corner everything within its angle faces it; its middle stands for that.
            turned = before.conjugate() * way
            if not turned.imag > 0 and phase(turned) < -CORNER and (both := inward + 1j * before / abs(before)):
                yield start, both / abs(both), number, passed, whole
            before = way
            steps = max(1, ceil(length / every))
            for step in range(steps):
                share = (step + 0.5) / steps
                yield start + share * way, inward, number, passed + share * length, whole
            passed += length


def sharp_corners(plane: Plane, flat: Flat, sharpest: float) -> Iterator[Place]:
    """Yield the corners of outlines that a blade cannot turn round."""
    for ring in flat:
        polygon = plane.polygon(ring)
        found = []
        for place, point in enumerate(polygon):
            before, after = _along(polygon, place, -1), _along(polygon, place, 1)
            angle = _angle(before - point, after - point)
            if angle < sharpest:
                found.append(Place(SHARP, point, angle))
        found.sort(key=lambda each: each.size)
        yield from merged(found, 2 * REACH_MM)


def touching_places(plane: Plane, flat: Flat) -> Iterator[Place]:
    """Yield the points where outlines meet."""
    counts = Counter(node for ring in flat for node in ring)
    yield from (Place(TOUCHING, plane.grid.place(node), 0.0) for node, count in counts.items() if count > 1)


def part_places(plane: Plane, parts: Iterable[Part], kind: str) -> Iterator[Place]:
    """Yield where parts are."""
    return (_at(plane, part, kind) for part in parts)


def merged(places: Iterable[Place], apart: float) -> list[Place]:
    """Return places, each further than ``apart`` mm from those before."""
    made: list[Place] = []
    for each in places:
        if all(abs(each.middle - other.middle) > apart for other in made):
            made.append(each)
    return made


def judged(places: Sequence[Place], outlines: int) -> str:
    """Return the verdict on a set of so many ``outlines`` with these places."""
    if not outlines or any(each.kind in FATAL for each in places):
        return NOT_LIKE_THIS
    small = sum(each.kind in (SMALL_PIECE, SMALL_OPENING) for each in places)
    if small > MOST_SMALL * outlines:
        return NOT_LIKE_THIS
    return WITH_CARE if places else CLEANLY


def _at(plane: Plane, part: Part, kind: str) -> Place:
    middle, side = _box(plane.polygon(part.outer))
    return Place(kind, middle, side)


def _box(polygon: Polygon) -> tuple[complex, float]:
    """Return the middle of the box round a polygon, and its longer side."""
    across, down = [point.real for point in polygon], [point.imag for point in polygon]
    left, right, top, bottom = min(across), max(across), min(down), max(down)
    return complex((left + right) / 2, (top + bottom) / 2), max(right - left, bottom - top)


def _along(polygon: Polygon, place: int, way: int) -> complex:
    """Return the point ``REACH_MM`` along a polygon from one of its corners."""
    left, here = REACH_MM, polygon[place]
    for step in range(1, len(polygon)):
        after = polygon[(place + way * step) % len(polygon)]
        length = abs(after - here)
        if length >= left:
            return here + (after - here) * left / length
        left -= length
        here = after
    return here


def _angle(one: complex, other: complex) -> float:
    """Return the angle between two directions in degrees; a half turn where one has no length."""
    lengths = abs(one) * abs(other)
    return degrees(acos(max(-1.0, min(1.0, (one * other.conjugate()).real / lengths)))) if lengths else 180.0
