"""Groups of similar colours in a picture, and the ones that are colours of its artwork."""

from __future__ import annotations

import re
from bisect import bisect
from collections import Counter
from collections.abc import Generator
from dataclasses import dataclass
from itertools import islice
from math import sqrt

from calculators import messages
from calculators.colour.difference import delta_e
from calculators.pixels.colour_table import LIGHT_APART, ColourTable, Rgb, unpacked, within
from calculators.pixels.full_colours import FullColours
from calculators.pixels.planes import Planes, counted
from calculators.pixels.shades import INK, Explained, Mixes
from calculators.values import Progress

#: A pixel without its own group or label, in a plane of these.
UNSURE = 254
#: The most groups of similar colours examined, the most frequent first.
MOST_GROUPS = 160
#: More real colours than this are no flat artwork; each is compared with every pair of the others.
MOST_REAL = 48
#: A group is solid if at least this share of its pixels lies in its own squares of two by two.
SOLID_SHARE = 0.4
#: Of all opaque pixels: a colour has at least this share, or this many in squares of two by two.
LEAST_SHARE, LEAST_SOLID = 0.0004, 4
#: Noise round a real colour: this near, in tolerances, with at most this share of its pixels.
NOISE_TOLERANCES, NOISE_SHARE = 2.5, 0.2
#: How far away the sides of a whole group are searched for, plain and under compression, and the pixels in its sample.
SIDES_REACH, NOISY_REACH, SAMPLED = 3, 5, 200
#: A core of squares of three by three (under compression: of five by five) makes a colour real, since no mix has one:
#: this share of its pixels or of the picture, and under compression this many pixels.
THICK_SHARE, CORE_SHARE, CORE_PX = 0.25, 0.002, 9
#: Compressed artwork has so few solid groups of at least this share, seldom more and then it is mostly at rest; a
#: photograph has more of them and rests less (set on the tuning half of the web pictures, and on photographs).
FEW_SOLID, MOST_SOLID, SMALL_SHARE, AT_REST = 12, 32, 0.001, 0.75
#: The smaller a picture, the more of it lies at its edges: a drawing of ten colours and 40 shapes has 56 pixels of
#: its side there (quality 70, at 100 to 300 px), photographs of as many solid groups 73 at 120 px, 99 at 180 and 144 at
#: 300. So a small picture needs less at rest, but never less than the last.
EDGES_PX, LEAST_AT_REST = 64.0, 0.45
#: A hairline has at most this share of its pixels in squares of two by two, and lies on at least this many grounds.
HAIRLINE_SOLID, HAIRLINE_GROUNDS = 0.15, 2
_GROUPS_BETWEEN_STEPS = 16


@dataclass
class Group:
    """Similar colours: the packed ones with their counts, and how many of their pixels
    are ``solid``, ``thick`` and in a ``core``.

    Solid is what lies in squares of two by two of the group, thick of three by three.
    """

    place: int
    seed: int
    members: dict[int, int]
    size: int = 0
    solid: int = 0
    thick: int = 0
    core: int = 0
    stands_for: Rgb = (0, 0, 0)
    lab: tuple[float, float, float] = (0.0, 0.0, 0.0)


def groups_of(table: ColourTable, tolerance: float) -> tuple[list[Group], dict[int, int]]:
    """Return groups round the most frequent colours, and the place of the group of each colour."""
    by_light = sorted((lab[0], packed, lab) for packed, lab in table.labs.items())
    groups: list[Group] = []
    group_of: dict[int, int] = {}
    for seed in sorted(table.counts, key=lambda packed: (-table.counts[packed], packed)):
        if len(groups) == MOST_GROUPS:
            break
        if seed in group_of:
            continue
        first = table.labs[seed]
        near = within(first, tolerance)
        low, high = (bisect(by_light, (first[0] + sign * LIGHT_APART * tolerance, 0, first)) for sign in (-1, 1))
        members = {
            packed: table.counts[packed]
            for _light, packed, lab in by_light[low:high]
            if packed not in group_of and (packed == seed or near(lab))
        }
        group = Group(len(groups), seed, members, sum(members.values()), lab=first)
        groups.append(group)
        group_of.update(dict.fromkeys(members, group.place))
    return groups, {packed: group_of.get(packed, UNSURE) for packed in table.counts}


def _middle(group: Group) -> Rgb:
    """Return the colour a group stands for: the mean where it is solid and its most
    frequent makes less than half of it.

    The mean of thin lines would be that of their edges.
    """
    if 2 * group.members[group.seed] >= group.size or group.solid < SOLID_SHARE * group.size:
        return unpacked(group.seed)
    sums = [0, 0, 0]
    for packed, n in group.members.items():
        for channel, level in enumerate(unpacked(packed)):
            sums[channel] += n * level
    red, green, blue = (round(each / group.size) for each in sums)
    return red, green, blue


def count_solid(groups: list[Group], planes: Planes, rough: bytes, solid: bytes, thick: bytes, core: bytes) -> None:
    """Note in each group how many of its pixels are ``solid``, ``thick`` and in a ``core``
    (255, else 0), and the colour that it stands for.
    """
    for name, kind in (("solid", solid), ("thick", thick), ("core", core)):
        counts = counted(planes.in_bands(Planes.both, rough, kind), range(len(groups)))
        # Where nothing is of the kind the plane holds 0, the place of the first group.
        counts[0] -= kind.count(0)
        for group in groups:
            setattr(group, name, counts[group.place])
    for group in groups:
        group.stands_for = _middle(group)


