"""A paper template that places a marking on the model: two of its sides lie on edges of the model, and a window in it
shows where the marking goes.

Everything is in mm from the top left corner of the paper piece, y down, as seen when one looks at that side.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from calculators.pixels.marking_outline import Outline, Polygon

LEFT, RIGHT, ABOVE, BELOW = "left", "right", "above", "below"
#: Paper that stays round the window on the sides away from the edges, and the narrowest piece that one can hold and
#: tape, in mm (our choice).
BORDER_MM, NARROWEST_MM = 12.0, 30.0
#: A narrower strip of paper between window and edge bends, in mm (estimate).
FIRM_MM = 3.0
#: Lines of sizes lie this far from the window, and their ticks reach so far to either side, in mm.
BESIDE_MM, TICK_MM = 2.5, 1.0
#: Lengths of a centre line's strokes and gaps, in mm.
_DASHES = (6.0, 1.0, 1.0, 1.0)


@dataclass(frozen=True)
class ModelEdge:
    """An edge of the model, where it lies from the marking, and how far from what is measured to."""

    name: str
    lies: str
    distance_mm: float


@dataclass(frozen=True)
class Template:
    """The paper piece for one ``side`` of the model. The printed box begins at ``place``."""

    side: str
    width_mm: float
    height_mm: float
    place: complex
    size: complex
    printed: tuple[Polygon, ...]
    window: tuple[Polygon, ...]
    upright: ModelEdge
    level: ModelEdge
    to_centre: bool

    @property
    def centre(self) -> complex:
        return self.place + self.size / 2


class EdgeInside(ValueError):
    """The edge ``name`` would run through the marking: it must be ``least_mm`` from the centre."""

    def __init__(self, name: str, least_mm: float) -> None:
        super().__init__(f"{name}: at least {least_mm} mm")
        self.name, self.least_mm = name, least_mm


def left_template(
    outline: Outline, upright: ModelEdge, level: ModelEdge, rim_mm: float, *, to_centre: bool
) -> Template:
    """Return the template for the left side. Raises EdgeInside."""
    across = _gap(upright, outline.width_mm, to_centre)
    down = _gap(level, outline.height_mm, to_centre)
    width = max(across + outline.width_mm + rim_mm + BORDER_MM, NARROWEST_MM)
    height = max(down + outline.height_mm + rim_mm + BORDER_MM, NARROWEST_MM)
    place = complex(
        across if upright.lies == LEFT else width - across - outline.width_mm,
        down if level.lies == ABOVE else height - down - outline.height_mm,
    )
    return Template(
        LEFT,
        width,
        height,
        place,
        complex(outline.width_mm, outline.height_mm),
        _moved(outline.printed, place),
        _clipped(_moved(outline.film, place), width, height),
        upright,
        level,
        to_centre,
    )


def right_template(left: Template, *, mirrored: bool) -> Template:
    """Return the template for the right side: the mirror image, with the marking itself ``mirrored`` or as it is."""
    place = complex(left.width_mm - left.place.real - left.size.real, left.place.imag)

    def turned(polygons: Iterable[Polygon]) -> tuple[Polygon, ...]:
        if mirrored:
            return tuple(tuple(complex(left.width_mm - at.real, at.imag) for at in each[::-1]) for each in polygons)
        return _moved(polygons, place - left.place)

    return replace(
        left,
        side=RIGHT,
        place=place,
        printed=turned(left.printed),
        window=turned(left.window),
        upright=replace(left.upright, lies=RIGHT if left.upright.lies == LEFT else LEFT),
    )


def strips(template: Template, rim_mm: float) -> tuple[float, float]:
    """Return how wide the paper is between the film and the upright and the level edge; 0 or less where it is open."""
    across = template.place.real
    if template.upright.lies == RIGHT:
        across = template.width_mm - across - template.size.real
    down = template.place.imag
    if template.level.lies == BELOW:
        down = template.height_mm - down - template.size.imag
    return across - rim_mm, down - rim_mm


def model_edges(template: Template) -> tuple[Polygon, Polygon]:
    """Return the upright and the level side of the paper that lie on edges of the model."""
    x = 0.0 if template.upright.lies == LEFT else template.width_mm
    y = 0.0 if template.level.lies == ABOVE else template.height_mm
    return (
        (complex(x, 0), complex(x, template.height_mm)),
        (complex(0, y), complex(template.width_mm, y)),
    )


def centre_lines(template: Template) -> Iterator[Polygon]:
    """Yield the strokes of both centre lines, across the whole piece."""
    centre = template.centre
    for start, end in (
        (complex(0, centre.imag), complex(template.width_mm, centre.imag)),
        (complex(centre.real, 0), complex(centre.real, template.height_mm)),
    ):
        length = abs(end - start)
        way, at, part = (end - start) / length, 0.0, 0
        while at < length:
            until = min(at + _DASHES[part % 4], length)
            if part % 2 == 0:
                yield start + at * way, start + until * way
            at, part = until, part + 1


def size_lines(template: Template) -> tuple[Polygon, Polygon]:
    """Return a level line from the upright edge to what it is measured to, and an upright one from the level edge.

    They lie beside the window on the sides that are away from the edges, where there always is paper.
    """
    low, high = _box(template.window)
    upright, level = model_edges(template)
    near = template.centre
    if not template.to_centre:
        near = template.place + complex(
            template.size.real if template.upright.lies == RIGHT else 0,
            template.size.imag if template.level.lies == BELOW else 0,
        )
    y = low.imag - BESIDE_MM if template.level.lies == BELOW else high.imag + BESIDE_MM
    x = low.real - BESIDE_MM if template.upright.lies == RIGHT else high.real + BESIDE_MM
    return (
        (complex(upright[0].real, y), complex(near.real, y)),
        (complex(x, level[0].imag), complex(x, near.imag)),
    )


def ticks(line: Polygon) -> Iterator[Polygon]:
    """Yield short lines across both ends of a line."""
    across = TICK_MM * 1j * (line[1] - line[0]) / (abs(line[1] - line[0]) or 1)
    for end in line:
        yield end - across, end + across


def _gap(edge: ModelEdge, size: float, to_centre: bool) -> float:
    """Return the distance from an edge to the printed box."""
    gap = edge.distance_mm - (size / 2 if to_centre else 0)
    if gap < 0:
        # Rounded up, since whoever types what the page names wants it to be taken.
        raise EdgeInside(edge.name, ceil(size * 5 - 1e-9) / 10)
    return gap


def _moved(polygons: Iterable[Polygon], move: complex) -> tuple[Polygon, ...]:
    return tuple(tuple(at + move for at in each) for each in polygons)


def _clipped(polygons: Sequence[Polygon], width: float, height: float) -> tuple[Polygon, ...]:
    """Return what of a window lies on the paper."""
    if all(0 <= at.real <= width and 0 <= at.imag <= height for each in polygons for at in each):
        return tuple(polygons)
    # A part of its own, which other pages of artwork do without.
    from calculators.shapes.outer_edges import clipped

    return clipped(polygons, complex(width, height))


def _box(polygons: Iterable[Polygon]) -> tuple[complex, complex]:
    points = [at for each in polygons for at in each]
    across, down = [at.real for at in points], [at.imag for at in points]
    return complex(min(across), min(down)), complex(max(across), max(down))
