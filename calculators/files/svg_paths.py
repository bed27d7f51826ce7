"""Paths and basic shapes of SVG as lines of straight pieces and cubic curves.

Source: SVG 2, 9.3 (path data), 9.5 (arcs, with the notes of appendix B.2), 10 (basic shapes); from memory.
"""

from __future__ import annotations

import re
from cmath import rect
from collections.abc import Iterator, Mapping
from itertools import pairwise
from math import atan2, ceil, hypot, pi, radians, sqrt, tan

from calculators import messages
from calculators.files.svg_elements import Element
from calculators.files.svg_numbers import LARGEST, NUMBER, NUMBERS, end_of_numbers, length_of, numbers_of
from calculators.files.unread import Unread, broken
from calculators.shapes.cubics import Piece

#: Maximum lines and curves of a drawing: a hundred times those of a detailed emblem.
MOST_PIECES = 200_000
#: A line: its pieces, and whether it is closed. One without a piece is a point.
Line = tuple[list[Piece], bool]

_STEP = re.compile(r"[\s,]*+([MLHVCSQTAZmlhvcsqtaz])([^MLHVCSQTAZmlhvcsqtaz]*+)")
#: What is left of path data without its numbers.
_COMMANDS = re.compile(r"[\s,MLHVCSQTAZmlhvcsqtaz]*+")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_ARC = re.compile(
    rf"[\s,]*+({NUMBER})[\s,]*+({NUMBER})[\s,]*+({NUMBER})[\s,]*+([01])[\s,]*+([01])[\s,]*+({NUMBER})[\s,]*+({NUMBER})"
)
SHAPES = frozenset(("path", "rect", "circle", "ellipse", "line", "polyline", "polygon"))


def lines_of(element: Element, port: tuple[float, float], most: int) -> list[Line]:
    """Return the lines of a path or a basic shape, in its own units, no more than ``most`` pieces.

    ``port`` is the size that percentages are parts of. Raises Unread.
    """
    attributes = element.attributes
    if element.name == "path":
        return path_lines(attributes.get("d", ""), most)
    if element.name in ("polyline", "polygon"):
        values = numbers_of(attributes.get("points", ""))[: 2 * most + 2]
        if len(values) > 2 * most:
            raise Unread(messages.OUTLINES_TOO_MUCH)
        points = [complex(x, y) for x, y in zip(values[::2], values[1::2], strict=False)]
        return _through(points, closed=element.name == "polygon") if points else []
    diagonal = hypot(*port) / sqrt(2)
    lengths = _Lengths(attributes, port, diagonal)
    if element.name == "line":
        return _through([complex(lengths("x1"), lengths("y1")), complex(lengths("x2"), lengths("y2"))], closed=False)
    if element.name == "rect":
        return _rectangle(lengths, attributes)
    if element.name == "circle":
        across = down = lengths("r")
    else:
        across, down = lengths("rx"), lengths("ry")
        if "rx" not in attributes or attributes["rx"] == "auto":
            across = down
        elif "ry" not in attributes or attributes["ry"] == "auto":
            down = across
    if across <= 0 or down <= 0:
        return []
    return [(_ellipse(complex(lengths("cx"), lengths("cy")), across, down), True)]


class _Lengths:
    def __init__(self, attributes: Mapping[str, str], port: tuple[float, float], diagonal: float) -> None:
        self._attributes, self._port, self._diagonal = attributes, port, diagonal

    def __call__(self, name: str) -> float:
        text = self._attributes.get(name, "0").strip()
        if text == "auto":
            return 0.0
        across = name in ("x", "x1", "x2", "cx", "rx", "width")
        return length_of(text or "0", self._diagonal if name == "r" else self._port[0 if across else 1])


def _through(points: list[complex], *, closed: bool) -> list[Line]:
    if closed and points[0] != points[-1]:
        points = [*points, points[0]]
    return [(list(pairwise(points)), closed)]


