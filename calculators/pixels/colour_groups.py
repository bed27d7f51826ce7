"""Groups of similar colours in a picture, and which of them are colours of its artwork."""

from __future__ import annotations

import re
from bisect import bisect
from collections.abc import Generator
from dataclasses import dataclass
from itertools import islice

from calculators import messages
from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import LIGHT_APART, ColourTable, Rgb, unpacked, within
from calculators.pixels.planes import Planes, counted
from calculators.values import Progress

#: In a plane of groups or labels: a pixel that has none by itself.
UNSURE = 254
#: Groups of similar colours looked at, the most frequent first.
MOST_GROUPS = 160
#: So many colours are no flat artwork, whatever else there is; each is held against every pair of the others.
MOST_REAL = 48
#: An edge shade lies within so many levels (of 255 a channel, as a distance) of the line between its two sides.
BESIDE_LINE = 26.0
#: And the mean of a whole group of them within so many.
BESIDE_LINE_GROUP = 18.0
#: A group is solid where at least this share of its pixels lies in squares of two by two of it.
SOLID_SHARE = 0.4
#: Of all opaque pixels: a colour has at least this share, or this many in squares of two by two.
LEAST_SHARE, LEAST_SOLID = 0.0004, 4
#: Noise round a real colour: so near in tolerances, at most this share of its pixels.
NOISE_TOLERANCES, NOISE_SHARE = 2.5, 0.2
#: Those of a whole group are looked for so many pixels away, in a sample of so many of its pixels.
SIDES_REACH, SAMPLED = 3, 200
#: A group of less than this share may be solid by chance, as where a dot falls on four pixels.
SMALL_SHARE = 0.001
_GROUPS_BETWEEN_STEPS = 16


@dataclass
class Group:
    """Similar colours: the packed ones with their counts, and how many of their pixels are solid."""

    place: int
    seed: int
    members: dict[int, int]
    size: int = 0
    solid: int = 0
    stands_for: Rgb = (0, 0, 0)
    lab: tuple[float, float, float] = (0.0, 0.0, 0.0)


def groups_of(table: ColourTable, tolerance: float) -> tuple[list[Group], dict[int, int]]:
    """Return groups round the most frequent colours, and the place of the group of each colour."""
    by_light = sorted((lab[0], packed) for packed, lab in table.labs.items())
    groups: list[Group] = []
    group_of: dict[int, int] = {}
    for seed in sorted(table.counts, key=lambda packed: (-table.counts[packed], packed)):
        if len(groups) == MOST_GROUPS:
            break
        if seed in group_of:
            continue
        first = table.labs[seed]
        near = within(first, tolerance)
        low, high = (bisect(by_light, (first[0] + sign * LIGHT_APART * tolerance, 0)) for sign in (-1, 1))
        members = {
            packed: table.counts[packed]
            for _light, packed in by_light[low:high]
            if packed not in group_of and (packed == seed or near(table.labs[packed]))
        }
        group = Group(len(groups), seed, members, sum(members.values()), lab=first)
        groups.append(group)
        group_of.update(dict.fromkeys(members, group.place))
    return groups, {packed: group_of.get(packed, UNSURE) for packed in table.counts}


def _middle(group: Group) -> Rgb:
    """Return the colour a group stands for: the mean where it is solid and its most frequent makes less than half of it.

    The mean of thin lines would be that of their edges.
    """
    if 2 * group.members[group.seed] >= group.size or group.solid < SOLID_SHARE * group.size:
        return unpacked(group.seed)
    sums = [0, 0, 0]
    for packed, n in group.members.items():
        for channel, level in enumerate(unpacked(packed)):
            sums[channel] += n * level
    return tuple(round(each / group.size) for each in sums)


def count_solid(groups: list[Group], planes: Planes, rough: bytes, solid: bytes) -> None:
    """Note in each group how many of its pixels are ``solid`` (255, else 0), and the colour that it stands for."""
    counts = counted(planes.in_bands(Planes.both, rough, solid), range(len(groups)))
    # Where nothing is solid the plane holds 0, the place of the first group.
    counts[0] -= solid.count(0)
    for group in groups:
        group.solid = counts[group.place]
        group.stands_for = _middle(group)


