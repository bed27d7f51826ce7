"""Fits cubic curves and straight lines to runs of points within a tolerance.

A run goes from one corner to the next, or round a ring. It is halved where half of its turning is done until each
piece fits, then neighbours that fit as one are joined again. Pieces meet with one tangent.

Source: Schneider, "An algorithm for automatically fitting digitized curves", Graphics Gems (1990), from memory:
the lengths of the two handles by least squares, the places along the curve by one step of Newton's method. The
halving by turning and the joining are our own.
"""

from __future__ import annotations

from cmath import phase
from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import inf, pi
from operator import sub

from calculators.shapes.nearest_places import moved_shares, nearest_shares

#: A piece: start, two handles, end; or start and end of a straight line. Points are x + y j.
Piece = tuple[complex, ...]
#: The first and last point that a piece covers, the piece, and its maximum distance from the points.
Span = tuple[int, int, Piece, float]
#: The unit directions in which a run begins and ends, None where they are to be found.
Tangents = tuple[complex | None, complex | None]
#: Maximum number of fitted points; of a longer run every second, third ... point is used.
MOST_FITTED = 18
#: With fewer points than this, midpoints count too, so that no curve swings out between points.
FEW = 7
#: Minimum and maximum length of a handle, as a share of the chord.
SHORTEST, LONGEST = 0.02, 1.6
#: A piece whose handles lie within this share of the tolerance of its chord is drawn straight.
STRAIGHT = 0.6
#: A first error of this many tolerances is not worth improving by reparametrisation.
HOPELESS = 12
#: Parameters have converged if they move by less than this share of the distance from the curve.
SETTLED = 0.4
#: Errors slightly above the tolerance may still improve.
NEARLY = 1.15
#: Points on either side over which turning is measured.
AROUND = 4
#: No piece turns by more than this, in radians.
MOST_TURNED = 2.3
#: Where two pieces meet, position and direction come from a parabola through this many points on either side, by least
#: squares (Savitzky and Golay 1964: weights for the middle point and then outwards, and their sum); fewer points where
#: the run turns by more than this, in radians, since a parabola would cut across.
WEIGHTS = {4: ((59, 54, 39, 14, -21), 231), 3: ((7, 6, 3, -2), 21), 2: ((17, 12, -3), 35)}
CUTS_ACROSS = 0.5
#: No point is moved by more than this share of the tolerance.
MOST_SMOOTHED = 0.8


def at(piece: Piece, share: float) -> complex:
    """Return the point of ``piece`` at ``share`` (0 to 1) of its parameter."""
    if len(piece) == 2:
        return piece[0] + share * (piece[1] - piece[0])
    left = 1 - share
    start, first, second, end = piece
    return left * left * (left * start + 3 * share * first) + share * share * (3 * left * second + share * end)


def fitted_run(
    points: Sequence[complex], turns: Sequence[float], tolerance: float, tangents: Tangents
) -> tuple[list[Piece], float]:
    """Return pieces along ``points`` from the first to the last, and how far a point is from them at worst.

    That is no more than ``tolerance`` wherever it can be.
    ``turns`` say by how many radians the run turns at each point; ``tangents`` are the unit directions in which it
    begins and ends (both along the run), None where they are to be found.
    """
    return _Run(points, turns, tolerance, tangents).pieces()