def _rectangle(lengths: _Lengths, attributes: Mapping[str, str]) -> list[Line]:
    x, y, width, height = (lengths(name) for name in ("x", "y", "width", "height"))
    if width <= 0 or height <= 0:
        return []
    across, down = lengths("rx"), lengths("ry")
    across, down = (across if "rx" in attributes else down), (down if "ry" in attributes else across)
    across, down = min(max(across, 0.0), width / 2), min(max(down, 0.0), height / 2)
    if not across or not down:
        corners = [complex(x, y), complex(x + width, y), complex(x + width, y + height), complex(x, y + height)]
        return _through(corners, closed=True)
    pieces: list[Piece] = []
    middles = [
        complex(x + width - across, y + down),
        complex(x + width - across, y + height - down),
        complex(x + across, y + height - down),
        complex(x + across, y + down),
    ]
    for quarter, middle in enumerate(middles):
        arc = _ellipse(middle, across, down)[(quarter + 3) % 4]
        if pieces and pieces[-1][-1] != arc[0]:
            pieces.append((pieces[-1][-1], arc[0]))
        pieces.append(arc)
    if pieces[-1][-1] != pieces[0][0]:
        pieces.append((pieces[-1][-1], pieces[0][0]))
    return [(pieces, True)]


def _ellipse(middle: complex, across: float, down: float) -> list[Piece]:
    """Return an ellipse from its right end on, down first."""
    return [_scaled(piece, middle, across, down) for piece in _unit_arc(0.0, 2 * pi)]


def _scaled(piece: Piece, middle: complex, across: float, down: float) -> Piece:
    return tuple(middle + complex(point.real * across, point.imag * down) for point in piece)


def _unit_arc(start: float, sweep: float) -> list[Piece]:
    """Return cubic curves along the unit circle: no more than a quarter each, 0.03 % of the radius off at most."""
    count = max(1, ceil(abs(sweep) / (pi / 2) - 1e-9))
    step = sweep / count
    handle = 4 / 3 * tan(step / 4)
    ends = [_snapped(rect(1.0, start + each * step)) for each in range(count + 1)]
    return [(a, a + 1j * handle * a, b - 1j * handle * b, b) for a, b in pairwise(ends)]


def _snapped(point: complex) -> complex:
    """Return a point of the unit circle, on an axis exactly where it is there but for rounding."""
    return complex(0.0 if abs(point.real) < 1e-15 else point.real, 0.0 if abs(point.imag) < 1e-15 else point.imag)


def path_lines(data: str, most: int) -> list[Line]:
    """Return the lines of path data, no more than ``most`` pieces. Raises Unread.

    >>> path_lines("M1 1h2v2z", 9)
    [([((1+1j), (3+1j)), ((3+1j), (3+3j)), ((3+3j), (1+1j))], True)]
    """
    path = _Path(most)
    at, data = 0, data.strip()
    if data == "none":
        return []
    # The usual case is checked at once; only damaged data are followed number by number, to name the place.
    is_sound = _COMMANDS.fullmatch(NUMBERS.sub("", data)) is not None
    while at < len(data):
        step = _STEP.match(data, at)
        if not step:
            raise broken(data[at : at + 40])
        end = step.end() if is_sound else end_of_numbers(data, step.start(2))
        path.step(step[1], data[step.start(2) : end], data[at:end])
        at = end
    path.end(closed=False)
    return path.lines


