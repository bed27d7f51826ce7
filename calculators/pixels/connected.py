"""Connected areas of a plane of one byte a pixel, by runs: stretches of equal pixels in a row."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Generator, Iterator
from dataclasses import dataclass, field

from calculators import messages
from calculators.values import Progress, in_one_go

_RUN = re.compile(rb"(.)\1*", re.DOTALL)
#: A picture with more runs than this is noise, and its areas are not found.
MOST_RUNS = 500_000
_ROWS_BETWEEN_STEPS = 256


class TooManyRuns(ValueError):
    """The picture falls into too many pieces to separate."""


@dataclass(slots=True)
class Area:
    """One connected area: pixels of one ``value``.

    ``runs`` are (start, stop) in the plane, in order. ``box`` is left, top, right, bottom, the last two beyond it.
    ``sides`` counts the sides of pixels on its boundary, those on the picture's border too; ``at_border``
    only those. ``outside`` is the place in the list of the area around it, None at the top of the picture.
    """

    value: int
    runs: list[tuple[int, int]] = field(default_factory=list)
    size: int = 0
    box: tuple[int, int, int, int] = (0, 0, 0, 0)
    sides: int = 0
    at_border: int = 0
    corners: int = 0
    outside: int | None = None


#: Returns the areas of a plane that the caller has found, or finds once for all that ask.
AreasOf = Callable[[], list[Area]]


def connected(
    plane: bytes, width: int, height: int, *, by_corners: Collection[int] = ()
) -> Generator[Progress, None, list[Area]]:
    """Return the connected areas of ``plane`` in the order of their first pixels. Yields progress.

    Areas connect by the sides of pixels, those whose value is in ``by_corners`` by their corners too.
    Raises TooManyRuns.
    """
    starts: list[int] = []
    stops: list[int] = []
    values: list[int] = []
    parent: list[int] = []
    overlap: list[int] = []
    corner_values = frozenset(by_corners)

    def root(run: int) -> int:
        while parent[run] != run:
            parent[run] = run = parent[parent[run]]
        return run

    above_from = above_to = 0
    for row in range(height):
        if row % _ROWS_BETWEEN_STEPS == 0:
            yield Progress(row / height, messages.FINDING_AREAS)
        left = row * width
        here_from = len(starts)
        spans = [found.span() for found in _RUN.finditer(plane, left, left + width)]
        starts += [start for start, _ in spans]
        stops += [stop for _, stop in spans]
        values += [plane[start] for start, _ in spans]
        here_to = len(starts)
        if here_to > MOST_RUNS:
            raise TooManyRuns
        parent.extend(range(here_from, here_to))
        overlap.extend([0] * (here_to - here_from))
        above = above_from
        for run in range(here_from, here_to):
            start, stop, value = starts[run] - width, stops[run] - width, values[run]
            reach = 1 if value in corner_values else 0
            while above < above_to and stops[above] < start:
                above += 1
            other = above
            while other < above_to and (begin := starts[other]) <= stop:
                if values[other] == value:
                    end = stops[other]
                    shared = (stop if stop < end else end) - (start if start > begin else begin)
                    if shared > 0 or (shared == 0 and reach):
                        overlap[run] += shared
                        # Most runs are beside the first of their area: a call takes longer than all else here.
                        first = parent[other]
                        if parent[first] != first:
                            first = root(first)
                        if parent[run] == run:
                            parent[run] = first
                        elif first != (second := root(run)):
                            parent[max(first, second)] = min(first, second)
                other += 1
        above_from, above_to = here_from, here_to
    return _gathered(starts, stops, values, [root(run) for run in range(len(starts))], overlap, width, height)


def all_areas(plane: bytes, width: int, height: int, by_corners: Collection[int] = ()) -> list[Area]:
    """Return the connected areas of ``plane`` at once, none of a plane that falls into too many pieces."""
    try:
        return in_one_go(connected(plane, width, height, by_corners=by_corners))
    except TooManyRuns:
        return []


def _gathered(
    starts: list[int],
    stops: list[int],
    values: list[int],
    roots: list[int],
    overlap: list[int],
    width: int,
    height: int,
) -> list[Area]:
    place: dict[int, int] = {}
    areas: list[Area] = []
    of_run: list[int] = []
    boxes: list[list[int]] = []
    for run, top in enumerate(roots):
        if (at := place.get(top)) is None:
            at = place[top] = len(areas)
            areas.append(Area(values[run]))
            boxes.append([width, starts[run] // width, 0, 0])
        of_run.append(at)
        area, box = areas[at], boxes[at]
        start, stop = starts[run], stops[run]
        row = start // width
        left, right = start - row * width, stop - row * width
        length = right - left
        area.runs.append((start, stop))
        area.size += length
        area.sides += 2 + 2 * length - 2 * overlap[run]
        area.at_border += (left == 0) + (right == width) + length * ((row == 0) + (row == height - 1))
        if row in (0, height - 1):
            area.corners += ((left == 0) + (right == width)) * (1 if height > 1 else 2)
        box[0], box[2], box[3] = min(box[0], left), max(box[2], right), row + 1
    for area, (left, top, right, bottom) in zip(areas, boxes, strict=True):
        area.box = left, top, right, bottom
    _place_within(areas, starts, stops, of_run, width)
    return areas


def _place_within(areas: list[Area], starts: list[int], stops: list[int], of_run: list[int], width: int) -> None:
    """Set for each area the one around its topmost pixel: the area right above that pixel."""
    wanted = sorted((area.runs[0][0] - width, place) for place, area in enumerate(areas) if area.runs[0][0] >= width)
    run = 0
    for pixel, place in wanted:
        while stops[run] <= pixel:
            run += 1
        areas[place].outside = of_run[run]


def painted(areas: Collection[Area], values: Collection[int], size: int, ground: int = 0) -> bytes:
    """Return a plane of ``size`` pixels: ``ground``, and each area in its value."""
    plane = bytearray(bytes([ground]) * size)
    for area, value in zip(areas, values, strict=True):
        for start, stop in area.runs:
            plane[start:stop] = bytes([value]) * (stop - start)
    return bytes(plane)


def pixels_of(area: Area) -> Iterator[int]:
    """Yield the place of each pixel of ``area``."""
    for start, stop in area.runs:
        yield from range(start, stop)
