"""The labels round a pixel, near it and within the reach of an edge."""

from __future__ import annotations

from calculators.pixels.colour_groups import UNSURE

#: How many pixels away pixels of a thin colour are searched for.
THIN_REACH = 2
#: How many pixels away the two sides of an edge are searched for.
REACH = 4


class Around:
    """The labels near a pixel, on planes with a margin of ``none`` so that no pixel is at a border."""

    def __init__(self, known: bytes, own: bytes, none: int, width: int, height: int) -> None:
        self.width, self.wide, self.none = width, width + 2 * REACH, none
        self.known, self.own = (self._with_margin(plane, height) for plane in (known, own))
        self._cached: dict[bytes, bytes] = {}
        self._no_label = bytes([none, UNSURE])

    def _with_margin(self, plane: bytes, height: int) -> bytes:
        side, whole = bytes([self.none]) * REACH, bytes([self.none]) * (REACH * self.wide)
        rows = (side + plane[row * self.width : (row + 1) * self.width] + side for row in range(height))
        return whole + b"".join(rows) + whole

    def own_near(self, place: int, of: frozenset[int]) -> frozenset[int]:
        """Return the labels with pixels of their own very near: a thin colour has nothing solid."""
        row, column = divmod(place, self.width)
        start = (row + REACH - THIN_REACH) * self.wide + column + REACH - THIN_REACH
        across = 2 * THIN_REACH + 1
        return of.intersection(
            *[b"".join(self.own[at : at + across] for at in range(start, start + across * self.wide, self.wide))]
        )

    def beside(self, place: int, has: int) -> bytes:
        """Return ``labels`` with a reach of 1. Surroundings repeat, so the results are cached."""
        wide, known, own = self.wide, self.known, self.own
        at = place + place // self.width * 2 * REACH + REACH * wide + REACH
        above, below = at - wide - 1, at + wide - 1
        key = (
            own[above : above + 3]
            + own[at - 1 : at + 2]
            + own[below : below + 3]
            + known[above : above + 3]
            + known[at - 1 : at + 2]
            + known[below : below + 3]
        )
        labels = self._cached.get(key)
        if labels is None:
            labels = self._cached[key] = self.labels(place, 1, has)
        return labels

    def labels(self, place: int, reach: int, has: int) -> bytes:
        """Return the labels of the solid pixels at most ``reach`` away, and of thin lines of other
        colours than it ``has`` beside it, sorted.
        """
        row, column = divmod(place, self.width)
        wide, at = self.wide, (row + REACH) * self.wide + column + REACH
        own, known, across = self.own, self.known, 2 * reach + 1
        beside = (
            own[at - wide - 1 : at - wide + 2]
            + own[at - 1 : at]
            + own[at + 1 : at + 2]
            + own[at + wide - 1 : at + wide + 2]
        ).translate(None, bytes([has]))
        rows = range(at - reach * wide - reach, at + reach * wide + 1, wide)
        left = b"".join([beside, *[known[start : start + across] for start in rows]]).translate(None, self._no_label)
        found = []
        # There are few labels, so taking out one at a time is quicker than a set of all pixels.
        while left:
            found.append(left[0])
            left = left.translate(None, left[:1])
        return bytes(sorted(found))
