"""Find whether a picture was enlarged by repeating its pixels, and how many times, by the places where lines change."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import gcd, log
from operator import ne

#: Enlargements looked for, in times.
LEAST, MOST = 1.2, 64.0
#: Fewer places of change are no evidence: a few bars drawn on a grid look the same.
FEWEST_CHANGES = 12
#: Of the steps from one change to the next, at least this share must be a single repeated pixel long.
SINGLE_SHARE = 0.25
#: Tries to a cycle over the whole line, and how far (in cycles) a change may then seem to be out of place.
TRIES, SLACK = 16, 1 / 32

#: The first of these that does not divide the number of places visits each of them. Lines of 1,024 pixels have fewer
#: than the product of any four.
STRIDES = (7, 11, 13, 17, 19)


@dataclass(frozen=True)
class Repeats:
    """``factor``: the enlargement along this axis; 1 if there was none, None if it is unknown.

    ``certainty`` is how much likelier that is than chance, as a natural logarithm, all tries counted.
    """

    factor: float | None
    certainty: float = 0.0


def repeats(lines: list[list[int]]) -> Repeats:
    """Return how many times pixels repeat along ``lines``, all cut to the same stretch.

    Repeated pixels change only at borders between original pixels, so every change on any line falls on a comb of
    that spacing. Photographs without repeats change everywhere.
    """
    changes = changed_places(lines)
    if len(changes) < FEWEST_CHANGES:
        return Repeats(None)
    length = len(lines[0])
    whole = gcd(*(place - changes[0] for place in changes))
    if whole > 1:
        return _weighed(changes, whole, (len(changes) - 2) * log(whole) - log(MOST))
    factor = _wide_comb(changes, length) or _narrow_comb(changes, length)
    if factor is None:
        return Repeats(1.0)
    return _weighed(changes, factor, (len(changes) - 2) * log(1 / (1 / factor + SLACK)) - log(TRIES * length))


def changed_places(lines: list[list[int]]) -> list[int]:
    """Return each n where on some line the nth pixel differs from the one before."""
    changed = bytearray(len(lines[0]) - 1)
    whole = int.from_bytes(changed)
    for line in lines:
        whole |= int.from_bytes(bytes(map(ne, line[1:], line)))
    return [place for place, flag in enumerate(whole.to_bytes(len(changed)), 1) if flag]


def _wide_comb(changes: list[int], length: int) -> float | None:
    """Return the widest spacing above 2, and not whole, that has every change
    within one pixel after a tooth of the comb.
    """
    mixed = _mixed(changes)
    step = 1 / (TRIES * length)
    for index in range(int(1 / (MOST * step)), int(0.5 / step) + 1):
        factor = 1 / (index * step)
        # A whole factor puts the places whole steps apart, so 1.5 times would pass for 3 here.
        is_whole = abs(factor - round(factor)) * length < factor
        if not is_whole and _all_near(mixed, 1 / factor, 1 / factor):
            return _refined(changes, factor)
    return None


def _narrow_comb(changes: list[int], length: int) -> float | None:
    """Return the spacing between 1 and 2 whose doubled pixels are the places that never change."""
    known = set(changes)
    doubled = [each + 1 for each in changes if each + 1 not in known and each + 2 in known]
    if len(doubled) < FEWEST_CHANGES:
        return None
    mixed = _mixed(doubled)
    step = 1 / (TRIES * length)
    for index in range(int(0.5 / step), int(step**-1 / LEAST) + 1):
        frequency = index * step
        if _all_near(mixed, frequency, 1 - frequency) and _leave_gap(changes, frequency):
            return 1 / frequency
    return None


def _mixed(places: list[int]) -> list[int]:
    """Return the places in mixed order without adjacent neighbours, so that a wrong comb fails soon."""
    stride = next(each for each in STRIDES if len(places) % each)
    return [places[index * stride % len(places)] for index in range(len(places))]


def _all_near(places: list[int], frequency: float, arc: float) -> bool:
    """Return whether all places fall in one ``arc`` of a cycle, with some slack."""
    most, first = arc + SLACK, places[0]
    low = high = 0.0
    for place in places:
        cycles = (place - first) * frequency
        cycles -= round(cycles)
        if cycles < low:
            low = cycles
        elif cycles > high:
            high = cycles
        if high - low > most:
            return False
    return True


def _leave_gap(places: list[int], frequency: float) -> bool:
    """Return whether all places avoid the part of a cycle in which no pixel may begin."""
    at = sorted(place * frequency % 1 for place in places)
    widest = max(map(float.__sub__, [*at[1:], at[0] + 1], at))
    return widest >= 1 - frequency - SLACK


def _refined(changes: list[int], factor: float) -> float:
    """Return the spacing from the first change to the last, which a whole number of steps divides."""
    reach = changes[-1] - changes[0]
    return reach / round(reach / factor)


def _weighed(changes: list[int], factor: float, certainty: float) -> Repeats:
    """Return the finding, or None for a factor where a drawing's own grid could have made the comb."""
    gaps = [after - before for before, after in pairwise(changes)]
    if sum(gap < 1.5 * factor for gap in gaps) < SINGLE_SHARE * len(gaps):
        return Repeats(None)
    return Repeats(factor, certainty)