def may_be_artwork(groups: list[Group], whole: int, thick: int) -> bool:
    """Return whether a compressed picture may be flat artwork: few solid colours, or most of
    it at rest (``thick`` of ``whole`` pixels).
    """
    at_rest = min(AT_REST, max(LEAST_AT_REST, 1 - EDGES_PX / sqrt(whole)))
    solid = sum(each.solid >= SOLID_SHARE * each.size and each.size >= SMALL_SHARE * whole for each in groups)
    return solid <= FEW_SOLID or (solid <= MOST_SOLID and thick >= at_rest * whole)


class Sides:
    """Counts of the sets of groups near a sample of a group's pixels."""

    def __init__(self, rough: bytes, width: int, reach: int) -> None:
        self.rough, self.width, self.reach = rough, width, reach
        self._cached: dict[int, Counter[bytes]] = {}

    def of(self, group: Group) -> Counter[bytes]:
        if group.place not in self._cached:
            rough, width, reach = self.rough, self.width, self.reach
            every = re.finditer(re.escape(bytes([group.place])), rough)
            sampled: Counter[bytes] = Counter()
            for found in islice(every, 0, None, max(1, group.size // SAMPLED)):
                place = found.start()
                near: set[int] = set()
                for at in range(place - reach * width, place + reach * width + 1, width):
                    near.update(rough[max(0, at - reach) : max(0, at + reach + 1)])
                sampled[bytes(sorted(near))] += 1
            self._cached[group.place] = sampled
        return self._cached[group.place]


def real_colours(
    groups: list[Group], tolerance: float, whole: int, sides: Sides, full: FullColours | None, *, look: bool = True
) -> Generator[Progress, None, list[Group]]:
    """Return the groups that are colours of the artwork, ``MOST_REAL`` at most. Yields progress.

    Under compression ``full`` gives colours at full strength. Without ``look``, no shades
    are sought and any group may be a colour.
    """
    noisy = full is not None
    mixes = Mixes([group.stands_for for group in groups], noisy)
    real: list[Group] = []
    for place, group in enumerate(sorted(groups, key=lambda each: (-each.core, -each.solid, -each.size, each.place))):
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
        if not look or _has_core(group, whole, noisy) or not _is_shade(group, real, sides, mixes):
            real.append(group)
            if look and full and not _has_core(group, whole, noisy):
                beside = {each.place: each.stands_for for each in real if _has_core(each, whole, noisy)}
                alike = [each for each in groups if each.place not in beside and mixes.alike(each.place, group.place)]
                group.stands_for = full.of(
                    [each.place for each in alike], sum(each.size for each in alike), group.stands_for, beside
                )
                mixes.set(group.place, group.stands_for)
    if not look:
        return real or groups[:1]
    # Check again, the smallest first: a colour found later may explain an earlier shade.
    for group in sorted(real, key=lambda each: each.size):
        if not _has_core(group, whole, noisy) and _is_shade(
            group, [each for each in real if each is not group], sides, mixes
        ):
            real.remove(group)
    if not noisy:
        for group in _hairlines(real, sides, mixes):
            real.remove(group)
    return real or groups[:1]


def _hairlines(real: list[Group], sides: Sides, mixes: Mixes) -> list[Group]:
    """Return the groups that are hairlines of another colour: nowhere wholly covered, yet on several grounds.

    On one ground such a shade may be a real colour. One colour does not explain shades on several grounds by chance.
    """
    weak = [each for each in real if each.solid <= HAIRLINE_SOLID * each.size and not each.thick]
    certain = {each.place for each in real if each not in weak}
    found: list[Group] = []
    for line in sorted({INK, *(each.stands_for for each in real)}):
        left = [(each, _grounds_of(each, line, certain, sides, mixes)) for each in weak if each not in found]
        lines = [(each, grounds) for each, grounds in left if grounds]
        if len(lines) > 1 and len(set().union(*(grounds for _, grounds in lines))) >= HAIRLINE_GROUNDS:
            found += [each for each, _ in lines]
    return found


def _grounds_of(group: Group, line: Rgb, certain: set[int], sides: Sides, mixes: Mixes) -> set[int]:
    """Return the grounds on which most of a group is a hairline of the colour ``line``; none if it is not."""
    sampled = sides.of(group)
    grounds: Counter[int] = Counter()
    hits = 0
    for near, times in sampled.items():
        behind = mixes.hairline(group.stands_for, certain.intersection(near), line)
        grounds.update(dict.fromkeys(behind, times))
        hits += times * bool(behind)
    return (
        {ground for ground, times in grounds.items() if times >= 0.1 * hits} if 2 * hits >= sampled.total() else set()
    )


def _has_core(group: Group, whole: int, noisy: bool) -> bool:
    if noisy:
        return group.core >= CORE_PX
    return group.core >= THICK_SHARE * group.size or group.core >= CORE_SHARE * whole


def _is_shade(group: Group, real: list[Group], sides: Sides, mixes: Mixes) -> bool:
    """Return whether most of a group, by a sample, is a mix of real colours near it, or thin lines of one of them."""
    places = {each.place for each in real}
    wide = {each.place for each in real if each.thick >= THICK_SHARE * each.size}
    sampled = sides.of(group)
    hits, left = 0, sampled.total()
    explained = Explained(mixes, group.stands_for, places)
    thin = group.thick < THICK_SHARE * group.size and group.solid < 0.75 * group.size
    for near, times in sampled.items():
        beside = [place for place in near if place in places]
        if (
            explained.by(beside)
            or (not group.solid and mixes.seam(group.stands_for, wide.intersection(beside), wide))
            or (
                thin
                and mixes.covered(
                    group.stands_for, beside, places, [each for each in near if each < len(mixes.colours)]
                )
            )
        ):
            hits += times
        left -= times
        # A part of the sample often decides.
        if 2 * hits >= sampled.total() or 2 * (hits + left) < sampled.total():
            break
    return 2 * hits >= sampled.total()