def real_colours(
    groups: list[Group], tolerance: float, whole: int, rough: bytes, width: int
) -> Generator[Progress, None, list[Group]]:
    """Return the groups that are colours of the artwork, ``MOST_REAL`` at most. Yields progress."""
    real: list[Group] = []
    for place, group in enumerate(sorted(groups, key=lambda each: (-each.solid, -each.size, each.place))):
        if place % _GROUPS_BETWEEN_STEPS == 0:
            yield Progress(place / len(groups), messages.GROUPING_COLOURS)
        if len(real) == MOST_REAL:
            return real
        share = group.solid / group.size
        if group.size < LEAST_SHARE * whole and group.solid < LEAST_SOLID:
            continue
        if any(
            group.size <= NOISE_SHARE * other.size
            and (share < SOLID_SHARE or other.lab == group.lab)
            and delta_e(other.lab, group.lab) <= NOISE_TOLERANCES * tolerance
            for other in real
        ):
            continue
        if (share >= SOLID_SHARE and group.size >= SMALL_SHARE * whole) or not _lies_between(group, real, rough, width):
            real.append(group)
    # Once more, the smallest first, since what explains a shade may have come after it.
    for group in sorted(real, key=lambda each: each.size):
        small = group.solid < SOLID_SHARE * group.size or group.size < SMALL_SHARE * whole
        if small and _lies_between(group, [each for each in real if each is not group], rough, width):
            real.remove(group)
    return real or groups[:1]


def _lies_between(group: Group, real: list[Group], rough: bytes, width: int) -> bool:
    """Return whether a group is the shade of edges: most of it, by a sample, has two colours near that it lies between."""
    pairs = _pairs_around(group.stands_for, real, BESIDE_LINE_GROUP)
    if not pairs:
        return False
    every = re.finditer(re.escape(bytes([group.place])), rough)
    hits = looked_at = 0
    for looked_at, found in enumerate(islice(every, 0, None, max(1, group.size // SAMPLED)), 1):
        place, near = found.start(), set()
        for at in range(place - SIDES_REACH * width, place + SIDES_REACH * width + 1, width):
            near.update(rough[max(0, at - SIDES_REACH) : max(0, at + SIDES_REACH + 1)])
        hits += any(first.place in near and second.place in near for first, second in pairs)
    return 2 * hits >= looked_at


def _pairs_around(colour: Rgb, real: list[Group], beside: float) -> list[tuple[Group, Group]]:
    """Return the pairs of ``real`` that ``colour`` is ``between``: with many colours there are very many pairs to look at."""
    red, green, blue = colour
    ways = []
    for group in real:
        x, y, z = group.stands_for[0] - red, group.stands_for[1] - green, group.stands_for[2] - blue
        ways.append((group, x, y, z, x * x + y * y + z * z))
    near = beside * beside
    found = []
    for place, (first, x, y, z, square) in enumerate(ways):
        for second, to_x, to_y, to_z, to_square in ways[place + 1 :]:
            both = x * to_x + y * to_y + z * to_z
            # Seen from the colour the two lie on either side, and their line passes near.
            if square > both < to_square and square * to_square - both * both <= near * (square + to_square - 2 * both):
                found.append((first, second))
    return found


def between(colour: Rgb, first: Rgb, second: Rgb, beside: float = BESIDE_LINE) -> tuple[float, float] | None:
    """Return (distance from the line, share of ``second``) of a colour on the line between two, or None."""
    along = [b - a for a, b in zip(first, second, strict=True)]
    length = sum(each * each for each in along)
    if not length:
        return None
    off = [c - a for a, c in zip(first, colour, strict=True)]
    share = sum(a * b for a, b in zip(along, off, strict=True)) / length
    if not 0.0 < share < 1.0:
        return None
    distance = sum((b - share * a) ** 2 for a, b in zip(along, off, strict=True)) ** 0.5
    return (distance, share) if distance <= beside else None
