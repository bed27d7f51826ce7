"""The position of an edge within its pixels, from their coverage.

Across a nearly level edge the covered shares of one column of pixels add up to the mean height of the edge in that
column, exactly, whatever its slope; across a steep one those of a row do. So each side of a pixel along an arc
gives one point of the edge, and the areas beside the edge come out right. It holds where the column runs from a pixel
wholly on one side to one wholly on the other within ``REACH``; elsewhere the point is where the share passes one half
between two middles of pixels, on a straight line.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from calculators.shapes.planar_map import OUTSIDE, Arc, PlanarMap

#: Maximum pixels that are summed on either side.
REACH = 4
#: A share below this, of 255, counts as none: rounding.
NOTHING = 1
#: An arc is hard if less than this share of its sides has intermediate levels beside it.
SOFT_PART = 0.12


@dataclass(slots=True)
class Trail:
    """The points of an arc in order, in pixels from the picture's top left corner, as x + y j.

    ``hard`` says that its pixels have no in-between levels, so that the points are steps, half a pixel uncertain.
    ``framed`` says that all of it lies on the picture's border.
    """

    points: list[complex]
    hard: bool
    framed: bool


def trail(made: PlanarMap, arc: Arc, *, each: bool = False) -> Trail:
    """Return the points where the edge along ``arc`` runs; a ring's first is not repeated at its end.

    With ``each`` there is one for each side of a pixel, between the middles of the two pixels beside it.
    """
    labels, others, leans, stride = made.labels, made.others, made.leans, made.stride
    colours, corners = made.colours, arc.corners
    first, second = arc.left, arc.right
    last_column, last_row = stride - 1, made.height - 1
    # Much of the time of tracing passes here: most sides call nothing, and lists have their length.
    points = [0j] * (len(corners) - 1)
    level, sure = [False] * len(points), [True] * len(points)
    soft = framed = 0
    at = corners[0]
    row, column = divmod(at, stride)
    for place, after in enumerate(corners[1:]):
        move = after - at
        flat = -2 < move < 2
        # The pixel below or right of the side, where that is, and the step to it from the one above or left.
        if move > 0:
            end, y, x = at, row, column
            if flat:
                column += 1
            else:
                row += 1
        else:
            if flat:
                column -= 1
            else:
                row -= 1
            end, y, x = after, row, column
        across = stride if flat else 1
        begin = end - across
        at = after
        near, far = leans[begin], leans[end]
        level[place], shift = flat, 0.0
        if ((y == 1 or y == last_row) if flat else (x == 1 or x == last_column)) and _is_framed(
            made, begin if labels[end] == OUTSIDE else end
        ):
            framed += 1
        elif near or far:
            soft += 1
            own, beyond = (first, second) if labels[begin] == first else (second, first)
            # On most edges one pixel on either side holds both colours and the next is whole.
            behind, ahead = begin - across, end + across
            if each:
                shift, sure[place] = _shift(made, begin, across, own, beyond, each)
            elif (
                near <= NOTHING
                or (others[begin] == colours[beyond] and leans[behind] <= NOTHING and labels[behind] == own)
            ) and (
                far <= NOTHING or (others[end] == colours[own] and leans[ahead] <= NOTHING and labels[ahead] == beyond)
            ):
                shift = ((far if far > NOTHING else 0) - (near if near > NOTHING else 0)) / 255
            else:
                shift, sure[place] = _shift(made, begin, across, own, beyond, each)
        points[place] = complex(x - 0.5, y - 1 + shift) if flat else complex(x - 1 + shift, y - 0.5)
    count = len(points)
    hard = soft < SOFT_PART * (count - framed)
    if not hard and not each:
        points = _by_direction(points, level, sure, arc.ring)
    return Trail(points, hard, framed == count)


def _is_framed(made: PlanarMap, inside: int) -> bool:
    """Return whether an edge is the picture's border where the pixel ``inside`` touches that."""
    return not made.leans[inside] or made.others[inside] != OUTSIDE


