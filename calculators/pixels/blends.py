"""Was a picture enlarged by blending its pixels, and how many times? Judged from the rhythm of its bends.

Enlarging a line ``factor`` times sets new pixels between the old ones, and the possible bend at a new pixel depends on
its place between two old ones. So the size of the second and third differences, taken over many lines, rises and falls
with a period of ``factor`` pixels. Pictures that were never enlarged have no such rhythm, even soft ones. This is from
the literature on traces of resampling (A. Gallagher, "Detection of linear and cubic interpolation in JPEG compressed
images", 2005; A. Popescu and H. Farid, "Exposing digital forgeries by detecting traces of resampling", 2005), both
quoted from memory. The third difference is our addition: with a factor of 2 and pixels laid out about their middles,
the second alone shows nothing, since both kinds of new pixel are mirror images of each other.
"""

from __future__ import annotations

from cmath import exp, pi
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from math import sqrt
from operator import add, gt, mul, sub
from statistics import median

from calculators.pixels.raster import WHITE

#: Enlargements looked for, in times.
LEAST, MOST = 1.45, 9.0
#: Below this factor the bends are weak evidence: they have to be smaller, and the
#: rhythm along both axes this much stronger.
SMALL, SMALL_BEND, STRONGER = 1.95, 1.9, 1.5
#: Bends are compared with the mean over this many pixels to either side.
REACH = 8
#: The spectrum has this many points over one turn, and stretches are at most as long.
POINTS = 2048
#: A peak is on the skirt of another that is this many times as high and at most this many points away.
SKIRT, SKIRT_REACH = 3.0, POINTS // 32
#: A shorter line has no clear rhythm.
SHORTEST = 48
#: How far a peak must stand above the median of the spectrum: for both axes together (geometric
#: mean) with each at least EACH, and for one axis alone. Set on the tuning half (tests/corpus).
TOGETHER, EACH, ALONE = 7.5, 3.0, 25.0
#: Peaks from this strength get a closer look, up to this many.
POSSIBLE, POSSIBLE_PEAKS = 3.0, 3
#: If the strongest peak is an overtone, the rhythm itself has at least this share of its strength: for a peak at a
#: period of 2, which third differences favour, and for any other.
OVERTONE_OF_TWO, OVERTONE = 0.3, 0.8
#: Bends over slopes (sum of second by sum of first differences) of a picture enlarged ``factor`` times is at
#: most this over ``factor``: a straight ramp between two pixels gives 2, cubic blends overshoot a little.
BEND = 2.15
#: Grain bends more. At a period of 2, which no other factor has, a rhythm this many
#: times as strong as needed is enough.
TWO, GRAIN_BEND, OBVIOUS = (1.95, 2.05), 2.6, 4.0
#: The least size of a difference that counts as a peak.
PEAK = 16
#: Differences up to this size come from rounding to whole levels (4 levels of brightness to one of a channel).
ROUNDING = 4


@dataclass(frozen=True)
class Rhythm:
    """One axis: ``strength`` of each of the ``POINTS``/2 frequencies over the median, and ``bend``."""

    strength: list[float]
    bend: float


def rhythm(lines: list[list[int]]) -> Rhythm | None:
    """Return the rhythm of the bends along ``lines``, or None if they are too short or too plain."""
    length = len(lines[0])
    if length < SHORTEST:
        return None
    second, third = _Bends(length - 2), _Bends(length - 3)
    slopes = bends = 0
    sizes = _sizes()
    for line in lines:
        first_differences = list(map(sub, line[1:], line))
        second_differences = list(map(sub, first_differences[1:], first_differences))
        slopes += sum(map(sizes.__getitem__, first_differences))
        bends += sum(map(sizes.__getitem__, second_differences))
        second.add(second_differences)
        third.add(map(sub, second_differences[1:], second_differences))
    if not slopes or not bends:
        return None
    spectra = (*second.spectra(), *third.spectra())
    return Rhythm([max(each) for each in zip(*spectra, strict=True)], bends / slopes)


