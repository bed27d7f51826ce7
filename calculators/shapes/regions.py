"""The regions of a planar map: for each label its rings, outer ones and holes, made of the lines beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calculators.shapes.areas import backwards, enclosed
from calculators.shapes.cubics import Piece
from calculators.shapes.outlines import Line
from calculators.shapes.planar_map import EAST, NORTH, SOUTH, WEST, PlanarMap

#: A ring that encloses less, in square pixels, encloses nothing: rounding.
LEAST_AREA = 1e-4


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed run of pieces. ``area`` in square pixels is above 0 for an outer ring, below for a hole."""

    pieces: tuple[Piece, ...]
    area: float


def rings(made: PlanarMap, lines: Sequence[Line]) -> dict[int, list[Ring]]:
    """Return the rings of each label, its region on the right of each."""
    by_label: dict[int, list[Ring]] = {}
    leaving: dict[tuple[int, int], tuple[Line, bool]] = {}
    for line in lines:
        arc = line.arc
        if arc.ring:
            by_label.setdefault(arc.right, []).append(_ring(line.pieces))
            by_label.setdefault(arc.left, []).append(_ring(backwards(line.pieces)))
        else:
            first, last = arc.corners[0], arc.corners[-1]
            leaving[first, arc.corners[1] - first] = line, True
            leaving[last, arc.corners[-2] - last] = line, False
    steps = {1: EAST, made.stride: SOUTH, -1: WEST, -made.stride: NORTH}
    moves = 1, made.stride, -1, -made.stride
    while leaving:
        key = next(iter(leaving))
        label = _label(*leaving[key])
        walked: list[tuple[int, Line, bool]] = []
        start = key
        while True:
            line, forward = leaving.pop(key)
            walked.append((key[0], line, forward))
            corners = line.arc.corners if forward else line.arc.corners[::-1]
            came = steps[corners[-1] - corners[-2]]
            key = next(
                (corners[-1], moves[to])
                for to in ((came + 1) % 4, came, (came + 3) % 4)
                if (corners[-1], moves[to]) in leaving or (corners[-1], moves[to]) == start
            )
            if key == start:
                break
        by_label.setdefault(label, []).extend(_simple(walked))
    return by_label


def sound(by_label: Mapping[int, Sequence[Ring]]) -> tuple[dict[int, list[Ring]], int]:
    """Return the rings of each label without those that enclose nothing, which a cutter would follow to and fro, and
    how many those are.
    """
    valid = {label: [ring for ring in held if abs(ring.area) >= LEAST_AREA] for label, held in by_label.items()}
    return valid, sum(map(len, by_label.values())) - sum(map(len, valid.values()))


def _label(line: Line, forward: bool) -> int:
    return line.arc.right if forward else line.arc.left


def _ring(pieces: Sequence[Piece]) -> Ring:
    return Ring(tuple(pieces), enclosed(pieces))


def _simple(walked: list[tuple[int, Line, bool]]) -> list[Ring]:
    """Return the rings of one walk, parted wherever it comes to a node twice."""
    made: list[Ring] = []
    path: list[tuple[int, Line, bool]] = []
    place: dict[int, int] = {}
    for node, line, forward in [*walked, (walked[0][0], None, True)]:
        if node in place:
            loop = path[place[node] :]
            del path[place[node] :]
            for each, _, _ in loop:
                place.pop(each, None)
            pieces: list[Piece] = []
            for _, part, way in loop:
                pieces += part.pieces if way else backwards(part.pieces)
            made.append(_ring(pieces))
        if line is not None:
            place[node] = len(path)
            path.append((node, line, forward))
    return made
