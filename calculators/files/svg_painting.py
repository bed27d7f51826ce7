"""Walks over the elements of a drawing, and paints them as regions in flat colours."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from calculators import messages
from calculators.files.css_colours import colour_of
from calculators.files.svg_elements import Element
from calculators.files.svg_numbers import Box, box_of, fitted, length_of, number_of, transform_of
from calculators.files.svg_paths import SHAPES, Line, lines_of
from calculators.files.svg_shapes import (
    Budget,
    Clip,
    Ring,
    Shape,
    clip_of,
    clipped,
    filled_rings,
    moved,
    scale_of,
    stroke_rings,
)
from calculators.files.svg_style import INHERITED, rules_of, styled
from calculators.files.unread import Unread
from calculators.shapes.set_operations import cleaned
from calculators.shapes.snap_rounding import TooTangled
from calculators.shapes.transforms import IDENTITY, Matrix, product, translation

#: Maximum elements that are drawn, since ``use`` may draw one many times; parts that use parts; and elements times
#: rules of style sheets.
MOST_DRAWN, MOST_USES, MOST_MATCHED = 40_000, 40, 2_000_000
_ADDRESS = re.compile(r"""url\(\s*["']?([^"')]*)["']?\s*\)\s*(.*)""")
#: Elements that draw nothing where they stand.
_SILENT = frozenset(
    "clipPath defs desc filter linearGradient marker mask metadata pattern radialGradient script solidColor style "
    "symbol title view cursor font font-face hatch meshgradient : animate animateColor animateMotion "
    "animateTransform set".split()
)
_GROUPS = frozenset(("svg", "g", "a", "switch", "use"))
_PAINT_SERVERS = {
    "linearGradient": messages.HELD_GRADIENT,
    "radialGradient": messages.HELD_GRADIENT,
    "meshgradient": messages.HELD_GRADIENT,
    "pattern": messages.HELD_PATTERN,
    "hatch": messages.HELD_PATTERN,
}
#: What our own files have beneath seams: the width of the line, and the attributes that it may have.
_THREAD_MM, _THREAD_ATTRIBUTES = 0.04, {"d", "fill", "stroke", "stroke-width"}


@dataclass(frozen=True)
class Place:
    """Where elements are drawn: their transform, the size that percentages are parts of, the
    inherited properties, the clips, and the elements used on the way.
    """

    matrix: Matrix
    port: tuple[float, float]
    style: Mapping[str, str]
    clips: tuple[Clip, ...] = ()
    used: tuple[Element, ...] = ()


class Painting:
    """A drawing that is painted: curves are followed within ``followed`` where they are joined.

    ``port`` is its size.
    """

    def __init__(self, root: Element, followed: float, port: tuple[float, float]) -> None:
        self.root, self.port = root, port
        # Without a size the usual one of a screen's units will do.
        self.followed = followed or 0.01
        self.budget = Budget()
        self.drawn = 0
        self.by_id: dict[str, Element] = {}
        sheets = []
        waiting = [root]
        while waiting:
            element = waiting.pop()
            self.by_id.setdefault(element.attributes.get("id", ""), element)
            if element.name == "style" and element.attributes.get("type", "text/css") in ("text/css", ""):
                sheets.append(element.text)
            waiting += reversed(element.children)
        self.rules, unknown = rules_of(sheets)
        #: What cannot be drawn, in the order in which it came.
        self.held = dict.fromkeys(messages.HELD_STYLE.format(what=messages.quoted(each)) for each in unknown)

    def shapes(self, *, own_file: bool) -> list[Shape]:
        """Return all that is drawn. ``own_file`` says that lines beneath seams may be left out. Raises Unread."""
        made: list[Shape] = []
        place = Place(IDENTITY, self.port, INHERITED)
        for shape in self._children(
            self.root, replace(place, style=styled(self.root, INHERITED, self.rules)), own_file
        ):
            made.append(shape)
        self._own_troubles(styled(self.root, INHERITED, self.rules))
        if self.held:
            hint = messages.OUTLINES_TEXT_HINT if messages.HELD_TEXT in self.held else messages.OUTLINES_MORE_HINT
            raise Unread(messages.OUTLINES_HOLD_MORE, hint=hint, what=_listed(list(self.held)))
        return made

    def _hold(self, what: str) -> None:
        self.held.setdefault(what)

    def _children(self, element: Element, place: Place, own_file: bool = False) -> Iterator[Shape]:
        seams = own_file
        for child in _chosen(element):
            if seams and child.name == "path" and _is_thread(child):
                continue
            seams = seams and child.name in _SILENT
            yield from self._element(child, place)

    def _element(self, element: Element, place: Place) -> Iterator[Shape]:
        if element.name in _SILENT:
            return
        self.drawn += 1
        if self.drawn > MOST_DRAWN or self.drawn * len(self.rules) > MOST_MATCHED:
            raise Unread(messages.OUTLINES_TOO_MUCH)
        style = styled(element, place.style, self.rules)
        if style["display"] == "none" or not _opacity(style["opacity"]):
            return
        self._own_troubles(style)
        if element.name not in _GROUPS and element.name not in SHAPES:
            self._unknown(element, style)
            return
        transform = style["transform"] or ""
        matrix = product(place.matrix, transform_of(transform)) if transform else place.matrix
        place = replace(place, matrix=matrix, style=style)
        lines = lines_of(element, place.port, self.budget.pieces) if element.name in SHAPES else []
        self.budget.take(sum(len(pieces) for pieces, _closed in lines))
        place = self._clipped(style, place, lines, is_group=element.name in _GROUPS)
        if element.name == "use":
            yield from self._used(element, place)
        elif element.name == "svg":
            yield from self._inner(element, element, place)
        elif element.name in _GROUPS:
            yield from self._children(element, place)
        elif style["visibility"] == "visible":
            yield from self._painted(lines, place)

    def _unknown(self, element: Element, style: Mapping[str, str]) -> None:
        if element.name in ("text", "tspan", "textPath", "tref"):
            if style["visibility"] == "visible" and _has_words(element):
                self._hold(messages.HELD_TEXT)
        elif element.name == "image":
            self._hold(messages.HELD_RASTER)
        else:
            self._hold(messages.quoted(f"<{element.name}>"))

    def _own_troubles(self, style: Mapping[str, str]) -> None:
        """Note what an element has that cannot be drawn."""
        for name, first, what in (
            ("filter", "none", messages.HELD_FILTER),
            ("mask", "none", messages.HELD_MASK),
            ("mix-blend-mode", "normal", messages.HELD_BLEND),
        ):
            if style[name] != first:
                self._hold(what)
        if 0 < _opacity(style["opacity"]) < 1:
            self._hold(messages.HELD_OPACITY)

    # -- Parts that are drawn elsewhere

    def _local(self, address: str) -> Element | None:
        """Return the element of this file at an address, or note why there is none."""
        if not address.startswith("#"):
            self._hold(messages.HELD_OUTSIDE)
            return None
        if address[1:] not in self.by_id or not address[1:]:
            self._hold(messages.HELD_MISSING.format(what=messages.quoted(address)))
            return None
        return self.by_id[address[1:]]

    def _used(self, element: Element, place: Place) -> Iterator[Shape]:
        target = self._local(element.attributes.get("href", "").strip())
        if target is None:
            return
        if target in place.used or len(place.used) >= MOST_USES:
            self._hold(messages.HELD_LOOP)
            return
        x, y = (
            length_of(element.attributes.get(name) or "0", whole)
            for name, whole in zip(("x", "y"), place.port, strict=True)
        )
        place = replace(place, matrix=product(place.matrix, translation(x, y)), used=(*place.used, target))
        if target.name in ("symbol", "svg"):
            place = replace(place, style=styled(target, place.style, self.rules))
            yield from self._inner(target, element, place)
        else:
            yield from self._element(target, place)

    def _inner(self, element: Element, sizes: Element, place: Place) -> Iterator[Shape]:
        """Yield what a nested drawing or a symbol draws; ``sizes`` is the element that may say how large it is."""
        attributes = element.attributes
        x, y, width, height = (
            length_of((sizes.attributes.get(name) or attributes.get(name) or first).replace("auto", first), whole)
            for name, first, whole in zip(
                ("x", "y", "width", "height"), ("0", "0", "100%", "100%"), place.port * 2, strict=True
            )
        )
        if sizes is not element:
            # A use has moved it there already.
            x = length_of(attributes.get("x") or "0", place.port[0]) if element.name == "svg" else 0.0
            y = length_of(attributes.get("y") or "0", place.port[1]) if element.name == "svg" else 0.0
        if width <= 0 or height <= 0:
            return
        port: Box = (x, y, width, height)
        if place.style["overflow"] not in ("visible", "auto"):
            place = replace(place, clips=(*place.clips, self._rectangle(port, place.matrix)))
        box = box_of(attributes.get("viewBox", ""))
        if box and min(box[2:]) <= 0:
            return
        inner = fitted(box, port, attributes.get("preserveAspectRatio", "")) if box else translation(x, y)
        place = replace(place, matrix=product(place.matrix, inner), port=box[2:] if box else (width, height))
        yield from self._children(element, place)

    def _rectangle(self, box: Box, matrix: Matrix) -> Clip:
        left, top, width, height = box
        corners = [
            complex(left, top),
            complex(left + width, top),
            complex(left + width, top + height),
            complex(left, top + height),
        ]
        return clip_of(moved([list(zip(corners, [*corners[1:], corners[0]], strict=True))], matrix))

    # -- Clip paths

    def _clipped(self, style: Mapping[str, str], place: Place, lines: list[Line], *, is_group: bool) -> Place:
        """Return the place with the clip path of ``style``, if it has one."""
        value = style["clip-path"]
        if value == "none":
            return place
        found = _ADDRESS.fullmatch(value)
        target = self._local(found[1]) if found else None
        if not found or (target is not None and target.name != "clipPath"):
            self._hold(messages.quoted(f"clip-path {value}"))
            return place
        if target is None:
            return place
        if target in place.used or len(place.used) >= MOST_USES:
            self._hold(messages.HELD_LOOP)
            return place
        matrix = place.matrix
        if target.attributes.get("clipPathUnits") == "objectBoundingBox":
            if is_group:
                self._hold(messages.HELD_CLIP)
                return place
            points = [point for ring in filled_rings(lines) for piece in ring for point in piece] or [0j]
            across, down = [point.real for point in points], [point.imag for point in points]
            box = min(across), min(down), max(across) - min(across), max(down) - min(down)
            matrix = product(matrix, ((box[2], 0.0, box[0]), (0.0, box[3], box[1]), (0.0, 0.0, 1.0)))
        inner = replace(place, matrix=matrix, clips=(), used=(*place.used, target), style=INHERITED)
        rings = self._clip_rings(target, inner)
        return replace(place, clips=(*place.clips, clip_of(rings)))

    def _clip_rings(self, target: Element, place: Place) -> list[Ring]:
        """Return the rings of a clip path in units of the whole drawing, filled by winding."""
        style = styled(target, place.style, self.rules)
        if style["transform"]:
            place = replace(place, matrix=product(place.matrix, transform_of(style["transform"])))
        place = self._clipped(style, replace(place, style=style), [], is_group=True)
        rings: list[Ring] = []
        for child in target.children:
            if child.name in SHAPES or child.name == "use":
                rings += self._clip_part(child, place)
            elif child.name in ("text", "image"):
                self._unknown(child, style)
        return rings

    def _clip_part(self, child: Element, place: Place) -> Iterator[Ring]:
        style = styled(child, place.style, self.rules)
        if style["display"] == "none" or style["visibility"] != "visible":
            return
        place = replace(place, style=style)
        if style["transform"]:
            place = replace(place, matrix=product(place.matrix, transform_of(style["transform"])))
        if child.name == "use":
            target = self._local(child.attributes.get("href", "").strip())
            if target is not None and target.name in SHAPES and target not in place.used:
                x, y = (length_of(child.attributes.get(name) or "0", 0.0) for name in ("x", "y"))
                place = replace(place, matrix=product(place.matrix, translation(x, y)))
                yield from self._clip_part(target, place)
            return
        lines = lines_of(child, place.port, self.budget.pieces)
        self.budget.take(sum(len(pieces) for pieces, _closed in lines))
        place = self._clipped(style, place, lines, is_group=False)
        rings = moved(filled_rings(lines), place.matrix)
        self.budget.join(sum(map(len, rings)))
        odd = style["clip-rule"] == "evenodd"
        rest, odd = clipped(rings, odd, place.clips, self.followed, self.budget)
        try:
            yield from cleaned(rest, even_odd=odd, followed=self.followed)
        except TooTangled:
            raise Unread(messages.OUTLINES_TOO_TANGLED) from None

    # -- Paint

    def _painted(self, lines: list[Line], place: Place) -> Iterator[Shape]:
        if not lines or not scale_of(place.matrix):
            return
        style = place.style
        if any(style[f"marker-{where}"] != "none" for where in ("start", "mid", "end")):
            self._hold(messages.HELD_MARKERS)
        order = style["paint-order"].split()
        parts = [self._filled(lines, place), self._stroked(lines, place)]
        if "stroke" in order and ("fill" not in order or order.index("stroke") < order.index("fill")):
            parts.reverse()
        for part in parts:
            if part and part.rings:
                yield part

    def _filled(self, lines: list[Line], place: Place) -> Shape | None:
        colour = self._colour("fill", place.style)
        if colour is None:
            return None
        even_odd = place.style["fill-rule"] == "evenodd"
        rings = moved(filled_rings(lines), place.matrix)
        rest, even_odd = clipped(rings, even_odd, place.clips, self.followed, self.budget)
        return Shape(colour, tuple(tuple(ring) for ring in rest), even_odd)

    def _stroked(self, lines: list[Line], place: Place) -> Shape | None:
        colour = self._colour("stroke", place.style)
        if colour is None:
            return None
        if place.style["vector-effect"] != "none":
            self._hold(messages.HELD_STROKE)
        followed = self.followed / scale_of(place.matrix)
        rings = moved(stroke_rings(lines, place.style, place.port, followed, self.budget), place.matrix)
        rest, even_odd = clipped(rings, False, place.clips, self.followed, self.budget)
        return Shape(colour, tuple(tuple(ring) for ring in rest), even_odd)

    def _colour(self, name: str, style: Mapping[str, str]) -> str | None:
        """Return the colour of a fill or a stroke as #rrggbb, or None for none; note what is not one flat colour."""
        value = style[name].strip()
        if value == "none" or not _opacity(style[f"{name}-opacity"]):
            return None
        if found := _ADDRESS.fullmatch(value):
            target = self._local(found[1])
            if target is not None:
                self._hold(_PAINT_SERVERS.get(target.name) or messages.quoted(f"{name} {value}"))
            return None
        if value.lower() == "currentcolor":
            value = style["color"]
        known = colour_of(value)
        if known is None:
            self._hold(messages.quoted(f"{name} {value}"))
            return None
        colour, opacity = known
        opacity *= _opacity(style[f"{name}-opacity"])
        if 0 < opacity < 1:
            self._hold(messages.HELD_OPACITY)
        return colour if opacity else None


def _opacity(text: str) -> float:
    share = number_of(text[:-1]) / 100 if text.endswith("%") else number_of(text)
    return min(1.0, max(0.0, share))


def _has_words(element: Element) -> bool:
    return bool(element.text.strip()) or any(map(_has_words, element.children))


def _chosen(element: Element) -> list[Element]:
    """Return the children that are drawn; of a switch the first that asks for no language and no extension."""
    if element.name != "switch":
        return element.children
    asks = ("requiredExtensions", "systemLanguage", "requiredFeatures")
    drawn = (child for child in element.children if child.name not in _SILENT)
    return [child for child in drawn if not any(child.attributes.get(name) for name in asks)][:1]


def _is_thread(element: Element) -> bool:
    """Return whether a path is a line beneath the seams of what is filled after it, as our own files have them.

    Nothing is seen of it where those meet exactly.
    """
    attributes = element.attributes
    return (
        set(attributes) == _THREAD_ATTRIBUTES
        and attributes["fill"] == "none"
        and attributes["stroke-width"] == str(_THREAD_MM)
    )


def _listed(parts: list[str]) -> str:
    most = 5
    shown = parts[:most] + ([messages.HELD_OTHERS] if len(parts) > most else [])
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"
