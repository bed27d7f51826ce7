"""DXF files of release 12, which every cutting program reads: polylines with arcs as bulges, on layers.

The format has no unit: what is written are mm. Its y axis goes up. The same lines give the same bytes: no dates.

Source: AutoCAD Release 12 Customization Manual (1992), chapter 11, from memory: group codes, the sections and their
order, VERTEX with its bulge (42) as the tangent of a quarter of the angle, above 0 for counterclockwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from calculators.shapes.arcs import Vertex

#: Coordinates are written to a nanometre, so that rounding is nothing beside the tolerance of arcs.
DECIMALS = 6

Pair = tuple[int, str]


@dataclass(frozen=True)
class Polyline:
    """Vertices with y up, on a layer."""

    layer: str
    vertices: Sequence[Vertex]
    closed: bool


def dxf(polylines: Sequence[Polyline], layers: Sequence[tuple[str, int]], low: complex, high: complex) -> bytes:
    """Return a file of ``polylines`` in their order.

    ``layers`` are names with numbers of colours (1 to 7), ``low`` and ``high`` the corners of the box round all.
    """
    pairs = [
        *_section("HEADER", _header(low, high)),
        *_section("TABLES", _tables(layers)),
        *_section("BLOCKS", ()),
        *_section("ENTITIES", (pair for polyline in polylines for pair in _polyline(polyline))),
        (0, "EOF"),
    ]
    return "".join(f"{code:3d}\r\n{value}\r\n" for code, value in pairs).encode("ascii")


def _section(name: str, pairs: Iterable[Pair]) -> Iterator[Pair]:
    yield 0, "SECTION"
    yield 2, name
    yield from pairs
    yield 0, "ENDSEC"


def _header(low: complex, high: complex) -> Iterator[Pair]:
    yield 9, "$ACADVER"
    yield 1, "AC1009"
    for name, corner in (("$EXTMIN", low), ("$EXTMAX", high)):
        yield 9, name
        yield from _point(corner)


def _tables(layers: Sequence[tuple[str, int]]) -> Iterator[Pair]:
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, "1"))
    yield from ((0, "LTYPE"), (2, "CONTINUOUS"), (70, "0"), (3, "Solid line"), (72, "65"), (73, "0"), (40, "0.0"))
    yield 0, "ENDTAB"
    yield from ((0, "TABLE"), (2, "LAYER"), (70, str(len(layers))))
    for name, colour in layers:
        yield from ((0, "LAYER"), (2, name), (70, "0"), (62, str(colour)), (6, "CONTINUOUS"))
    yield 0, "ENDTAB"


def _polyline(polyline: Polyline) -> Iterator[Pair]:
    layer = (8, polyline.layer)
    yield from ((0, "POLYLINE"), layer, (66, "1"), *_point(0j), (70, str(int(polyline.closed))))
    for vertex in polyline.vertices:
        yield from ((0, "VERTEX"), layer, *_point(vertex.point))
        if vertex.bulge:
            yield 42, _number(vertex.bulge, DECIMALS + 3)
    yield from ((0, "SEQEND"), layer)


def _point(place: complex) -> tuple[Pair, Pair, Pair]:
    return (10, _number(place.real)), (20, _number(place.imag)), (30, "0.0")


def _number(value: float, decimals: int = DECIMALS) -> str:
    """Return a number; none that is nearly 0 keeps a sign."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}"
