"""Reads outlines from an SVG file: what it fills and strokes in flat colours, as straight lines and cubic curves.

Groups, transforms, basic shapes, strokes, clip paths, simple style sheets and nested drawings become plain regions,
later ones over earlier ones. A file with anything that would be lost, such as text, gradients or raster pictures, is
refused, and all of that is named. Nothing outside the file is ever followed, and no script is run.

Source: SVG 2, 5 (structure), 8.2 (viewport), 13 (painting), CSS Masking 1, 6 (clip paths); from memory, tested against
other renderers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from calculators import messages
from calculators.files.svg_elements import Element, read_elements
from calculators.files.svg_numbers import PX, Box, box_of, fitted, is_physical, length_of
from calculators.files.svg_painting import Painting
from calculators.files.svg_shapes import Shape
from calculators.files.unread import Unread
from calculators.numbers import plain

__all__ = ["Outlines", "Shape", "Unread", "read_outlines"]

#: Maximum total length of outlines relative to half the perimeter of the drawing: a detailed emblem has 25.
LONGEST_SHARE = 200
#: Maximum sides in mm; anything larger is not a marking.
LARGEST_MM = 1e5
#: The shortest side in mm, a hundredth of the thinnest line that a printer holds,
#: and of a viewBox in units of the drawing.
LEAST_MM, LEAST_UNITS = 0.001, 1e-6
#: Curves are followed within this share of the longer side of a drawing where strokes and clip paths are worked out.
FOLLOWED_SHARE = 1 / 20_000


@dataclass(frozen=True)
class Outlines:
    """A drawing of ``width_mm`` x ``height_mm`` that shows ``box`` (left, top, width, height) of
    its own units; later shapes lie over earlier ones.

    One that is not ``sized`` gives no size in a unit that holds on paper. Its sides then are in proportion only.
    """

    width_mm: float
    height_mm: float
    box: Box
    shapes: tuple[Shape, ...]
    sized: bool = True


def read_outlines(data: bytes) -> Outlines:
    """Return the outlines of an SVG file. Raises Unread.

    >>> svg = b'<svg width="4mm" height="2mm" viewBox="0 0 2 1"><path fill="#7a2232" d="M0 0L2 0L2 1Z"/></svg>'
    >>> made = read_outlines(svg)
    >>> made.width_mm, made.shapes[0].rings
    (4.0, (((0j, (2+0j)), ((2+0j), (2+1j)), ((2+1j), 0j)),))
    """
    root = read_elements(data)
    if root.name != "svg":
        raise Unread(messages.OUTLINES_NONE)
    size = _size(root)
    extent = max(size.box[2:]) if size else 0.0
    painting = Painting(root, extent * FOLLOWED_SHARE, size.box[2:] if size else (0.0, 0.0))
    shapes = tuple(painting.shapes(own_file=bool(size and size.own_file)))
    if not shapes:
        raise Unread(messages.OUTLINES_NONE)
    size = size or _measured(shapes)
    made = Outlines(size.width_mm, size.height_mm, size.box, shapes, size.sized)
    if not any(_meets(shape, made.box) for shape in shapes):
        raise Unread(messages.OUTLINES_OUTSIDE)
    if _length(made) > LONGEST_SHARE * sum(made.box[2:]):
        raise Unread(messages.OUTLINES_TOO_MUCH)
    return made


# -- Size


@dataclass(frozen=True)
class _Size:
    width_mm: float
    height_mm: float
    box: Box
    sized: bool
    #: Whether a unit of the drawing is a millimetre, as in the files that we write.
    own_file: bool = False


def _size(root: Element) -> _Size | None:
    """Return the size of a drawing; None if it gives none at all. Raises Unread."""
    attributes = root.attributes
    box = box_of(attributes.get("viewBox", ""))
    if box and min(box[2:]) < LEAST_UNITS:
        raise Unread(messages.OUTLINES_EMPTY_BOX)
    texts = [attributes.get(side, "").strip() for side in ("width", "height")]
    width, height = (None if text in ("", "auto") or text.endswith("%") else length_of(text, 0.0) for text in texts)
    sized = any(is_physical(text) for text in texts)
    if width is None and height is None:
        if not box:
            return None
        width, height, sized = box[2], box[3], False
    elif width is None or height is None:
        if not box:
            return None
        ratio = box[2] / box[3]
        if width is None:
            width = (height or 0.0) * ratio
        else:
            height = width / ratio
    if width is None or height is None:
        return None
    port = (0.0, 0.0, width, height)
    to_mm = 1 / PX["mm"]
    if not (LEAST_MM <= min(width, height) * to_mm and max(width, height) * to_mm <= LARGEST_MM):
        raise Unread(messages.OUTLINES_SIZE_BEYOND, low=plain(LEAST_MM), high=plain(LARGEST_MM))
    shown = _shown(box, port, attributes.get("preserveAspectRatio", "")) if box else port
    return _Size(
        round(width * to_mm, 12),
        round(height * to_mm, 12),
        shown,
        sized,
        sized and bool(box) and abs(width * to_mm / shown[2] - 1) < 1e-6,
    )


def _shown(box: Box, port: Box, ratio: str) -> Box:
    """Return the part of a drawing that its viewport shows, in units of the drawing."""
    if abs(port[2] / port[3] / (box[2] / box[3]) - 1) < 1e-6:
        return box
    (across, _, x), (_, down, y), _ = fitted(box, port, ratio)
    return -x / across, -y / down, port[2] / across, port[3] / down


def _measured(shapes: tuple[Shape, ...]) -> _Size:
    """Return the size of a drawing by what is in it."""
    left, top, right, bottom = _extent(_points(shapes))
    width, height = right - left, bottom - top
    if min(width, height) < LEAST_UNITS:
        raise Unread(messages.OUTLINES_NO_SIZE)
    return _Size(width / PX["mm"], height / PX["mm"], (left, top, width, height), False)


# -- What is there


def _points(shapes: tuple[Shape, ...]) -> Iterator[complex]:
    return (point for shape in shapes for ring in shape.rings for piece in ring for point in piece)


def _extent(points: Iterator[complex]) -> Box:
    listed = list(points)
    across, down = [point.real for point in listed], [point.imag for point in listed]
    return min(across), min(down), max(across), max(down)


def _meets(shape: Shape, box: Box) -> bool:
    """Return whether the rectangle around ``shape`` and its handles has a point in common with ``box``."""
    left, top, right, bottom = _extent(_points((shape,)))
    return left <= box[0] + box[2] and right >= box[0] and top <= box[1] + box[3] and bottom >= box[1]


def _length(outlines: Outlines) -> float:
    """Return at most how long all outlines are, in units of the drawing."""
    return sum(
        abs(end - start)
        for shape in outlines.shapes
        for ring in shape.rings
        for piece in ring
        for start, end in pairwise(piece)
    )
