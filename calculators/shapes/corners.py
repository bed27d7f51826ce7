"""Corners of a trail: found at sharp turns, rebuilt by extending the two sides, accepted if the pixels agree.

The pixels at a corner say little about its tip, but those beside it say much about its sides. So the sides are
extended until they meet, and the corner is drawn into pixels again: if its coverage differs from the picture, it is a
curve. Corners within a few pixels of each other, as at the end of a thin stroke, are moved together until the coverage
matches (Gauss-Newton).
"""

from __future__ import annotations

import itertools
from cmath import phase
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, tan

from calculators.shapes.coverage import covered
from calculators.shapes.planar_map import Arc, PlanarMap
from calculators.shapes.settling import settled
from calculators.shapes.sides import ON_LINE, Side, meeting, side_through

#: Points on either side over which turning is measured; more on a hard trail.
BESIDE, BESIDE_HARD = 2, 5
#: A peak of turning is a candidate from this share of the required angle, and with this prominence.
FROM_SHARE, STANDS_OUT = 0.6, 0.4
#: Points nearer to a tip than this, in pixels, are affected by both sides.
UNCLEAN = 1.45
#: Where the two sides are nearer than twice this, in pixels, points are affected by both.
NARROW = 0.9
#: Maximum distance of a tip from the nearest point, in pixels; the second is for a hard trail.
FARTHEST, FARTHEST_HARD = 4.0, 0.8
#: Maximum difference of a pixel from the corner's coverage, and of all pixels together.
PIXEL_DIFFERS, SUM_DIFFERS = 0.11, 0.2
#: How many points from a peak are searched for its sides.
LOOKED_AT = 14
#: Minimum number of clean points for a side.
LEAST_CLEAN = 3
#: Peaks within this many points may belong to one tip.
ONE_TIP = 4
#: Maximum number of successive corners that are settled together.
MOST_TOGETHER = 6
#: Maximum failed attempts in one picture: a drawing needs a few hundred, grain has no limit.
MOST_IN_VAIN = 1000


@dataclass(slots=True)
class Sought:
    """Which corners are searched for in a picture: those that turn by at least ``angle`` radians.

    ``patience`` is how many more attempts may fail; after that no further corner is settled.
    """

    angle: float
    patience: int = MOST_IN_VAIN


@dataclass(slots=True)
class Corner:
    """``tips`` replace the points ``first`` to ``last`` of a trail.

    ``comes`` and ``leaves`` are the unit directions in which the outline reaches the first tip and leaves the last.
    ``first`` may be below 0 and ``last`` beyond the end where they lie across the seam of a ring.
    """

    first: int
    last: int
    tips: list[complex]
    comes: complex
    leaves: complex


def turning(points: Sequence[complex], ring: bool, beside: int) -> list[float]:
    """Return by how many radians the trail turns at each point, from the points ``beside`` it on either side."""
    count = len(points)
    if count < 2 * beside + 1:
        return [0.0] * count
    around = [*points[-beside:], *points, *points[:beside]] if ring else list(points)
    angles = [
        phase((after - here) * (here - before).conjugate())
        for before, here, after in zip(around, around[beside:], around[2 * beside :], strict=False)
    ]
    return angles if ring else [0.0] * beside + angles + [0.0] * beside


def corners(
    made: PlanarMap, arc: Arc, points: Sequence[complex], turns: Sequence[float], sought: Sought, hard: bool
) -> list[Corner]:
    """Return the corners of a trail that are ``sought``, in order."""
    finder = _Finder(made, arc, points, turns, sought, hard)
    found: list[Corner] = []
    for peaks in finder.clusters():
        for corner in finder.rebuilt(peaks):
            if not found or corner.first > found[-1].last:
                found.append(corner)
    if arc.ring and len(found) > 1 and found[-1].last - len(points) >= found[0].first:
        found.pop()
    return found


