"""Find whether a picture was enlarged, and from which width, by how well an enlarged smaller one explains it.

Enlarging makes every new pixel a fixed mix of old ones, so all lines of the large picture are sums of few curves, which
depend on the exact old width. Least squares find how much such sums leave unexplained. For the true width that is
rounding, or later JPEG loss; two pixels wider or narrower, the curves run out of step and leave far more. A picture
that was never enlarged has no such dip at any width, even if it is soft. JPEG hides the rhythm of the bends but not the
dip. The dip also separates 1.5 times from 3 times, since a third of the pixels explains little.

Fitting the enlargement itself is our idea; it needs the whole width, so it does not work after cropping.
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from itertools import accumulate
from math import prod, sqrt
from operator import mul, sub

from calculators.pixels.raster import Raster, busiest

#: The number of lines in the sample, and the length of their stretch in pixels.
LINES, SPAN = 12, 256
#: The least useful length of lines.
SHORTEST = 48
#: A place changes where the steps of all lines add up to this share of the most that they do anywhere.
CHANGE = 0.1
#: What a pixel leaves unexplained counts up to this (of 1020), so that a clipped overshoot cannot outweigh all others.
MOST_LEFT = 40.0
#: Added to what is left unexplained, about what rounding to whole levels leaves by itself.
ROUNDING = 0.3
#: A width is out of step if it is this many cycles off over the stretch.
BESIDE = 2.5
NEAREST, LINEAR, CUBIC = "nearest", "linear", "cubic"
#: The number of old pixels mixed into a new one.
TAPS = {NEAREST: 1, LINEAR: 2, CUBIC: 4}
#: The usual kernels have -0.5 and -0.75 here; one between both explains either.
CUBIC_A = -0.6

#: A dip to this share for both axes together (geometric mean), and for each, is an enlargement. Set on the tuning half
#: of the sample pictures, on which originals came down to 0.84 and 0.79 with the last two, strokes of icons at 2 times
#: most of all.
NEEDED = {NEAREST: (0.72, 0.85), LINEAR: (0.8, 0.9), CUBIC: (0.74, 0.86)}
#: Where nothing was done to the pixels since, a smaller picture explains an enlarged one far better, the better the
#: kernel is its own. Soft drawings with few edges come as low as the shares above by chance. Set on the tuning half and
#: on further originals beside it.
NEEDED_EXACTLY = {NEAREST: (0.4, 0.5), LINEAR: (0.4, 0.48), CUBIC: (0.71, 0.75)}
KERNELS = tuple(TAPS)
#: The least dip of the cubic kernel where the linear one has its own.
CONFIRMED = 0.9
#: An unusual factor needs a dip this much deeper.
SURER, SURER_EXACTLY = 0.8, 0.65
#: If the linear kernel's dip is shallower than this, skip the cubic one, which costs most and has none either.
NO_DIP = 0.985

#: Weights are whole numbers of 1/2**14, shares in solving of 1/2**20, levels of the smaller picture of 1/2**10, and
#: what is left of 1/2**3; a line has a lane of so many bits.
WEIGHT_BITS, SHARE_BITS, LEVEL_BITS, LEFT_BITS, LANE_BITS = 14, 20, 10, 3, 64
ONE = 1 << WEIGHT_BITS
#: Keeps an old pixel in bounds if the stretch shows next to nothing of it.
LEAST_WEIGHT = 1e-6


@dataclass(frozen=True)
class Enlargement:
    """``factor`` times with a kernel like ``kernel``; the smaller ``dip``, the surer."""

    factor: float
    kernel: str
    dip: float


@dataclass(frozen=True)
class Stretch:
    """Some ``lines`` along one axis: ``columns`` has, for each place from ``start``
    on, that pixel of each, in ``Lanes``.

    ``whole`` is the length of the picture along the axis; at ``changes`` places its lines change.
    ``left`` keeps what was found to be left of it.
    """

    columns: list[int]
    lines: int
    start: int
    whole: int
    changes: int
    left: dict[tuple[int, str], float] = field(default_factory=dict)


def stretch_of(raster: Raster, axis: str, clear: bool) -> Stretch | None:
    """Return the stretch with most contrast along ``axis``, or None where the picture is too small or plain."""
    length, count = raster.length(axis), raster.count(axis)
    if length < SHORTEST or count < LINES:
        return None
    start = busiest(raster, axis, SPAN, clear) if length > SPAN else 0
    stop = min(length, start + SPAN)
    tried = min(count, 6 * LINES)
    lines = [raster.brightness(axis, index * count // tried, start, stop, clear) for index in range(tried)]
    steps = [list(map(abs, map(sub, line[1:], line))) for line in lines]
    contrast = list(map(sum, steps))
    order = sorted(range(tried), key=contrast.__getitem__, reverse=True)[: 2 * LINES]
    chosen = [lines[index] for index in sorted(order)[:: max(1, len(order) // LINES)]][:LINES]
    if not max(contrast):
        return None
    lanes = Lanes.of(len(chosen))
    changes = list(map(sum, zip(*steps, strict=True)))
    return Stretch(
        [lanes.joined(column) for column in zip(*chosen, strict=True)],
        len(chosen),
        start,
        length,
        sum(map((CHANGE * max(changes)).__le__, changes)),
    )


def enlargement(
    across: Stretch, down: Stretch, factors: Iterable[tuple[float, bool]], kernels: Iterable[str], *, exact: bool
) -> Enlargement | None:
    """Return the one of ``factors`` that explains both axes best, where it does so far better than widths beside it.

    With each factor stands whether it is a usual one: of the others there are many, so that one of them dips by chance.
    ``exact``: nothing was done to the pixels since, no JPEG above all.
    """
    best = None
    shares, surer = (NEEDED_EXACTLY, SURER_EXACTLY) if exact else (NEEDED, SURER)
    for factor, usual in factors:
        for kernel in kernels:
            needed, each = (share * (1 if usual else surer) for share in shares[kernel])
            over = dip(across, round(across.whole / factor), kernel)
            if over <= each and (other := dip(down, round(down.whole / factor), kernel)) <= each:
                both = sqrt(over * other)
                if (
                    both <= needed
                    and (not best or both < best.dip)
                    and (kernel != LINEAR or _is_confirmed(across, down, factor))
                ):
                    best = Enlargement(factor, kernel, both)
            if kernel == LINEAR and over > NO_DIP:
                break
    return best


def _is_confirmed(across: Stretch, down: Stretch, factor: float) -> bool:
    """Return whether the cubic kernel dips too, as it does wherever pixels were blended.

    Straight lines between every second pixel explain what is merely soft better
    than lines out of step with the pixels do.
    """
    dips = (dip(stretch, round(stretch.whole / factor), CUBIC) for stretch in (across, down))
    return sqrt(prod(dips)) <= CONFIRMED


def dip(stretch: Stretch, width: int, kernel: str) -> float:
    """Return what a picture of ``width`` enlarged leaves unexplained, over what
    widths beside it do: near 1 where it was not.

    The widths beside are so far away that their curves run out of step within the stretch.
    """
    step = stretch.whole / len(stretch.columns)
    apart = max(2, round(BESIDE * step))
    if width - apart < 2 * TAPS[CUBIC] or width + apart >= stretch.whole:
        return 1.0
    here, below, above = (left(stretch, width + by, kernel) for by in (0, -apart, apart))
    return here / sqrt(below * above)


def left(stretch: Stretch, width: int, kernel: str) -> float:
    """Return what the best picture of ``width``, enlarged to the whole with
    ``kernel``, leaves unexplained, for each pixel.
    """
    if (width, kernel) not in stretch.left:
        stretch.left[width, kernel] = _left(stretch, width, kernel)
    return stretch.left[width, kernel]


def _left(stretch: Stretch, width: int, kernel: str) -> float:
    mix = _mix(stretch, width, kernel)
    taps, count = TAPS[kernel], mix.bases[-1] + TAPS[kernel]
    lanes = Lanes.of(stretch.lines)
    sums = [0] * count
    bands = [[0.0] * taps for _ in range(count)]
    # Places with the same base are adjacent, so a sum over them is a difference of running sums.
    ends = [bisect_right(mix.bases, base) for base in range(count - taps + 1)]
    for tap, weights in enumerate(mix.weights):
        for base, each in enumerate(_by_base(map(mul, weights, stretch.columns), ends), tap):
            sums[base] += each
        for further in range(taps - tap):
            products = map(mul, weights, mix.weights[tap + further])
            for base, each in enumerate(_by_base(products, ends), tap):
                bands[base][further] += each / ONE**2
    small = _solved(bands, [lanes.shifted(each, WEIGHT_BITS - LEVEL_BITS) for each in sums], lanes)
    missing: Iterable[int] = [column << WEIGHT_BITS + LEVEL_BITS for column in stretch.columns]
    for tap, weights in enumerate(mix.weights):
        missing = map(sub, missing, map(mul, weights, map(small.__getitem__, [base + tap for base in mix.bases])))
    total = sum(map(_counts().__getitem__, lanes.values(missing, WEIGHT_BITS + LEVEL_BITS - LEFT_BITS)))
    return total / (len(stretch.columns) * stretch.lines) + ROUNDING


@dataclass(frozen=True)
class Mix:
    """For each place the first old pixel that it is mixed from, counted from the first of
    all; and by tap the weights of it and the next.
    """

    bases: list[int]
    weights: list[list[int]]


def _mix(stretch: Stretch, width: int, kernel: str) -> Mix:
    taps, whole = TAPS[kernel], stretch.whole
    # Where the middle of a new pixel lies among old ones, in halves of a new one.
    places = [
        divmod((2 * place + 1) * width - (whole if taps > 1 else 0), 2 * whole)
        for place in range(stretch.start, stretch.start + len(stretch.columns))
    ]
    bases = [at - (taps // 2 - 1 if taps > 1 else 0) for at, _part in places]
    weights = _weights([part / (2 * whole) for _at, part in places], kernel)
    last = width - taps
    # A picture continues beyond its borders as its last pixel, which takes the weight of all beyond.
    for index in [index for index in (*range(4 * taps), *range(-4 * taps, 0)) if not 0 <= bases[index] <= last]:
        base = bases[index]
        clipped = min(max(base, 0), last)
        folded = [0] * taps
        for tap in range(taps):
            folded[min(max(base + tap, 0), width - 1) - clipped] += weights[tap][index]
        bases[index] = clipped
        for tap in range(taps):
            weights[tap][index] = folded[tap]
    first = bases[0]
    return Mix([base - first for base in bases], weights)


def _weights(parts: list[float], kernel: str) -> list[list[int]]:
    """Return by tap the weights of the old pixels about places that lie ``parts`` of the way between two of them."""
    if kernel == NEAREST:
        return [[ONE] * len(parts)]
    if kernel == LINEAR:
        after = [round(ONE * t) for t in parts]
        return [[ONE - each for each in after], after]
    a = CUBIC_A * ONE
    b, c = a + 2 * ONE, a + 3 * ONE
    outer = [round(a * t * (t * (t - 2) + 1)) for t in parts]
    before = [round((b * t - c) * t * t) + ONE for t in parts]
    last = [round(a * t * t * (1 - t)) for t in parts]
    return [outer, before, [ONE - o - p - q for o, p, q in zip(outer, before, last, strict=True)], last]


def _by_base(values: Iterable[int], ends: list[int]) -> Iterable[int]:
    """Return the sums of the values up to each end from the one before."""
    running = [0, *accumulate(values)]
    upto = [running[end] for end in ends]
    return map(sub, upto, [0, *upto])


def _solved(bands: list[list[float]], sums: list[int], lanes: Lanes) -> list[int]:
    """Solve the symmetric banded equations, their right sides in lanes; row j of
    ``bands`` has the diagonal and what follows it.
    """
    count, reach = len(bands), len(bands[0])
    shares = [[0] * reach for _ in range(count + reach)]
    for at, band in enumerate(bands):
        band[0] += LEAST_WEIGHT
        for step in range(1, min(reach, count - at)):
            share = band[step] / band[0]
            shares[at][step] = round(share * (1 << SHARE_BITS))
            below = bands[at + step]
            for further in range(step, reach):
                below[further - step] -= share * band[further]
        shares[at][0] = round((1 << SHARE_BITS) / band[0])
    shift, made = lanes.shifted, list(sums)
    for at in range(count):
        taken = 0
        for step in range(1, min(reach, at + 1)):
            taken += shares[at - step][step] * made[at - step]
        if taken:
            made[at] -= shift(taken, SHARE_BITS)
    made += [0] * reach
    for at in range(count - 1, -1, -1):
        own = shares[at]
        remainder = own[0] * made[at]
        for step in range(1, reach):
            remainder -= own[step] * made[at + step]
        made[at] = shift(remainder, SHARE_BITS)
    return made


@dataclass(frozen=True)
class Lanes:
    """Whole numbers, one a line, side by side in one long whole number: a product or a sum
    of long ones is that of all lines at once.

    Each has ``LANE_BITS``, and may be negative: it then borrows from the next, which
    pays no heed until they are taken apart.
    """

    count: int
    ones: int

    @classmethod
    @cache
    def of(cls, count: int) -> Lanes:
        """Return the lanes for so many lines."""
        return cls(count, sum(1 << LANE_BITS * lane for lane in range(count)))

    def joined(self, values: Sequence[int]) -> int:
        """Return one long number of as many values as there are lanes."""
        return sum(each << LANE_BITS * lane for lane, each in enumerate(values))

    def shifted(self, long: int, bits: int) -> int:
        """Return each value over two to the ``bits``, rounded."""
        above, mask, middle = self._steps[bits]
        return (long + above >> bits & mask) - middle

    def values(self, longs: Iterable[int], bits: int) -> list[int]:
        """Return the values of many long numbers, each over two to the ``bits``, as far as 16 bits hold them."""
        size, (above, _mask, _middle) = LANE_BITS // 8 * self.count, self._steps[bits]
        joined = b"".join([(each + above >> bits).to_bytes(size, "little") for each in longs])
        return memoryview(joined).cast("h")[:: LANE_BITS // 16].tolist()

    @cached_property
    def _steps(self) -> list[tuple[int, int, int]]:
        """By bits: what makes all lanes positive and rounds them, what is left of a lane, and what made it positive."""
        middle = LANE_BITS - 2
        return [
            (
                self.ones * ((1 << middle) + (1 << bits >> 1)),
                self.ones * ((1 << middle + 1 - bits) - 1),
                self.ones << middle - bits,
            )
            for bits in range(LANE_BITS // 2)
        ]


@cache
def _counts() -> array[float]:
    """Return what a pixel counts for that is left unexplained, by 16 bits of it; negative ones from the end."""
    return array("f", (min(min(at, (1 << 16) - at) / (1 << LEFT_BITS), MOST_LEFT) for at in range(1 << 16)))
