"""The arcs of a planar map as curves: nodes set where their arcs meet, corners rebuilt, the runs between them fitted."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from dataclasses import dataclass, field

from calculators import messages
from calculators.declare import Progress
from calculators.shapes.corners import BESIDE, BESIDE_HARD, Corner, corners, turning
from calculators.shapes.crossings import Trail, trail
from calculators.shapes.cubics import Piece, fitted_run
from calculators.shapes.planar_map import Arc, PlanarMap
from calculators.shapes.sides import Side, side_through

#: Hard steps are half a pixel uncertain, so that curves through them may be so far off, in pixels.
HARD_TOLERANCE = 0.55
#: Turning below this at a point, in radians, is rounding and no reason to part a run there.
STILL = 0.003
#: A node lies at most so far from the corner of pixels where its arcs meet, in pixels.
NODE_MOVES = 1.2
#: Points at the end of an arc that do not speak of it alone, and how many further ones tell its direction.
UNCLEAN_ENDS, TELLING = 2, 8
_STEPS_BETWEEN_PROGRESS = 4000


@dataclass(slots=True)
class Line:
    """The curves along one arc, from its first corner of pixels to its last, and what is known of them.

    Points are in pixels from the picture's top left corner, x + y j. ``points`` are those that the curves
    follow, ``worst`` is how far the curves are from them at most, ``tips`` are the corners rebuilt.
    """

    arc: Arc
    pieces: list[Piece]
    points: list[complex]
    tips: list[complex] = field(default_factory=list)
    hard: bool = False


def lines(made: PlanarMap, tolerance: float, angle: float) -> Generator[Progress, None, list[Line]]:
    """Return the curves of all arcs within ``tolerance`` pixels, with corners from ``angle`` radians. Yields progress."""
    trails: list[Trail] = []
    whole = sum(len(arc.corners) for arc in made.arcs) or 1
    done = before = 0
    for arc in made.arcs:
        trails.append(trail(made, arc))
        done += len(arc.corners)
        if done - before > _STEPS_BETWEEN_PROGRESS:
            before = done
            yield Progress(0.3 * done / whole, messages.FITTING_CURVES)
    nodes = _nodes(made, trails)
    told: list[Line] = []
    done = before = 0
    for arc, each in zip(made.arcs, trails, strict=True):
        told.append(_line(made, arc, each, nodes, tolerance, angle))
        done += len(arc.corners)
        if done - before > _STEPS_BETWEEN_PROGRESS:
            before = done
            yield Progress(0.3 + 0.7 * done / whole, messages.FITTING_CURVES)
    return told


def _line(made: PlanarMap, arc: Arc, way: Trail, nodes: dict[int, complex], tolerance: float, angle: float) -> Line:
    points, hard = way.points, way.hard
    if hard:
        points = smoothed(points, arc.ring)
    ends: tuple[complex, ...] = ()
    if not arc.ring:
        ends = nodes[arc.corners[0]], nodes[arc.corners[-1]]
    beside = BESIDE_HARD if hard else BESIDE
    turns = turning(points, arc.ring, beside)
    found = corners(made, arc, points, turns, angle, hard)
    weights = [max(1e-4, abs(turn) / (2 * beside) - STILL) for turn in turns]
    within = max(tolerance, HARD_TOLERANCE) if hard else tolerance
    pieces: list[Piece] = []
    followed: list[complex] = []
    for run, weight, tangents in _runs(arc, points, weights, found, ends):
        pieces += fitted_run(run, weight, within, tangents)
        followed += run
    return Line(arc, pieces, followed, [tip for corner in found for tip in corner.tips], hard)


def smoothed(points: Sequence[complex], ring: bool) -> list[complex]:
    """Return steps with their jags taken off: each point half its own, a quarter of either neighbour, twice over."""
    points = list(points)
    if len(points) < 5:
        return points
    for _ in range(2):
        around = [points[-1], *points, points[0]] if ring else [points[0], *points, points[-1]]
        points = [(before + 2 * here + after) / 4 for before, here, after in zip(around, around[1:], around[2:])]
    return points


def _runs(arc: Arc, points: list[complex], weights: list[float], found: list[Corner], ends: tuple[complex, ...]):
    """Yield (points, weights, tangents) of each run between corners and ends."""
    count = len(points)
    if arc.ring and not found:
        start = max(range(count), key=weights.__getitem__)
        run = [*points[start:], *points[: start + 1]]
        reach = min(4, count // 3) or 1
        along = points[(start + reach) % count] - points[start - reach]
        along = along / abs(along) if along else None
        yield run, [*weights[start:], *weights[: start + 1]], (along, along)
        return
    if arc.ring:
        # From the last corner across the seam to the first, then on.
        at, tip, leaves = found[-1].last + 1 - count, found[-1].tips[-1], found[-1].leaves
    else:
        cut = UNCLEAN_ENDS if count > 2 * UNCLEAN_ENDS + 3 else count // 3
        at, tip, leaves = cut, ends[0], None
    for corner in found:
        between = range(at, corner.first)
        run = [tip, *(points[place % count] for place in between), corner.tips[0]]
        yield run, [0.0, *(weights[place % count] for place in between), 0.0], (leaves, corner.comes)
        for start, end in zip(corner.tips, corner.tips[1:]):
            yield [start, end], [0.0, 0.0], (None, None)
        at, tip, leaves = corner.last + 1, corner.tips[-1], corner.leaves
    if not arc.ring:
        between = range(at, max(at, count - cut))
        run = [tip, *(points[place] for place in between), ends[1]]
        yield run, [0.0, *(weights[place] for place in between), 0.0], (leaves, None)


def _nodes(made: PlanarMap, trails: Sequence[Trail]) -> dict[int, complex]:
    """Return where each node lies: as near as can be to all its arcs, carried on; on the frame where it is there."""
    sides: dict[int, list[Side]] = {}
    for arc, way in zip(made.arcs, trails, strict=True):
        if arc.ring:
            continue
        for node, points in ((arc.corners[0], way.points[::-1]), (arc.corners[-1], way.points)):
            held = sides.setdefault(node, [])
            clean = points[-UNCLEAN_ENDS - TELLING : -UNCLEAN_ENDS]
            if len(clean) >= 3 and (side := side_through(clean, 0.5 if way.hard else 0.03)):
                held.append(side)
    return {node: _node(made, node, held) for node, held in sides.items()}


def _node(made: PlanarMap, node: int, sides: list[Side]) -> complex:
    y, x = divmod(node, made.stride)
    x, y = x - 1, y - 1
    start = place = complex(x, y)
    width, height = made.stride - 2, made.height - 2
    on_side, on_top = x in (0, width), y in (0, height)
    for _ in range(3):
        # A weak pull to the corner of pixels decides where the sides do not.
        xx, yy, xy = 0.02, 0.02, 0.0
        right_x, right_y = 0.02 * start.real, 0.02 * start.imag
        for side in sides:
            t = side.along(place)
            across = 1j * side.slope(t)
            across /= abs(across)
            height_of = (side.point(t) * across.conjugate()).real
            xx += across.real * across.real
            yy += across.imag * across.imag
            xy += across.real * across.imag
            right_x += across.real * height_of
            right_y += across.imag * height_of
        if on_side and on_top:
            break
        if on_side:
            place = complex(start.real, (right_y - xy * start.real) / yy)
        elif on_top:
            place = complex((right_x - xy * start.imag) / xx, start.imag)
        else:
            turn = xx * yy - xy * xy
            place = complex((right_x * yy - right_y * xy) / turn, (right_y * xx - right_x * xy) / turn)
    return place if abs(place - start) <= NODE_MOVES else start
