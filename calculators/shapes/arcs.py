"""Runs of curves and straight lines as few straight lines and circular arcs, for programs that know no other curves.

Where a run is smooth, pairs of arcs that meet with one tangent (biarcs) follow it, each pair as far as it stays within
the tolerance. Short straight lines that follow a curve count as that curve; corners and long straight lines stay.

Source: Bolton, "Biarc curves", Computer-Aided Design 7 (1975), from memory: the pair of arcs with equal distances from
either end to where their tangents meet. How far a pair reaches is our own.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import atan, pi, sin, sqrt, tan
from typing import NamedTuple

from calculators.shapes.cubics import Piece, at
from calculators.shapes.cut_pieces import Run
from calculators.shapes.grid import shares

#: How far arcs may lie from the points that follow the run, in mm. With ``FOLLOWED`` it is well within 0.01 mm.
TOLERANCE = 0.005
#: How closely points follow a curve, in mm, and the fewest parts of one.
FOLLOWED, FEWEST = 2e-4, 4
#: A turn by more than this, in radians, is a corner: short lines that follow an arc of 0.05 mm turn by less.
CORNER = 0.45
#: A straight line that lies further from the arc through its ends than this is no part of a curve, in mm.
CHORD_OFF = 1.5e-3
#: No arc turns by more than this, in radians: a little over a quarter, so that a quarter is one.
MOST_TURNED = 1.7
#: Where along each straight line between points the arcs are checked, first where they are most often too far off.
CHECKED = 1.0, 0.5, 0.25, 0.75
#: An arc that is nowhere further from its chord is written as a straight line, in mm.
FLAT = 1e-5
#: Two arcs are one if they have the same radius to this share.
ALIKE = 1e-4
#: To so many decimals of a mm copies of one run are equal: far fewer than a double has, far more than files.
COPIED = 9


class Vertex(NamedTuple):
    """A point, and how much the way to the next one bulges: the tangent of a quarter of the angle by which it turns.

    Above 0 the way turns from the x axis to the y axis. (In DXF files y is up, so with y down the sign changes.)
    """

    point: complex
    bulge: float


class _Sample(NamedTuple):
    point: complex
    comes: complex
    leaves: complex
    corner: bool


def arcs(run: Run, tolerance: float = TOLERANCE) -> list[Vertex]:
    """Return the vertices of lines and arcs along ``run``, within ``tolerance`` of points that follow it closely.

    That of a closed run has its last way back to the first vertex; of an open one the last vertex is its end.
    """
    closed = abs(run[0][0] - run[-1][-1]) <= FLAT
    samples = _samples(run, closed)
    vertices: list[Vertex] = []
    first = next((place for place, sample in enumerate(samples) if sample.corner), 0)
    if closed:
        samples = [*samples[first:-1], *samples[: first + 1]]
    start = 0
    while start < len(samples) - 1:
        end, ways = _longest(samples, start, tolerance)
        vertices += ways
        start = end
    vertices = list(_joined(vertices, samples[-1].point))
    return vertices if closed else [*vertices, Vertex(samples[-1].point, 0.0)]


def arcs_of_each(runs: Iterable[Run], tolerance: float = TOLERANCE) -> Iterator[list[Vertex]]:
    """Yield the vertices of each run, as ``arcs``. Those of copies in other places are found once."""
    known: dict[Run, list[Vertex]] = {}
    for run in runs:
        start = run[0][0]
        pieces: list[Piece] = []
        end = 0j
        for piece in run:
            pieces.append((end, *(_rounded(point - start) for point in piece[1:])))
            end = pieces[-1][-1]
        shape = tuple(pieces)
        if shape not in known:
            known[shape] = arcs(shape, tolerance)
        yield [Vertex(vertex.point + start, vertex.bulge) for vertex in known[shape]]


def _rounded(point: complex) -> complex:
    return complex(round(point.real, COPIED), round(point.imag, COPIED))


def _samples(run: Run, closed: bool) -> list[_Sample]:
    """Return points along a run with the directions in which it comes and leaves; of a closed one the first twice."""
    points = [run[0][0]]
    ways: list[tuple[complex, complex] | None] = []
    for piece in run:
        steps = max(FEWEST, sum(1 for _ in shares(piece, FOLLOWED))) if len(piece) == 4 else 1
        for step in range(1, steps + 1):
            point = at(piece, step / steps) if step < steps else piece[-1]
            if point != points[-1]:
                known = len(piece) == 4
                ways.append((_direction(piece, (step - 1) / steps), _direction(piece, step / steps)) if known else None)
                points.append(point)
    if closed:
        points[-1] = points[0]
    return list(_directed(points, ways, closed))


def _directed(
    points: Sequence[complex], ways: Sequence[tuple[complex, complex] | None], closed: bool
) -> Iterator[_Sample]:
    """Yield samples; ``ways`` are the directions at both ends of each stretch, None of a straight one."""
    chords = [after - before for before, after in pairwise(points)]
    last = len(chords)

    def turn(place: int) -> float:
        """Return by how much the run turns at a point, beyond any curve if it is an open end."""
        if not closed and place in (0, last):
            return pi
        before, after = ways[place - 1], ways[place % last]
        comes = before[1] if before else chords[place - 1]
        leaves = after[0] if after else chords[place % last]
        return abs(phase(leaves * comes.conjugate()))

    turns = [turn(place) for place in range(last + 1)]
    # Only a turn that may belong to a curve says how much a chord bends.
    smooth = [each if each < CORNER else 0.0 for each in turns]
    bends = [
        ways[place] is not None or abs(chord) * max(smooth[place], smooth[place + 1]) / 8 <= CHORD_OFF
        for place, chord in enumerate(chords)
    ]
    for place, point in enumerate(points):
        if not closed and place in (0, last):
            came, goes = max(place - 1, 0), min(place, last - 1)
        else:
            came, goes = (place - 1) % last, place % last
        before, after = ways[came], ways[goes]
        comes = before[1] if before else _unit(chords[came])
        leaves = after[0] if after else _unit(chords[goes])
        corner = turns[place] >= CORNER
        if not corner and before is None and after is None and bends[came] and bends[goes]:
            comes = leaves = _through(chords[came], chords[goes])
        elif not corner and before is None and after is None and bends[came] != bends[goes]:
            comes = leaves = leaves if bends[came] else comes
        yield _Sample(point, comes, leaves, corner)


def _through(came: complex, goes: complex) -> complex:
    """Return the direction at the middle of three points of the circle through them."""
    return _unit(_unit(came) * abs(goes) + _unit(goes) * abs(came))


def _direction(piece: tuple[complex, ...], share: float) -> complex:
    """Return the direction of a curve."""
    start, one, two, end = piece
    left = 1 - share
    way = left * left * (one - start) + 2 * left * share * (two - one) + share * share * (end - two)
    if abs(way) > 1e-9 * max(abs(one - start), abs(two - one), abs(end - two)):
        return _unit(way)
    # Where a handle has no length the curve goes towards the next point, or comes from the one before.
    if share < 0.5:
        return _unit(next((each - start for each in (two, end) if each != start), 1 + 0j))
    return _unit(next((end - each for each in (one, start) if each != end), 1 + 0j))


def _unit(way: complex) -> complex:
    return way / abs(way) if way else 1 + 0j


def _longest(samples: Sequence[_Sample], start: int, tolerance: float) -> tuple[int, list[Vertex]]:
    """Return how far one pair of arcs can go from ``start``, and the pair."""
    stop = next((place for place in range(start + 1, len(samples)) if samples[place].corner), len(samples) - 1)
    # To the next sample the way is straight, whatever their directions say.
    reached, best = start + 1, [Vertex(samples[start].point, 0.0)]
    step, upper = 1, stop
    while reached < upper:
        trial = min(reached + step, upper)
        if (pair := _pair(samples, start, trial, tolerance)) is not None:
            reached, best, step = trial, pair, 2 * step
        elif step == 1:
            break
        else:
            upper, step = trial - 1, max(1, min(step // 2, (trial - reached) // 2))
    return reached, best


def _pair(samples: Sequence[_Sample], first: int, last: int, tolerance: float) -> list[Vertex] | None:
    """Return the pair of arcs from one sample to another, or None if it strays from those in between."""
    start, end = samples[first].point, samples[last].point
    leaves, comes = samples[first].leaves, samples[last].comes
    chord = end - start
    if not chord:
        return None
    alike = 1 - _dot(leaves, comes)
    sum_of = _dot(chord, leaves + comes)
    if alike > 1e-9:
        reach = (sqrt(sum_of * sum_of + 2 * alike * abs(chord) ** 2) - sum_of) / (2 * alike)
    elif sum_of > 0:
        reach = abs(chord) ** 2 / (2 * sum_of)
    else:
        return None
    middle = (start + end + reach * (leaves - comes)) / 2
    if middle in (start, end):
        return None
    turned = 2 * phase((middle - start) * leaves.conjugate()), 2 * phase(comes * (end - middle).conjugate())
    if max(map(abs, turned)) > MOST_TURNED:
        return None
    one, other = _Arc(start, middle, turned[0]), _Arc(middle, end, turned[1])
    back = (leaves * rect(1, turned[0])).conjugate()
    before = start
    for sample in samples[first + 1 : last + 1]:
        way = sample.point - before
        for share in CHECKED:
            point = before + share * way
            arc = other if ((point - middle) * back).real > 0 else one
            if arc.distance(point) > tolerance:
                return None
        before = sample.point
    return [Vertex(start, tan(turned[0] / 4)), Vertex(middle, tan(turned[1] / 4))]


class _Arc:
    """An arc that turns by ``turned`` radians from ``start`` to ``end``."""

    def __init__(self, start: complex, end: complex, turned: float) -> None:
        chord = end - start
        self.start, self.end, self.length, self.back = start, end, abs(chord), _unit(chord).conjugate()
        bulge = tan(turned / 4)
        self.flat = abs(bulge * chord) / 2 < FLAT
        if not self.flat:
            self.centre = (start + end) / 2 + 1j * chord * (1 - bulge * bulge) / (4 * bulge)
            self.radius = abs(start - self.centre)

    def distance(self, point: complex) -> float:
        """Return how far a point lies from the arc, or from what it would be beyond its ends."""
        passed = (point - self.start) * self.back
        if not 0 <= passed.real <= self.length:
            return min(abs(point - self.start), abs(point - self.end))
        if self.flat:
            return abs(passed.imag)
        return abs(abs(point - self.centre) - self.radius)


def _dot(one: complex, other: complex) -> float:
    return one.real * other.real + one.imag * other.imag


def _joined(vertices: Sequence[Vertex], end: complex) -> Iterator[Vertex]:
    """Yield vertices, neighbours that lie on one line or one arc joined, and arcs without a bulge made lines."""
    held: Vertex | None = None
    for vertex, after in pairwise([*vertices, Vertex(end, 0.0)]):
        if abs(vertex.bulge * (after.point - vertex.point)) / 2 < FLAT:
            vertex = Vertex(vertex.point, 0.0)
        joined = held and _as_one(held, vertex, after.point)
        if held and not joined:
            yield held
        held = joined or vertex
    if held:
        yield held


def _as_one(first: Vertex, second: Vertex, end: complex) -> Vertex | None:
    """Return two ways as one, None if they do not lie on one line or arc."""
    came, goes = second.point - first.point, end - second.point
    if not first.bulge and not second.bulge:
        across = abs((came.conjugate() * goes).imag)
        straight = across <= FLAT * abs(came + goes) and _dot(came, goes) > 0
        return Vertex(first.point, 0.0) if straight else None
    turned = [4 * atan(each.bulge) for each in (first, second)]
    if turned[0] * turned[1] <= 0 or abs(sum(turned)) > MOST_TURNED:
        return None
    radii = [abs(way) / (2 * abs(sin(turn / 2))) for way, turn in zip((came, goes), turned, strict=True)]
    # Both are on one circle if they also have one tangent where they meet.
    bent = phase(goes * came.conjugate()) - sum(turned) / 2
    if abs(radii[0] - radii[1]) > ALIKE * radii[0] or abs(bent) > ALIKE:
        return None
    return Vertex(first.point, tan(sum(turned) / 4))
