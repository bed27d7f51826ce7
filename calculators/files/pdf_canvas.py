"""What PDF pages and forms are drawn on, in millimetres from the top left corner, y down.

Millimetres become points (1/72 in) from the bottom left when they are drawn, so that every number in a file can be
checked. A form is drawn once and placed any number of times, turned, mirrored or stretched.

Sources, from memory: ISO 32000-1:2008 8.3.4 (matrices), 8.4.5 (graphics state dictionaries), 8.5 (paths), 8.6.6.4
(Separation), 8.10 (forms), 8.11 (layers), 9.4 (text), 11.6.6 (groups), 11.7.4 (overprint), annex D.2
(WinAnsiEncoding).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TypeVar

from calculators.files.pdf_picture import Embedded, embedded
from calculators.files.picture import Picture
from calculators.shapes.transforms import IDENTITY, Matrix, inverse, product, scaling, translation
from calculators.units import MM_PER_INCH

POINTS_PER_MM = 72 / MM_PER_INCH
#: One step of an outline: ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y) or ("Z",), in mm.
Step = tuple[str, *tuple[float, ...]]
_Thing = TypeVar("_Thing")


@dataclass(frozen=True)
class Spot:
    """A spot colour: a plate of its own, by ``name``. Screens and proofs show ``shown`` (#rrggbb) in its place.

    It overprints: it leaves the other plates as they are.
    """

    name: str
    shown: str


@dataclass(frozen=True)
class Layer:
    """A layer, which viewers can show and hide by its name. A ``hidden`` one is neither shown nor printed at first."""

    name: str
    hidden: bool = False


@dataclass(frozen=True)
class State:
    """Parameters of the graphics state: whether paint overprints, and how opaque it is."""

    overprint: bool = False
    opacity: float = 1.0


class Canvas:
    """What is drawn on one page or form of ``width_mm`` x ``height_mm``, and what it needs for that."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        import pydyf

        self.width_mm, self.height_mm = width_mm, height_mm
        self.stream = pydyf.Stream(compress=False)
        self.pictures: list[Embedded] = []
        self.forms: list[Form] = []
        self.layers: list[Layer] = []
        self.spots: list[Spot] = []
        self.states: list[State] = []

    # -- Where and how

    @contextmanager
    def inside(
        self,
        matrix: Matrix = IDENTITY,
        *,
        clip: Iterable[Step] | None = None,
        even_odd: bool = False,
        opacity: float = 1.0,
    ) -> Iterator[None]:
        """Draw what follows moved by ``matrix``, an affine transform in mm, only within ``clip``, and as opaque as
        ``opacity`` (0 to 1) says of each single thing.
        """
        self.stream.push_state()
        if matrix != IDENTITY:
            self._concatenate(product(self._to_points(), matrix, inverse(self._to_points())))
        if clip is not None:
            self._steps(clip)
            self.stream.clip(even_odd)
            self.stream.end()
        if opacity != 1:
            self._set_state(State(opacity=opacity))
        yield
        self.stream.pop_state()

    @contextmanager
    def layer(self, layer: Layer) -> Iterator[None]:
        """Put what follows on a layer."""
        self.stream.stream.append(b"/OC /L%d BDC" % _place_in(self.layers, layer))
        yield
        self.stream.stream.append(b"EMC")

    def begin_layer(self, name: str) -> None:
        """Put what is drawn until ``end_layer`` on the layer of that name, which viewers can hide."""
        self.stream.stream.append(b"/OC /L%d BDC" % _place_in(self.layers, Layer(name)))

    def end_layer(self) -> None:
        """End what ``begin_layer`` began."""
        self.stream.stream.append(b"EMC")

    # -- What

    def picture(self, picture: Picture, x: float, y: float, width: float, height: float) -> None:
        """Place ``picture`` upright with its top left corner at (x, y), exactly ``width`` x ``height`` mm.

        Raises pdf_picture.NotPlaced where its pixels are needed and missing.
        """
        self.image(embedded(picture), x, y, width, height)

    def image(
        self, made: Embedded, x: float, y: float, width: float, height: float, *, fill: str | Spot | None = None
    ) -> None:
        """Place a picture that is ready for PDF as ``picture`` does; a mask of one bit is painted with ``fill``."""
        place = product(
            translation(self._x(x), self._y(y + height)),
            scaling(width * POINTS_PER_MM, height * POINTS_PER_MM),
            made.turn,
        )
        self.stream.push_state()
        if fill:
            self._set_colour(fill)
        self._concatenate(place)
        self.stream.draw_x_object(f"P{len(self.pictures)}")
        self.stream.pop_state()
        self.pictures.append(made)

    def form(
        self, form: Form, matrix: Matrix = IDENTITY, *, stroke: str | Spot | None = None, line_mm: float = 0.25
    ) -> None:
        """Place ``form`` with ``matrix``, an affine transform in mm from its corner to this one's.

        ``stroke`` and ``line_mm`` serve what it draws by ``line``.
        """
        number = next((place for place, each in enumerate(self.forms) if each is form), len(self.forms))
        if number == len(self.forms):
            self.forms.append(form)
        self.stream.push_state()
        if stroke:
            self._set_colour(stroke, stroke=True)
            self.stream.set_line_width(line_mm * POINTS_PER_MM)
            self._round()
        self._concatenate(product(self._to_points(), matrix, inverse(form._to_points())))
        self.stream.draw_x_object(f"F{number}")
        self.stream.pop_state()

    def path(
        self,
        steps: Iterable[Step],
        *,
        fill: str | Spot | None = None,
        stroke: str | Spot | None = None,
        line_mm: float = 0.25,
        even_odd: bool = False,
        round_ends: bool = False,
    ) -> None:
        """Draw an outline: ``fill`` and ``stroke`` are #rrggbb or spot colours, ``line_mm`` the full width of the
        stroke.

        Strokes end square at their last point and meet in mitres, unless with ``round_ends``.
        """
        stream = self.stream
        stream.push_state()
        if fill:
            self._set_colour(fill)
        if stroke:
            self._set_colour(stroke, stroke=True)
            stream.set_line_width(line_mm * POINTS_PER_MM)
            if round_ends:
                self._round()
        self._steps(steps)
        if fill and stroke:
            stream.fill_and_stroke(even_odd)
        elif fill:
            stream.fill(even_odd)
        elif stroke:
            stream.stroke()
        else:
            stream.end()
        stream.pop_state()

    def line(self, steps: Iterable[Step]) -> None:
        """Stroke an outline in the colour and the width that whoever places this form sets."""
        self._steps(steps)
        self.stream.stroke()

    def rectangle(self, x: float, y: float, width: float, height: float, *, fill: str | Spot) -> None:
        """Fill a rectangle with its top left corner at (x, y)."""
        self.stream.push_state()
        self._set_colour(fill)
        self.stream.rectangle(self._x(x), self._y(y + height), width * POINTS_PER_MM, height * POINTS_PER_MM)
        self.stream.fill()
        self.stream.pop_state()

    def text(
        self, words: str, x: float, y: float, *, size_mm: float = 3.0, colour: str = "#1c2226", upward: bool = False
    ) -> None:
        """Write one line that begins at (x, y) on its base line; ``upward`` turns it by a quarter to the left.

        ``size_mm`` is the size of the font; its capitals are 0.72 of that. Characters beyond those of
        Western Europe (WinAnsiEncoding) become "?".
        """
        import pydyf

        stream, along = self.stream, (0, 1, -1, 0) if upward else (1, 0, 0, 1)
        stream.push_state()
        self._set_colour(colour)
        stream.begin_text()
        stream.set_font_size("F", size_mm * POINTS_PER_MM)
        stream.set_text_matrix(*along, self._x(x), self._y(y))
        stream.stream.append(pydyf.String(words.encode("cp1252", "replace")).data + b" Tj")
        stream.end_text()
        stream.pop_state()

    # -- How it is written

    def content(self) -> bytes:
        """Return the content stream."""
        return b"\n".join(part if isinstance(part, bytes) else str(part).encode("ascii") for part in self.stream.stream)

    def _x(self, mm: float) -> float:
        return float(mm * POINTS_PER_MM)

    def _y(self, mm: float) -> float:
        return float((self.height_mm - mm) * POINTS_PER_MM)

    def _to_points(self) -> Matrix:
        return (POINTS_PER_MM, 0.0, 0.0), (0.0, -POINTS_PER_MM, self.height_mm * POINTS_PER_MM), (0.0, 0.0, 1.0)

    def _concatenate(self, matrix: Matrix) -> None:
        """Write a matrix in points, finely enough for the far end of a long page."""
        (a, c, e), (b, d, f), _ = matrix
        self.stream.stream.append(b" ".join(map(_number, (a, b, c, d, e, f))) + b" cm")

    def _steps(self, steps: Iterable[Step]) -> None:
        stream = self.stream
        draw = {"M": stream.move_to, "L": stream.line_to, "C": stream.curve_to, "Z": stream.close}
        for kind, *places in steps:
            draw[kind](*(self._y(part) if place % 2 else self._x(part) for place, part in enumerate(places)))

    def _round(self) -> None:
        self.stream.set_line_cap(1)
        self.stream.set_line_join(1)

    def _set_colour(self, colour: str | Spot, *, stroke: bool = False) -> None:
        if isinstance(colour, str):
            self.stream.set_color_rgb(*parts_of(colour), stroke=stroke)
            return
        self._set_state(State(overprint=True))
        self.stream.set_color_space(f"S{_place_in(self.spots, colour)}", stroke)
        self.stream.set_color_special(None, stroke, 1)

    def _set_state(self, state: State) -> None:
        self.stream.set_state(f"G{_place_in(self.states, state)}")


class Form(Canvas):
    """Something that is drawn once and placed several times: a form XObject.

    Its box is ``width_mm`` x ``height_mm``; what lies further than ``reach_mm`` outside of that is not drawn.
    A ``whole`` one is laid onto the page as one thing, so that an opacity holds for all of it at once.
    """

    def __init__(self, width_mm: float, height_mm: float, *, reach_mm: float = 0.0, whole: bool = False) -> None:
        super().__init__(width_mm, height_mm)
        self.reach_mm, self.whole = reach_mm, whole

    @property
    def box(self) -> list[float]:
        """Its bounding box in points."""
        reach = self.reach_mm
        return [
            self._x(-reach),
            self._y(self.height_mm + reach),
            self._x(self.width_mm + reach),
            self._y(-reach),
        ]


def parts_of(colour: str) -> tuple[float, float, float]:
    """Return the parts of #rrggbb from 0 to 1."""
    red, green, blue = bytes.fromhex(colour[1:])
    return red / 255, green / 255, blue / 255


def _place_in(listed: list[_Thing], thing: _Thing) -> int:
    """Return the place of ``thing`` in a list, to which it is added if it is new."""
    if thing not in listed:
        listed.append(thing)
    return listed.index(thing)


def _number(value: float) -> bytes:
    return (f"{value:.9f}".rstrip("0").rstrip(".") if value else "0").encode()