class _Bends:
    """Sums over lines: the size of the differences at each place, and how often they peak there."""

    def __init__(self, length: int) -> None:
        self.sizes = [0] * length
        self.peaks = 0

    def add(self, differences: Iterable[int]) -> None:
        sizes = list(map(abs, differences))
        self.sizes = list(map(add, self.sizes, sizes))
        rises = bytes(map(gt, sizes[1:], sizes))
        large = bytes(map(_IS_LARGE.__getitem__, sizes))
        # One byte a place, so that up to 255 lines are summed in one addition without a carry.
        rise, go_on = int.from_bytes(rises[:-1]), int.from_bytes(rises[1:])
        self.peaks += rise & ~go_on & int.from_bytes(large[1:-1])

    def spectra(self) -> tuple[list[float], list[float]]:
        """Return the strengths of the rhythm in the sizes and in the places of the largest."""
        peaks = [0, *self.peaks.to_bytes(len(self.sizes) - 2), 0]
        first, second = _spectra(_relative(self.sizes), _relative(peaks))
        return _over_median(first), _over_median(second)


def blended_together(across: Rhythm, down: Rhythm) -> tuple[float, float] | None:
    """Return (factor, strength) if both axes show the rhythm of one factor, else None."""
    both = [sqrt(a * b) if min(a, b) >= EACH else 0.0 for a, b in zip(across.strength, down.strength, strict=True)]
    return _factor(both, sqrt(across.bend * down.bend), TOGETHER, both=True)


def blended_alone(along: Rhythm) -> tuple[float, float] | None:
    """Return (factor, strength) if this axis by itself shows the rhythm beyond doubt, else None."""
    return _factor(along.strength, along.bend, ALONE, both=False)


def possible_factors(across: Rhythm, down: Rhythm) -> list[float]:
    """Return the factors that the strongest peaks of both axes could mean, even weak ones."""
    both = [sqrt(a * b) for a, b in zip(across.strength, down.strength, strict=True)]
    peaks = [index for index in sorted(_peaks(both), key=both.__getitem__)[-POSSIBLE_PEAKS:] if both[index] >= POSSIBLE]
    found = []
    for index in peaks:
        frequency = _between(both, index) / POINTS
        found += [1 / frequency, 1 / (1 - frequency), 2 / (1 + frequency), 2 / (2 - frequency)]
    return [factor for factor in found if LEAST <= factor <= MOST]


def _between(strength: list[float], index: int) -> float:
    """Return the place of a peak's top, between the points of the spectrum."""
    if index in (0, len(strength) - 1):
        return index
    below, here, above = strength[index - 1 : index + 2]
    bend = below - 2 * here + above
    return index + (0.5 * (below - above) / bend if bend else 0.0)


def _factor(strength: list[float], bend: float, needed: float, *, both: bool) -> tuple[float, float] | None:
    """Return the factor that explains the strongest peak and that the bends allow, with its strength.

    A peak at frequency f stands for the factors 1/f and 1/(1 - f): of the two the larger that the
    bends allow. If a larger factor has the strongest peak for its overtone, it is that factor.
    """
    found = []
    for index in _peaks(strength):
        if strength[index] < needed or _is_block_rhythm(strength, index):
            continue
        frequency = index / POINTS
        for factor in (1 / frequency, 1 / (1 - frequency)):
            if LEAST <= factor <= MOST and _bends_allow(factor, bend, strength[index] / needed, both):
                found.append((strength[index], factor))
                break
    if not found:
        return None
    highest, factor = max(found)
    least = highest * (OVERTONE_OF_TWO if factor < 2.02 else OVERTONE)
    return max(
        (other, each) for each, other in found if other == factor or (each > least and _is_overtone(factor, other))
    )


def _bends_allow(factor: float, bend: float, times_needed: float, both: bool) -> bool:
    """Return whether a picture enlarged ``factor`` times may have these bends with a rhythm of this strength."""
    if factor < SMALL:
        return both and bend <= SMALL_BEND / factor and times_needed >= STRONGER
    is_grain = TWO[0] <= factor <= TWO[1] and times_needed >= OBVIOUS
    return bend <= (GRAIN_BEND if is_grain else BEND) / factor


