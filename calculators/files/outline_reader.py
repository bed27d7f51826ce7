"""Reads outlines from an SVG file: filled paths of straight lines and cubic curves, sized in millimetres.

It reads files of ``outline_files`` and similarly plain drawings. A file with anything else, such as strokes, other
shapes, moved groups, gradients or words, is refused by name instead of losing parts silently.

Source: SVG 2, 8.2 (viewBox), 9.3 (path data), 13.4 (fill); from memory, tested against another renderer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from calculators import messages
from calculators.numbers import plain
from calculators.shapes.cubics import Piece

#: Maximum bytes, and maximum lines and curves: a hundred times those of a detailed emblem.
MOST_BYTES, MOST_PIECES = 16 * 1024 * 1024, 200_000
#: Maximum total length of outlines relative to half the perimeter of the drawing: a detailed emblem has 25.
LONGEST_SHARE = 200
#: A line beneath all fills that is no wider than this, in units of the drawing, is the thread under a seam.
THREAD = 0.05
#: Maximum sides in mm and coordinates in units of the drawing; anything larger is not a marking.
LARGEST = 1e5
#: The shortest side in mm, a hundredth of the thinnest line that a printer holds,
#: and of a viewBox in units of the drawing.
LEAST_MM, LEAST_UNITS = 0.001, 1e-6


@dataclass(frozen=True)
class Shape:
    """What is filled with one colour (#rrggbb): closed rings of pieces, in units of the
    drawing; by ``even_odd`` or else by winding.
    """

    fill: str
    rings: tuple[tuple[Piece, ...], ...]
    even_odd: bool


@dataclass(frozen=True)
class Outlines:
    """A drawing of ``width_mm`` x ``height_mm`` that shows ``box`` (left, top, width, height) of
    its own units; later shapes lie over earlier ones.
    """

    width_mm: float
    height_mm: float
    box: tuple[float, float, float, float]
    shapes: tuple[Shape, ...]


class Unread(ValueError):
    """A drawing that cannot be used, and why."""

    def __init__(self, sentence: str, **values: str) -> None:
        super().__init__(sentence)
        self._sentence, self._values = sentence, values

    def message(self, name: str) -> str:
        """Return the reason as a sentence with the file's ``name``."""
        return self._sentence.format(name=name, **self._values)


def read_outlines(data: bytes) -> Outlines:
    """Return the outlines of an SVG file. Raises Unread.

    >>> svg = b'<svg width="4mm" height="2mm" viewBox="0 0 2 1"><path fill="#7a2232" d="M0 0L2 0L2 1Z"/></svg>'
    >>> made = read_outlines(svg)
    >>> made.width_mm, made.shapes[0].rings
    (4.0, (((0j, (2+0j)), ((2+0j), (2+1j)), ((2+1j), 0j)),))
    """
    if len(data) > MOST_BYTES:
        raise Unread(messages.OUTLINES_TOO_MUCH)
    try:
        text = bytes(data).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unread(messages.OUTLINES_NOT_TEXT) from None
    size: tuple[float, float, tuple[float, float, float, float]] | None = None
    shapes: list[Shape] = []
    count = 0
    for name, attributes in _elements(text):
        if name == "svg":
            if size:
                raise _more("<svg>")
            size = _size(attributes)
        elif not size:
            raise _more(f"<{name}>")
        elif name == "path":
            if not shapes and _is_thread(attributes):
                continue
            shape = _shape(attributes, MOST_PIECES - count)
            if shape:
                shapes.append(shape)
                count += sum(map(len, shape.rings))
    if not size or not shapes:
        raise Unread(messages.OUTLINES_NONE)
    made = Outlines(*size, tuple(shapes))
    if not any(_meets(shape, made.box) for shape in shapes):
        raise Unread(messages.OUTLINES_OUTSIDE)
    if _length(made) > LONGEST_SHARE * sum(made.box[2:]):
        raise Unread(messages.OUTLINES_TOO_MUCH)
    return made


def _meets(shape: Shape, box: tuple[float, float, float, float]) -> bool:
    """Return whether the rectangle around ``shape`` and its handles has a point in common with ``box``."""
    points = [point for ring in shape.rings for piece in ring for point in piece]
    across, down = [point.real for point in points], [point.imag for point in points]
    left, top, width, height = box
    return min(across) <= left + width and max(across) >= left and min(down) <= top + height and max(down) >= top


def _length(outlines: Outlines) -> float:
    """Return at most how long all outlines are, in units of the drawing."""
    return sum(
        abs(end - start)
        for shape in outlines.shapes
        for ring in shape.rings
        for piece in ring
        for start, end in pairwise(piece)
    )


# -- Elements

_NAME = r"[A-Za-z_][\w:.-]*+"
_ATTRIBUTE = re.compile(rf"""({_NAME})\s*+=\s*+(?:"([^"<]*+)"|'([^'<]*+)')""")
_TAG = re.compile(rf"""<(/?+)({_NAME})((?:\s++{_NAME}\s*+=\s*+(?:"[^"<]*+"|'[^'<]*+'))*+)\s*+(/?+)>""")
#: Blanks, declarations, document types without a part of their own, and comments.
_LEFT_OUT = re.compile(r"(?:\s++|<\?[^>]*+>|<!DOCTYPE[^\[>]*+>|<!--(?:[^-]|-(?!->))*+-->)++")
#: Invisible elements, whose text is skipped.
_SILENT = ("title", "desc")
_WORDS = re.compile(r"[^<]*+")
#: Further attributes that do not change the appearance of an element.
_HARMLESS = re.compile(r"(?:xmlns(?::.*)?|xml:.*|id|class|version|role|data-.*|aria-.*)\Z")
_OWN = {
    "svg": {"width", "height", "viewBox"},
    "path": {"d", "fill", "fill-rule", "stroke", "stroke-width"},
    "title": set(),
    "desc": set(),
}


def _elements(text: str) -> Iterator[tuple[str, Mapping[str, str]]]:
    """Yield every element that begins, with its attributes. Raises Unread for any that is not known here."""
    at = 0
    inside: list[str] = []
    while at < len(text):
        if passed := _LEFT_OUT.match(text, at):
            at = passed.end()
            continue
        tag = _TAG.match(text, at)
        if not tag:
            raise _broken(text[at : at + 40])
        closes, name, attribute_text, closed = tag[1], tag[2].removeprefix("svg:"), tag[3], tag[4]
        at = tag.end()
        if closes:
            if not inside or inside.pop() != name:
                raise _broken(tag[0])
            continue
        if name not in _OWN:
            raise _more(f"<{name}>")
        attributes = {key: one or other for key, one, other in _ATTRIBUTE.findall(attribute_text)}
        for key in attributes:
            if key not in _OWN[name] and not _HARMLESS.match(key):
                raise _more(key)
        yield name, attributes
        if not closed:
            inside.append(name)
            if name in _SILENT and (words := _WORDS.match(text, at)):
                at = words.end()
    if inside:
        raise Unread(messages.OUTLINES_CUT_SHORT)


def _size(attributes: Mapping[str, str]) -> tuple[float, float, tuple[float, float, float, float]]:
    width, height = (_millimetres(attributes.get(side, "")) for side in ("width", "height"))
    if width is None or height is None:
        raise Unread(messages.OUTLINES_NO_SIZE)
    if not (LEAST_MM <= min(width, height) and max(width, height) <= LARGEST):
        raise Unread(messages.OUTLINES_SIZE_BEYOND, low=plain(LEAST_MM), high=plain(LARGEST))
    try:
        box = tuple(map(float, re.split(r"[\s,]+", attributes.get("viewBox", "").strip())))
    except ValueError:
        box = ()
    if len(box) != 4 or not all(isfinite(part) and abs(part) <= LARGEST for part in box):
        raise Unread(messages.OUTLINES_NO_SIZE)
    if min(box[2:]) < LEAST_UNITS:
        raise Unread(messages.OUTLINES_EMPTY_BOX)
    # A different aspect ratio would be fitted with margins, which our files never have.
    if abs(width / height / (box[2] / box[3]) - 1) > 0.01:
        raise Unread(messages.OUTLINES_OTHER_SHAPE)
    return width, height, box


def _millimetres(text: str) -> float | None:
    found = re.fullmatch(rf"\s*({_NUMBER})\s*mm\s*", text)
    return float(found[1]) if found else None


# -- Paths

_NUMBER = r"[-+]?+(?:[0-9]++\.?+[0-9]*+|\.[0-9]++)(?:[eE][-+]?+[0-9]++)?+"
_STEP = re.compile(rf"[\s,]*+([MLHVCZmlhvcz])((?:[\s,]*+{_NUMBER})*+)[\s,]*+")
_NUMBERS = re.compile(_NUMBER)
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Z": 0}
_COLOUR = re.compile(r"#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})\Z")


def _is_thread(attributes: Mapping[str, str]) -> bool:
    """Return whether a path is a thread beneath the seams of what is filled after it, of
    which nothing is seen where those meet exactly.
    """
    width = attributes.get("stroke-width", "").strip()
    return attributes.get("fill") == "none" and bool(re.fullmatch(_NUMBER, width)) and float(width) <= THREAD


def _shape(attributes: Mapping[str, str], most: int) -> Shape | None:
    """Return the filled shape of a path, or None if it is invisible."""
    if attributes.get("stroke", "none").strip() != "none":
        raise _more("stroke")
    fill, rule = attributes.get("fill", "#000000").strip(), attributes.get("fill-rule", "nonzero").strip()
    if rule not in ("evenodd", "nonzero"):
        raise _more(f"fill-rule {rule}")
    if fill == "none":
        return None
    if not (found := _COLOUR.match(fill)):
        raise _more(f"fill {fill}")
    digits = found[1].lower()
    colour = digits if len(digits) == 6 else "".join(2 * digit for digit in digits)
    rings = _rings(attributes.get("d", ""), most)
    return Shape(f"#{colour}", rings, rule == "evenodd") if rings else None


def _rings(data: str, most: int) -> tuple[tuple[Piece, ...], ...]:
    """Return the rings of path data; open ones are closed, as a fill does."""
    rings: list[tuple[Piece, ...]] = []
    ring: list[Piece] = []
    here = start = 0j
    at, count, begun = 0, 0, False
    data = data.strip()

    def close() -> None:
        if ring:
            if here != start:
                ring.append((here, start))
            rings.append(tuple(ring))
            ring.clear()

    while at < len(data):
        step = _STEP.match(data, at)
        if not step:
            raise _broken(data[at : at + 40])
        at, command = step.end(), step[1]
        kind, relative = command.upper(), command.islower()
        values = list(map(float, _NUMBERS.findall(step[2])))
        takes = _TAKES[kind]
        if (len(values) % takes or not values) if takes else values:
            raise _broken(step[0])
        if not begun and kind != "M":
            raise _broken(step[0])
        begun = True
        count += len(values) // takes if takes else 1
        if count > most:
            raise Unread(messages.OUTLINES_TOO_MUCH)
        if any(not abs(value) <= LARGEST for value in values):
            raise _broken(step[0])
        if kind == "Z":
            close()
            here = start
            continue
        for first in range(0, len(values), takes):
            arguments = values[first : first + takes]
            origin = here if relative else 0j
            if kind == "M" and not first:
                close()
                here = start = origin + complex(*arguments)
                continue
            if kind == "C":
                points = tuple(origin + complex(*arguments[each : each + 2]) for each in (0, 2, 4))
            elif kind == "H":
                points = (complex(origin.real + arguments[0], here.imag),)
            elif kind == "V":
                points = (complex(here.real, origin.imag + arguments[0]),)
            else:
                points = (origin + complex(*arguments),)
            ring.append((here, *points))
            here = points[-1]
    close()
    return tuple(rings)


def _more(what: str) -> Unread:
    return Unread(messages.OUTLINES_HOLD_MORE, what=messages.quoted(what))


def _broken(near: str) -> Unread:
    return Unread(messages.OUTLINES_BROKEN, near=messages.quoted(" ".join(near.split())))
