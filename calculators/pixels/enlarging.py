"""Was a picture enlarged, and from which width? Judged by how well a smaller one, enlarged to that very width, explains it.

Whoever enlarges a picture makes every new pixel a fixed mix of old ones, so all lines of the large picture are
sums of few curves, and which curves depends on the old width to the pixel. Least squares find how much such
sums leave unexplained. For the true width that is rounding, or what JPEG did since; two pixels wider or
narrower, the curves run out of step and leave far more. A picture that nobody enlarged has no such dip at any width,
nor has one that is merely soft. So JPEG, which hides the rhythm of the bends, does not hide the dip, and
1.5 times is told from 3 times, since a third of the pixels explains little.

The idea of fitting the enlarging itself is ours; it needs the whole width, so a picture cropped since is not told by it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, prod, sqrt

from calculators.pixels.raster import Raster, busiest

#: Lines are looked at in pairs, one as the real and one as the imaginary part of complex numbers.
PAIRS, SPAN = 6, 256
#: Shorter lines tell nothing.
SHORTEST = 48
#: What a pixel leaves unexplained counts up to this (of 1020), so that a clipped overshoot cannot outweigh all others.
MOST_LEFT = 40.0
#: Added to what is left unexplained, about what rounding to whole levels leaves by itself.
ROUNDING = 0.3
#: A width is out of step where it is so many cycles off over the stretch that is looked at.
BESIDE = 2.5
NEAREST, LINEAR, CUBIC = "nearest", "linear", "cubic"
#: New pixels are mixed from so many old ones.
TAPS = {NEAREST: 1, LINEAR: 2, CUBIC: 4}
#: The usual kernels have -0.5 and -0.75 here; one between both explains either.
CUBIC_A = -0.6

#: A dip to this share for both axes together (geometric mean), and for each, is an enlargement. Set on the tuning half of
#: the sample pictures, on which originals came down to 0.84 and 0.79 with the last two, strokes of icons at 2 times most of all.
NEEDED = {NEAREST: (0.72, 0.85), LINEAR: (0.8, 0.9), CUBIC: (0.74, 0.86)}
KERNELS = tuple(TAPS)
#: The least dip of the cubic kernel where the linear one has its own.
CONFIRMED = 0.9
#: A factor that is not a usual one has to be so much surer.
SURER = 0.8
#: Where the linear kernel has less of a dip than this, the cubic one, which costs most, has none either.
NO_DIP = 0.985

Vector = list[complex]


@dataclass(frozen=True)
class Enlargement:
    """``factor`` times with a kernel like ``kernel``; the smaller ``dip``, the surer."""

    factor: float
    kernel: str
    dip: float


@dataclass(frozen=True)
class Stretch:
    """Some lines along one axis: ``columns`` has, for each place from ``start`` on, that pixel of each pair of lines.

    ``whole`` is the length of the picture along the axis.
    """

    columns: list[Vector]
    start: int
    whole: int


def stretch_of(raster: Raster, axis: str, clear: bool) -> Stretch | None:
    """Return the stretch with most contrast along ``axis``, or None where the picture is too small or plain."""
    length, count = raster.length(axis), raster.count(axis)
    if length < SHORTEST or count < 2 * PAIRS:
        return None
    start = busiest(raster, axis, SPAN, clear) if length > SPAN else 0
    stop = min(length, start + SPAN)
    tried = min(count, 12 * PAIRS)
    lines = [raster.brightness(axis, index * count // tried, start, stop, clear) for index in range(tried)]
    contrast = [sum(abs(after - before) for before, after in zip(line, line[1:], strict=False)) for line in lines]
    order = sorted(range(tried), key=contrast.__getitem__, reverse=True)[: 4 * PAIRS]
    chosen = [lines[index] for index in sorted(order)[:: max(1, len(order) // (2 * PAIRS))]][: 2 * PAIRS]
    if not max(contrast):
        return None
    pairs = [list(map(complex, one, other)) for one, other in zip(chosen[::2], chosen[1::2], strict=False)]
    return Stretch([list(column) for column in zip(*pairs, strict=True)], start, length)


def enlargement(across: Stretch, down: Stretch, factors: Iterable[tuple[float, bool]], kernels: Iterable[str]) -> Enlargement | None:
    """Return the one of ``factors`` that explains both axes best, where it does so far better than widths beside it.

    With each factor stands whether it is a usual one: of the others there are many, so that one of them dips by chance.
    """
    best = None
    for factor, usual in factors:
        for kernel in kernels:
            needed, each = (share * (1 if usual else SURER) for share in NEEDED[kernel])
            over = dip(across, round(across.whole / factor), kernel)
            if over <= each and (other := dip(down, round(down.whole / factor), kernel)) <= each:
                both = sqrt(over * other)
                if both <= needed and (not best or both < best.dip) and (kernel != LINEAR or _is_confirmed(across, down, factor)):
                    best = Enlargement(factor, kernel, both)
            if kernel == LINEAR and over > NO_DIP:
                break
    return best


def _is_confirmed(across: Stretch, down: Stretch, factor: float) -> bool:
    """Return whether the cubic kernel dips too, as it does wherever pixels were blended.

    Straight lines between every second pixel explain what is merely soft better than lines out of step with the pixels do.
    """
    dips = (dip(stretch, round(stretch.whole / factor), CUBIC) for stretch in (across, down))
    return sqrt(prod(dips)) <= CONFIRMED


def dip(stretch: Stretch, width: int, kernel: str) -> float:
    """Return what a picture of ``width`` enlarged leaves unexplained, over what widths beside it do: near 1 where it was not.

    The widths beside are so far away that their curves run out of step within the stretch.
    """
    step = stretch.whole / len(stretch.columns)
    apart = max(2, round(BESIDE * step))
    if width - apart < 2 * TAPS[CUBIC] or width + apart >= stretch.whole:
        return 1.0
    here, below, above = (left(stretch, width + by, kernel) for by in (0, -apart, apart))
    return here / sqrt(below * above)


def left(stretch: Stretch, width: int, kernel: str) -> float:
    """Return what the best picture of ``width``, enlarged to the whole with ``kernel``, leaves unexplained, for each pixel."""
    mixes, first, count = _mixes(stretch, width, kernel)
    taps = TAPS[kernel]
    bands = [[0.0] * taps for _ in range(count)]
    sums: list[Vector] = [[0j] * len(stretch.columns[0]) for _ in range(count)]
    for (base, weights), column in zip(mixes, stretch.columns, strict=True):
        for index, weight in enumerate(weights):
            at = base - first + index
            sums[at] = [held + weight * each for held, each in zip(sums[at], column, strict=True)]
            band = bands[at]
            for further in range(index, len(weights)):
                band[further - index] += weight * weights[further]
    small = _solved(bands, sums)
    total = 0.0
    for (base, weights), column in zip(mixes, stretch.columns, strict=True):
        missing = column
        for index, weight in enumerate(weights, base - first):
            missing = [held - weight * each for held, each in zip(missing, small[index], strict=True)]
        for each in missing:
            total += min(abs(each.real), MOST_LEFT) + min(abs(each.imag), MOST_LEFT)
    return total / (2 * len(stretch.columns) * len(stretch.columns[0])) + ROUNDING


def _mixes(stretch: Stretch, width: int, kernel: str) -> tuple[list[tuple[int, list[float]]], int, int]:
    """Return, for each place, the first old pixel and the weights of it and the next; then the first old pixel of all, and how many."""
    taps, mixes = TAPS[kernel], []
    last = width - taps
    for place in range(stretch.start, stretch.start + len(stretch.columns)):
        at = (place + 0.5) * width / stretch.whole - 0.5
        base = floor(at) - taps // 2 + 1 if taps > 1 else floor(at + 0.5)
        clipped = min(max(base, 0), last)
        weights = [0.0] * taps
        for index, weight in enumerate(_weights(at - floor(at), kernel), base):
            weights[min(max(index, 0), width - 1) - clipped] += weight
        mixes.append((clipped, weights))
    first = mixes[0][0]
    return mixes, first, mixes[-1][0] + taps - first


def _weights(t: float, kernel: str) -> list[float]:
    """Return the weights of the old pixels about a place that lies ``t`` of the way between two of them."""
    if kernel == NEAREST:
        return [1.0]
    if kernel == LINEAR:
        return [1 - t, t]
    a, u = CUBIC_A, 1 - t
    return [
        a * (t * t * t - 2 * t * t + t), (a + 2) * t * t * t - (a + 3) * t * t + 1,
        (a + 2) * u * u * u - (a + 3) * u * u + 1, a * (u * u * u - 2 * u * u + u),
    ]  # fmt: skip


def _solved(bands: list[list[float]], sums: list[Vector]) -> list[Vector]:
    """Solve the symmetric banded equations in place; row j of ``bands`` has the diagonal and what follows it."""
    count, reach = len(bands), len(bands[0])
    for at, band in enumerate(bands):
        band[0] += 1e-6
        shares = [each / band[0] for each in band]
        for step in range(1, min(reach, count - at)):
            share = shares[step]
            if share:
                below = bands[at + step]
                for further in range(step, reach):
                    below[further - step] -= share * band[further]
                sums[at + step] = [held - share * each for held, each in zip(sums[at + step], sums[at], strict=True)]
        shares[0] = 1 / band[0]
        bands[at] = shares
    for at in range(count - 1, -1, -1):
        shares = bands[at]
        made = [shares[0] * each for each in sums[at]]
        for step in range(1, min(reach, count - at)):
            share = shares[step]
            if share:
                made = [held - share * each for held, each in zip(made, sums[at + step], strict=True)]
        sums[at] = made
    return sums