class _Run:
    def __init__(self, points: Sequence[complex], turns: Sequence[float], tolerance: float, tangents: Tangents) -> None:
        self.points, self.tolerance = points, tolerance
        self.last = len(points) - 1
        # Rounding errors of the turning cancel over several points.
        ways = [0.0] * AROUND + list(accumulate(turns))
        ways += ways[-1:] * AROUND
        bends = [
            abs(after - before) / (2 * AROUND) + 1e-4 for before, after in zip(ways, ways[2 * AROUND :], strict=False)
        ]
        self.turned = list(accumulate(bends))
        self.known = {0: tangents[0], self.last: tangents[1]}
        self.places = {0: points[0], self.last: points[-1]}
        # Floats take half the time of complex numbers.
        self.across, self.down = [point.real for point in points], [point.imag for point in points]
        # Where along their curve the points lie that a long stretch was fitted to, by its first and last point.
        self.shares: dict[tuple[int, int], list[float]] = {}

    def pieces(self) -> tuple[list[Piece], float]:
        spans: list[Span] = []
        failed: set[tuple[int, int]] = set()
        waiting = [(0, self.last)]
        while waiting:
            start, end = waiting.pop()
            if end - start < 2 or self.turned[end] - self.turned[start] <= MOST_TURNED:
                piece, error = self.fit(start, end)
                if error <= self.tolerance or end - start < 2:
                    spans.append((start, end, piece, error))
                    continue
                failed.add((start, end))
            middle = self.half(start, end)
            waiting += [(middle, end), (start, middle)]
        spans = self.joined(spans, failed)
        return [span[2] for span in spans], max(self.worst(*span) for span in spans)

    def worst(self, start: int, end: int, piece: Piece, error: float) -> float:
        """Return how far any point from ``start`` to ``end`` is from its piece, ``error`` of those that were fitted."""
        if end - start - 1 <= MOST_FITTED:
            return error
        inner = self.points[start + 1 : end]
        first, last = piece[0], piece[-1]
        if len(piece) == 2:
            chord = last - first
            back = chord.conjugate() / (abs(chord) or 1.0)
            return max(abs(((point - first) * back).imag) for point in inner)
        across, down = self.across[start + 1 : end], self.down[start + 1 : end]
        shares = moved_shares(piece, across, down, self._between(start, end))
        return nearest_shares(piece, across, down, shares)[1]

    def _between(self, start: int, end: int) -> list[float]:
        """Return the shares of all points between two, from those of the points that were fitted."""
        step = (end - start - 1) // MOST_FITTED + 1
        known = self.shares[start, end]
        shares: list[float] = []
        before = 0.0
        for after in known:
            # The first fitted point follows the start at once.
            parts = step if shares else 1
            shares += [before + (after - before) * part / parts for part in range(1, parts + 1)]
            before = after
        rest = end - 1 - start - len(shares)
        return shares + [before + (1.0 - before) * part / (rest + 1) for part in range(1, rest + 1)]

    def half(self, start: int, end: int) -> int:
        """Return the place between where half of the turning is done."""
        turned = self.turned
        aim = (turned[start] + turned[end]) / 2
        low, high = start + 1, end - 1
        while low < high:
            middle = (low + high) // 2
            # In symmetric runs the half lies exactly on a point, where machines differ in the last bits.
            if turned[middle] < aim - 1e-9:
                low = middle + 1
            else:
                high = middle
        return low

    def joined(self, spans: list[Span], failed: set[tuple[int, int]]) -> list[Span]:
        """Return ``spans`` with neighbours joined where one piece fits both, and has not ``failed`` before."""
        made = spans[:1]
        for span in spans[1:]:
            before, end = made[-1][0], span[1]
            if (before, end) not in failed and self.turned[end] - self.turned[before] <= MOST_TURNED:
                whole, error = self.fit(before, end)
                if error <= self.tolerance:
                    made[-1] = before, end, whole, error
                    continue
            made.append(span)
        return made

    def tangent(self, place: int) -> complex:
        """Return the unit direction of the run at a point."""
        known = self.known.get(place)
        if known is None:
            known = self.known[place] = self._tangent(place)
        return known

    def place(self, at: int) -> complex:
        """Return where the run passes by a point, which is a little off it."""
        known = self.places.get(at)
        if known is None:
            known = self.places[at] = self._smoothed(at)[0]
        return known

    def _smoothed(self, at: int) -> tuple[complex, int]:
        """Return where the run passes a point, and from how many points on either side that is calculated."""
        points, turned, here = self.points, self.turned, self.points[at]
        for reach in range(min(4, at, self.last - at), 1, -1):
            if turned[at + reach] - turned[at - reach] > CUTS_ACROSS:
                continue
            weights, whole = WEIGHTS[reach]
            place = weights[0] * here
            for off in range(1, reach + 1):
                place += weights[off] * (points[at - off] + points[at + off])
            place /= whole
            if abs(place - here) <= MOST_SMOOTHED * self.tolerance:
                return place, reach
        return here, min(4, at, self.last - at)

    def _tangent(self, place: int) -> complex:
        points, last = self.points, self.last
        reach = self._smoothed(place)[1]
        if reach:
            # Sum real and imaginary parts separately, since Python versions sum complex numbers differently.
            along = complex(
                *(
                    sum([off * (parts[place + off] - parts[place - off]) for off in range(1, reach + 1)])
                    for parts in (self.across, self.down)
                )
            )
        else:
            # At an end: the slope there of the parabola through three points.
            step = min(3, last // 2)
            if step < 1:
                along = points[last] - points[0]
            elif place == 0:
                along = 4 * points[step] - 3 * points[0] - points[2 * step]
            else:
                along = 3 * points[last] - 4 * points[last - step] + points[last - 2 * step]
        length = abs(along)
        return along / length if length > 1e-9 else 1 + 0j

    def fit(self, start: int, end: int) -> tuple[Piece, float]:
        """Return one piece from a point to another, and how far off it is at worst."""
        points = self.points
        first, last = self.place(start), self.place(end)
        chord = last - first
        span = abs(chord)
        if end - start < 2 or span < 1e-9:
            return self._plain(start, end)
        step = (end - start - 1) // MOST_FITTED + 1
        inner = points[start + 1 : end : step]
        across, down = self.across[start + 1 : end : step], self.down[start + 1 : end : step]
        if len(inner) < FEW and abs(self.turned[end] - self.turned[start]) < 1.0:
            inner = _halved([first, *inner, last])
            across, down = [point.real for point in inner], [point.imag for point in inner]
        # It is straight if all points are near the chord.
        back = chord.conjugate() / span
        off = [((point - first) * back).imag for point in inner]
        farthest_left, farthest_right = max(off), -min(off)
        worst = max(farthest_left, farthest_right)
        leaves, comes = self.tangent(start), self.tangent(end)
        if worst <= STRAIGHT * self.tolerance and self._leans(leaves, comes, back) <= 0.12 + 2 * worst / span:
            return (first, last), worst
        if worst > 0.75 * span:
            return (first, last), worst
        piece, worst, shares = self._cubic(first, last, leaves, comes, (inner, across, down), span)
        if worst <= self.tolerance and end - start - 1 > MOST_FITTED:
            self.shares[start, end] = shares
        return piece, worst

    def _leans(self, leaves: complex, comes: complex, back: complex) -> float:
        return max(abs((leaves * back).imag), abs((comes * back).imag))

    def _plain(self, start: int, end: int) -> tuple[Piece, float]:
        first, last = self.place(start), self.place(end)
        if end - start < 2:
            span = abs(last - first)
            leaves, comes = self.tangent(start), self.tangent(end)
            if (
                span
                and self._leans(leaves, comes, (last - first).conjugate() / span) * span / 3 <= 0.3 * self.tolerance
            ):
                return (first, last), 0.0
            return (first, first + leaves * span / 3, last - comes * span / 3, last), 0.0
        return (first, last), max(abs(point - first) for point in self.points[start:end])

    def _cubic(
        self,
        first: complex,
        last: complex,
        leaves: complex,
        comes: complex,
        points: tuple[Sequence[complex], Sequence[float], Sequence[float]],
        span: float,
    ) -> tuple[Piece, float, list[float]]:
        """Return the cubic nearest to inner points, the greatest distance, and where along it each point lies.

        ``points`` are the inner ones, their x and their y.
        """
        inner, across, down = points
        shares = self._shares(first, last, inner)
        best: Piece = (first, last)
        least = inf
        error = inf
        for turn in range(4):
            piece = self._handles(first, last, leaves, comes, across, down, shares, span)
            before = error
            # An error above the greater one ends it without a piece, so its exact value does not matter.
            if not turn:
                most = HOPELESS * self.tolerance
            else:
                most = max(0.9 * before, self.tolerance) if before > self.tolerance else inf
            shares, error, slid = nearest_shares(piece, across, down, shares, most)
            if error < least or turn == 0:
                best, least = piece, error
            # If the parameters barely move, a new curve would be nearly the same.
            if (
                (slid <= SETTLED * error and not self.tolerance < error <= NEARLY * self.tolerance)
                or error <= 0.4 * self.tolerance
                or error > (HOPELESS if turn == 0 else 4) * self.tolerance
                or (turn and error > 0.9 * before)
            ):
                break
        return best, inf if least <= self.tolerance and _may_loop(best) else least, shares

    @staticmethod
    def _shares(first: complex, last: complex, inner: Sequence[complex]) -> list[float]:
        """Return how far along by chord length each inner point lies, 0 to 1."""
        along = list(accumulate(map(abs, map(sub, inner, [first, *inner]))))
        total = along[-1] + abs(last - inner[-1])
        return [each / total for each in along]

    @staticmethod
    def _handles(
        first: complex,
        last: complex,
        leaves: complex,
        comes: complex,
        across: Sequence[float],
        down: Sequence[float],
        shares: Sequence[float],
        span: float,
    ) -> Piece:
        """Return the cubic with those ends and directions nearest the points (across, down) in the mean."""
        start_square = end_square = both = start_side = end_side = 0.0
        chord = last - first
        # Use floats: complex numbers take twice as long.
        from_x, from_y, along_x, along_y = first.real, first.imag, chord.real, chord.imag
        leaves_x, leaves_y, comes_x, comes_y = leaves.real, leaves.imag, comes.real, comes.imag
        for x, y, share in zip(across, down, shares, strict=True):
            left = 1.0 - share
            middle = 3.0 * left * share
            one, two = middle * left, middle * share
            part = two + share * share * share
            rest_x, rest_y = x - from_x - along_x * part, y - from_y - along_y * part
            start_square += one * one
            end_square += two * two
            both += one * two
            start_side += one * (leaves_x * rest_x + leaves_y * rest_y)
            end_side -= two * (comes_x * rest_x + comes_y * rest_y)
        both *= -(leaves_x * comes_x + leaves_y * comes_y)
        determinant = start_square * end_square - both * both
        if determinant > 1e-9 * start_square * end_square:
            out = (start_side * end_square - end_side * both) / determinant
            back = (end_side * start_square - start_side * both) / determinant
        else:
            out = back = span / 3
        if not SHORTEST * span <= out <= LONGEST * span or not SHORTEST * span <= back <= LONGEST * span:
            # Next best: fit one handle, with the other a third of the chord.
            out, back = (min(max(each, SHORTEST * span), LONGEST * span) for each in (out, back))
        return first, first + leaves * out, last - comes * back, last


def _may_loop(piece: Piece) -> bool:
    """Return whether a cubic may cross itself: only one can whose handles turn by
    more than half a circle, all one way.
    """
    start, one, two, end = piece
    leaves, along, comes = (one - start).conjugate(), two - one, end - two
    if (along * leaves).real >= 0 and (comes * along.conjugate()).real >= 0:
        return False
    first, second = phase(along * leaves), phase(comes * along.conjugate())
    return first * second >= 0 and abs(first + second) > pi


def _halved(points: Sequence[complex]) -> list[complex]:
    """Return the points between the first and the last, and those halfway between each two."""
    every = []
    for one, two in pairwise(points):
        every += [one, (one + two) / 2]
    return every[1:]
