"""Which boxes stand in one line, as letters do: of like height, level with each other, and near."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Box = tuple[int, int, int, int]
#: The most boxes in a search for lines.
MOST_BOXES = 600


def lines(boxes: Sequence[Box], *, higher: float, level: float, gap: float) -> list[list[int]]:
    """Return the places of boxes (left, top, right, bottom) by line, in order.

    A box without others is a line of its own.

    Two stand in one line if one is at most ``higher`` times as high as the other, they share ``level`` of the lower
    one's height, and at most ``gap`` times the height of the higher one lies between them.

    >>> lines([(0, 0, 5, 9), (30, 0, 35, 9), (7, 1, 12, 10), (0, 40, 5, 49)], higher=1.3, level=0.6, gap=1)
    [[0, 2], [1], [3]]
    """

    def near(one: Box, other: Box) -> bool:
        heights = sorted((one[3] - one[1], other[3] - other[1]))
        shared = min(one[3], other[3]) - max(one[1], other[1])
        between = max(one[0], other[0]) - min(one[2], other[2])
        return heights[1] <= higher * heights[0] and shared >= level * heights[0] and between <= gap * heights[1]

    return gathered(boxes, near)


def gathered(boxes: Sequence[Box], near: Callable[[Box, Box], bool]) -> list[list[int]]:
    """Return the places of ``boxes`` that hang together by pairs that are ``near``.

    Those beyond ``MOST_BOXES`` stay alone.
    """
    parent = list(range(len(boxes)))

    def root(place: int) -> int:
        while parent[place] != place:
            parent[place] = place = parent[parent[place]]
        return place

    for place in range(min(len(boxes), MOST_BOXES)):
        for other in range(place):
            first, second = root(place), root(other)
            if first != second and near(boxes[place], boxes[other]):
                parent[max(first, second)] = min(first, second)
    together: dict[int, list[int]] = {}
    for place in range(len(boxes)):
        together.setdefault(root(place), []).append(place)
    return list(together.values())