class _Finder:
    def __init__(
        self,
        made: PlanarMap,
        arc: Arc,
        points: Sequence[complex],
        turns: Sequence[float],
        sought: Sought,
        hard: bool,
    ) -> None:
        self.made, self.arc, self.points, self.turns = made, arc, points, turns
        self.sought, self.angle, self.hard, self.count, self.ring = sought, sought.angle, hard, len(points), arc.ring
        # On a small ring the two sides must not share points.
        self.far = min(LOOKED_AT, self.count // 3) if arc.ring else LOOKED_AT
        self.peaks = self._peaks()

    def _peaks(self) -> list[int]:
        turns, count = self.turns, self.count
        least = FROM_SHARE * self.angle
        beside = BESIDE_HARD if self.hard else BESIDE
        peaks: list[int] = []
        for at, turn in enumerate(turns):
            if -least < turn < least:
                continue
            # Round, so that every machine takes the first of two equal turns despite different last bits.
            size = round(abs(turn), 9)
            near = [round(abs(self._turn(at + off)), 9) for off in (-2, -1, 1, 2)]
            if size < max(near) or size == max(near[:2]):
                continue
            base = min(abs(self._turn(at + way * off)) for off in range(beside + 1, beside + 4) for way in (-1, 1))
            if size - base >= STANDS_OUT * least:
                peaks.append(at)
        if self.ring and len(peaks) > 1 and peaks[0] + count - peaks[-1] < 2:
            peaks.pop()
        return peaks

    def _turn(self, at: int) -> float:
        if self.ring:
            return self.turns[at % self.count]
        return self.turns[at] if 0 <= at < self.count else 0.0

    def clusters(self) -> list[list[int]]:
        """Return the peaks in groups; peaks with too few clean points between them are together."""
        together: list[list[int]] = []
        for at in self.peaks:
            if together and at - together[-1][-1] < LEAST_CLEAN + 4 and not self.hard:
                together[-1].append(at)
            else:
                together.append([at])
        if self.ring and len(together) > 1 and together[0][0] + self.count - together[-1][-1] < LEAST_CLEAN + 4:
            last = together.pop()
            together[0] = [at - self.count for at in last] + together[0]
        return together

    def point(self, at: int) -> complex:
        return self.points[at % self.count] if self.ring else self.points[at]

    def stretch(self, start: int, stop: int) -> list[complex]:
        """Return the points from ``start`` up to ``stop``, across the seam of a ring too."""
        if not self.ring:
            return list(self.points[max(0, start) : max(0, stop)])
        return [self.points[at % self.count] for at in range(start, stop)]

    def rebuilt(self, peaks: list[int]) -> list[Corner]:
        """Return the corner at a cluster of peaks, or else the corners of its parts, if any."""
        before, after = self._clean_before(peaks[0]), self._clean_after(peaks[-1])
        made = None
        if len(before) >= 2 and len(after) >= 2 and len(peaks) <= MOST_TOGETHER:
            # A tip halfway between two points may appear as two peaks.
            made = self._single(peaks, list(before), list(after)) if peaks[-1] - peaks[0] <= ONE_TIP else None
            # Leave out points of a stroke's end that look like points of its sides, one more at a time.
            for cut in (0, 1, 2) if len(peaks) == 1 else (0,):
                if made is None and not self.hard and len(before) > cut + 1 and len(after) > cut + 1:
                    made = self._several(peaks, before[: len(before) - cut], after[: len(after) - cut])
            # Do the same at a sharp tip, where both sides cross the same pixels.
            for cut in (1, 2) if len(peaks) == 1 and not self.hard else ():
                if made is None and len(before) > cut + 1 and len(after) > cut + 1:
                    made = self._single(peaks, before[:-cut], after[:-cut])
        if made is None and len(peaks) > 1:
            # Split where they are furthest apart.
            gaps = [after - before for before, after in itertools.pairwise(peaks)]
            cut = gaps.index(max(gaps)) + 1
            return self.rebuilt(peaks[:cut]) + self.rebuilt(peaks[cut:])
        return [made] if made else []

    def _clean_before(self, peak: int) -> list[complex]:
        return self.stretch(max(peak - self.far, self._beyond(peak, -1)), peak - 1)

    def _clean_after(self, peak: int) -> list[complex]:
        return self.stretch(peak + 2, min(peak + self.far + 1, self._beyond(peak, 1)))[::-1]

    def _beyond(self, peak: int, way: int) -> int:
        """Return where the side of ``peak`` ends that lies in direction ``way``."""
        place = self.peaks.index(peak % self.count if self.ring else peak)
        other = place + way
        if self.ring:
            turns_round, index = divmod(other, len(self.peaks))
            bound = self.peaks[index] + turns_round * self.count
            bound += peak - self.peaks[place]
        elif 0 <= other < len(self.peaks):
            bound = self.peaks[other]
        else:
            return 0 if way < 0 else self.count
        return bound + 2 if way < 0 else bound - 1

    def _single(self, peaks: list[int], before: list[complex], after: list[complex]) -> Corner | None:
        """Return the corner where two sides meet in one tip, if the pixels agree."""
        line_within = 0.45 if self.hard else ON_LINE
        unclean = UNCLEAN
        tries = 0
        while True:
            one, two = side_through(before, line_within), side_through(after, line_within)
            if not one or not two or not (met := meeting(one, two)):
                return None
            tip = one.point(met[0])
            # Near a sharp tip both sides cover the same pixels.
            opening = abs(phase(two.slope(met[1]) * one.slope(met[0]).conjugate()))
            unclean = max(UNCLEAN, NARROW / max(tan(opening / 2), 0.05))
            dropped = False
            for side in (before, after):
                while len(side) > LEAST_CLEAN and abs(side[-1] - tip) < unclean:
                    side.pop()
                    dropped = True
            tries += 1
            if not dropped or tries == 3:
                break
        nearest = abs(tip - self.point(peaks[0]))
        if nearest > (FARTHEST_HARD if self.hard else FARTHEST):
            return None
        comes, leaves = one.slope(met[0]), -two.slope(met[1])
        turn = phase(leaves * comes.conjugate())
        if abs(turn) < self.angle or met[0] < -1.5 or met[1] < -1.5:
            return None
        if not self.hard and not self.agrees([*before, tip, *after[::-1]], [tip]):
            moved = self._settled([tip], one, two, before, after)
            if not moved:
                return None
            tip = moved[0]
        return self._corner(peaks, [tip], comes, leaves, unclean)

    def _several(self, peaks: list[int], before: list[complex], after: list[complex]) -> Corner | None:
        """Return a corner of several tips, or of both ends of a thin stroke, moved until
        the pixels agree; None if they do not.
        """
        one, two = side_through(before), side_through(after)
        if not one or not two:
            return None
        if len(peaks) > 1:
            tips = [self.point(at) for at in peaks]
        else:
            # The end of a thin stroke: both its corners at once, as far out as its points lie.
            outward = one.slope(0) / abs(one.slope(0)) + two.slope(0) / abs(two.slope(0))
            if abs(outward) < 0.8:
                return None
            reach = max((self.point(peaks[0] + off) * outward.conjugate()).real for off in (-1, 0, 1)) / abs(outward)
            outward /= abs(outward)
            tips = [self._at_reach(side, outward, reach) for side in (one, two)]
        moved = self._settled(tips, one, two, before, after)
        if moved is None:
            return None
        comes, leaves = one.slope(one.along(moved[0])), -two.slope(two.along(moved[-1]))
        return self._corner(peaks, moved, comes, leaves, UNCLEAN)

    def _settled(
        self, tips: list[complex], one: Side, two: Side, before: list[complex], after: list[complex]
    ) -> list[complex] | None:
        """Return ``tips`` moved until the pixels agree; None if they never do or no patience is left."""
        box = self._box(tips)
        if self.sought.patience <= 0 or box[2] * box[3] > 200 or (shares := self.shares(*box)) is None:
            return None
        moved = settled(tips, one, two, before, after, box, shares)
        if moved is not None:
            near = len(tips) > 1 or abs(moved[0] - tips[0]) <= 0.8
            apart = min((abs(b - a) for a, b in itertools.pairwise(moved)), default=1.0)
            if near and apart >= 0.4 and self.agrees([*before, *moved, *after[::-1]], moved):
                return moved
        self.sought.patience -= 1
        return None

    @staticmethod
    def _at_reach(side: Side, outward: complex, reach: float) -> complex:
        """Return the point of ``side`` that lies ``reach`` far in direction ``outward``."""
        start, step = side.point(0), side.slope(0)
        ahead = (step * outward.conjugate()).real
        return start + step * ((reach - (start * outward.conjugate()).real) / ahead) if abs(ahead) > 0.2 else start

    def _corner(self, peaks: list[int], tips: list[complex], comes: complex, leaves: complex, unclean: float) -> Corner:
        """Return the corner in place of the points that lie too near its tips."""
        first, last = peaks[0], peaks[-1]
        far = ceil(unclean) + 2
        lowest, highest = (
            (first - far, last + far) if self.ring else (max(0, first - far), min(self.count - 1, last + far))
        )
        ahead, back = comes / abs(comes), leaves / abs(leaves)
        while first > lowest and ((tips[0] - self.point(first - 1)) * ahead.conjugate()).real < unclean - 0.2:
            first -= 1
        while last < highest and ((self.point(last + 1) - tips[-1]) * back.conjugate()).real < unclean - 0.2:
            last += 1
        return Corner(first, last, tips, ahead, back)

    @staticmethod
    def _box(tips: Sequence[complex]) -> tuple[int, int, int, int]:
        left, top = floor(min(z.real for z in tips) - 1.6), floor(min(z.imag for z in tips) - 1.6)
        right, bottom = ceil(max(z.real for z in tips) + 1.6), ceil(max(z.imag for z in tips) + 1.6)
        return left, top, right - left, bottom - top

    def shares(self, left: int, top: int, width: int, height: int) -> list[float] | None:
        """Return how much of each pixel belongs to the label right of the arc; None outside the padded map."""
        made, own, other = self.made, self.arc.right, self.arc.left
        labels, others, leans, stride = made.labels, made.others, made.leans, made.stride
        if left < -1 or top < -1 or left + width > stride - 1 or top + height > made.height - 1:
            return None
        colour = made.colours[own]
        shares = []
        for row in range(top + 1, top + 1 + height):
            for at in range(row * stride + left + 1, row * stride + left + 1 + width):
                label, lean = labels[at], leans[at]
                if label == own:
                    shares.append(1 - lean / 255)
                elif label == other:
                    shares.append(lean / 255 if others[at] == colour else 0.0)
                else:
                    shares.append(-1.0)
        return shares

    def agrees(self, path: list[complex], tips: list[complex]) -> bool:
        """Return whether the pixels about ``tips`` are covered as the outline ``path`` would cover them."""
        left, top, width, _ = box = self._box(tips)
        shares = self.shares(*box)
        if shares is None:
            return False
        drawn = covered(_carried_out(path, box), *box)
        total = 0.0
        for place, (is_so, would_be) in enumerate(zip(shares, drawn, strict=True)):
            if 0.002 < would_be < 0.998:
                pass
            else:
                middle = complex(left + place % width + 0.5, top + place // width + 0.5)
                if min(abs(tip - middle) for tip in tips) > 1.1:
                    continue
            if is_so < 0:
                return False
            if abs(is_so - would_be) > PIXEL_DIFFERS:
                return False
            total += is_so - would_be
        return abs(total) <= SUM_DIFFERS


def _carried_out(path: list[complex], box: tuple[int, int, int, int]) -> list[complex]:
    """Return ``path`` extended straight at both ends, out of a box."""
    reach = box[2] + box[3]
    start, end = path[0] - path[1], path[-1] - path[-2]
    return [path[0] + start * (reach / max(abs(start), 1e-6)), *path, path[-1] + end * (reach / max(abs(end), 1e-6))]
