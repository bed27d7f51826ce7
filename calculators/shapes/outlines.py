"""The arcs of a planar map as curves: nodes set where their arcs meet, corners
rebuilt, the runs between them fitted.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calculators.shapes.areas import enclosed, widened
from calculators.shapes.corners import BESIDE, BESIDE_HARD, Corner, Sought, corners, turning
from calculators.shapes.crossings import Trail, inked, trail
from calculators.shapes.cubics import Piece, Tangents, at, fitted_run
from calculators.shapes.planar_map import Arc, PlanarMap
from calculators.shapes.sides import Side, side_through
from calculators.shapes.steps import FITTING, UNTANGLING, Step
from calculators.shapes.tangles import tangled

#: Hard steps are uncertain by half a pixel; curves may differ from the smoothed steps by this much, in pixels.
HARD_TOLERANCE = 0.4
#: Maximum distance that smoothing moves a point, in pixels.
MOST_SMOOTHED = 0.36
#: Maximum distance of a line along hard steps from the sides of their pixels.
FARTHEST = 0.6
#: A line that crosses another is fitted again within these shares of its tolerance, with corners (True), then without,
#: and at last goes from point to point.
CLOSER = (0.6, True), (0.3, True), (0.3, False), (0.0, False)
#: After this many rounds, or with this many crossing lines, a crossing line goes from point to point at once.
MANY_TANGLED = 600
MOST_ROUNDS = 6
#: A ring with this few pixel sides has no whole pixel inside to locate its edge, so its area is used.
SMALL_RING = 28
#: Maximum difference in area between a hard ring and its pixels, as a share.
ALIKE = 0.0001
#: Maximum distance of a node, across and down, from the pixel corner where its arcs meet, in pixels.
NODE_MOVES = 0.49
#: Points at the end of an arc that other arcs affect, and the number of further points that give its direction.
UNCLEAN_ENDS, TELLING = 2, 8
#: Three quarters of the points of a clean edge lie within this of their neighbours, in pixels. Where they lie further
#: off, as beside the ripples of a JPEG, curves may leave the points by so many times as much, up to the last: otherwise
#: they follow the noise.
CLEAN, TIMES_NOISE, MOST_NOISE = 0.04, 2.5, 0.3
#: Of more points than twice this, only some are looked at.
NOISE_SAMPLE = 10_000
_STEPS_BETWEEN_PROGRESS = 4000


@dataclass(slots=True)
class Line:
    """The curves along one arc, from its first pixel corner to its last, and their properties.

    Points are in pixels from the picture's top left corner, x + y j. ``worst`` is how far any place where the edge
    was found to run is from the curves, ``tips`` are the corners rebuilt.
    """

    arc: Arc
    pieces: list[Piece]
    worst: float
    tips: list[complex]
    hard: bool


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of a picture, and how far three quarters of their points lie from their neighbours, in pixels.

    ``soft``: some of its edges have in-between shades.
    """

    lines: list[Line]
    noise: float
    soft: bool


def lines(made: PlanarMap, tolerance: float, sought: Sought, *, closely: bool = False) -> Generator[Step, None, Lines]:
    """Return the curves of all arcs within ``tolerance`` pixels, with the corners that are ``sought``.

    Where points lie further from their neighbours than on a clean edge, the tolerance is widened, unless ``closely``.
    Yields progress.
    """
    trails: list[Trail] = []
    whole = sum(len(arc.corners) for arc in made.arcs) or 1
    done = before = 0
    for arc in made.arcs:
        trails.append(trail(made, arc))
        done += len(arc.corners)
        if done - before > _STEPS_BETWEEN_PROGRESS:
            before = done
            yield Step(0.3 * done / whole, FITTING)
    noise = noise_of(trails)
    if noise > CLEAN and not closely:
        tolerance = max(tolerance, min(MOST_NOISE, TIMES_NOISE * noise))
    nodes = _nodes(made, trails)
    fitted: list[Line] = []
    done = before = 0
    for arc, each in zip(made.arcs, trails, strict=True):
        fitted.append(_line(made, arc, each, nodes, tolerance, sought))
        done += len(arc.corners)
        if done - before > _STEPS_BETWEEN_PROGRESS:
            before = done
            yield Step(0.3 + 0.6 * done / whole, FITTING)
    yield from _disentangle(made, fitted, trails, nodes, tolerance, sought)
    return Lines(fitted, noise, any(not way.hard and not way.framed for way in trails))