class _Path:
    """Path data as it is read, step by step."""

    def __init__(self, most: int) -> None:
        self.lines: list[Line] = []
        self.pieces: list[Piece] = []
        self.here = self.start = 0j
        self.handle: complex | None = None
        self.kind = ""
        self.left = most
        self.begun = False

    def step(self, command: str, arguments: str, text: str) -> None:
        """Follow one command with all its arguments. Raises Unread."""
        kind, relative = command.upper(), command.islower()
        if not self.begun and kind != "M":
            raise broken(text)
        self.begun = True
        if kind == "Z":
            if NUMBERS.search(arguments):
                raise broken(text)
            self.end(closed=True)
            return
        count = 0
        for values in _arcs(arguments, text) if kind == "A" else _groups(arguments, _TAKES[kind], text):
            self.left -= 1
            if self.left < 0:
                raise Unread(messages.OUTLINES_TOO_MUCH)
            if kind == "M" and not count:
                self.end(closed=False)
                self.here = self.start = complex(*values) + (self.here if relative else 0j)
                self.kind = "M"
            else:
                self._piece("L" if kind == "M" else kind, values, self.here if relative else 0j)
            count += 1
        if not count:
            raise broken(text)

    def end(self, *, closed: bool) -> None:
        """End the line; a closed one goes back to its start."""
        if self.kind and (self.pieces or self.kind == "M" or closed):
            if closed and self.pieces and self.here != self.start:
                self.pieces.append((self.here, self.start))
            if self.pieces or closed:
                self.lines.append((self.pieces or [(self.start, self.start)], closed))
        self.pieces, self.kind, self.handle = [], "", None
        self.here = self.start if closed else self.here

    def _piece(self, kind: str, values: list[float], origin: complex) -> None:
        here = self.here
        if not self.kind:
            self.start = here
        if kind == "L":
            self.here = origin + complex(*values)
            self.pieces.append((here, self.here))
            self.kind, self.handle = kind, None
            return
        if kind == "H":
            points = [complex(origin.real + values[0], here.imag)]
        elif kind == "V":
            points = [complex(here.real, origin.imag + values[0])]
        elif kind == "A":
            end = origin + complex(values[5], values[6])
            self.pieces += _arc(here, end, values)
            points = []
            self.here = end
        else:
            points = [origin + complex(x, y) for x, y in zip(values[::2], values[1::2], strict=True)]
        handle = None
        if kind in "ST":
            known = self.kind in ("CS" if kind == "S" else "QT") and self.handle is not None
            points.insert(0, 2 * here - self.handle if known and self.handle is not None else here)
        if kind in "CSQT":
            handle = points[-2]
        if kind in "QT":
            # The cubic curve that equals a quadratic one has its handles two thirds of the way.
            points = [here + (points[0] - here) * 2 / 3, points[1] + (points[0] - points[1]) * 2 / 3, points[1]]
        if points:
            self.pieces.append((here, *points))
            self.here = points[-1]
        self.kind, self.handle = kind, handle


def _groups(arguments: str, takes: int, text: str) -> Iterator[list[float]]:
    values: list[float] = []
    for found in NUMBERS.finditer(arguments):
        value = float(found[0])
        if not abs(value) <= LARGEST:
            raise broken(text)
        values.append(value)
        if len(values) == takes:
            yield values
            values = []
    if values:
        raise broken(text)


def _arcs(arguments: str, text: str) -> Iterator[list[float]]:
    at, arguments = 0, arguments.strip(" \t\r\n,")
    while at < len(arguments):
        found = _ARC.match(arguments, at)
        values = list(map(float, found.groups())) if found else []
        if not found or any(not abs(value) <= LARGEST for value in values):
            raise broken(text)
        at = found.end()
        yield values


def _arc(start: complex, end: complex, values: list[float]) -> list[Piece]:
    """Return an elliptical arc between two points as cubic curves."""
    across, down, degrees, large, sweeps = abs(values[0]), abs(values[1]), values[2], values[3], values[4]
    if start == end:
        return []
    if not across or not down:
        return [(start, end)]
    tilt = rect(1.0, radians(degrees))
    half = (start - end) / 2 / tilt
    # Radii that are too small for both points are enlarged.
    needed = hypot(half.real / across, half.imag / down)
    if needed > 1:
        across, down = across * needed, down * needed
    one = complex(half.real / across, half.imag / down)
    long = max(0.0, 1 / (abs(one) ** 2) - 1) if needed < 1 and one else 0.0
    middle = 1j * one * sqrt(long) * (-1 if large != sweeps else 1)
    first, last = one - middle, -one - middle
    begin = atan2(first.imag, first.real)
    turned = (atan2(last.imag, last.real) - begin) % (2 * pi)
    if not sweeps:
        turned -= 2 * pi
    centre = (start + end) / 2 + complex(middle.real * across, middle.imag * down) * tilt
    made = [
        tuple(centre + complex(point.real * across, point.imag * down) * tilt for point in piece)
        for piece in _unit_arc(begin, turned)
    ]
    # The ends are those that were asked for, to the last bit.
    made[0] = (start, *made[0][1:])
    made[-1] = (*made[-1][:-1], end)
    return made