def _is_overtone(factor: float, of: float) -> bool:
    """Return whether the rhythm of ``factor`` is the second or third overtone of that of a larger one."""
    for times in (2, 3):
        frequency = times / of % 1
        if of > factor and abs(min(frequency, 1 - frequency) - 1 / factor) < 3 / POINTS:
            return True
    return False


def _peaks(strength: list[float]) -> list[int]:
    """Return the indexes, from that of a period of MOST on, that stand above their neighbours.

    Those on the skirts of a peak SKIRT times as high belong to that one.
    """
    last = len(strength) - 1
    return [
        index
        for index in range(int(POINTS / MOST), last + 1)
        if strength[index] >= strength[index - 1]
        and (index == last or strength[index] >= strength[index + 1])
        and SKIRT * strength[index] >= max(strength[index - SKIRT_REACH : index + SKIRT_REACH + 1])
    ]


def _is_block_rhythm(strength: list[float], index: int) -> bool:
    """Return whether a peak is an overtone of the 8 pixel blocks that JPEG leaves rather than an enlargement."""
    eighth = POINTS // 8
    if abs(index - round(index / eighth) * eighth) > 2:
        return False
    if round(index / eighth) % 2:
        return True
    odd = max(max(strength[at - 2 : at + 3]) for at in (eighth, 3 * eighth))
    return strength[index] < 2 * odd


def _relative(sums: list[int]) -> list[float]:
    """Return each sum relative to the mean about it, from -1 to 2, faded to nothing at both ends."""
    count = len(sums)
    padded = sums[REACH:0:-1] + sums + sums[-2 : -REACH - 2 : -1]
    running = [0.0]
    for each in padded:
        running.append(running[-1] + each)
    span = 2 * REACH + 1
    least = 0.02 * sum(sums) / count
    if not least:
        return [0.0] * count
    means = [(after - before) / span + least for before, after in zip(running, running[span:], strict=False)]
    fade = (0.5 - 0.5 * exp(2j * pi * (at + 0.5) / count).real for at in range(count))
    return [(min(each / mean, 3.0) - 1) * faded for each, mean, faded in zip(sums, means, fade, strict=True)]


def _spectra(first: list[float], second: list[float]) -> tuple[list[float], list[float]]:
    """Return the sizes of the spectra of two real lists, by one transform of both."""
    second = second + [0.0] * (len(first) - len(second))
    joined = list(map(complex, first, second)) + [0j] * (POINTS - len(first))
    turned = _transformed(joined)
    firsts, seconds = [], []
    for index in range(POINTS // 2 + 1):
        here, there = turned[index], turned[-index].conjugate()
        firsts.append(abs(here + there) / 2)
        seconds.append(abs(here - there) / 2)
    return firsts, seconds


def _transformed(values: list[complex]) -> list[complex]:
    """Return the discrete Fourier transform; the length is a power of two."""
    count = len(values)
    if count == 4:
        a, b, c, d = values
        both, apart, turn = a + c, a - c, (d - b) * 1j
        return [both + (b + d), apart + turn, both - (b + d), apart - turn]
    even, odd = _transformed(values[::2]), _transformed(values[1::2])
    turned = list(map(mul, _turns(count), odd))
    return [*map(add, even, turned), *map(sub, even, turned)]


def _over_median(sizes: list[float]) -> list[float]:
    """Return the sizes over the median of those that matter; 0 where all are 0."""
    level = median(sizes[int(POINTS / MOST) :])
    return [each / level for each in sizes] if level else [0.0] * len(sizes)


_MOST = 4 * 2 * WHITE
#: Whether a third difference of this size is a peak, which is the most that one can be.
_IS_LARGE = bytes(PEAK + 1) + b"\1" * (2 * _MOST - PEAK)


@cache
def _sizes() -> list[int]:
    """Return the size of a second difference less what rounding may give, indexed by it; negative ones from the end."""
    return [max(0, min(at, 2 * _MOST + 1 - at) - ROUNDING) for at in range(2 * _MOST + 1)]


@cache
def _turns(count: int) -> list[complex]:
    return [exp(-2j * pi * index / count) for index in range(count // 2)]
