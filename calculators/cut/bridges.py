"""Bridges that hold the islands of a loose stencil, where they show least: across the narrowest gaps.

What stays of a stencil is moved inwards by half a bridge. Each part that is left is firm by itself, and a straight
bridge between two of its points, as wide as it should be, joins them: moved inwards by half its width, it still goes
from one point to the other. So the shortest lines that join all parts hold the whole stencil, with no neck narrower
than a bridge.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calculators.cut.anchors import Anchors, Line
from calculators.cut.plane import Flat, Plane, lies_in
from calculators.shapes.nesting import Part
from calculators.shapes.offsets import as_pieces

#: Bridges may take this share of the openings; a second one for an island is laid only within the other.
MOST_LOST, MOST_FOR_SECOND = 0.1, 0.06
#: What a bridge leaves of an opening that is narrower than so many mm, nobody paints.
NOTHING_MM = 0.1

_NUMBER = r"(\d{1,5}(?:\.\d{1,3})?)"
_CHANGE = re.compile(rf"(?:(\d{{1,3}})\s*(off)|(?:(\d{{1,3}})|new)\s+at\s+{_NUMBER}[\s/]+{_NUMBER})", re.IGNORECASE)


class BadChange(ValueError):
    """A change of bridges that cannot be read or made: ``text`` is what was typed, ``number`` that of a bridge that
    there is not, ``place`` one with no opening, else None.
    """

    def __init__(self, text: str, number: int | None = None, place: complex | None = None) -> None:
        super().__init__(text)
        self.text, self.number, self.place = text, number, place


@dataclass(frozen=True)
class Changes:
    """What the reader changes: bridges that go, those that move, by number, and new ones, in mm."""

    off: frozenset[int] = frozenset()
    moved: Mapping[int, complex] | None = None
    new: tuple[complex, ...] = ()


@dataclass(frozen=True)
class Bridge:
    """A bridge from one point to another, in mm. The reader added it if it ``is_new``."""

    number: int
    start: complex
    end: complex
    is_new: bool = False

    @property
    def middle(self) -> complex:
        return (self.start + self.end) / 2


@dataclass(frozen=True)
class Bridged:
    """Openings without what bridges cover, 0 to 1 of them ``lost``; ``off`` are bridges that the reader took away.

    ``loose`` are parts of the stencil that fall out all the same, ``left_out`` islands that were opened too, since they
    are smaller than a bridge, ``starved`` the openings that lose more than ``MOST_LOST`` of themselves, if all together
    do.
    """

    openings: Flat
    bridges: tuple[Bridge, ...]
    off: tuple[Bridge, ...]
    lost: float
    loose: list[Part]
    left_out: list[Part]
    starved: list[Part]

    @property
    def is_refused(self) -> bool:
        return self.lost > MOST_LOST


def read_changes(text: str) -> Changes:
    """Return changes of bridges, such as "2 off, 3 at 12.5 8, new at 4 9". Raises BadChange.

    >>> read_changes("2 off; new at 4/9.5").new
    ((4+9.5j),)
    """
    off: set[int] = set()
    moved: dict[int, complex] = {}
    new: list[complex] = []
    for part in filter(str.strip, re.split(r"[,;\n]", text)):
        found = _CHANGE.fullmatch(part.strip())
        if not found:
            raise BadChange(part.strip())
        if found[2]:
            off.add(int(found[1]))
        elif found[3]:
            moved[int(found[3])] = complex(float(found[4]), float(found[5]))
        else:
            new.append(complex(float(found[4]), float(found[5])))
    return Changes(frozenset(off), moved, tuple(new))


@dataclass(frozen=True)
class Laid:
    """Bridges ``width`` mm wide that hold the islands of ``openings`` in a ``sheet``, as they were laid out first.

    Islands ``left_out`` have none: they are no longer and no wider than a bridge, which would hide them.
    """

    plane: Plane
    openings: Flat
    sheet: Flat
    width: float
    anchors: Anchors
    bridges: tuple[Bridge, ...]
    left_out: list[Part]

    def opened(self) -> Flat:
        """Return the openings with the islands that are left out."""
        return _joined(self.plane, self.openings, self.left_out)


def laid(plane: Plane, openings: Flat, sheet: Flat, width: float, first: int = 1) -> Laid:
    """Return bridges ``width`` mm wide that hold the islands of ``openings`` in a ``sheet``, numbered from ``first``.

    Raises TooTangled.
    """
    left_out = [part for part in plane.parts(plane.minus(sheet, openings)) if _is_hidden(plane, part, width)]
    opened = _joined(plane, openings, left_out)
    anchors = Anchors(plane, plane.minus(sheet, opened), width)
    whole = plane.area(openings)
    joining = list(anchors.joining())
    room = MOST_FOR_SECOND * whole - _covered(plane, openings, joining, width)
    lines = [*joining, *anchors.second_lines(joining, room)]
    lines.sort(key=lambda each: (round(_middle(each).imag, 1), each[0].real))
    bridges = tuple(Bridge(number, *line) for number, line in enumerate(lines, first))
    return Laid(plane, openings, sheet, width, anchors, bridges, left_out)


def _is_hidden(plane: Plane, part: Part, width: float) -> bool:
    """Return whether a bridge ``width`` mm wide would hide a part whole."""
    ring = plane.polygon(part.outer)
    across, down = [point.real for point in ring], [point.imag for point in ring]
    return max(max(across) - min(across), max(down) - min(down)) <= width


def _joined(plane: Plane, flat: Flat, parts: Sequence[Part]) -> Flat:
    return plane.join(flat, *([part.outer, *part.holes] for part in parts)) if parts else flat


def shared_out(every: Sequence[Laid], changes_text: str) -> list[Changes]:
    """Return which of the changes of a set of stencils each has, whose bridges are numbered throughout.

    New bridges get the next numbers, and go to the stencil that is open at their place. Raises BadChange.
    """
    changes = read_changes(changes_text)
    numbers = [{each.number for each in one.bridges} for one in every]
    beyond = (changes.off | (changes.moved or {}).keys()) - set().union(*numbers)
    if beyond:
        raise BadChange(changes_text, number=min(beyond))
    moved = [{number: place for number, place in (changes.moved or {}).items() if number in own} for own in numbers]
    for number, place in enumerate(changes.new, sum(map(len, numbers)) + 1):
        open_there = (
            own
            for own, one in zip(moved, every, strict=True)
            if any(lies_in(place, one.plane.boundaries(part)) for part in one.plane.parts(one.openings))
        )
        own = next(open_there, None)
        if own is None:
            raise BadChange(changes_text, place=place)
        own[number] = place
    return [Changes(changes.off & own, places) for own, places in zip(numbers, moved, strict=True)]


def bridged(one: Laid, changes: Changes) -> Bridged:
    """Return the openings of a stencil with its bridges, and what the reader ``changes`` of them (``shared_out``).

    Raises BadChange, TooTangled.
    """
    plane, openings = one.plane, one.openings
    moved = changes.moved or {}
    numbers = {each.number for each in one.bridges}
    made = [each for each in one.bridges if each.number not in changes.off and each.number not in moved]
    for number, place in moved.items():
        line = one.anchors.across(place)
        if line is None:
            raise BadChange("", place=place)
        made.append(Bridge(number, *line, number not in numbers))
    made.sort(key=lambda each: each.number)
    left = opened = one.opened()
    if made:
        bars = plane.join(*(plane.flat([_bar(each.start, each.end, one.width)]) for each in made))
        left = _wide_enough(plane, plane.minus(opened, bars))
    held = sorted(plane.parts(plane.minus(one.sheet, left)), key=lambda part: -plane.area([part.outer]))
    whole = plane.area(openings)
    still = plane.common(openings, left) if one.left_out else left
    lost = 1 - plane.area(still) / whole if whole else 0.0
    starved = _starved(plane, openings, left) if lost > MOST_LOST else []
    off = tuple(each for each in one.bridges if each.number in changes.off)
    return Bridged(left, tuple(made), off, lost, held[1:], one.left_out, starved)


def _starved(plane: Plane, openings: Flat, left: Flat) -> list[Part]:
    """Return the parts of ``openings`` of which too little is ``left``."""
    made = []
    for part in plane.parts(openings):
        whole = [part.outer, *part.holes]
        if plane.area(plane.common(whole, left)) < (1 - MOST_LOST) * plane.area(whole):
            made.append(part)
    return made


def _middle(line: Line) -> complex:
    return (line[0] + line[1]) / 2


def _bar(start: complex, end: complex, width: float) -> list[tuple[complex, ...]]:
    way = end - start
    aside = 1j * way / (abs(way) or 1) * width / 2
    return as_pieces([start + aside, start - aside, end - aside, end + aside])


def _covered(plane: Plane, openings: Flat, lines: Sequence[Line], width: float) -> float:
    """Return how much of the openings bridges along ``lines`` cover, in mm²."""
    if not lines:
        return 0.0
    bars = plane.join(*(plane.flat([_bar(*line, width)]) for line in lines))
    return plane.area(plane.common(openings, bars))


def _wide_enough(plane: Plane, openings: Flat) -> Flat:
    """Return the parts of openings that are not narrower than ``NOTHING_MM`` all over."""
    return [
        ring
        for part in plane.parts(openings)
        if plane.is_wide([part.outer, *part.holes], NOTHING_MM)
        for ring in (part.outer, *part.holes)
    ]