def _shift(made: PlanarMap, begin: int, across: int, own: int, beyond: int, each: bool) -> tuple[float, bool]:
    """Return how far the edge is from the side between two pixels, in pixels, and whether that is exact.

    The side lies between ``begin``, of the label ``own``, and the pixel one step ``across``, of the label ``beyond``.
    With ``each`` only the two pixels beside it are looked at.
    """
    end = begin + across
    # As ``others`` names them.
    own_colour, beyond_colour = made.colours[own], made.colours[beyond]
    if not each:
        on_this_side, exact = _summed(made, begin, own, beyond_colour, -across)
        if exact:
            on_that_side, exact = _summed(made, end, beyond, own_colour, across)
            if exact and -280 < on_that_side - on_this_side < 280:
                return (on_that_side - on_this_side) / 255, True
    labels, others, colours = made.labels, made.others, made.colours
    near: float = made.leans[begin] if others[begin] == beyond_colour else 0
    far: float = made.leans[end] if others[end] == own_colour else 0
    if near and colours[labels[begin - across]] == beyond_colour:
        near /= 2
    if far and colours[labels[end + across]] == own_colour:
        far /= 2
    # From the middle of one pixel to that of the other the share goes from near to 255 - far.
    shift = 255 * (127.5 - near) / max(1, 255 - far - near) - 127.5
    return max(-125.0, min(125.0, shift)) / 255, False


def _summed(made: PlanarMap, place: int, label: int, other: int, step: int) -> tuple[float, bool]:
    """Return what pixels of ``label`` from ``place`` on lean to ``other``, and whether the last leans to nothing."""
    labels, others, leans = made.labels, made.others, made.leans
    total, before = 0.0, 256
    for steps in range(REACH):
        lean = leans[place]
        if labels[place] != label or lean > before:
            # The lean of a one-pixel line is shared by both of its sides, half on this one.
            if steps == 1 and made.colours[labels[place]] == other:
                return total - before / 2, True
            return total, False
        if lean <= NOTHING:
            return total, True
        if others[place] != other:
            return total, False
        total += lean
        before = lean
        place += step
    return total, False


def inked(made: PlanarMap, arc: Arc) -> float | None:
    """Return the area within a ring by the shares of its pixels, below 0 for a
    hole; None where other edges are near.
    """
    stride, labels, others, leans = made.stride, made.labels, made.others, made.leans
    rows, columns = [at // stride for at in arc.corners], [at % stride for at in arc.corners]
    top, bottom, left, right = min(rows) - 1, max(rows) + 1, min(columns) - 1, max(columns) + 1
    if top < 1 or left < 1 or bottom >= made.height or right >= stride:
        return None
    outer = labels[top * stride + left]
    inner = arc.left if outer == arc.right else arc.right
    colour = made.colours[inner]
    sides, total, lines = 0, 0, [labels[row * stride + left : row * stride + right] for row in range(top, bottom)]
    for line, above in zip(lines, [lines[0], *lines], strict=False):
        sides += sum(one != two for one, two in itertools.pairwise(line)) + sum(
            one != two for one, two in zip(line, above, strict=True)
        )
    if sides != len(arc.corners) - 1:
        return None
    for row in range(top, bottom):
        for at in range(row * stride + left, row * stride + right):
            if labels[at] == inner:
                total += 255 - leans[at]
            elif others[at] == colour:
                total += leans[at]
    return total / 255 if inner == arc.right else -total / 255


def _by_direction(points: list[complex], level: list[bool], sure: list[bool], ring: bool) -> list[complex]:
    """Return the points that come from columns where the edge is nearly level, from rows where it is steep.

    The direction is that of most of five sides round about. At a slope of one both kinds stay.
    """
    count = len(points)
    if count < 6:
        return points
    around = [*level[-2:], *level, *level[:2]] if ring else [*level[:1] * 2, *level, *level[-1:] * 2]
    windows = zip(points, sure, around, around[1:], level, around[3:], around[4:], strict=False)
    # How many of the five are level decides; where it is close, a side that is not exact gives way.
    chosen = [
        point
        for point, exact, one, two, flat, three, four in windows
        if (one + two + three + four + exact > 1 if flat else one + two + three + four - exact < 3)
    ]
    return chosen if len(chosen) >= 4 else points