def noise_of(trails: Sequence[Trail]) -> float:
    """Return how far three quarters of all points lie, at most, from the chord between their two neighbours, in pixels.

    A smooth edge leaves it by little. Points along hard steps and the frame say nothing.
    """
    off: list[float] = []
    step = 1 + sum(len(way.points) for way in trails) // NOISE_SAMPLE
    for way in trails:
        if way.hard or way.framed:
            continue
        points = way.points
        for before, here, after in zip(points[::step], points[1::step], points[2::step], strict=False):
            chord = after - before
            if chord:
                off.append(abs(((here - before) * chord.conjugate()).imag) / abs(chord))
    off.sort()
    return off[3 * len(off) // 4] if off else 0.0


def _disentangle(
    made: PlanarMap,
    fitted: list[Line],
    trails: Sequence[Trail],
    nodes: dict[int, complex],
    tolerance: float,
    sought: Sought,
) -> Generator[Step, None, None]:
    """Put lines that cross others in place of ``fitted``: first fitted more closely, then from point to point.

    Straight from point to point no two lines cross, since each point then lies between the middles of the two pixels
    beside it, and each stretch between the middles of four.
    """
    level: dict[int, int] = {}
    changed: set[int] | None = None
    rounds = 0
    while True:
        rounds += 1
        yield Step(0.95, UNTANGLING)
        looked_at = range(len(fitted)) if changed is None else changed
        strayed = {place for place in looked_at if fitted[place].hard and _strays(made, fitted[place])}
        found = tangled([line.pieces for line in fitted], changed) | strayed
        changed = {place for place in found if level.get(place, 0) < len(CLOSER)}
        if not changed:
            return
        patient = sought.patience > 0 and rounds <= MOST_ROUNDS and len(changed) <= MANY_TANGLED
        for place in changed:
            level[place] = level.get(place, 0) + 1 if patient else len(CLOSER)
            arc, (share, with_corners) = fitted[place].arc, CLOSER[level[place] - 1]
            if share:
                fitted[place] = _line(
                    made, arc, trails[place], nodes, tolerance, sought if with_corners else None, share
                )
            else:
                fitted[place] = _plain(made, arc, nodes)


def _strays(made: PlanarMap, line: Line) -> bool:
    """Return whether a line leaves the sides of its hard pixels by more than ``FARTHEST`` pixels anywhere."""
    labels, stride, high = made.labels, made.stride, made.height
    slant = FARTHEST / 2**0.5
    around = [complex(x, y) for x in (-slant, slant) for y in (-slant, slant)]
    around += [FARTHEST, -FARTHEST, FARTHEST * 1j, -FARTHEST * 1j]
    for piece in line.pieces:
        for point in _along(piece):
            here = point + 1 + 1j
            own = labels[int(here.imag) * stride + int(here.real)]
            for off in around:
                near = here + off
                if not (0 <= near.real < stride and 0 <= near.imag < high):
                    break
                if labels[int(near.imag) * stride + int(near.real)] != own:
                    break
            else:
                return True
    return False


def _along(piece: Piece) -> Iterator[complex]:
    """Yield points of a piece, two to a pixel."""
    count = 2 + int(2 * sum(abs(after - before) for before, after in pairwise(piece)))
    for step in range(count + 1):
        yield at(piece, step / count)


def _plain(made: PlanarMap, arc: Arc, nodes: dict[int, complex]) -> Line:
    """Return the line straight from point to point: along the picture's border by the border itself.

    Along hard steps it goes by the sides of pixels, their corners cut a little.
    """
    way = trail(made, arc, each=True)
    points = way.points
    if way.framed:
        points = _lattice(made, arc)[:-1] if arc.ring else _lattice(made, arc)[1:-1]
    elif way.hard:
        sides = zip(_lattice(made, arc), _lattice(made, arc)[1:], strict=False)
        points = [one + (two - one) * part for one, two in sides for part in (0.25, 0.75)]
    points = [*points, points[0]] if arc.ring else [nodes[arc.corners[0]], *points, nodes[arc.corners[-1]]]
    corners = points[:1]
    for here, after in pairwise(points):
        if ((here - corners[-1]).conjugate() * (after - here)).imag:
            corners.append(here)
    corners.append(points[-1])
    return Line(arc, list(pairwise(corners)), 0.0, [], way.hard)


def _lattice(made: PlanarMap, arc: Arc) -> list[complex]:
    """Return the corners of pixels along an arc as points."""
    return [complex(at % made.stride - 1, at // made.stride - 1) for at in arc.corners]


def _line(
    made: PlanarMap,
    arc: Arc,
    way: Trail,
    nodes: dict[int, complex],
    tolerance: float,
    sought: Sought | None,
    share: float = 1.0,
) -> Line:
    """Return the curves along an arc within a ``share`` of its tolerance; with none
    ``sought`` no corners are looked for.
    """
    if way.framed:
        return _plain(made, arc, nodes)
    if not way.hard:
        line = _fitted(made, arc, way.points, nodes, share * tolerance, sought, False)
        if arc.ring and len(arc.corners) <= SMALL_RING and not line.tips and (whole := inked(made, arc)):
            line.pieces, moved = widened(line.pieces, whole - enclosed(line.pieces), True)
            line.worst += moved
        return line
    points = smoothed(way.points, arc.ring)
    within = share * max(tolerance, HARD_TOLERANCE)
    # Smoothing shrinks a ring and fitting may shrink or grow it, so move the points until they enclose the area of the
    # pixels; for an open line, the area up to the chord between its ends.
    whole = _area(_lattice(made, arc))
    start, end = ([], []) if arc.ring else ([nodes[arc.corners[0]]], [nodes[arc.corners[-1]]])
    for _ in range(2):
        points = let_out(points, whole - _area([*start, *points, *end]), arc.ring)
    line = _fitted(made, arc, points, nodes, within, sought, True)
    missing = whole - enclosed([*line.pieces, (line.pieces[-1][-1], line.pieces[0][0])])
    if abs(missing) > ALIKE * abs(whole):
        line.pieces, moved = widened(line.pieces, missing, arc.ring)
        line.worst += moved
    return line


def _fitted(
    made: PlanarMap,
    arc: Arc,
    points: list[complex],
    nodes: dict[int, complex],
    within: float,
    sought: Sought | None,
    hard: bool,
) -> Line:
    ends: tuple[complex, ...] = ()
    if not arc.ring:
        ends = nodes[arc.corners[0]], nodes[arc.corners[-1]]
    beside = BESIDE_HARD if hard else BESIDE
    turns = turning(points, arc.ring, beside)
    found = corners(made, arc, points, turns, sought, hard) if sought else []
    turns = [turn / beside for turn in turns]
    pieces: list[Piece] = []
    worst = 0.0
    for run, bends, tangents in _runs(arc, points, turns, found, ends):
        made_of, off = fitted_run(run, bends, within, tangents)
        pieces += made_of
        worst = max(worst, off)
    return Line(arc, pieces, worst, [tip for corner in found for tip in corner.tips], hard)


def smoothed(steps: Sequence[complex], ring: bool) -> list[complex]:
    """Return smoothed steps: each point is half itself and a quarter of either neighbour, twice.

    None is moved by more than ``MOST_SMOOTHED`` pixels, so that spikes a pixel wide stay.
    """
    points = list(steps)
    for _ in range(2 if len(points) > 4 else 0):
        around = [points[-1], *points, points[0]] if ring else [points[0], *points, points[-1]]
        points = [
            (before + 2 * here + after) / 4 for before, here, after in zip(around, around[1:], around[2:], strict=False)
        ]
    return [
        point if abs(point - step) <= MOST_SMOOTHED else step + (point - step) * (MOST_SMOOTHED / abs(point - step))
        for step, point in zip(steps, points, strict=True)
    ]


def let_out(points: Sequence[complex], missing: float, ring: bool) -> list[complex]:
    """Return points moved outward, to their left, so that they enclose ``missing`` more square pixels."""
    before, after = (points[-1], points[0]) if ring else (points[0], points[-1])
    along = [two - one for one, two in zip([before, *points], [*points[1:], after], strict=False)]
    length = sum(map(abs, along)) / 2
    if not length:
        return list(points)
    out = -1j * missing / length
    return [point + out * way / abs(way) if way else point for point, way in zip(points, along, strict=True)]


def _area(ring: Sequence[complex]) -> float:
    """Return the area within a ring of points, above 0 where it lies on their right."""
    return sum((one.conjugate() * two).imag for one, two in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2


def _runs(
    arc: Arc, points: list[complex], turns: list[float], found: list[Corner], ends: tuple[complex, ...]
) -> Iterator[tuple[list[complex], list[float], Tangents]]:
    """Yield (points, turns, tangents) of each run between corners and ends."""
    count = len(points)
    if arc.ring and not found:
        # Round before choosing between equals, since machines differ in the last bits.
        most = max(map(abs, turns))
        equal = (place for place, turn in enumerate(turns) if abs(turn) >= most - 1e-8)
        start = next(place for place in equal if round(abs(turns[place]), 9) == round(most, 9))
        run = [*points[start:], *points[: start + 1]]
        reach = min(4, count // 3) or 1
        along = points[(start + reach) % count] - points[start - reach]
        way = along / abs(along) if along else None
        yield run, [*turns[start:], *turns[: start + 1]], (way, way)
        return
    if arc.ring:
        # Start with the run from the last corner across the seam to the first.
        at, tip = found[-1].last + 1 - count, found[-1].tips[-1]
        leaves: complex | None = found[-1].leaves
    else:
        cut = UNCLEAN_ENDS if count > 2 * UNCLEAN_ENDS + 3 else count // 3
        at, tip, leaves = cut, ends[0], None
    for corner in found:
        between = range(at, corner.first)
        run = [tip, *(points[place % count] for place in between), corner.tips[0]]
        yield run, [0.0, *(turns[place % count] for place in between), 0.0], (leaves, corner.comes)
        for here, there in pairwise(corner.tips):
            yield [here, there], [0.0, 0.0], (None, None)
        at, tip, leaves = corner.last + 1, corner.tips[-1], corner.leaves
    if not arc.ring:
        between = range(at, max(at, count - cut))
        run = [tip, *(points[place] for place in between), ends[1]]
        yield run, [0.0, *(turns[place] for place in between), 0.0], (leaves, None)


def _nodes(made: PlanarMap, trails: Sequence[Trail]) -> dict[int, complex]:
    """Return the position of each node: nearest to all its extended arcs; nodes on the frame stay on it.

    If one arc runs along hard steps, only the pixel corner itself is known.
    """
    sides: dict[int, list[Side]] = {}
    uncertain: set[int] = set()
    for arc, way in zip(made.arcs, trails, strict=True):
        if arc.ring:
            continue
        if way.hard and not way.framed:
            uncertain |= {arc.corners[0], arc.corners[-1]}
        for node, points in ((arc.corners[0], way.points[::-1]), (arc.corners[-1], way.points)):
            held = sides.setdefault(node, [])
            clean = points[-UNCLEAN_ENDS - TELLING : -UNCLEAN_ENDS]
            if len(clean) >= 3 and (side := side_through(clean, 0.03)):
                held.append(side)
    return {node: _node(made, node, [] if node in uncertain else held) for node, held in sides.items()}


def _node(made: PlanarMap, node: int, sides: list[Side]) -> complex:
    y, x = divmod(node, made.stride)
    x, y = x - 1, y - 1
    start = place = complex(x, y)
    width, height = made.stride - 2, made.height - 2
    on_side, on_top = x in (0, width), y in (0, height)
    for _ in range(3):
        # A weak pull to the pixel corner decides if the sides do not.
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
    off = place - start
    if max(abs(off.real), abs(off.imag)) > 3 * NODE_MOVES:
        return start
    return start + complex(*(max(-NODE_MOVES, min(NODE_MOVES, part)) for part in (off.real, off.imag)))
